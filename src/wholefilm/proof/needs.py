"""May this start? Each need: met or not, why, on whose rule, and what supplies it.

The same needs are asked when an entry is typed (an unmet one refuses it unless a written instruction stands behind it), when
the job is assessed (an unmet one never counts as good, whatever the entry says of itself) and by the ready-to-test list.
"""

from __future__ import annotations

from functools import cached_property
from typing import Any

import msgspec

from wholefilm.base.errors import BadInput
from wholefilm.base.findings import Outcome
from wholefilm.base.quantity import quantity
from wholefilm.base.sources import Source
from wholefilm.base.times import clock, utc_ms
from wholefilm.instruments.field_check import read_setting
from wholefilm.job.facts import Fact, Job

from .asked import NEED_OF_TOPIC, People, Permissions
from .checks import Testers
from .falls import failed_grounds
from .matcher import is_asked, match
from .needs_book import PRACTICE, Answer, Need, answer, needs, rule_of
from .needs_film import FilmNeeds
from .people import person_called
from .requirements import CheckInterval, Holds, of_form, source_of
from .setting import is_spark
from .site import Site
from .states import Requirement, Unmet, Use
from .thickness import Thickness

__all__ = ["PRACTICE", "Answer", "Needs", "Unmet"]
_OUTCOMES = {"met": Outcome.MET, "not_met": Outcome.NOT_MET, "cannot_tell": Outcome.CANNOT_TELL}


