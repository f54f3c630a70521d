"""Needs of the film: voltage sheet, liquid, cure, thickness, and what only the coating maker and the engineer may lift."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from typing import Any

import msgspec

from wholefilm.base.errors import BadInput
from wholefilm.base.findings import Outcome
from wholefilm.base.quantity import quantity
from wholefilm.base.sources import Source
from wholefilm.base.times import clock, utc_ms
from wholefilm.instruments.field_check import read_setting, same_setting
from wholefilm.job.facts import Fact, Job
from wholefilm.job.kinds.site import CureRow

from .needs_book import Answer, answer, need_of
from .requirements import Cure, of_form, source_of
from .setting import reused, sheet_lacks
from .sides import missing_side, two_answers
from .site import Site
from .states import Requirement, Use
from .thickness import Thickness

WAIT_MOST_S = 10 * 365.25 * 86400
"""A cure longer than ten years counts as ten: a wait that can still be written as a date. [s]"""

ENTER = "wholefilm record JOB system.set --body FILE"


class FilmNeeds:
    """What the film of a panel lacks for a test."""

    def __init__(self, job: Job, site: Site, found: list[Requirement], thickness: Thickness) -> None:
        self.job, self.site, self.found, self._thickness = job, site, found, thickness
        self._released: dict[str, list[Fact]] | None = None  # by what it is about, made when first asked for

    def sheet(self, area: str, stage: str, start: int) -> Fact | None:
        """The voltage sheet of a test area and stage in force at a time. [ms UTC]"""
        sheets = [f for f in self.job.all("voltage.set") if area in f.body.test_areas and f.body.stage == stage and f.start <= start]
        return max(sheets, key=lambda f: (f.start, f.rank)) if sheets else None

    def voltage(self, area: str, stage: str, use: Use, spark: bool, panels: Sequence[str] = ()) -> list[Answer]:
        """The voltage sheet, the setting used, and the liquid where the sheet names one."""
        sheet = self.sheet(area, stage, use.start)
        if sheet is None:
            return [answer("voltage", Outcome.NOT_MET, f"no voltage sheet for {area or 'the place'} at stage {stage}")]
        lacks = [f"the voltage sheet of {area}: {lack}" for lack in sheet_lacks(self.job, sheet)]
        lacks += [
            f"the voltage sheet of {area} is not for this: {why}" for why in reused(self.job, self.site, sheet, area, panels, use.start)
        ]
        try:
            same = same_setting(sheet.body.setting, use.set)
        except BadInput:
            same = False
        if not same:
            lacks.append(f"set {use.set}; the voltage sheet of {area} says {sheet.body.setting}{_side(use.set, sheet.body.setting)}")
        says = f"{sheet.body.setting} for {area}, set {clock(sheet.when)}"
        found = [answer("voltage", Outcome.NOT_MET, lack) for lack in lacks] or [answer("voltage", Outcome.MET, says)]
        return found + self._liquid(area, sheet, use, spark)

    @staticmethod
    def _liquid(area: str, sheet: Fact, use: Use, spark: bool) -> list[Answer]:
        wanted = sheet.body.liquid
        if spark or not wanted:
            return []
        if not use.liquid:
            return [answer("liquid", Outcome.NOT_MET, f"the sheet of {area} names the liquid {wanted}; the test names none", spark=False)]
        if use.liquid.strip().lower() != wanted.strip().lower():
            says = f"liquid {use.liquid}; the sheet of {area} names {wanted}"
            return [answer("liquid", Outcome.NOT_MET, says, spark=False)]
        return [answer("liquid", Outcome.MET, wanted, spark=False)]

    def due(self, names: list[str], start: int, done: Fact | None) -> tuple[Fact | None, int | None, str]:
        """The release that covers names, when the cure is due [ms UTC], and the row that says so."""
        if self._released is None:
            self._released = defaultdict(list)
            for fact in self.job.all("cure.released"):
                for about in set(fact.body.about):
                    self._released[about].append(fact)
        covering = list({f.id: f for name in names for f in self._released.get(name, ()) if f.start <= start}.values())
        if done is not None:
            covering = [f for f in covering if utc_ms(f.body.last_coat_at) >= _last_coat(done)]
        if not covering:
            return None, None, ""
        release = max(covering, key=lambda f: (f.start, f.rank))
        row = self.cure_row(release.body.table_row)
        if row is None:
            return release, None, ""
        wait = min(max(0.0, quantity(row.wait, "time").si), WAIT_MOST_S) * 1000
        return release, utc_ms(release.body.last_coat_at) + int(wait), f"row {row.row}: {row.wait} at {row.steel}"

    def cure_row(self, name: str) -> CureRow | None:
        """Row of the coating maker's table as entered, or None."""
        rows: list[CureRow] = [r for f in self.job.all("system.set") for r in (f.body.cure_table or []) if r.row == name]
        return rows[-1] if rows else None

    def cure(self, names: list[str], panels: list[str], use: Use, spark: bool, done: Fact | None = None, stage: str = "") -> list[Answer]:
        """Whether the film is released and due: a test where the contract asks for it, a retest always."""
        if done is None and not any(not r.stage or not stage or r.stage == stage for r in of_form(self.found, Cure)):
            return []
        source, what, start = source_of(self.found, Cure, "cure before test"), "retest" if done else "spark test", use.start
        release, due, row = self.due(names, start, done)
        if release is None:
            says = f"{names[0]} is not released for {what}: no cure release before it"
        elif due is None:
            says = f"the cure release of {names[0]} names row {release.body.table_row}, which the maker's table as entered does not have"
        elif due > start:
            says = f"{names[0]}: {what} {_hours(due - start)} before the cure is due ({row})"
        else:
            return [answer("cure", Outcome.MET, f"{names[0]} released {clock(release.when)} ({row})", source, spark=spark)]
        if not spark:
            return [answer("cure", Outcome.NOT_MET, says, source, spark=False)]
        return [self.lifted_by_two("cure", says, panels, start, source)]

    def thickness(self, area: str, start: int) -> list[Answer]:
        """Each rule of thickness on a test area, with the readings made by a time. [ms UTC]"""
        unmet = self._thickness.unmet(area, start)
        if not unmet and any(not r.applies_to or area in r.applies_to for r in self._thickness.rules):
            return [answer("thickness", Outcome.MET, f"film thickness of {area} met")]
        return [answer("thickness", Outcome.NOT_MET, f"film thickness of {area}: {r.because}", rule.source) for rule, r in unmet]

    def state(self, panel: str, area: str, start: int) -> list[Answer]:
        """Film once immersed or conductive, for a spark test; cannot tell where it is unknown, or no coating system is entered.

        The system entered last before the test speaks for the film; where there is none, the first entered after it.
        """
        systems = [f for f in self.job.all("system.set") if area in f.body.test_areas]
        if not systems:
            says = f"no coating system is entered for {area or panel}"
            found = [answer(need, Outcome.CANNOT_TELL, says) for need in ("immersed", "conductive")]
            return [msgspec.structs.replace(one, supply=ENTER) for one in found]
        body = max(systems, key=lambda f: (f.start <= start, f.start if f.start <= start else -f.start, f.rank)).body
        found = []
        if body.immersed == "once":
            found.append(self.lifted_by_two("immersed", f"the film of {area} was immersed once", [panel], start))
        elif body.immersed == "never":
            found.append(answer("immersed", Outcome.MET, f"the film of {area} was never immersed, as entered"))
        else:
            who = "nobody knows" if body.immersed == "unknown" else "the coating system as entered does not say"
            one = answer("immersed", Outcome.CANNOT_TELL, f"{who} whether the film of {area} was ever immersed")
            found.append(msgspec.structs.replace(one, supply=ENTER))
        word, names = film_conducts(body.layers)
        if word == "yes":
            found.append(self.lifted_by_two("conductive", f"the film of {area} is conductive ({names})", [panel], start))
        elif word == "unknown":
            found.append(answer("conductive", Outcome.CANNOT_TELL, f"nobody knows whether the film of {area} is conductive ({names})"))
        else:
            found.append(answer("conductive", Outcome.MET, f"no layer of {area} where the electrode touches is conductive, as entered"))
        return found

    def wet(self, asked: Answer, panel: str, start: int) -> Answer:
        """A film seen wet before a spark test: as it is if met, else only the two sides lift it."""
        return asked if asked.outcome is not Outcome.NOT_MET else self.lifted_by_two("wet", asked.says, [panel], start, asked.rule)

    def lifted_by_two(self, name: str, says: str, panels: list[str], start: int, source: Source | None = None) -> Answer:
        """A need that only the coating maker and the engineer together lift, with who has not answered yet."""
        allows = need_of(name).allows
        lack: list[str] = []
        for panel in panels or [""]:
            found = two_answers(self.job, self.site, allows, panel, start)
            if len(found) < 2:
                lack.append(f"{missing_side(found)} for {panel}" if panel else missing_side(found))
        if lack:
            says += f"; the coating maker and the engineer together may allow it in writing before the test ({allows}); missing: {lack[0]}"
        else:
            says += f"; the coating maker and the engineer allowed it in writing ({allows})"
        return answer(name, Outcome.NOT_MET, says, source, liftable=not lack)


