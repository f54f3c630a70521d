"""Voltage sheets in force: setting, rule with source and grade, thickness basis, who agreed. The table has no winner."""

from __future__ import annotations

from typing import Annotated, Any

import msgspec

from wholefilm.base.times import clock
from wholefilm.job.facts import Job
from wholefilm.proof.states import Standing

from .basis import OutsideRow, outside_basis
from .rows import Row, Table, head, joined, table
from .voltage_parts import BesideRow, SiteRow, beside_rows, further_text, in_force, rule_text, site_rows


class VoltageRow(Row, frozen=True, kw_only=True):
    """One voltage sheet."""

    test_areas: Annotated[str, head("Test areas")]
    stage: Annotated[str, head("Stage")]
    method: Annotated[str, head("Method")]
    setting: Annotated[str, head("Setting")]
    state: Annotated[str, head("State")]
    basis: Annotated[str, head("Film thickness basis")]
    rule: Annotated[str, head("Rule")]
    source: Annotated[str, head("Source, grade")]
    agreed_by: Annotated[str, head("Agreed in writing by")]
    electrode: Annotated[str, head("Electrode")]
    valid_until: Annotated[str, head("Valid until")]
    reason: Annotated[str, head("Reason")]
    further: Annotated[str, head("Also")]
    set_at: str
    entry: str


class LayerRow(Row, frozen=True, kw_only=True):
    """One layer of a coating system."""

    test_areas: Annotated[str, head("Test areas")]
    layer: Annotated[str, head("Layer")]
    nominal: Annotated[str, head("Nominal film")]
    conductive: Annotated[str, head("Conductive")]


class CoatRow(Row, frozen=True, kw_only=True):
    """A coat as applied."""

    when: Annotated[str, head("Applied")]
    coat: Annotated[str, head("Coat")]
    test_areas: Annotated[str, head("Test areas")]
    batch: Annotated[str, head("Batch")]
    applicator: Annotated[str, head("Applicator")]


class CureRowSheet(Row, frozen=True, kw_only=True):
    """A release of cure."""

    released: Annotated[str, head("Released")]
    about: Annotated[str, head("What")]
    row: Annotated[str, head("Row of the maker's table")]
    last_coat: Annotated[str, head("Last coat")]
    steel: Annotated[str, head("Steel")]
    by: Annotated[str, head("By")]


class VoltageSheet(msgspec.Struct, frozen=True):
    """Voltage sheets, coating systems, coats and cure, and where the local film lies outside their basis."""

    sheets: list[VoltageRow]
    site: list[SiteRow]
    beside: list[BesideRow]
    layers: list[LayerRow]
    coats: list[CoatRow]
    cures: list[CureRowSheet]
    outside: list[OutsideRow]

    def tables(self) -> list[Table]:
        """The sheet as tables."""
        return [
            table("Voltage sheets", VoltageRow, self.sheets, "none set"),
            table("The site's own answers", SiteRow, self.site, "none entered"),
            *([table("Rules beside the chosen one", BesideRow, self.beside)] if self.beside else []),
            table("Coating system", LayerRow, self.layers, "none entered"),
            table("Coats applied", CoatRow, self.coats, "none recorded"),
            table("Cure released", CureRowSheet, self.cures, "none released"),
            table("Local film outside the thickness basis", OutsideRow, self.outside, "none"),
        ]


def voltage_sheet(standing: Standing) -> VoltageSheet:
    """Voltage sheets of a standing."""
    from .people import who

    job = standing.job
    return VoltageSheet(
        sheets=voltage_rows(job),
        site=[row for f in job.all("voltage.set") for row in site_rows(f)],
        beside=[row for f in job.all("voltage.set") for row in beside_rows(f)],
        layers=[
            LayerRow(test_areas=", ".join(f.body.test_areas), layer=x.name, nominal=x.nominal or "", conductive=x.conductive)
            for f in job.all("system.set")
            for x in f.body.layers
        ],
        coats=[
            CoatRow(
                when=clock(f.when),
                coat=f.body.coat,
                test_areas=", ".join(f.body.test_areas),
                batch=f.body.batch,
                applicator=f.body.applicator,
            )
            for f in job.all("coat.applied")
        ],
        cures=[
            CureRowSheet(
                released=clock(f.when),
                about=", ".join(f.body.about),
                row=f.body.table_row,
                last_coat=clock(f.body.last_coat_at),
                steel=f.body.steel,
                by=who(job, f.body.by),
            )
            for f in job.all("cure.released")
        ],
        outside=outside_basis(standing),
    )


def voltage_rows(job: Job) -> list[VoltageRow]:
    """Every voltage sheet of a job, in the order set."""
    held = in_force(job)
    return [_row(job, f.body, clock(f.when), f.id, held[f.id]) for f in job.all("voltage.set")]


def _row(job: Job, b: Any, when: str, entry: str, held: list[str]) -> VoltageRow:
    source = b.rule.get("source") if isinstance(b.rule.get("source"), dict) else {}
    agreed = []
    for ident in b.agreed_by:
        fact = job.by_id.get(ident)
        known = fact is not None and fact.kind in ("question.answered", "instruction.received")
        agreed.append(f"{fact.body.from_}, {fact.body.dated[:10]}" if fact is not None and known else "an entry that is not here")
    span = " to ".join(x for x in (b.basis.low, b.basis.high) if x)
    return VoltageRow(
        test_areas=", ".join(b.test_areas),
        stage=b.stage,
        method=b.method,
        setting=b.setting,
        state="replaced" if not held else "in force" if len(held) == len(set(b.test_areas)) else f"in force for {', '.join(held)}",
        basis=f"{b.basis.what}: {span}" if span else b.basis.what,
        rule=rule_text(b.rule),
        source=" ".join(str(source.get(k, "")) for k in ("document", "edition", "clause") if source.get(k))
        + f" [{source.get('grade', 'no grade')}{_confirmed(b.rule)}]",
        agreed_by=joined(agreed),
        electrode=b.electrode,
        valid_until=b.valid_until,
        reason=b.reason,
        further=further_text(job, b),
        set_at=when,
        entry=entry,
    )


def _confirmed(rule: dict[str, Any]) -> str:
    """Who confirmed a rule from an own copy; empty if nobody did, or an older sheet says so in another way."""
    said = rule.get("confirmed")
    return f", confirmed from an own copy: {said.get('page')}, {said.get('who')}, {said.get('when')}" if isinstance(said, dict) else ""
