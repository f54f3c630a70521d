"""Record one entry of a job in the database: typed, its needs asked, stored with its chain."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import msgspec

from wholefilm.base.errors import BadInput, Conflict
from wholefilm.base.times import utc_ms
from wholefilm.job.bodies import read_body
from wholefilm.job.facts import Fact, Job, span
from wholefilm.job.fold import fold
from wholefilm.job.kinds import KINDS
from wholefilm.ledger.entry import Entry, make_entry
from wholefilm.ledger.installation import installation
from wholefilm.ledger.store import Receipt, Store

from .body import read_words, typed_body, where_wrong
from .database import data_folder
from .fill import fill
from .find import find_stored
from .now import SESSION, new_id, ticks, written_now
from .refs import person_id
from .refuse import ask_needs, refuse_nonsense
from .turn import turn
from .view import read_time

WITH_HEADS = ("day.closed", "assessment.made", "signed", "clock.compared")


class Actor(msgspec.Struct, frozen=True):
    """Who acts: the person's id and role."""

    person: str
    role: str


class Attached(msgspec.Struct, frozen=True):
    """A file to attach: its bytes, its name, and what it is about."""

    content: bytes
    name: str
    about: list[str]


class Recorded(msgspec.Struct, frozen=True):
    """The entry as stored, and its receipt."""

    entry: Entry
    receipt: Receipt
    number: str


def device_of(url: str) -> str:
    """Device id of this installation."""
    return installation(url) if url.startswith("sqlite:///") else installation(url, database_file(url).parent)


def database_file(url: str) -> Path:
    """The file of an SQLite database; else the file in the user's data folder by which programs of this installation take turns."""
    if url.startswith("sqlite:///"):
        return Path(url.removeprefix("sqlite:///"))
    folder = data_folder()
    folder.mkdir(parents=True, exist_ok=True)
    return folder / "installation"


def actor(job: Job, said: str) -> Actor:
    """The person meant by ``--by``, with the first role."""
    person = person_id(job, said)
    return Actor(person, (job.roles(person) or [""])[0])


def record(
    store: Store,
    url: str,
    name: str,
    kind: str,
    words: Sequence[str],
    by: str,
    at_site: str | None = None,
    body: str | None = None,
    beside: bytes | None = None,
    attached: Attached | None = None,
) -> Recorded:
    """Record one entry.

    Parameters
    ----------
    store : Store
    url : str
        Address of the store; the device id lies beside it.
    name : str
        Name of a job in the database.
    kind : str
        Kind of entry.
    words : sequence of str
        ``KEY=VALUE``.
    by : str
        Person by id, role or name.
    at_site : str, optional
        When it happened, where that is not now.
    body : str, optional
        The body as JSON, instead of or under the words.
    beside : bytes, optional
        A photo or file that the body names by its SHA-256; stored only if the entry is.
    attached : Attached, optional
        A file that `files` of the body names, recorded by an entry before it: both are stored, or neither.

    Returns
    -------
    Recorded

    Raises
    ------
    BadInput
        If something given is not acceptable; nothing is stored.
    Needs
        If a need is not met and no `although` carries the entry; nothing is stored.

    Notes
    -----
    Programs of one installation take turns, from reading the job to the receipt: two at once would write one number twice.
    """
    with turn(database_file(url)):
        if kind == "job.opened":
            raise BadInput("KIND", kind, "another kind; a job is opened by `wholefilm job new`")
        found = find_stored(store, name)
        job = fold(found.entries, found.blobs, found.aside)
        if job.opened is None:
            raise BadInput("NAME", name, "a job whose job.opened is here")
        device = device_of(url)
        given = body_of(words, body)
        own_card = fill(job, found.entries, kind, given, device)
        if at_site and "happened" not in given:
            given["happened"] = {"from": at_site}
        zone = str(job.opened.body.time_zone)
        for end in ("from", "to"):
            if isinstance(given.get("happened"), dict) and end in given["happened"]:
                given["happened"][end] = read_time(str(given["happened"][end]), zone, f"happened.{end}")
        who = actor(job, by)
        if device not in job.devices and kind != "device.joined":
            raise BadInput(
                "device",
                device,
                f"a device that joined this job; first: wholefilm record {name} device.joined letter=K holder='...' --by '{by}'",
            )
        at = written_now()
        before = _attach(store, job, attached, given, at, who, device) if attached is not None else None
        typed = typed_body(job, kind, given)
        if kind == "entry.corrected":
            typed = _corrected(job, typed)
        checked = read_body(kind, max(KINDS[kind]), typed)
        draft = _draft(job, kind, checked, at, who, device)
        refuse_nonsense(job, found.entries, draft)
        ask_needs(job, draft)
        entry = _next(store, job, kind, typed, at, who, device, before)
        for content in (own_card, beside, attached.content if attached is not None else None):
            if content is not None:
                store.blobs.put(content)
        receipt = store.append([before, entry] if before is not None else [entry], at)[-1]
        if receipt.state == "aside":
            says = f"entry {entry.seq} of this device was written elsewhere too; both are kept, a person settles it"
            raise Conflict(f"{says} (entry {entry.id})")
        return Recorded(entry, receipt, str(getattr(checked, "number", "") or ""))


