"""Record one entry of a job in the database: typed, its needs asked, stored with its chain."""

from __future__ import annotations

import json
import os
from collections.abc import Sequence
from typing import Any

import msgspec

from wholefilm.base.errors import BadInput, Needs
from wholefilm.base.times import utc_ms
from wholefilm.job.bodies import read_body
from wholefilm.job.facts import Fact, Job, span
from wholefilm.job.fold import fold
from wholefilm.job.kinds import KINDS
from wholefilm.ledger.entry import Entry, make_entry
from wholefilm.ledger.installation import installation
from wholefilm.ledger.store import Receipt, Store
from wholefilm.proof.acts import unmet_needs

from .body import read_words, typed_body
from .database import data_folder
from .find import find_stored
from .now import SESSION, new_id, ticks, written_now
from .refs import person_id
from .view import read_time

WITH_HEADS = ("day.closed", "assessment.made", "signed", "clock.compared")


class Actor(msgspec.Struct, frozen=True):
    """Who acts: the person's id and role."""

    person: str
    role: str


class Recorded(msgspec.Struct, frozen=True):
    """The entry as stored, and its receipt."""

    entry: Entry
    receipt: Receipt
    number: str


def device_of(url: str) -> str:
    """Device id of this installation."""
    if url.startswith("sqlite:///"):
        return installation(url)
    folder = data_folder()
    folder.mkdir(parents=True, exist_ok=True)
    return installation(url, folder)


def actor(job: Job, said: str) -> Actor:
    """The person meant by ``--by``, with the first role."""
    person = person_id(job, said)
    return Actor(person, (job.roles(person) or [""])[0])


