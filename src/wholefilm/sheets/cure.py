"""Coats and cure: the maker's table gives the time, the steel stands beside it, a named person releases."""

from __future__ import annotations

from typing import Annotated

import msgspec

from wholefilm.base.times import clock
from wholefilm.film.cure import latest_of
from wholefilm.proof.cure import CureState, cure_states
from wholefilm.proof.states import Standing

from .people import who
from .repairs import like
from .rows import Row, Table, head, table

WORDS = (
    "A row of the maker's table is taken as entered, never worked out between two rows. The lowest steel temperature seen since the last "
    "coat stands beside it; steel colder than the row leaves the row without a say."
)


class CureRow(Row, frozen=True, kw_only=True):
    """A test area or a repair and its cure."""

    about: Annotated[str, head("Area or repair")]
    coat: Annotated[str, head("Last coat")]
    last_coat: Annotated[str, head("Finished")]
    row: Annotated[str, head("Maker's row")]
    wait: Annotated[str, head("Wait")]
    earliest: Annotated[str, head("Earliest test")]
    latest_recoat: Annotated[str, head("Latest recoat")]
    lowest_steel: Annotated[str, head("Lowest steel since")]
    released: Annotated[str, head("Released")]
    finding: Annotated[str, head("Finding")]
    because: Annotated[str, head("Because")]
    kind: str
    entry: str


class CoatRow(Row, frozen=True, kw_only=True):
    """A coat as recorded."""

    when: Annotated[str, head("Finished")]
    test_areas: Annotated[list[str], head("Test areas")]
    coat: Annotated[str, head("Coat")]
    batch: Annotated[str, head("Batch")]
    thinner: Annotated[str, head("Thinner")]
    steel: Annotated[str, head("Steel")]
    applicator: Annotated[str, head("Applicator")]


class TableRow(Row, frozen=True, kw_only=True):
    """A row of the coating maker's table, as entered."""

    test_areas: Annotated[list[str], head("Test areas")]
    row: Annotated[str, head("Row")]
    what: Annotated[str, head("For")]
    before: Annotated[str, head("Before")]
    steel: Annotated[str, head("Steel")]
    wait: Annotated[str, head("Shortest wait")]
    longest: Annotated[str, head("Longest wait")]


class CureSheet(msgspec.Struct, frozen=True):
    """Cure of each area and repair, coats, and the maker's table."""

    cure: list[CureRow]
    coats: list[CoatRow]
    maker: list[TableRow]

    def tables(self) -> list[Table]:
        """The sheet as tables."""
        return [
            table("Cure", CureRow, self.cure, "no coat or release recorded"),
            table("Coats", CoatRow, self.coats, "no coat recorded"),
            table("The coating maker's table, as entered", TableRow, self.maker, "none entered"),
        ]


def cure_sheet(standing: Standing) -> CureSheet:
    """Coats and cure of a standing."""
    job = standing.job
    return CureSheet(
        cure=[_row(standing, s) for s in cure_states(job, standing.panels, standing.repairs)],
        coats=[
            CoatRow(
                when=clock(f.until),
                test_areas=list(f.body.test_areas),
                coat=f.body.coat,
                batch=f.body.batch,
                thinner=f.body.thinner or "",
                steel=f.body.steel or "",
                applicator=f.body.applicator,
            )
            for f in job.all("coat.applied")
        ],
        maker=[
            TableRow(
                test_areas=list(f.body.test_areas),
                row=r.row,
                what=r.what,
                before=r.for_ or "",
                steel=r.steel,
                wait=r.wait,
                longest=r.longest or "",
            )
            for f in job.all("system.set")
            for r in f.body.cure_table or []
        ],
    )


def _row(standing: Standing, s: CureState) -> CureRow:
    job, zone = standing.job, standing.job.last_at
    body = s.last_coat.body if s.last_coat is not None else None
    found = s.clock
    row = found.row if found is not None else None
    release = s.release
    return CureRow(
        about=s.about,
        coat="" if body is None else body.coat if s.kind == "test area" else f"repair {body.nth}",
        last_coat=like(s.last_ms, zone) if s.last_ms is not None else "",
        row=row.name if row is not None else release.body.table_row if release is not None else "",
        wait=f"{row.wait} at {row.steel}" if row is not None else "",
        earliest=like(found.earliest, zone) if found is not None and found.earliest is not None else "",
        latest_recoat=_latest(s, zone),
        lowest_steel=f"{found.lowest.temperature} ({found.lowest.where})" if found is not None and found.lowest is not None else "",
        released=f"{who(job, release.body.by)}, {clock(release.when)}" if release is not None else "not released",
        finding=found.finding.value.replace("_", " ") if found is not None else "cannot tell",
        because=s.says,
        kind=s.kind,
        entry=release.id if release is not None else "",
    )


def _latest(s: CureState, zone: str) -> str:
    """Until when the next coat may follow: the released row where it says so, else every row before a recoat, none chosen."""
    if s.last_ms is None:
        return ""
    if s.clock is not None and s.clock.latest is not None:
        return like(s.clock.latest, zone)
    told = [(r, latest_of(r, s.last_ms)) for r in s.rows if r.before == "recoat" and r.longest]
    return "; ".join(f"row {r.name} ({r.steel}): {like(ms, zone)}" for r, ms in told if ms is not None)