def body_of(words: Sequence[str], body: str | None) -> dict[str, Any]:
    """The fields typed as KEY=VALUE over those of a JSON text; BadInput where either cannot be read."""
    given: dict[str, Any] = {}
    if body:
        try:
            given = json.loads(body)
        except ValueError as error:
            raise BadInput("--body", body[:60], f"the fields as JSON in braces; {where_wrong(error)}") from error
        if not isinstance(given, dict):
            raise BadInput("--body", body[:60], "the fields as JSON in braces")
    return _over(given, read_words(words))


def _over(under: dict[str, Any], words: dict[str, Any]) -> dict[str, Any]:
    """Words over a body: a dotted key replaces that field alone."""
    for name, value in words.items():
        both = isinstance(value, dict) and isinstance(under.get(name), dict)
        under[name] = _over(under[name], value) if both else value
    return under


def _draft(job: Job, kind: str, body: Any, at: str, who: Actor, device: str) -> Fact:
    ms = utc_ms(at)
    start, end = span(body, ms)
    return Fact(new_id(), kind, at, ms, who.person, device, SESSION, 0, "", start, end, body, len(job.facts))


def _corrected(job: Job, typed: dict[str, Any]) -> dict[str, Any]:
    """The whole new body of a correction, typed as the kind that it corrects."""
    fact = job.by_id.get(str(typed["of"]))
    if fact is None:
        return typed
    body = typed_body(job, fact.kind, typed["body"], "body.")
    read_body(fact.kind, max(KINDS[fact.kind]), body)
    return typed | {"body": body}


def _attach(store: Store, job: Job, file: Attached, given: dict[str, Any], at: str, who: Actor, device: str) -> Entry:
    """The entry that attaches a file, and its id among the files of the body that goes with it."""
    body = {"blob": hashlib.sha256(file.content).hexdigest(), "name": file.name, "about": file.about}
    if "happened" in given:
        body["happened"] = given["happened"]
    read_body("file.attached", max(KINDS["file.attached"]), body)
    entry = _next(store, job, "file.attached", body, at, who, device)
    given["files"] = [entry.id]
    return entry


def _next(store: Store, job: Job, kind: str, body: dict[str, Any], at: str, who: Actor, device: str, before: Entry | None = None) -> Entry:
    """The entry as the next of this device's chain, after one that is not stored yet where there is one."""
    assert job.opened is not None
    last = (before.seq, before.hash) if before is not None else store.last_of(job.id, device)
    seq, prev = (last[0] + 1, last[1]) if last else (1, job.opened.hash)
    heads = store.heads(job.id) if kind in WITH_HEADS or last is None else None
    return make_entry(
        at=at,
        body=body,
        by=who.person,
        device=device,
        id=new_id(),
        job=job.id,
        kind=kind,
        prev=prev,
        seq=seq,
        session=SESSION,
        tick=ticks(),
        version=max(KINDS[kind]),
        heads=heads,
    )
