"""The first page of a report: what a reader must know first."""

from __future__ import annotations

import msgspec

from wholefilm.sheets.job import JobSheet
from wholefilm.sheets.people import NOT_STATED
from wholefilm.sheets.rows import Table

from .blocks import Cover
from .book import ReportSheets
from .columns import printed
from .glyphs import shortened
from .words import BRIEF_CAUTIONS, IS_NOT

MOST_LINES = 10
AREAS_MM = 123.0
BRIEF = 3
MOST_MISSING, MISSING_MM = 4, 112.0
NO_TITLE = "(job.opened is not here)"


def title(sheets: ReportSheets) -> str:
    """What the report calls the job: its title, or that the entry which names it is not here."""
    named = sheets.job.title
    return named if named and named != NO_TITLE else "A record without its first entry, which names the job"


def cover(sheets: ReportSheets) -> Cover:
    """The first page of a report."""
    job = sheets.job
    margin = [(x.says, x.detail) for x in job.margin]
    notes = [(x.says, x.detail) for x in job.notes]
    room = max(2, MOST_LINES - min(len(margin), MOST_LINES))
    more = max(0, len(margin) - MOST_LINES) + max(0, len(notes) - room)
    signatures = sheets.days.signatures
    last = signatures[-1] if signatures else None
    return Cover(
        title=title(sheets),
        contract=job.contract,
        sentence=f"{job.record} {job.sentence}".strip(),
        sub=job.sub,
        margin=margin[:MOST_LINES],
        notes=notes[:room],
        more=more,
        areas=printed(_areas(job), lift=False, sum_row=bool(job.areas), lying=False, room_mm=AREAS_MM),
        sum_text=job.total.state if job.areas else "",
        reservations=[last.reservations] if last and last.reservations != "none" else [],
        signed=[f"{_named(sheets, s.role)}, {s.when}: {s.statement.rstrip('.')}.{_since(s.since)}" for s in signatures],
        missing=[shortened(m, MISSING_MM, 9.5) for m in job.missing[:MOST_MISSING]]
        + ([f"and {len(job.missing) - MOST_MISSING} more, under Assessment"] if len(job.missing) > MOST_MISSING else []),
        cautions=list(BRIEF_CAUTIONS),
        is_not=list(IS_NOT[:BRIEF]),
    )


def _areas(job: JobSheet) -> Table:
    """The test areas; the words of the sum stand under the table."""
    table = job.tables()[0]
    cells = [*table.cells[:-1], ["" if c.name == "state" else v for c, v in zip(table.columns, table.cells[-1], strict=True)]]
    return msgspec.structs.replace(table, cells=cells if job.areas else [])


def _named(sheets: ReportSheets, role: str) -> str:
    mine = [p for p in sheets.people.people if role in p.roles.split(" and ") and p.name]
    if len(mine) != 1:
        return role
    stated = mine[0].qualification
    return f"{role} ({mine[0].name}, {'qualification not stated' if stated in ('', NOT_STATED) else stated})"


def _since(entries: int) -> str:
    if not entries:
        return ""
    return f" Signed for the record as it stood; {entries} entr{'y' if entries == 1 else 'ies'} since."
