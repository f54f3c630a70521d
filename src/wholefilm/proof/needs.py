"""May this start? Each need: met or not, why, and on whose rule.

The same needs are asked when an entry is typed (an unmet one refuses it unless a written instruction stands behind it) and
when the job is assessed (an unmet one never counts as good, whatever the entry says of itself).
"""

from __future__ import annotations

from wholefilm.base.errors import BadInput
from wholefilm.base.quantity import quantity
from wholefilm.base.sources import Grade, Source
from wholefilm.base.times import clock, utc_ms
from wholefilm.instruments.field_check import same_setting
from wholefilm.job.facts import Fact, Job
from wholefilm.job.kinds.site import CureRow

from .checks import Testers
from .requirements import CheckInterval, Cure, Holds, of_form, source_of
from .site import Site
from .states import Requirement, Unmet, Use
from .thickness import Thickness

PRACTICE = Source("common practice", "", Grade.RESTATED)
SITE = Source("permission of the site", "", Grade.ENTERED)
WAIT_MOST_S = 10 * 365.25 * 86400
"""A cure longer than ten years counts as ten: a wait that can still be written as a date. [s]"""
CONSENT_FROM_V = 100.0
"""Spark tests ask for consent to a second exposure from here; below it exposures are only counted."""


class Needs:
    """Asks the needs of a test or a retest of the job as recorded."""

    def __init__(self, job: Job, site: Site, found: list[Requirement], testers: Testers, thickness: Thickness) -> None:
        self.job, self.site, self.found, self.testers, self.thickness = job, site, found, testers, thickness

    def of_test(self, panel: str, stage: str, use: Use, written: int) -> list[Unmet]:
        """What a test of a panel lacks.

        Parameters
        ----------
        panel, stage : str
        use : Use
            The tester as used, from start to end.
        written : int
            When the entry was written; papers noted later do not count. [ms UTC]
        """
        area = self.site.test_area_of(panel)
        unmet = []
        if self.site.panel(panel) is None:
            unmet.append(Unmet("panel", f"{panel} is no panel of an item of this job", PRACTICE, False))
        unmet += self._tester(use)
        unmet += self._voltage(area, stage, use)
        unmet += self._cure([area, panel], use.start, "spark test")
        unmet += [
            Unmet("thickness", f"film thickness of {area}: {r.because}", rule.source) for rule, r in self.thickness.unmet(area, use.start)
        ]
        unmet += self._permission(use)
        unmet += self._ground(use)
        unmet += self._surface(panel, use)
        unmet += self.hold("before test", [panel], use.start)
        return unmet

    def of_retest(self, repair: Fact, number: str, panels: list[str], done: Fact | None, stage: str, use: Use) -> list[Unmet]:
        """What a retest of a repair lacks; `done` is the repair of the same nth, or None."""
        unmet = []
        if done is None or done.end > use.start:
            says = f"{number} is not repaired before this retest, or not again since a retest failed"
            unmet.append(Unmet("repair_done", says, PRACTICE, False))
        else:
            unmet += self._cure([number, repair.id], use.start, "retest", done)
        unmet += self._tester(use)
        for area in sorted({self.site.test_area_of(p) for p in panels}) or [""]:
            unmet += self._voltage(area, stage, use)
        unmet += self._permission(use)
        unmet += self._ground(use)
        return unmet

    def _tester(self, use: Use) -> list[Unmet]:
        source = source_of(self.found, CheckInterval, "field check before use")
        _, cause, why = self.testers.before(use)
        unmet = [Unmet("check_before", why, source)] if cause else []
        added = next((f for f in reversed(self.job.all("instrument.added")) if f.body.instrument == use.instrument), None)
        if added is None:
            unmet.append(Unmet("instrument", f"{use.instrument} is no instrument of this job", PRACTICE))
        elif added.body.due and utc_ms(added.body.due) < use.end:
            unmet.append(Unmet("certificate", f"{use.instrument} was due for calibration {clock(added.body.due)}", PRACTICE))
        return unmet

    def sheet(self, area: str, stage: str, start: int) -> Fact | None:
        """The voltage sheet of a test area and stage in force at a time. [ms UTC]"""
        sheets = [f for f in self.job.all("voltage.set") if area in f.body.test_areas and f.body.stage == stage and f.start <= start]
        return max(sheets, key=lambda f: (f.start, f.rank)) if sheets else None

    def sheet_lacks(self, sheet: Fact) -> list[str]:
        """What a voltage sheet lacks: a rule with source and grade, a thickness basis, an agreement in writing."""
        body, lacks = sheet.body, []
        source = body.rule.get("source")
        grade = source.get("grade") if isinstance(source, dict) else None
        if not isinstance(source, dict) or not source.get("document") or grade not in {g.value for g in Grade}:
            lacks.append("its rule names no document and grade")
        elif not Grade(grade).choosable and not body.rule.get("confirmed"):
            lacks.append(f"its rule is graded {grade} and nobody confirmed it from an own copy")
        if not (body.basis.low or body.basis.high):
            lacks.append("its thickness basis has no figure")
        agreed = [self.job.by_id.get(i) for i in body.agreed_by]
        if not any(f is not None and f.kind in ("question.answered", "instruction.received") for f in agreed):
            lacks.append("no answer or instruction in writing agrees to it")
        system = self.job.get(body.system, "system.set")
        if system is None or not set(body.test_areas) <= set(system.body.test_areas):
            lacks.append("it was set for another coating system than that of its test areas")
        return lacks

    def _voltage(self, area: str, stage: str, use: Use) -> list[Unmet]:
        sheet = self.sheet(area, stage, use.start)
        if sheet is None:
            return [Unmet("voltage", f"no voltage sheet for {area or 'the place'} at stage {stage}", PRACTICE)]
        unmet = [Unmet("voltage", f"the voltage sheet of {area}: {lack}", PRACTICE) for lack in self.sheet_lacks(sheet)]
        try:
            same = same_setting(sheet.body.setting, use.set)
        except BadInput:
            same = False
        if not same:
            unmet.append(Unmet("voltage", f"set {use.set}; the voltage sheet of {area} says {sheet.body.setting}", PRACTICE))
        return unmet

    def due(self, names: list[str], start: int, done: Fact | None) -> tuple[Fact | None, int | None, str]:
        """The release that covers names, when the cure is due [ms UTC], and the row that says so."""
        covering = [f for f in self.job.all("cure.released") if set(f.body.about) & set(names) and f.start <= start]
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

    def _cure(self, names: list[str], start: int, what: str, done: Fact | None = None) -> list[Unmet]:
        source = source_of(self.found, Cure, "cure before test")
        if done is None and not of_form(self.found, Cure):
            return []
        release, due, row = self.due(names, start, done)
        if release is None:
            return [Unmet("cure", f"{names[0]} is not released for {what}: no cure release before it", source)]
        if due is None:
            return [
                Unmet(
                    "cure",
                    f"the cure release of {names[0]} names row {release.body.table_row}, which the maker's table as entered does not have",
                    source,
                )
            ]
        if due > start:
            return [Unmet("cure", f"{names[0]}: {what} {_hours(due - start)} before the cure is due ({row})", source)]
        return []

    def _permission(self, use: Use) -> list[Unmet]:
        if not is_spark(use.set):
            return []
        permits = [f for f in self.job.all("permit.noted") if "ignition" in f.body.what.lower() and f.start <= use.start]
        if any(utc_ms(f.body.until) >= use.end for f in permits):
            return []
        says = f"the last ends {clock(permits[-1].body.until)}" if permits else "none is noted"
        return [Unmet("permission", f"no permission of the site for an ignition source covers this test: {says}", SITE, False)]

    def _ground(self, use: Use) -> list[Unmet]:
        proofs = [f for f in self.job.all("ground.checked") if f.when[:10] == use.day and f.start <= use.start]
        return [] if proofs else [Unmet("ground", f"no ground proof on {use.day} before this test", PRACTICE)]

    def _surface(self, panel: str, use: Use) -> list[Unmet]:
        looked = [f for f in self.job.all("surface.inspected") if self.site.covers(f.body.panels, panel) and f.start <= use.start]
        if not looked:
            return []
        body = max(looked, key=lambda f: (f.start, f.rank)).body
        bad = [
            w
            for w, on in (
                ("not dry", not body.dry),
                ("not clean", not body.clean),
                ("overspray", body.overspray),
                ("old water", body.old_water),
            )
            if on
        ]
        return [Unmet("surface", f"{panel} was last seen {', '.join(bad)}", PRACTICE, "not dry" not in bad)] if bad else []

    def hold(self, point: str, panels: list[str], start: int) -> list[Unmet]:
        """Panels for which a hold point that the contract names is not released by a time. [ms UTC]"""
        unmet = []
        for rule in of_form(self.found, Holds):
            if point in rule.rule.points:
                for panel in panels:
                    if not self.released(point, panel, start):
                        unmet.append(Unmet("hold", f"hold point {point} is not released for {panel}", rule.source))
        return unmet

    def released(self, point: str, about: str, by: int) -> Fact | None:
        """The release of a hold point for a panel, test area or repair by a time. [ms UTC]"""
        found = [
            f for f in self.job.all("hold.released") if f.body.point == point and f.start <= by and self.site.covers([*f.body.about], about)
        ]
        return found[0] if found else None

    def consent(self, panel: str, before: int) -> Fact | None:
        """The written word that allows a second exposure of a panel, dated before a test. [ms UTC]"""
        for fact in self.job.all("question.answered", "instruction.received"):
            allows = fact.body.allows
            if allows and allows.what == "second_exposure" and panel in (allows.panels or []) and utc_ms(fact.body.dated) <= before:
                return fact
        return None


def is_spark(setting: str) -> bool:
    """Whether a setting is that of a spark test: 100 V or more, or a spark length."""
    try:
        return quantity(setting, "voltage").si >= CONSENT_FROM_V
    except BadInput:
        try:
            quantity(setting, "length")
        except BadInput:
            return False
        return True


def _last_coat(done: Fact) -> int:
    return max((utc_ms(c.at) for c in done.body.coats), default=done.end)


def _hours(ms: int) -> str:
    hours = ms / 3600000
    return f"{hours:.0f} h" if hours >= 1 else f"{ms / 60000:.0f} min"
