"""A large invented job for the benches: 20,000 or 200,000 entries of five devices, of the kinds that a long job is made of."""

from __future__ import annotations

import hashlib

from wholefilm.demo import north_basin
from wholefilm.ledger.entry import Entry, make_entry, uuid7

DAY = 86_400_000


def _id(name: str, ms: int) -> str:
    return uuid7(ms, hashlib.sha256(name.encode()).digest()[:10])


def _at(ms: int) -> str:
    from datetime import UTC, datetime

    return datetime.fromtimestamp(ms / 1000, UTC).isoformat(timespec="milliseconds")


def large_job(count: int) -> list[Entry]:
    """The demo job, and then indications, holidays, checks and climate until there are `count` entries."""
    entries = list(north_basin.build().entries)
    heads = {}
    for e in entries:
        heads[e.device] = max(heads.get(e.device, (0, "")), (e.seq, e.hash))
    devices, job, by = sorted(heads), entries[0].job, entries[0].by
    ms = max(e.ms for e in entries) + DAY
    last_indication = ""
    n = 0
    while len(entries) < count:
        device = devices[n % len(devices)]
        ms += 20_000
        at = _at(ms)
        kind, body = _body(n, at, last_indication)
        seq, prev = heads[device]
        entry = make_entry(
            at=at, body=body, by=by, device=device, id=_id(f"bench {n}", ms), job=job, kind=kind, prev=prev, seq=seq + 1,
            session=_id(f"session {n // 500} {device}", ms), tick=n % 500 * 1000, version=1, heads=None,
        )  # fmt: skip
        heads[device] = (entry.seq, entry.hash)
        if kind == "indication.raised":
            last_indication = entry.id
        entries.append(entry)
        n += 1
    return entries


def _body(n: int, at: str, indication: str) -> tuple[str, dict[str, object]]:
    happened = {"from": at}
    if n % 10 == 9:
        return "climate.read", {
            "place": "inside",
            "air": f"{15 + n % 5}.0 degC",
            "rh": "60 %",
            "surface": "14.0 degC",
            "instrument": "CL-01",
            "happened": happened,
        }
    if n % 10 == 8:
        return "photo.taken", {"blob": hashlib.sha256(str(n).encode()).hexdigest(), "about": [f"B{n + 100}"], "happened": happened}
    if n % 2 == 0 or not indication:
        return "indication.raised", {"number": f"B{n + 100}", "panel": "S3-4", "happened": happened}
    place = {"item": "T1", "on": "shell", "arc": f"{20 + n % 5}.{n % 100:02d} m", "z": "5.00 m"}
    return "holiday.confirmed", {"indication": indication, "place": place, "class": "flat", "happened": happened}
