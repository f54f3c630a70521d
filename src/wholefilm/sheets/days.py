"""Daily reports, photos and files, signatures."""

from __future__ import annotations

from typing import Annotated

import msgspec

from wholefilm.base.times import clock
from wholefilm.job.facts import Job
from wholefilm.proof.reconcile import marks_at
from wholefilm.proof.states import Standing

from .day import draft
from .people import who
from .rows import Row, Table, head, joined, table
from .signed import covered


class DayRow(Row, frozen=True, kw_only=True):
    """A day closed."""

    date: Annotated[str, head("Day")]
    tests: Annotated[int, head("Tests", True)]
    indications: Annotated[int, head("Indications", True)]
    marks_expected: Annotated[int, head("Marks expected", True)]
    marks_counted: Annotated[int, head("Marks counted", True)]
    entries: Annotated[str, head("From the entries")]
    narrative: Annotated[str, head("What the inspector tells")]
    by: Annotated[str, head("Closed by")]


class PhotoRow(Row, frozen=True, kw_only=True):
    """A photo or file."""

    when: Annotated[str, head("When")]
    about: Annotated[str, head("About")]
    what: Annotated[str, head("What")]
    blob: Annotated[str, head("SHA-256, first 16")]
    here: Annotated[str, head("Bytes")]
    sha: str


class SignatureRow(Row, frozen=True, kw_only=True):
    """A signature."""

    when: Annotated[str, head("Signed")]
    role: Annotated[str, head("Role")]
    scope: Annotated[str, head("Scope")]
    statement: Annotated[str, head("Statement")]
    reservations: Annotated[str, head("Reservations")]
    covers: Annotated[str, head("Signed for")]
    digest: Annotated[str, head("Sheet digest, first 16")]
    since: int
    sha: str


class DaysSheet(msgspec.Struct, frozen=True):
    """Days, photos, files and signatures."""

    days: list[DayRow]
    photos: list[PhotoRow]
    signatures: list[SignatureRow]

    def tables(self) -> list[Table]:
        """The sheet as tables."""
        return [
            table("Daily reports", DayRow, self.days, "no day closed yet"),
            table("Photos and files", PhotoRow, self.photos, "none"),
            table("Signatures", SignatureRow, self.signatures, "not signed"),
        ]


def days_sheet(standing: Standing) -> DaysSheet:
    """Days, photos and signatures of a standing."""
    job = standing.job
    return DaysSheet(_days(standing), _photos(job), _signatures(job))


def _days(standing: Standing) -> list[DayRow]:
    job = standing.job
    rows = []
    for f in job.all("day.closed"):
        date = f.body.date
        rows.append(
            DayRow(
                date=date,
                tests=sum(1 for p in standing.panels for t in p.tests if t.fact.when[:10] == date),
                indications=sum(1 for i in standing.indications if i.fact.when[:10] == date),
                marks_expected=len(marks_at(job, standing.indications, standing.all_repairs, f.end)),
                marks_counted=f.body.marks_counted,
                entries=" ".join(draft(standing, date)),
                narrative=f.body.narrative,
                by=who(job, f.by),
            )
        )
    return rows


def _photos(job: Job) -> list[PhotoRow]:
    rows = []
    for f in job.all("photo.taken", "file.attached"):
        b = f.body
        what = (
            b.name
            if f.kind == "file.attached"
            else "photo" + (f", {b.direction}" if b.direction else "") + (f", scale {b.scale}" if b.scale else "")
        )
        rows.append(
            PhotoRow(
                when=clock(f.when),
                about=", ".join(b.about),
                what=what,
                blob=b.blob[:16],
                here="here" if job.blobs.has(b.blob) else "not here",
                sha=b.blob,
            )
        )
    return rows


def _signatures(job: Job) -> list[SignatureRow]:
    rows = []
    for f in job.all("signed"):
        cover = covered(job, f)
        rows.append(
            SignatureRow(
                when=clock(f.at),
                role=f.body.role,
                scope=", ".join(f.body.scope),
                statement=f.body.statement,
                reservations=joined(f.body.reservations) or "none",
                covers=cover.says,
                digest=f.body.digest[:16],
                since=cover.since,
                sha=f.body.digest,
            )
        )
    return rows
