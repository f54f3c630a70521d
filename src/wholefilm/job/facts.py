"""A fact: one entry that counts, with its typed body and its times."""

from __future__ import annotations

from typing import Any, Protocol

import msgspec

from wholefilm.base.times import utc_ms
from wholefilm.ledger.entry import Entry

from .kinds.common import Body


class BlobView(Protocol):
    """Where the bytes beside the ledger can be looked up by hash."""

    def has(self, sha: str) -> bool:
        """Whether the bytes are here."""

    def get(self, sha: str) -> bytes | None:
        """The bytes, or None."""


class NoBlobs:
    """A job without anything beside the ledger."""

    def has(self, sha: str) -> bool:
        """Never."""
        return False

    def get(self, sha: str) -> bytes | None:
        """Nothing."""
        return None


def span(body: Any, ms: int) -> tuple[int, int]:
    """When a body says that it happened, else when it was written. [ms UTC]"""
    happened = body.happened
    if happened is None:
        return ms, ms
    start = utc_ms(happened.from_, "happened.from")
    return start, max(start, utc_ms(happened.to, "happened.to")) if happened.to else start


class Fact(msgspec.Struct, eq=False, gc=False):
    """One entry that counts.

    Attributes
    ----------
    id, kind, by, device, session : str
        As in the entry.
    seq, ms : int
        Number on its device; when written. [ms UTC]
    at : str
        When written, as written.
    start, end : int
        When it happened; the time of writing where nothing else is told. [ms UTC]
    body : Body
        Typed, corrections applied.
    hash : str
        SHA-256 of the entry.
    corrected_by : tuple of str
        Ids of the corrections applied, in order.
    heads : dict of str to (int, str), or None
        What the writer had seen of each device, where the entry states it.
    """

    id: str
    kind: str
    at: str
    ms: int
    by: str
    device: str
    session: str
    seq: int
    hash: str
    start: int
    end: int
    body: Any
    rank: int = 0
    corrected_by: tuple[str, ...] = ()
    heads: dict[str, tuple[int, str]] | None = None

    @property
    def when(self) -> str:
        """The written time at which it began: `happened.from`, else `at`."""
        happened = self.body.happened
        return happened.from_ if happened is not None else self.at

    @property
    def until(self) -> str:
        """The written time at which it ended."""
        happened = self.body.happened
        return (happened.to or happened.from_) if happened is not None else self.at


class Problem(msgspec.Struct, frozen=True):
    """Something wrong with the record itself.

    Attributes
    ----------
    what : str
        Short name, listed in docs/reference/exceptions.md.
    says : str
        One sentence for a reader.
    bars : bool
        Whether it bars `meets`.
    entry : str
        Id of the entry, or empty.
    """

    what: str
    says: str
    bars: bool
    entry: str = ""


class Change(msgspec.Struct, frozen=True):
    """A correction or withdrawal, in force or waiting for another person's word."""

    of: str
    kind_of: str
    by_entry: str
    reason: str
    withdraws: bool
    removes_failure: bool
    in_force: bool
    agreed_by: str
    alone: bool
    says: str


class Job(msgspec.Struct, eq=False):
    """What was recorded, corrections applied. Nothing in it is judged.

    Attributes
    ----------
    id : str
        Id of `job.opened`.
    opened : Fact or None
    facts : list of Fact
        In the one order.
    of : dict of str to list of Fact
        By kind.
    by_id : dict of str to Fact
    problems : list of Problem
    changes : list of Change
    heads : dict of str to (int, str)
        Last sequence number and hash of each device.
    entries : int
        Number of entries taken in.
    last_at : str
        Latest time of writing, as written.
    record : list of Entry
        The entries as they came, in the one order; those left out and unreadable ones too.
    remade : dict of str to str
        Digests of sheets made again as of a signature, by its id: kept when first asked for.
    """

    id: str
    opened: Fact | None
    facts: list[Fact]
    of: dict[str, list[Fact]]
    by_id: dict[str, Fact]
    problems: list[Problem]
    changes: list[Change]
    heads: dict[str, tuple[int, str]]
    entries: int
    last_at: str
    blobs: BlobView
    first_at: str = ""
    record: list[Entry] = []
    remade: dict[str, str] = {}

    def all(self, *kinds: str) -> list[Fact]:
        """Facts of some kinds, in the one order."""
        if len(kinds) == 1:
            return self.of.get(kinds[0], [])
        return sorted((f for k in kinds for f in self.of.get(k, ())), key=lambda f: f.rank)

    def get(self, entry: str | None, kind: str) -> Fact | None:
        """The fact by that id if it is of that kind."""
        fact = self.by_id.get(entry or "")
        return fact if fact is not None and fact.kind == kind else None

    @property
    def name(self) -> str:
        """Name of the job, or its id."""
        return str(self.opened.body.name) if self.opened else self.id

    @property
    def title(self) -> str:
        """Title of the job."""
        return str(self.opened.body.title) if self.opened else "(job.opened is not here)"

    @property
    def people(self) -> dict[str, Body]:
        """Person id to the body that names the roles."""
        found: dict[str, Body] = {}
        if self.opened:
            found[self.opened.body.person] = self.opened.body
        for fact in self.all("person.joined"):
            found[fact.body.person] = fact.body
        return found

    @property
    def devices(self) -> dict[str, str]:
        """Device id to its letter."""
        found: dict[str, str] = {}
        if self.opened:
            found[self.opened.body.device] = self.opened.body.letter
        for fact in self.all("device.joined"):
            found[fact.body.device] = fact.body.letter
        return found

    def roles(self, person: str) -> list[str]:
        """Roles of a person, or an empty list."""
        body: Any = self.people.get(person)
        return list(body.roles) if body is not None else []