def film_conducts(layers: Sequence[Any]) -> tuple[str, str]:
    """Whether a film conducts where the electrode touches it: (``yes``, ``no`` or ``unknown``, names of the layers).

    Notes
    -----
    Layers stand from the substrate outwards. Conductive layers under an insulating one are an underlayment, the path back to
    ground that a test of a film on concrete needs, and make no film conductive: the words of ASTM D4787; common practice.
    """
    first = next((n for n, layer in enumerate(layers) if layer.conductive == "no"), 0)
    outer = layers[first:]
    for word in ("yes", "unknown"):
        names = [layer.name for layer in outer if layer.conductive == word]
        if names:
            return word, ", ".join(names)
    return "no", ""


def _last_coat(done: Fact) -> int:
    return max((utc_ms(c.at) for c in done.body.coats), default=done.end)


def _hours(ms: int) -> str:
    hours = ms / 3600000
    return f"{hours:.0f} h" if hours >= 1 else f"{ms / 60000:.0f} min"


def _side(used: str, said: str) -> str:
    """What a setting beside that of the sheet can do, where both are of one kind."""
    try:
        one, other = read_setting(used), read_setting(said)
    except BadInput:
        return ""
    if one.dimension != other.dimension or one.exact(one.unit) == other.exact(one.unit):
        return ""
    if one.exact(one.unit) < other.exact(one.unit):
        return ": under it, holidays can be missed"
    return ": over it, sound film can be burnt" if one.dimension != "resistance" else ": over it, the tester can speak where nothing is"
