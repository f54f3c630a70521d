"""Entries for the tests of the ledger: invented, by a fixed seed."""

from __future__ import annotations

import random
from datetime import UTC, datetime, timedelta, timezone
from typing import Any

from wholefilm.ledger.entry import Entry, make_entry, uuid7

START = 1_750_000_000_000  # ms
SITE = timezone(timedelta(hours=2))


def at(ms: int, zone: timezone = SITE) -> str:
    """A written time."""
    return datetime.fromtimestamp(ms / 1000, UTC).astimezone(zone).isoformat(timespec="milliseconds")


def uid(n: int) -> str:
    """A fixed id."""
    return uuid7(START, n.to_bytes(10, "big"))


class Book:
    """Writes entries of one job on several devices."""

    def __init__(self, seed: int = 1, devices: int = 3) -> None:
        self.random = random.Random(seed)
        self.person, self.session = self.new_id(), self.new_id()
        self.devices = sorted(self.new_id() for _ in range(devices))
        self.job = self.new_id()
        self.last: dict[str, tuple[int, str]] = {}
        self.entries: list[Entry] = []
        self.write(self.devices[0], {"name": "tank", "title": "Tank 3"}, kind="job.opened", ident=self.job, prev="")

    def new_id(self, ms: int = START) -> str:
        return uuid7(ms, self.random.randbytes(10))

    def write(self, device: str, body: dict[str, Any], kind: str = "item.added", ident: str = "", **more: Any) -> Entry:
        seq, prev = self.last.get(device, (0, self.entries[0].hash if self.entries else ""))
        ms = START + 1000 * len(self.entries)
        told: dict[str, Any] = {
            "at": at(ms), "body": body, "by": self.person, "device": device, "id": ident or self.new_id(ms), "job": self.job, "kind": kind,
            "prev": prev, "seq": seq + 1, "session": self.session, "tick": 1000 * len(self.entries), "version": 1,
        }  # fmt: skip
        entry = make_entry(**(told | more))
        self.entries.append(entry)
        self.last[device] = (entry.seq, entry.hash)
        return entry

    def fill(self, n: int, heads: bool = True) -> Book:
        """Write n entries on devices by chance; some refer to others, some state heads, some name a photo."""
        for k in range(n):
            body: dict[str, Any] = {"number": f"B{k}", "place": {"x": "2.34 m", "y": "1,2 m"}, "note": "Fläche, ring of chalk"}
            if k % 3 == 0:
                body["of"] = self.random.choice(self.entries).id
            if k % 5 == 0:
                body["blob"] = self.random.randbytes(32).hex()
            self.write(self.random.choice(self.devices), body, heads=dict(self.last) if heads and k % 4 == 0 else None)
        return self