class Needs:
    """Asks the needs of a test or a retest of the job as recorded."""

    def __init__(self, job: Job, site: Site, found: list[Requirement], testers: Testers, thickness: Thickness) -> None:
        self.job, self.site, self.found, self.testers, self.thickness = job, site, found, testers, thickness
        self.film = FilmNeeds(job, site, found, thickness)
        self._plain: dict[str, list[dict[str, Any]]] = {}

    def of_test(self, panel: str, stage: str, use: Use, written: int) -> list[Unmet]:
        """What a test of a panel lacks.

        Parameters
        ----------
        panel, stage : str
        use : Use
            The tester as used, from start to end.
        written : int
            When the entry was written. [ms UTC]

        Returns
        -------
        list of Unmet
            Empty if it lacks nothing. What cannot be told refuses nothing and is not in it.
        """
        return unmet_of(self.asked_of_test(panel, stage, use))

    def of_retest(self, repair: Fact, number: str, panels: list[str], done: Fact | None, stage: str, use: Use) -> list[Unmet]:
        """What a retest of a repair lacks; `done` is the repair of the same nth, or None."""
        return unmet_of(self.asked_of_retest(repair, number, panels, done, stage, use))

    def asked_of_test(self, panel: str, stage: str, use: Use) -> list[Answer]:
        """Every need of a test of a panel, met or not."""
        area, spark, found = self.site.test_area_of(panel), is_spark(use.set), []
        if self.site.panel(panel) is None:
            found.append(answer("panel", Outcome.NOT_MET, f"{panel} is no panel of an item of this job"))
        found += self._tester(use)
        found += self.film.voltage(area, stage, use, spark, [panel])
        found += self.film.cure([area, panel], [panel], use, spark, stage=stage)
        found += self.film.thickness(area, use.start)
        found += self.film.state(panel, area, use.start) if spark else []
        found += self._matched(panel, stage, use, spark)
        return found + self.holds("before test", [panel], use.start)

    def asked_of_retest(self, repair: Fact, number: str, panels: list[str], done: Fact | None, stage: str, use: Use) -> list[Answer]:
        """Every need of a retest of a repair, met or not."""
        spark, found = is_spark(use.set), []
        if done is None or done.end > use.start:
            says = f"{number} is not repaired before this retest, or not again since a retest failed"
            found.append(answer("repair_done", Outcome.NOT_MET, says))
        else:
            found += self.film.cure([number, repair.id], panels, use, spark, done)
        found += self._tester(use)
        for area in sorted({self.site.test_area_of(p) for p in panels}) or [""]:
            found += self.film.voltage(area, stage, use, spark, panels)
        for panel in panels:
            found += self.film.state(panel, self.site.test_area_of(panel), use.start) if spark else []
        for panel in panels or [""]:
            found += self._matched(panel, stage, use, spark, number)
        return list(dict.fromkeys(found))

    def _tester(self, use: Use) -> list[Answer]:
        source = source_of(self.found, CheckInterval, "field check before use")
        last, cause, why = self.testers.before(use)
        if cause:
            found = [answer("check_before", Outcome.NOT_MET, why, source)]
        else:
            assert last is not None
            says = f"{last.fact.body.instrument} passed {clock(last.fact.when)} ({last.result.says})"
            longest = self.testers.longest_ms
            until = last.fact.start + longest if longest is not None else None
            found = [answer("check_before", Outcome.MET, says, source, until=until)]
        added = next((f for f in reversed(self.job.all("instrument.added")) if f.body.instrument == use.instrument), None)
        if added is None:
            says = f"{use.instrument or 'the tester'} is no instrument of this job"
            return [*found, answer("instrument", Outcome.NOT_MET, says), answer("certificate", Outcome.CANNOT_TELL, says)]
        beyond = _beyond(added.body.range, use.set)
        if beyond:
            found.append(answer("instrument", Outcome.NOT_MET, f"{use.instrument} {beyond}"))
        if not added.body.due:
            return found
        due, says = utc_ms(added.body.due), f"{use.instrument} was due for calibration {clock(added.body.due)}"
        if due < use.end:
            return [*found, answer("certificate", Outcome.NOT_MET, says)]
        return [*found, answer("certificate", Outcome.MET, says.replace("was due", "is due"), until=due)]

    def _matched(self, panel: str, stage: str, use: Use, spark: bool, repair: str = "") -> list[Answer]:
        """The needs that are data, for one panel."""
        asked, rules = self._asked(panel, stage, spark)
        question = self._question(panel, use, spark, asked, repair)
        found = []
        for need, plain in needs():
            if need.function or not is_asked(plain, question):
                continue
            said = match(plain, self._entries(need), question)
            if need.need == "ground":
                said = self._not_fallen(need, plain, said, question)
            one = self._answered(need, said, rules.get(need.need))
            found.append(self.film.wet(one, panel, use.start) if need.lifts == "two_answers" else one)
        return found

    def _not_fallen(self, need: Need, plain: dict[str, Any], said: dict[str, Any], question: dict[str, Any]) -> dict[str, Any]:
        """The same, without proofs that had fallen with a failed check of their instrument by the start of the question."""
        known, why = self._fallen.get(said["entry"], (0, ""))
        if said["result"] != "met" or not why or known > question["start"]:
            return said
        standing = [e for e in self._entries(need)[need.kind] if self._fallen.get(e["id"], (1 << 62, ""))[0] > question["start"]]
        again = match(plain, {need.kind: standing}, question)
        proof = self.job.by_id[said["entry"]]
        says = f"the ground proof of {proof.body.point}, {clock(proof.when)}, is in doubt: {why}; prove it again"
        return again if again["result"] == "met" else {"result": "not_met", "why": says, "entry": said["entry"], "until": None}

    @cached_property
    def _fallen(self) -> dict[str, tuple[int, str]]:
        return failed_grounds(self.job, self.testers)

    def _answered(self, need: Need, said: dict[str, Any], rule: Source | None) -> Answer:
        outcome, fact = _OUTCOMES[said["result"]], self.job.by_id.get(said["entry"])
        says = said["why"] or (f"noted {clock(fact.when)}{_read(fact)}" if fact is not None else "nothing against it is noted")
        may = need.lifts == "instruction"
        return Answer(need.need, need.title, outcome, says, rule or rule_of(need), may, need.lifts, need.supply, said["until"])

    def _asked(self, panel: str, stage: str, spark: bool) -> tuple[dict[str, str], dict[str, Source]]:
        """Needs that requirements name for a panel, with the longest age of what answers them, and the requirement behind each."""
        asked: dict[str, str] = {}
        rules: dict[str, Source] = {}
        area = self.site.test_area_of(panel)

        def ask(need: str, age: str, r: Requirement) -> None:
            if need not in asked or (age and (not asked[need] or quantity(age, "time").si < quantity(asked[need], "time").si)):
                asked[need], rules[need] = age, r.source

        for r in of_form(self.found, Permissions) + of_form(self.found, People):
            if (r.applies_to and area not in r.applies_to) or (r.stage and r.stage != stage):
                continue
            if isinstance(r.rule, Permissions):
                if spark or r.rule.for_ == "any":
                    for topic in r.rule.topics:
                        ask(NEED_OF_TOPIC.get(topic, topic), r.rule.not_older_than or "", r)
            else:
                for need, wanted in (("qualification", r.rule.operator), ("authorisation", r.rule.authorised)):
                    if wanted:
                        ask(need, "", r)
        return asked, rules

    def _question(self, panel: str, use: Use, spark: bool, asked: dict[str, str], repair: str) -> dict[str, Any]:
        surface = self.site.surface_of(panel)
        places = [panel, self.site.test_area_of(panel), *([surface.item] if surface else []), *([repair] if repair else [])]
        operator = person_called(self.job, use.operator) if {"qualification", "authorisation"} & set(asked) else use.operator
        return {
            "places": places,
            "start": use.start,
            "end": use.end,
            "day": use.day,
            "offset": use.offset,
            "spark": spark,
            "instrument": use.instrument,
            "operator": operator,
            "operator_says": "/".join(self.job.roles(operator)) or use.operator,
            "asked": asked,
        }

    def _entries(self, need: Need) -> dict[str, list[dict[str, Any]]]:
        """The entries of a need's kinds as plain maps, in order of time; made once."""
        for kind in {need.kind, need.stopped_by.get("kind", "")} - set(self._plain) - {""}:
            facts = sorted(self.job.all(kind), key=lambda f: (f.start, f.rank))
            self._plain[kind] = [{"id": f.id, "start": f.start, "when": f.when, "body": _plain(msgspec.to_builtins(f.body))} for f in facts]
        return self._plain

    def holds(self, point: str, panels: list[str], start: int) -> list[Answer]:
        """Each hold point that the contract names, for panels, released or not by a time. [ms UTC]"""
        found = []
        for rule in of_form(self.found, Holds):
            if point in rule.rule.points:
                for panel in panels:
                    given = self.released(point, panel, start)
                    says = f"hold point {point} is not released for {panel}"
                    met = f"hold point {point} released {clock(given.when)}" if given else ""
                    found.append(answer("hold", Outcome.MET if given else Outcome.NOT_MET, met or says, rule.source))
        return found

    def hold(self, point: str, panels: list[str], start: int) -> list[Unmet]:
        """Panels for which a hold point that the contract names is not released by a time. [ms UTC]"""
        return unmet_of(self.holds(point, panels, start))

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

    def exposure(self, panel: str, before: int) -> Answer:
        """The consent to a second exposure of a panel that was tested before. [ms UTC]"""
        fact = self.consent(panel, before)
        if fact is not None:
            return answer("second_exposure", Outcome.MET, f"{fact.body.from_}, dated {clock(fact.body.dated)}")
        says = f"{panel} was tested before; the coating maker's or engineer's written consent is not here"
        return answer("second_exposure", Outcome.NOT_MET, says)

    def sheet(self, area: str, stage: str, start: int) -> Fact | None:
        """The voltage sheet of a test area and stage in force at a time. [ms UTC]"""
        return self.film.sheet(area, stage, start)

    def due(self, names: list[str], start: int, done: Fact | None) -> tuple[Fact | None, int | None, str]:
        """The release that covers names, when the cure is due [ms UTC], and the row that says so."""
        return self.film.due(names, start, done)


