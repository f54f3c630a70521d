"""Climate: each reading worked out, what the contract asks of it, and the rules on the shelf beside it."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import Annotated

import msgspec

from wholefilm.base.findings import Outcome
from wholefilm.base.times import clock
from wholefilm.climate.dew_point import WATER
from wholefilm.climate.holding import WORDS, Held, worst_of
from wholefilm.climate.requirement import ClimateRequired
from wholefilm.climate.state import ClimateState
from wholefilm.proof.climate import ReadClimate, climate_readings, hold_reading, unconfirmed
from wholefilm.proof.states import Requirement, Standing

from .climate_answer import ClimateRuleLine, SourceLine, formulas, rule_lines
from .rows import Row, Table, head, table


class ClimateRow(Row, frozen=True, kw_only=True):
    """One reading of the climate. `rules` are all rules on the shelf beside it, for comparison."""

    when: Annotated[str, head("When")]
    place: Annotated[str, head("Where")]
    air: Annotated[str, head("Air")]
    humidity: Annotated[str, head("RH or wet bulb")]
    surface: Annotated[str, head("Surface")]
    dew_point: Annotated[str, head("Dew point")]
    spread: Annotated[str, head("Spread")]
    uncertainty: Annotated[str, head("Uncertainty of spread")]
    surface_rh: Annotated[str, head("RH at surface")]
    contract: Annotated[str, head("Contract")]
    due: Annotated[str, head("Due again")]
    corrected: Annotated[bool, head("Corrected")]
    note: Annotated[str, head("Note")]
    frost_point: str
    rules: list[ClimateRuleLine]
    entry: str


class ClimateAskedRow(Row, frozen=True, kw_only=True):
    """What the contract asks of the climate."""

    clause: Annotated[str, head("Clause")]
    applies_to: Annotated[str, head("Applies to")]
    limit: Annotated[str, head("Limit")]
    every: Annotated[str, head("Read every")]
    source: Annotated[str, head("Source")]
    held: Annotated[str, head("Held against the job")]
    entry: str


class ClimateHeldRow(Row, frozen=True, kw_only=True):
    """One reading against one limit of the contract: value, limit, source."""

    when: Annotated[str, head("When")]
    place: Annotated[str, head("Where")]
    value: Annotated[str, head("Value")]
    limit: Annotated[str, head("Limit")]
    source: Annotated[str, head("Source")]
    applies_to: Annotated[str, head("Applies to")]
    finding_says: Annotated[str, head("Finding")]
    finding: str
    inside_uncertainty: bool
    because: str


class ClimateShelfRow(Row, frozen=True, kw_only=True):
    """One limit of a rule on the shelf: the last reading against it, and how all readings stand."""

    value: Annotated[str, head("Last reading")]
    limit: Annotated[str, head("Limit")]
    source: Annotated[str, head("Source")]
    written_for: Annotated[str, head("Written for")]
    finding_says: Annotated[str, head("Last reading is")]
    all_readings: Annotated[str, head("All readings")]


class ClimateFactRow(Row, frozen=True, kw_only=True):
    """One thing that the contract says or does not say of the climate."""

    what: Annotated[str, head("By the contract")]
    says: Annotated[str, head("Says")]


class ClimateSheet(msgspec.Struct, frozen=True):
    """The climate of a job.

    `applies_to_test` says whether the contract applies climate limits to the test; `next_due` when a reading is due again by
    the interval that the contract names, empty if it names none.
    """

    readings: list[ClimateRow]
    asked: list[ClimateAskedRow]
    held: list[ClimateHeldRow]
    shelf: list[ClimateShelfRow]
    applies_to_test: str
    next_due: str
    sources: list[SourceLine]

    @property
    def dew_point_source(self) -> str:
        """Formulas and constants with their grades, in one line."""
        return "; ".join(f"{x.what}: {x.document} [{x.grade}]" for x in self.sources) or f"dew point: {WATER}"

    def tables(self) -> list[Table]:
        """The sheet as tables."""
        shelf = "Rules on the shelf, for comparison; the contract says which apply"
        return [*self.printed(), table(shelf, ClimateShelfRow, self.shelf, "no reading")]

    def printed(self) -> list[Table]:
        """The tables that a report prints: what the contract does not ask is left to the screen."""
        due = self.next_due or "the contract names no interval"
        facts = [
            ClimateFactRow(what="climate limits apply to the test", says=self.applies_to_test),
            ClimateFactRow(what="next reading due", says=due),
        ]
        return [
            table("Climate", ClimateRow, self.readings, "no reading"),
            table("Climate and the contract", ClimateFactRow, facts),
            table("What the contract asks of the climate", ClimateAskedRow, self.asked, "nothing"),
            table("Readings against the contract", ClimateHeldRow, self.held, "nothing to hold a reading against"),
        ]


def climate_sheet(standing: Standing) -> ClimateSheet:
    """Climate of a standing."""
    readings = climate_readings(standing.job)
    asked = [r for r in standing.requirements if isinstance(r.rule, ClimateRequired) or "climate" in r.topic.lower()]
    active = [r for r in asked if r.usable and isinstance(r.rule, ClimateRequired) and not unconfirmed(r)]
    for_test = [r.clause for r in active if r.rule.applies_to == "test"]
    interval = min((r.rule.interval_ms for r in active if r.rule.interval_ms is not None), default=None)
    rows = [_row(c, active, interval) for c in readings]
    states = [c.state for c in readings if c.state is not None]
    return ClimateSheet(
        readings=rows,
        asked=[_asked(r, r in active) for r in asked],
        held=[x for c in readings for r in active for x in _held(c, r)],
        shelf=_shelf(readings, rows),
        applies_to_test=f"yes, clause {', '.join(dict.fromkeys(for_test))}" if for_test else "no, no clause says so",
        next_due=rows[-1].due if rows else "",
        sources=formulas(states),
    )


def _row(c: ReadClimate, active: list[Requirement], interval: int | None) -> ClimateRow:
    b, s = c.fact.body, c.state
    frost = f"{s.frost_point_c:.1f} degC" if s and s.frost_point_c is not None else ""
    humidity = b.rh or (f"wet bulb {b.wet_bulb}" if b.wet_bulb else "")
    contract = [(r.clause, r.rule.applies_to, hold_reading(r.rule, c)) for r in active]
    return ClimateRow(
        when=clock(c.fact.when),
        place=b.place,
        air=b.air,
        humidity=humidity + (f", {b.pressure}" if b.wet_bulb and b.pressure else ""),
        surface=b.surface,
        dew_point=f"{s.dew_point_c:.1f} degC" + (f", frost point {frost}" if frost else "") if s else "",
        frost_point=frost,
        spread=f"{s.spread_k:.1f} K" if s else "",
        uncertainty=_uncertainty(s) if s else "",
        surface_rh=f"{s.surface_rh_percent:.0f} %" if s else "",
        contract=", ".join(f"clause {clause} ({what}): {_word(held)}" for clause, what, held in contract if held),
        due=_later(c.fact.when, interval) if interval is not None else "",
        corrected=bool(c.fact.corrected_by),
        note="; ".join(s.notes) if s else c.why_not,
        rules=rule_lines(s, c.earlier) if s else [],
        entry=c.fact.id,
    )


def _word(held: list[Held]) -> str:
    near = ", inside uncertainty" if any(h.inside_uncertainty for h in held) else ""
    return WORDS[worst_of(held)] + near


def _uncertainty(s: ClimateState) -> str:
    u = s.uncertainty
    if u.spread_k is None:
        return "not stated"
    return f"{u.spread_k:.1f} K" + (f" without {', '.join(u.not_stated)}" if u.not_stated else "")


def _later(when: str, ms: int) -> str:
    return (datetime.fromisoformat(when) + timedelta(milliseconds=ms)).isoformat(sep=" ", timespec="minutes")[:16]


def _asked(r: Requirement, active: bool) -> ClimateAskedRow:
    rule = r.rule if isinstance(r.rule, ClimateRequired) else None
    if active and rule:
        held = f"yes, against every {rule.applies_to}"
    elif rule:
        held = f"no: {r.why_not or unconfirmed(r)}"
    else:
        held = f"no: {r.why_not}" if r.why_not else "no: entered in words only"
    return ClimateAskedRow(
        clause=r.clause,
        applies_to=rule.applies_to if rule else "",
        limit=str(rule) if rule else r.says,
        every=rule.interval if rule else "",
        source=_source(r),
        held=held,
        entry=r.fact.id,
    )


def _source(r: Requirement) -> str:
    rule = r.rule.document_rule if isinstance(r.rule, ClimateRequired) else None
    named = f"; figure of {rule.source(r.rule.edition)}" if rule else ""
    return f"{r.source}{named}"


def _held(c: ReadClimate, r: Requirement) -> list[ClimateHeldRow]:
    return [
        ClimateHeldRow(
            when=clock(c.fact.when),
            place=c.fact.body.place,
            value=h.value,
            limit=h.limit,
            source=_source(r),
            applies_to=f"{r.rule.applies_to}, clause {r.clause}",
            finding_says=h.says,
            finding=h.finding.value,
            inside_uncertainty=h.inside_uncertainty,
            because=h.because,
        )
        for h in hold_reading(r.rule, c)
    ]


def _shelf(readings: list[ReadClimate], rows: list[ClimateRow]) -> list[ClimateShelfRow]:
    """A row a limit; every reading has the same limits in the same order."""
    worked = [row.rules for c, row in zip(readings, rows, strict=True) if c.state is not None]
    found = []
    for lines in zip(*worked, strict=True):
        last = lines[-1]
        counts = {w: sum(1 for x in lines if x.finding == w.value) for w in Outcome}
        near = sum(1 for x in lines if x.inside_uncertainty)
        said = [f"{n} {WORDS[w]}" for w, n in counts.items() if n] + ([f"{near} inside uncertainty"] if near else [])
        found.append(
            ClimateShelfRow(
                value=last.value,
                limit=last.limit,
                source=f"{last.document} {last.edition} {last.clause}".rstrip() + f" [{last.grade}]",
                written_for=last.for_,
                finding_says=WORDS[Outcome(last.finding)] + (", inside uncertainty" if last.inside_uncertainty else ""),
                all_readings=", ".join(said),
            )
        )
    return found
