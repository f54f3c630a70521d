"""Open a new job in the database."""

from __future__ import annotations

import re
from typing import Any
from zoneinfo import ZoneInfo

import msgspec

from wholefilm.base.errors import BadInput
from wholefilm.job.bodies import read_body
from wholefilm.ledger.entry import Entry, make_entry
from wholefilm.ledger.store import Store

from .fill import card
from .find import name_of
from .now import SESSION, new_id, ticks, written_now
from .record import device_of

NAME = re.compile(r"^[a-z0-9][a-z0-9-]{0,62}\Z")


class NewJob(msgspec.Struct, frozen=True, kw_only=True):
    """What opens a job: see the fields of job.opened."""

    name: str
    title: str
    contract: str
    person: str
    roles: list[str]
    letter: str = "A"
    language: str = "en"
    time_zone: str = "UTC"
    thickness_unit: str = "um"
    voltage_unit: str = "kV"
    temperature_unit: str = "degC"
    certificate: str = ""


def open_job(store: Store, url: str, new: NewJob) -> Entry:
    """Write job.opened.

    Raises
    ------
    BadInput
        If the name is taken or a field is not acceptable; nothing is stored.
    """
    if not NAME.match(new.name):
        raise BadInput("NAME", new.name, "lower-case letters, digits and hyphens, 63 at most, such as day-tank")
    if any(name_of(r) == new.name for r in store.jobs()):
        raise BadInput("NAME", new.name, "a name that no job in this database has")
    try:
        ZoneInfo(new.time_zone)
    except (KeyError, ValueError, OSError) as error:
        raise BadInput("--time-zone", new.time_zone, "a name of the IANA time zone list, such as Europe/Berlin") from error
    device, at, ident = device_of(url), written_now(), new_id()
    body: dict[str, Any] = {
        "name": new.name,
        "title": new.title,
        "contract": new.contract,
        "units": {"thickness": new.thickness_unit, "voltage": new.voltage_unit, "temperature": new.temperature_unit},
        "language": new.language,
        "time_zone": new.time_zone,
        "device": device,
        "letter": new.letter,
        "person": new_id(),
        "roles": new.roles,
        "card": "0" * 64,
    }
    read_body("job.opened", 1, body)
    fields = {"name": new.person} | ({"certificate": new.certificate} if new.certificate else {})
    body["card"] = store.blobs.put(card(fields))
    entry = make_entry(
        at=at,
        body=body,
        by=body["person"],
        device=device,
        id=ident,
        job=ident,
        kind="job.opened",
        prev="",
        seq=1,
        session=SESSION,
        tick=ticks(),
        version=1,
        heads=None,
    )
    store.append([entry], at)
    return entry
