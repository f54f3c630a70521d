"""One reading of the climate worked out, with every rule on the shelf beside it: what `wholefilm climate --json` prints."""

from __future__ import annotations

from collections.abc import Iterable

import msgspec

from wholefilm.base.sources import Source
from wholefilm.climate.dew_point import ICE, WATER
from wholefilm.climate.holding import Earlier, Held, hold_all
from wholefilm.climate.psychrometer import PSYCHROMETERS, STANDARD_HPA, psychrometer
from wholefilm.climate.state import ClimateState, Uncertainty, climate_state
from wholefilm.rules.climate import ClimateRule, load_climate

NOT_FOR_TEST = (
    "Rules on the shelf, for comparison: each was written for what stands beside it. Whether a limit applies to the holiday test, and "
    "which edition, is for the contract to say; the coating maker's own limits come first."
)


class ClimateRuleLine(msgspec.Struct, frozen=True, kw_only=True):
    """One limit of one rule held against the reading. `for` is what the rule was written for."""

    rule: str
    document: str
    edition: str
    clause: str
    grade: str
    for_: str = msgspec.field(name="for")
    value: str
    limit: str
    finding: str
    inside_uncertainty: bool
    because: str
    doubts: tuple[str, ...]


class IntervalLine(msgspec.Struct, frozen=True, kw_only=True):
    """How often a document asks to read."""

    rule: str
    document: str
    edition: str
    clause: str
    grade: str
    for_: str = msgspec.field(name="for")
    every: str
    says: str


class SourceLine(msgspec.Struct, frozen=True, kw_only=True):
    """Where a formula or constant comes from, and its grade."""

    what: str
    document: str
    grade: str


class OtherConstant(msgspec.Struct, frozen=True, kw_only=True):
    """The dew point with another psychrometer constant, for comparison. [degC]"""

    psychrometer: str
    dew_point_c: float


class ClimateAnswer(msgspec.Struct, frozen=True, omit_defaults=True, kw_only=True):
    """A reading worked out. [degC, %, K, hPa] Keys that do not apply are left out.

    `frost_point_c` stands where the dew point is below 0 degC; the spread is from it then, as `spread_from` says.
    `pressure_hpa` and `other_constants` stand with a wet bulb, `uncertainty` where one was entered.
    """

    dew_point_c: float
    frost_point_c: float | None = None
    rh_percent: float
    spread_k: float
    spread_from: str
    surface_rh_percent: float
    pressure_hpa: float | None = None
    uncertainty: Uncertainty | None = None
    uncertainty_not_stated: list[str]
    other_constants: list[OtherConstant] = []
    formulas: list[SourceLine]
    notes: list[str]
    rules: list[ClimateRuleLine]
    intervals: list[IntervalLine]


def climate_answer(state: ClimateState, earlier: Earlier | None = None) -> ClimateAnswer:
    """A worked-out reading with every rule on the shelf beside it.

    Parameters
    ----------
    state : ClimateState
    earlier : Earlier, optional
        An earlier reading of the same place, for rules that ask for "and rising".
    """
    u, m = state.uncertainty, state.measured
    names = ("dew_point_k", "frost_point_k", "rh_percent", "spread_k", "surface_rh_percent")
    sizes = {name: round(v, 2) for name in names if (v := getattr(u, name)) is not None}
    pressure = None if m.wet_bulb_c is None else STANDARD_HPA if m.pressure_hpa is None else m.pressure_hpa
    return ClimateAnswer(
        dew_point_c=_two(state.dew_point_c),
        frost_point_c=None if state.frost_point_c is None else _two(state.frost_point_c),
        rh_percent=_two(state.rh_percent),
        spread_k=_two(state.spread_k),
        spread_from=state.over,
        surface_rh_percent=_two(state.surface_rh_percent),
        pressure_hpa=pressure,
        uncertainty=msgspec.convert(sizes, Uncertainty) if sizes else None,
        uncertainty_not_stated=list(u.not_stated),
        other_constants=_others(state),
        formulas=formulas([state]),
        notes=list(state.notes),
        rules=rule_lines(state, earlier),
        intervals=[IntervalLine(**_source(r), every=r.every, says=r.says) for r in load_climate().values() if r.every],
    )


def rule_lines(state: ClimateState, earlier: Earlier | None = None) -> list[ClimateRuleLine]:
    """Every rule on the shelf held against a reading, none preferred."""
    found = []
    for rule in load_climate().values():
        found += [_line(rule, h) for h in hold_all(rule.limits, rule.any_of, state, earlier)]
    return found


def formulas(states: Iterable[ClimateState]) -> list[SourceLine]:
    """Formulas and constants that some readings were worked out with, each once."""
    used: dict[str, SourceLine] = {}
    for state in states:
        m = state.measured
        mine: list[tuple[str, Source]] = [("dew point", WATER)]
        if state.frost_point_c is not None or m.surface_c < 0:
            mine.append(("frost point" if state.frost_point_c is not None else "humidity at the surface", ICE))
        if m.wet_bulb_c is not None:
            mine.append(("wet bulb", psychrometer(m.psychrometer).source))
        for what, source in mine:
            used.setdefault(what, SourceLine(what=what, document=source.document, grade=source.grade.value))
    return list(used.values())


def _line(rule: ClimateRule, held: Held) -> ClimateRuleLine:
    return ClimateRuleLine(
        **_source(rule),
        value=held.value,
        limit=held.limit,
        finding=held.finding.value,
        inside_uncertainty=held.inside_uncertainty,
        because=held.because,
        doubts=rule.doubts,
    )


def _source(rule: ClimateRule) -> dict[str, str]:
    source = rule.all_editions
    return {
        "rule": rule.id,
        "document": source.document,
        "edition": source.edition,
        "clause": source.clause,
        "grade": source.grade.value,
        "for_": rule.written_for,
    }


def _others(state: ClimateState) -> list[OtherConstant]:
    m = state.measured
    if m.wet_bulb_c is None:
        return []
    others = [p for p in PSYCHROMETERS.values() if p.name != m.psychrometer and (m.wick != "ice" or p.a_ice is not None)]
    moved = [(p.name, climate_state(msgspec.structs.replace(m, psychrometer=p.name))) for p in others]
    return [OtherConstant(psychrometer=name, dew_point_c=_two(s.dew_point_c)) for name, s in moved]


def _two(value: float) -> float:
    return round(value, 2) + 0.0
