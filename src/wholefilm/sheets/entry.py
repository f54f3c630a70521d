"""One entry of the record as it was written: who, when, every field, what it names, what names it, whether it counts."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Annotated, Any

import msgspec

from wholefilm.base.errors import NotFound
from wholefilm.job.facts import Job
from wholefilm.proof.states import Standing

from .people import who
from .rows import Row, Table, head, table


class FieldRow(Row, frozen=True, kw_only=True):
    """A field of the body; `field` is its path, such as ``places[0].x``."""

    field: Annotated[str, head("Field")]
    says: Annotated[str, head("As written")]


class LinkRow(Row, frozen=True, kw_only=True):
    """Another entry that this one names, or that names this one."""

    entry: str
    number: Annotated[str, head("Entry")]
    kind: Annotated[str, head("Kind")]
    at: Annotated[str, head("Written")]
    by: Annotated[str, head("By")]


class EntrySheet(msgspec.Struct, frozen=True):
    """One entry. `number` is the letter of its device and its number there; `line` is the record itself, byte for byte."""

    id: str
    number: str
    kind: str
    at: str
    by: str
    counts: list[str]
    hash: str
    line: str
    fields: list[FieldRow]
    names: list[LinkRow]
    named_by: list[LinkRow]

    def tables(self) -> list[Table]:
        """The sheet as tables."""
        return [
            table("As written", FieldRow, self.fields, "no field"),
            table("Names", LinkRow, self.names, "no other entry"),
            table("Named by", LinkRow, self.named_by, "no other entry"),
        ]


def entry_sheet(standing: Standing, ident: str) -> EntrySheet:
    """One entry of a job, whether it counts or was left out.

    Raises
    ------
    NotFound
        If the job has no entry of that id.
    """
    job = standing.job
    by_id = {e.id: e for e in job.record}
    entry = by_id.get(ident)
    if entry is None:
        raise NotFound("entry", ident, f"the id of one of the {len(by_id)} entries of this job")
    # Every entry names the job, so who names its opening says nothing.
    naming = [] if ident == job.id else [e for e in job.record if ident in e.refs]
    return EntrySheet(
        id=ident,
        number=_number(job, entry),
        kind=entry.kind,
        at=entry.at,
        by=who(job, entry.by),
        counts=_counts(job, ident),
        hash=entry.hash,
        line=entry.raw.decode("utf-8", "replace"),
        fields=[FieldRow(field=path, says=says) for path, says in _fields(entry.body, "")],
        names=[_link(job, by_id[ref]) for ref in dict.fromkeys(entry.refs) if ref in by_id and ref != job.id],
        named_by=[_link(job, e) for e in naming],
    )


def links(standing: Standing, idents: list[str]) -> list[LinkRow]:
    """Entries by their ids, in the order given; an id that is none of this job's is left out."""
    wanted = {e.id: e for e in standing.job.record if e.id in set(idents)}
    return [_link(standing.job, wanted[i]) for i in dict.fromkeys(idents) if i in wanted]


def _link(job: Job, entry: Any) -> LinkRow:
    return LinkRow(entry=entry.id, number=_number(job, entry), kind=entry.kind, at=entry.at[:16].replace("T", " "), by=who(job, entry.by))


def _number(job: Job, entry: Any) -> str:
    return f"{job.devices.get(entry.device, '?')}{entry.seq}"


def _counts(job: Job, ident: str) -> list[str]:
    """Whether it counts: problems, corrections and withdrawals in words; one plain line if there is none."""
    said = [p.says for p in job.problems if p.entry == ident] + [c.says for c in job.changes if c.of == ident]
    if ident in job.by_id:
        return said or ["counts as written"]
    return said or ["does not count"]


def _fields(value: Any, path: str) -> Iterator[tuple[str, str]]:
    if isinstance(value, dict) and value:
        for key, below in value.items():
            yield from _fields(below, f"{path}.{key}" if path else str(key))
    elif isinstance(value, list) and any(isinstance(v, dict | list) for v in value):
        for n, below in enumerate(value):
            yield from _fields(below, f"{path}[{n}]")
    elif isinstance(value, list):
        yield path, ", ".join(str(v) for v in value)
    else:
        yield path, msgspec.json.encode(value).decode() if isinstance(value, bool) else str(value)
