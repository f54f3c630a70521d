"""A job as it stands, or as it stood."""

from __future__ import annotations

import re
from datetime import datetime
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

import msgspec

from wholefilm.base.errors import BadInput
from wholefilm.base.times import FORM, PATTERN, clock, utc_ms
from wholefilm.job.facts import Job
from wholefilm.job.fold import fold, fold_ordered
from wholefilm.ledger.entry import Entry, is_id
from wholefilm.ledger.order import as_of
from wholefilm.proof.assessment import assess
from wholefilm.proof.states import Standing
from wholefilm.sheets.assessment import AssessmentSheet, assessment_sheet, digest

from .database import open_store
from .find import Found, find_file, find_stored, is_path

_SHORT = re.compile(r"^(\d{4}-\d\d-\d\d)(?:[T ](\d\d:\d\d)(?::\d\d)?)?$")

if TYPE_CHECKING:
    from wholefilm.ledger.store import Store


class View(msgspec.Struct):
    """A job as of a time: entries, standing, assessment sheet and its digest."""

    entries: list[Entry]
    found: Found
    standing: Standing
    assessment: AssessmentSheet
    digest: str
    as_of: str

    @property
    def job(self) -> Job:
        """The job as recorded."""
        return self.standing.job


def find(name: str, database: str | None = None, received_by: str | None = None) -> Found:
    """Entries of JOB: a file where the name ends like one, else a job of the database, all or what it had received by a time.

    Raises
    ------
    BadInput
        If the time cannot be read, or JOB is a file, which does not tell when its entries came.
    """
    from pathlib import Path

    if is_path(name):
        if received_by:
            raise BadInput("--received-by", received_by, "left out for a file: only the database knows when an entry came")
        return find_file(Path(name))
    store, _ = open_store(database)
    try:
        found = find_stored(store, name)
        return had_received(store, found, received_by) if received_by else found
    finally:
        store.close()


def had_received(store: Store, found: Found, time: str) -> Found:
    """What the database had of a found job by a time, in the job's time zone where none is typed."""
    by = read_time(time, zone_of(found.entries), "--received-by")
    job = found.entries[0].job
    return Found(store.received_by(job, by), store.aside(job, by), found.blobs, found.where, f"{found.version}@{by}")


def read_time(text: str, zone: str, field: str = "as of") -> str:
    """A time typed by a person, in the job's time zone where none is typed.

    Raises
    ------
    BadInput
        If it is neither a full time nor ``YYYY-MM-DD hh:mm``.
    """
    if PATTERN.match(text):
        utc_ms(text, field)
        return text
    short = _SHORT.match(text.strip())
    try:
        if short:
            clock = short[2] or "23:59"
            moment = datetime.fromisoformat(f"{short[1]}T{clock}").replace(tzinfo=ZoneInfo(zone))
        else:
            moment = datetime.fromisoformat(text)
            if moment.tzinfo is None:
                moment = moment.replace(tzinfo=ZoneInfo(zone))
    except (ValueError, KeyError) as error:
        raise BadInput(field, text, f"YYYY-MM-DD, YYYY-MM-DD hh:mm (in the job's time zone) or {FORM}") from error
    return moment.isoformat(timespec="milliseconds")


def zone_of(entries: list[Entry]) -> str:
    """Time zone of the job that some entries open; UTC where it is not told or not known."""
    for entry in entries:
        if entry.kind == "job.opened":
            zone = entry.body.get("time_zone")
            try:
                ZoneInfo(str(zone))
            except (KeyError, ValueError, OSError):
                return "UTC"
            return str(zone)
    return "UTC"


def view_of(found: Found, asked: str | None = None) -> View:
    """How a found job stands, or stood as of a time or an entry.

    Parameters
    ----------
    found : Found
    asked : str, optional
        A time, or the id of an entry.

    Raises
    ------
    BadInput
        If the time cannot be read, or no entry has that id.
    """
    entries, shown, cut = found.entries, "", False
    if asked and is_id(asked):
        entries = as_of(found.entries, entry_id=asked)
        shown = next(e.at for e in found.entries if e.id == asked)
    elif asked:
        shown = read_time(asked, zone_of(found.entries))
        entries, cut = as_of(found.entries, time=shown), True
    opened_by(found.entries, entries, asked)
    latest = utc_ms(shown) if shown else None
    aside = [e for e in found.aside if latest is None or e.ms <= latest]
    job = fold_ordered(found.ordered, found.blobs) if found.ordered and not asked else fold(entries, found.blobs, aside, cut=cut)
    standing = assess(job)
    sheet = assessment_sheet(standing, shown)
    return View(entries, found, standing, sheet, digest(sheet), shown)


def opened_by(known: list[Entry], entries: list[Entry], asked: str | None) -> None:
    """Refuse a time before a job was opened, where the entry that opens it is here.

    Raises
    ------
    BadInput
    """
    opened = next((e for e in known if e.kind == "job.opened"), None)
    if asked and opened is not None and not any(e.kind == "job.opened" for e in entries):
        raise BadInput("--as-of", asked, f"a time after {clock(opened.at)}, when the job was opened")


def view(name: str, asked: str | None = None, database: str | None = None, received_by: str | None = None) -> View:
    """How JOB stands, or stood, on all that is known or on what the database had received by a time."""
    return view_of(find(name, database, received_by), asked)