def record(
    store: Store, url: str, name: str, kind: str, words: Sequence[str], by: str, at_site: str | None = None, body: str | None = None
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

    Returns
    -------
    Recorded

    Raises
    ------
    BadInput
        If something given is not acceptable; nothing is stored.
    Needs
        If a need is not met and no `although` carries the entry; nothing is stored.
    """
    found = find_stored(store, name)
    job = fold(found.entries, found.blobs, found.aside)
    if job.opened is None:
        raise BadInput("NAME", name, "a job whose job.opened is here")
    device = device_of(url)
    given = _given(words, body)
    _fill(store, job, kind, given, device)
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
    typed = typed_body(job, kind, given)
    checked = read_body(kind, max(KINDS[kind]), typed)
    draft = _draft(job, kind, checked, at, who, device)
    _sensible(job, draft)
    _ask(job, draft)
    entry = _next(store, job, kind, typed, at, who, device, found.entries)
    receipt = store.append([entry], at)[0]
    return Recorded(entry, receipt, str(getattr(checked, "number", "") or ""))


def _given(words: Sequence[str], body: str | None) -> dict[str, Any]:
    given: dict[str, Any] = {}
    if body:
        try:
            given = json.loads(body)
        except ValueError as error:
            raise BadInput("--body", body[:60], f"a JSON object ({error})") from error
        if not isinstance(given, dict):
            raise BadInput("--body", body[:60], "a JSON object")
    given.update(read_words(words))
    return given


def _fill(store: Store, job: Job, kind: str, given: dict[str, Any], device: str) -> None:
    """What the program knows better than a typist: ids, the next number, the card beside the ledger."""
    if kind == "device.joined":
        given.setdefault("device", device)
    if kind == "person.joined":
        given.setdefault("person", new_id())
    if isinstance(given.get("card"), dict):
        given["card"] = store.blobs.put(card(given["card"]))
    if kind in ("indication.raised", "made_holiday.made") and "number" not in given and device in job.devices:
        given["number"] = next_number(job, device)
    prefix = {"repair.planned": "R", "question.raised": "Q", "nonconformance.raised": "NCR"}.get(kind)
    if prefix and "number" not in given:
        given["number"] = f"{prefix}-{len(job.all(kind)) + 1:02d}"
    if kind in ("entry.corrected", "entry.withdrawn") and "of" in given and kind == "entry.corrected" and "over" not in given:
        fact = job.by_id.get(str(given["of"]))
        given["over"] = fact.corrected_by[-1] if fact is not None and fact.corrected_by else given["of"]


def card(fields: dict[str, Any]) -> bytes:
    """A card that lies beside the ledger: name, certificate, contact, and salt so that its hash tells nothing."""
    unknown = [k for k in fields if k not in ("name", "certificate", "contact")]
    if unknown:
        raise BadInput(f"card.{unknown[0]}", fields[unknown[0]], "card.name, card.certificate or card.contact")
    return json.dumps({**fields, "salt": os.urandom(16).hex()}, sort_keys=True, ensure_ascii=False).encode()


def next_number(job: Job, device: str) -> str:
    """Next wall number of a device: its letter and a counter that never goes back."""
    letter = job.devices[device]
    numbers = [f.body.number for f in job.all("indication.raised", "made_holiday.made")] + [
        b.number for f in job.all("burn.inspected") for b in f.body.found
    ]
    used = [int(n[len(letter) :]) for n in numbers if n.startswith(letter) and n[len(letter) :].isdigit()]
    return f"{letter}{max(used, default=0) + 1}"


def _draft(job: Job, kind: str, body: Any, at: str, who: Actor, device: str) -> Fact:
    ms = utc_ms(at)
    start, end = span(body, ms)
    return Fact(new_id(), kind, at, ms, who.person, device, SESSION, 0, "", start, end, body, len(job.facts))


def _sensible(job: Job, draft: Fact) -> None:
    """Refusals that no instruction lifts: the future, numbers used twice, a second opening."""
    if draft.end > draft.ms + 60_000:
        raise BadInput("happened", draft.until, f"not later than now, {draft.at}")
    if draft.kind == "job.opened":
        raise BadInput("KIND", draft.kind, "another kind; a job is opened by `wholefilm job new`")
    number = getattr(draft.body, "number", None)
    if number:
        wall = draft.kind in ("indication.raised", "made_holiday.made")
        kinds = ("indication.raised", "made_holiday.made") if wall else (draft.kind,)
        if any(f.body.number == number for f in job.all(*kinds)):
            raise BadInput("number", number, "a number that is not used yet")
        letter = job.devices.get(draft.device, "")
        if wall and not (number.startswith(letter) and number[len(letter) :].isdigit()):
            raise BadInput(
                "number", number, f"the letter of this device, {letter}, and a counter, such as {next_number(job, draft.device)}"
            )
    if draft.kind == "device.joined":
        if draft.body.letter in job.devices.values():
            raise BadInput(
                "letter", draft.body.letter, f"a letter that no device has: {', '.join(sorted(set(job.devices.values())))} are taken"
            )
        if draft.body.device in job.devices:
            raise BadInput("device", draft.body.device, "a device that has not joined yet")


def _ask(job: Job, draft: Fact) -> None:
    unmet = unmet_needs(job, draft)
    if not unmet:
        return
    although = draft.body.although
    named = set(although.needs) if although else set()
    if all(u.liftable and u.need in named for u in unmet):
        if although is not None and not (although.instruction or although.told):
            raise BadInput(
                "although", although.why, "although.instruction=ID of the written instruction, or although.told=slate, paper or radio"
            )
        if (
            although is not None
            and although.instruction
            and job.get(although.instruction, "instruction.received") is None
            and job.get(although.instruction, "question.answered") is None
        ):
            raise BadInput(
                "although.instruction", although.instruction, "the id of an instruction.received or question.answered of this job"
            )
        return
    left = [u for u in unmet if not u.liftable or u.need not in named]
    raise Needs([(u.need, u.says) for u in left], all(u.liftable for u in left))


def _next(store: Store, job: Job, kind: str, body: dict[str, Any], at: str, who: Actor, device: str, entries: list[Entry]) -> Entry:
    """The entry as the next of this device's chain."""
    assert job.opened is not None
    last = store.last_of(job.id, device)
    seq, prev = (last[0] + 1, last[1]) if last else (1, job.opened.hash)
    heads = store.heads(job.id) if kind in WITH_HEADS or last is None else None
    if kind in ("device.joined",) and last is None:
        heads = store.heads(job.id)
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