def unmet_of(answers: list[Answer]) -> list[Unmet]:
    """Those answers that say not met, as needs that are not met."""
    return [a.unmet for a in answers if a.outcome is Outcome.NOT_MET]


def _plain(body: dict[str, Any]) -> dict[str, Any]:
    """A body with its long lists of names as sets, in which a name is found at once."""
    return {key: frozenset(value) if isinstance(value, list) and len(value) > 8 and _names(value) else value for key, value in body.items()}


def _names(value: list[Any]) -> bool:
    return all(isinstance(one, str) for one in value)


def _read(fact: Fact) -> str:
    """What was read, where an entry tells a reading that nobody here judges: that of a ground proof."""
    if fact.kind != "ground.checked":
        return ""
    return f": {fact.body.point} to {fact.body.to}, {fact.body.value or fact.body.proof or 'no value told'}"


def _beyond(range_text: str, setting: str) -> str:
    """Says that a setting lies outside the range of a tester, such as ``0.5 kV to 15 kV``; empty if not, or they cannot be compared."""
    ends = range_text.split(" to ")
    if len(ends) != 2 or not setting:
        return ""
    try:
        low, high, used = (read_setting(text.strip()) for text in (*ends, setting))
    except BadInput:
        return ""
    if not low.dimension == high.dimension == used.dimension:
        return ""
    inside = low.exact(used.unit) <= used.number <= high.exact(used.unit)
    return "" if inside else f"has a range of {range_text}; set {setting} lies outside it"
