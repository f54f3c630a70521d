"""Limits in the contract's own units, in every reading that the clause leaves open."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

import msgspec

from wholefilm.base.findings import Finding, Outcome, count_of
from wholefilm.base.quantity import quantity
from wholefilm.rules.limits import (
    Count,
    Limit,
    LimitsRule,
    NoneOpen,
    PerArea,
    PerLength,
    PerPiece,
    Share,
    WithinRadius,
)

from .closing import Closing
from .site import Site
from .states import HolidayState, HolidayWord, Reading, RepairState, Requirement

TELL = Outcome.CANNOT_TELL


class One(msgspec.Struct, frozen=True):
    """One limit in one reading."""

    reading: str
    value: str
    limit: str
    finding: Outcome


def _of(met: bool) -> Outcome:
    return Outcome.MET if met else Outcome.NOT_MET


class Limits:
    """Holds the limits of requirements against test areas."""

    def __init__(self, site: Site, closing: Closing) -> None:
        self.site, self.closing = site, closing
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
            because = "the clause can be read in ways that differ (" + "; ".join(undecided) + "); who the contract names decides"
        elif outcome is Outcome.NOT_MET and rule.follows:
            because = (
                f"the clause says: {rule.follows}; decision: engineer"
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
            case Count(at_most=most):
                yield One("number", f"{len(holidays)}", f"at most {most}", _of(len(holidays) <= most))
            case PerArea():
                yield from self._per_area(requirement, limit, area_m2, holidays)
            case PerLength():
                yield One("per length", "length not known", f"at most {limit.at_most} per {limit.per}", TELL)
            case Share():
                yield from self._share(limit, areas, area_m2, holidays)
            case WithinRadius(at_most=most, radius=radius):
                n = most_within(holidays, quantity(radius, "length").si, self.site)
                lost = sum(1 for h in holidays if not h.part)
                finding = TELL if n <= most < n + lost else _of(n <= most)
                yield One(f"within {radius}", f"{n}", f"at most {most} within {radius} of any point", finding)
            case PerPiece(at_most=most, piece=piece):
                counts = [sum(1 for h in holidays if h.panel == p) for p in {h.panel for h in holidays}]
                yield One(
                    f"per {piece}",
                    f"{max(counts, default=0)} at most on one",
                    f"at most {most} per {piece}",
                    _of(max(counts, default=0) <= most),
                )

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

    def _per_area(self, requirement: Requirement, limit: PerArea, area_m2: float, holidays: list[HolidayState]) -> Iterator[One]:
        per = quantity(limit.per, "area").si
        for how, least, most in self._spots(requirement, holidays):
            for pro_rata in (False, True) if limit.pro_rata is None else (limit.pro_rata,):
                allowed = limit.at_most * (area_m2 / per if pro_rata else max(1, math.floor(area_m2 / per)))
                reading = f"{how}, {'pro rata' if pro_rata else 'not pro rata'}"
                text = f"at most {allowed:.2f}" if pro_rata else f"at most {allowed:.0f}"
                text += f" ({limit.at_most} per {limit.per})"
                if least <= allowed < most:
                    yield One(reading, f"{least} to {count_of(most, 'spot')}, repairs not all planned", text, TELL)
                else:
                    yield One(reading, count_of(most, "spot"), text, _of(most <= allowed))

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
            yield One(reading, f"{share * 100:.2f} %", text, _of(share < allowed if limit.below else share <= allowed))

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


def most_within(holidays: list[HolidayState], radius_m: float, site: Site) -> int:
    """Largest number of holidays inside any circle of a radius on one part, along the surface.

    Parameters
    ----------
    holidays : list of HolidayState
    radius_m : float
        Radius. [m]
    site : Site

    Returns
    -------
    int

    Notes
    -----
    Exact on flat and developed parts: a largest circle can be moved until two holidays lie on its edge. On cones and heads the
    lengths are those along the surface from each holiday in turn.
    """
    best = 1 if holidays else 0
    for one in holidays:
        surface = site.surfaces.get(one.item)
        if surface is None:
            continue
        part = surface.parts[one.part]
        mine = [h for h in holidays if h.item == one.item and h.part == one.part]
        if part.straight:
            near = [(_offset(h.u - one.u, part.period_m), h.v - one.v) for h in mine]
        else:
            near = [part.offset((one.u, one.v), (h.u, h.v)) for h in mine]
        for u, v in near:
            gap = math.hypot(u, v)
            if 0 < gap <= 2 * radius_m:
                rise = math.sqrt(max(0.0, radius_m**2 - gap**2 / 4))
                for sign in (1, -1):
                    cu, cv = u / 2 - sign * rise * v / gap, v / 2 + sign * rise * u / gap
                    best = max(best, sum(1 for a, b in near if math.hypot(a - cu, b - cv) <= radius_m * (1 + 1e-9)))
            elif gap == 0:
                best = max(best, sum(1 for a, b in near if math.hypot(a, b) == 0))
    return best


def _offset(du: float, period: float | None) -> float:
    return du if not period else (du + period / 2) % period - period / 2
