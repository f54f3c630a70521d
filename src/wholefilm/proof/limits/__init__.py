"""Limits in the contract's own units, in every reading that the clause leaves open."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from wholefilm.base.findings import Finding, Outcome, count_of
from wholefilm.base.quantity import quantity
from wholefilm.rules.limits import (
    Count,
    FailedRetests,
    Limit,
    LimitsRule,
    NoneOpen,
    PerArea,
    PerLength,
    PerPiece,
    Share,
    WithinRadius,
)

from ..closing import Closing
from ..site import Site
from ..states import HolidayState, HolidayWord, Reading, RepairState, Requirement
from .counted import One, bound, counted, number_of, of, scope, told
from .pieces import failed_retests, per_piece
from .radius import most_within

TELL = Outcome.CANNOT_TELL
__all__ = ["Limits", "One", "most_within"]


class Limits:
    """Holds the limits of requirements against test areas."""

    def __init__(self, site: Site, closing: Closing, decides: Sequence[str] = ()) -> None:
        self.site, self.closing = site, closing
        self.who = " or ".join(decides) or "the person whom the contract names"
        self.readings: list[Reading] = []

    def findings(self, requirement: Requirement, areas: list[str]) -> list[Finding]:
        """One finding for each test area that the requirement names; fills `readings`."""
        rule: LimitsRule = requirement.rule
        whole = [limit for limit in rule.limits if isinstance(limit, NoneOpen) or (isinstance(limit, Count) and limit.over == "job")]
        found = []
        if whole:
            found.append(
                self._finding(
                    requirement,
                    requirement.applies_to or areas,
                    "all test areas" if not requirement.applies_to else ", ".join(requirement.applies_to),
                    whole,
                    rule,
                )
            )
        each = [limit for limit in rule.limits if limit not in whole]
        if each:
            found += [self._finding(requirement, [area], area, each, rule) for area in requirement.applies_to or areas]
        return found

    def _finding(self, requirement: Requirement, areas: list[str], about: str, limits: Sequence[Limit], rule: LimitsRule) -> Finding:
        holidays = [h for h in self.closing.holidays if h.test_area in areas]
        area_m2 = math.fsum(self.site.area_m2(a) or 0.0 for a in areas)
        outcomes, values, texts, undecided = [], [], [], []
        for limit in limits:
            ones = list(self._read(requirement, limit, areas, area_m2, holidays))
            self.readings += [Reading(about, requirement.clause, o.reading, o.value, o.limit, o.finding.value) for o in ones]
            kinds = {o.finding for o in ones}
            outcomes.append(kinds.pop() if len(kinds) == 1 else TELL)
            if len({o.finding for o in ones}) > 1:
                undecided += [f"{o.reading}: {_word(o.finding)}" for o in ones]
            values.append(" or ".join(dict.fromkeys(o.value for o in ones)))
            texts.append(" or ".join(dict.fromkeys(o.limit for o in ones)))
        outcome = Outcome.NOT_MET if Outcome.NOT_MET in outcomes else (TELL if TELL in outcomes else Outcome.MET)
        if undecided:
            because = "the clause can be read in ways that differ (" + "; ".join(undecided) + f"); {self.who} decides"
        elif outcome is Outcome.NOT_MET and rule.follows:
            because = (
                f"the clause says: {rule.follows}; decision: {self.who}"
                if not any(isinstance(x, NoneOpen) for x in limits)
                else self._open_says(holidays)
            )
        elif any(isinstance(x, NoneOpen) for x in limits):
            because = self._open_says(holidays)
        else:
            because = "every reading of the clause gives the same" if outcome is Outcome.MET else "not all of what it needs is recorded yet"
        if requirement.decided and not undecided:
            because += f"; read as decided: {requirement.decided.body.reason}"
        return Finding(about, requirement.source, "; ".join(values), "; ".join(texts), outcome, because)

    @staticmethod
    def _open_says(holidays: list[HolidayState]) -> str:
        count = {w: sum(1 for h in holidays if h.word is w) for w in HolidayWord}
        return f"{count[HolidayWord.OPEN]} open, {count[HolidayWord.REPAIRED]} repaired and retest due, {count[HolidayWord.CLOSED]} closed"

    def _read(
        self, requirement: Requirement, limit: Limit, areas: list[str], area_m2: float, holidays: list[HolidayState]
    ) -> Iterator[One]:
        match limit:
            case NoneOpen():
                yield self._none_open(areas, holidays)
            case Count():
                found = counted(limit, holidays)
                outcome = told(limit, len(found.sure), len(found.all))
                yield One("number", number_of(found), bound(limit) + scope(limit), outcome)
            case PerArea():
                yield from self._per(requirement, limit, area_m2, quantity(limit.per, "area").si, holidays)
            case PerLength():
                length = quantity(limit.length, "length").si * len(areas) if limit.length else self.site.length_m(areas)
                if length is None:
                    lack = "length not known: the clause names none, and the item tells none"
                    yield One("per length", lack, f"{bound(limit)} per {limit.per}{scope(limit)}", TELL)
                else:
                    yield from self._per(requirement, limit, length, quantity(limit.per, "length").si, holidays)
            case Share():
                yield from self._share(limit, areas, area_m2, holidays)
            case WithinRadius(radius=radius):
                found = counted(limit, holidays)
                least, most = (most_within(x, quantity(radius, "length").si, self.site) for x in (found.sure, found.all))
                lost = sum(1 for h in found.all if not h.part)
                text = f"{bound(limit)} within {radius} of any point{scope(limit)}"
                value = f"{least}" if least == most else f"{least} to {most}, sizes not all recorded"
                yield One(f"within {radius}", value, text, told(limit, least, most + lost))
            case PerPiece():
                yield from per_piece(limit, holidays)
            case FailedRetests():
                mine = {h.repair.fact.id for h in holidays if h.repair}
                ids = {h.fact.id for h in holidays}
                repairs = [r for r in self.closing.repairs if r.fact.id in mine or ids & set(r.covers)]
                yield failed_retests(limit, repairs, holidays)

    def _none_open(self, areas: list[str], holidays: list[HolidayState]) -> One:
        undecided = [
            i for i in self.closing.indications if i.decided == "undecided" and not i.retest_of and self.site.test_area_of(i.panel) in areas
        ]
        words = {h.word for h in holidays}
        value = self._open_says(holidays) + (f", {len(undecided)} undecided" if undecided else "")
        outcome = Outcome.NOT_MET if HolidayWord.OPEN in words else (TELL if HolidayWord.REPAIRED in words or undecided else Outcome.MET)
        return One("every holiday", value, "every holiday repaired, retested, none open", outcome)

    def _spots(self, requirement: Requirement, holidays: list[HolidayState]) -> list[tuple[str, int, int]]:
        """How many spots there are, in each way to count them: every holiday, or what one repair covers as one.

        Each way with the fewest and the most spots that it can give: while repairs are not planned, nobody can say how many they will be.
        """
        if requirement.counts_as_one:
            group = {ident: n for n, ids in enumerate(requirement.counts_as_one) for ident in ids}
            keys = {group.get(h.fact.id, group.get(h.indication.fact.id, h.fact.id)) for h in holidays}
            return [("counted as decided", len(keys), len(keys))]
        repairs = {h.repair.fact.id for h in holidays if h.repair}
        unplanned = sum(1 for h in holidays if h.repair is None)
        most = len(repairs) + unplanned
        least = len(repairs) + min(1, unplanned)
        each = [("each holiday one spot", len(holidays), len(holidays))]
        return each if least == len(holidays) else [*each, ("what one repair covers is one spot", least, most)]

    def _per(
        self, requirement: Requirement, limit: PerArea | PerLength, size: float, per: float, holidays: list[HolidayState]
    ) -> Iterator[One]:
        """A number for each area or length, in each way to count spots and to take a part. [m2 or m]"""
        number = limit.below if limit.below is not None else limit.at_most or 0
        found = counted(limit, holidays)
        more = len(found.unsure)
        word = "below" if limit.below is not None else "at most"
        for how, least, most in self._spots(requirement, found.sure):
            for way, allowed in _ways(limit, number, size / per):
                text = f"{word} {allowed:.2f}" if way == "pro rata" else f"{word} {allowed:.0f}"
                text += f" ({number} per {limit.per}){scope(limit)}"
                ends = {n < allowed if limit.below is not None else n <= allowed for n in (least, most + more)}
                reading = f"{how}, {way}"
                if len(ends) == 2:
                    lack = "sizes not all recorded" if more else "repairs not all planned"
                    yield One(reading, f"{least} to {count_of(most + more, 'spot')}, {lack}", text, TELL)
                else:
                    yield One(reading, count_of(most, "spot"), text, of(ends.pop()))

    def _share(self, limit: Share, areas: list[str], area_m2: float, holidays: list[HolidayState]) -> Iterator[One]:
        bound = limit.below or limit.at_most or ""
        text = f"below {bound}" if limit.below else f"at most {bound}"
        allowed = quantity(bound, "share").si
        repairs = list({h.repair.fact.id: h.repair for h in holidays if h.repair}.values())
        unplanned = [h for h in holidays if h.repair is None]
        for feather in (True, False) if limit.with_feather is None else (limit.with_feather,):
            reading = "share of area with feather" if feather else "share of area without feather"
            known = self._repaired_m2(repairs, feather) if not unplanned else None
            if known is None or not area_m2:
                lack = "repairs not all planned" if unplanned or feather else "bare size not recorded yet"
                yield One(reading, lack, text, TELL)
                continue
            share = known / area_m2
            yield One(reading, f"{share * 100:.2f} %", text, of(share < allowed if limit.below else share <= allowed))

    def _repaired_m2(self, repairs: list[RepairState], feather: bool) -> float | None:
        """Area of repairs, overlaps once; None while a bare size is not recorded. [m2]"""
        if any(r.footprint_m2 <= 0 for r in repairs):
            return None  # an outline that lies on no item has no area
        if feather:
            return self.site.footprint([o for r in repairs for o in r.fact.body.outline])[0] if repairs else 0.0
        bare = [r.bare_m2 for r in repairs]
        return None if None in bare else math.fsum(b for b in bare if b is not None)


def _word(outcome: Outcome) -> str:
    return outcome.value.replace("_", " ")


def _ways(limit: PerArea | PerLength, number: int, times: float) -> list[tuple[str, float]]:
    """Ways to take the number for a size of so many `per`, each with what it allows; ways that come to the same stand once."""
    whole = number * max(1, math.floor(times + 1e-9))
    each = ("not pro rata", float(whole)) if whole == number else (f"not pro rata, for each whole {limit.per}", float(whole))
    in_all = ("not pro rata" if whole == number else "not pro rata, in all", float(number))
    ways = {True: [("pro rata", number * times)], False: [each], "in_all": [in_all]}
    if limit.pro_rata is not None:
        return ways[limit.pro_rata]
    return list(dict.fromkeys([each, in_all, *ways[True]]))
