"""The hands that write a demo: one scribe a device, and the book that lets them exchange through the office."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Mapping
from typing import Any

import msgspec

from wholefilm.base.errors import BadInput
from wholefilm.base.times import local_day, utc_ms
from wholefilm.job.bodies import read_body
from wholefilm.job.kinds import KINDS
from wholefilm.ledger.entry import JOB_OPENED, Entry, make_entry, uuid7

from .acts import Act, Ref

Heads = dict[str, tuple[int, str]]
OPENED = "job"
_BEFORE_MS = 60_000  # a session begins a minute before its first entry


class Demo(msgspec.Struct, frozen=True):
    """A job told to the end.

    Attributes
    ----------
    name : str
    entries : list of Entry
        In the order in which they were written.
    blobs : dict of str to bytes
        By SHA-256.
    """

    name: str
    entries: list[Entry]
    blobs: dict[str, bytes]


def sha256(data: bytes) -> str:
    """SHA-256 in lower-case hex, the name of a blob."""
    return hashlib.sha256(data).hexdigest()


def named_id(name: str, ms: int) -> str:
    """Id of a time and a name, the same in every build. [ms UTC]"""
    return uuid7(ms, hashlib.sha256(name.encode()).digest()[:10])


class Scribe:
    """Writes the entries of one device.

    Parameters
    ----------
    job : str
        Name of the demo, part of every id.
    device : str
        Id of the device.
    opening : Entry, optional
        The entry that opened the job; None on the device that opens it.
    """

    def __init__(self, job: str, device: str, opening: Entry | None = None) -> None:
        self.job, self.device, self.opening = job, device, opening
        self.seq = 0
        self.prev = opening.hash if opening else ""
        self.last_ms = 0
        self.seen: Heads = {}
        self._day, self._session, self._began = "", "", 0

    def new_id(self, at: str) -> str:
        """Id of the next entry."""
        return named_id(f"{self.job}/{self.device}/{self.seq + 1}", utc_ms(at))

    def write(self, kind: str, by: str, at: str, body: Mapping[str, Any], heads: Heads | None = None) -> Entry:
        """Write the next entry.

        Parameters
        ----------
        kind, by, at, body
            As in `Entry`; `by` is the id of a person.
        heads : dict, optional
            What the writer had seen, where the entry states it.

        Returns
        -------
        Entry

        Raises
        ------
        BadInput
            If the body is not one of its kind, or the time lies before the device's last entry.
        """
        ms = utc_ms(at)
        if ms < self.last_ms:
            raise BadInput("at", at, f"not before the entry before it on device {self.device}")
        version = _version(kind, dict(body))
        if local_day(at) != self._day:
            self._day, self._began = local_day(at), ms - _BEFORE_MS
            self._session = named_id(f"{self.job}/{self.device}/{self._day}", self._began)
        ident = self.new_id(at)
        entry = make_entry(
            at=at, body=dict(body), by=by, device=self.device, id=ident, job=self.opening.id if self.opening else ident, kind=kind,
            prev=self.prev, seq=self.seq + 1, session=self._session, tick=ms - self._began, version=version, heads=heads,
        )  # fmt: skip
        if kind == JOB_OPENED:
            self.opening = entry
        self.seq, self.prev, self.last_ms = entry.seq, entry.hash, ms
        self.seen[self.device] = (entry.seq, entry.hash)
        return entry


def _version(kind: str, body: dict[str, Any]) -> int:
    """The first version of a kind that can hold a body.

    Raises
    ------
    BadInput
        If none can; what the newest lacks or does not know.
    """
    last = max(KINDS.get(kind, {1: None}))
    for version in range(1, last):
        try:
            read_body(kind, version, body)
        except BadInput:
            continue
        return version
    read_body(kind, last, body)
    return last


class Book:
    """A demo in the making.

    Parameters
    ----------
    name : str
    devices : dict of str to str
        Letter to id of each device.
    people : dict of str to str
        Role to id of each person.
    office : str
        Letter of the device through which the others exchange.

    Notes
    -----
    An exchange carries the comparison of clocks too. The first entry of either device after it states what that device has seen.
    """

    def __init__(self, name: str, devices: Mapping[str, str], people: Mapping[str, str], office: str) -> None:
        self.name, self.devices, self.people, self.office = name, devices, people, office
        self.entries: list[Entry] = []
        self.blobs: dict[str, bytes] = {}
        self.labels: dict[str, str] = {}
        self._fresh: set[str] = set()
        self.scribes: dict[str, Scribe] = {office: Scribe(name, devices[office])}

    def keep(self, data: bytes) -> str:
        """Lay bytes beside the book; their SHA-256."""
        sha = sha256(data)
        self.blobs[sha] = data
        return sha

    def play(self, acts: Iterable[Act]) -> Demo:
        """Write all acts in the order of their time; acts of one time in the order given.

        Raises
        ------
        BadInput
            If a label is unknown at that time, given twice, or a body is not one of its kind.
        """
        for act in sorted(acts, key=lambda a: utc_ms(a.at)):
            self._write(act)
        return Demo(self.name, list(self.entries), dict(sorted(self.blobs.items())))

    def _write(self, act: Act) -> None:
        scribe = self.scribes.get(act.device)
        if scribe is None:
            scribe = self.scribes[act.device] = Scribe(self.name, self.devices[act.device], self.scribes[self.office].opening)
        if act.sync:
            self._exchange(scribe)
            self._fresh |= {act.device, self.office}
        body = self._resolve(act.body(self) if callable(act.body) else act.body, act)
        heads = dict(scribe.seen) if act.heads or act.device in self._fresh else None
        entry = scribe.write(act.kind, self.people[act.by], act.at, body, heads)
        self._fresh.discard(act.device)
        self.entries.append(entry)
        if act.sync:
            self._exchange(scribe)
        if act.label:
            if act.label in self.labels:
                raise BadInput("label", act.label, "a label that no other act bears")
            self.labels[act.label] = entry.id

    def _exchange(self, scribe: Scribe) -> None:
        office = self.scribes[self.office]
        both = {**scribe.seen, **office.seen}
        for device in both:
            both[device] = max(scribe.seen.get(device, (0, "")), office.seen.get(device, (0, "")))
        scribe.seen, office.seen = dict(both), dict(both)

    def _resolve(self, value: Any, act: Act) -> Any:
        if isinstance(value, Ref):
            if value.label not in self.labels:
                raise BadInput("label", value.label, f"the label of an act before {act.kind} at {act.at}")
            return self.labels[value.label]
        if isinstance(value, Mapping):
            return {key: self._resolve(item, act) for key, item in value.items()}
        if isinstance(value, list | tuple):
            return [self._resolve(item, act) for item in value]
        return value

    def seen_by(self, letter: str) -> list[Entry]:
        """Entries that a device has seen so far, its own included, in the order of writing."""
        seen = self.scribes[letter].seen
        return [e for e in self.entries if e.seq <= seen.get(e.device, (0, ""))[0]]
