"""The ready-to-test list of a job at a time."""

from __future__ import annotations

from datetime import datetime
from zoneinfo import ZoneInfo

from wholefilm.base.errors import BadInput
from wholefilm.base.times import utc_ms
from wholefilm.job.fold import fold
from wholefilm.ledger.entry import is_id
from wholefilm.ledger.order import as_of
from wholefilm.proof.ready import ready
from wholefilm.sheets.ready import ReadySheet, ready_to_test_sheet

from .now import written_now
from .refuse import supplied_by
from .view import find, opened_by, read_time, zone_of


def ready_list(
    name: str,
    about: str,
    asked: str | None = None,
    begins: str | None = None,
    tester: str = "",
    stage: str = "final",
    operator: str = "",
    database: str | None = None,
) -> ReadySheet:
    """Whether a test may start, by the record.

    Parameters
    ----------
    name : str
        JOB: a job file or a job of the database.
    about : str
        Test area, panel, item or repair number.
    asked : str, optional
        A time or the id of an entry; now where left out. Entries written later are not looked at.
    begins : str, optional
        When the test would begin; at the time asked for where left out.
    tester, stage, operator : str, optional
    database : str, optional

    Returns
    -------
    ReadySheet

    Raises
    ------
    BadInput
        If the time, the area, the tester or the job is not one that is here.
    """
    found = find(name, database)
    zone = zone_of(found.entries)
    if asked and is_id(asked):
        entries, at = as_of(found.entries, entry_id=asked), next(e.at for e in found.entries if e.id == asked)
    else:
        at = read_time(asked, zone) if asked else written_now()
        entries = as_of(found.entries, time=at)
    opened_by(found.entries, entries, asked)
    job = fold(entries, found.blobs, [e for e in found.aside if e.ms <= utc_ms(at)])
    if begins and len(begins.strip()) == 10:
        raise BadInput("--at", begins, "a day and an hour, YYYY-MM-DD hh:mm: a test begins at a time")
    at = read_time(begins, zone, "--at") if begins else at
    at = datetime.fromisoformat(at).astimezone(ZoneInfo(zone)).isoformat(timespec="milliseconds")
    answer = ready(job, about, at, tester, stage, operator)
    commands = [
        supplied_by(
            s.answer.supply, job.name, (answer.panels or s.panels or [about])[0] if answer.what == "retest" else (s.panels or [about])[0]
        )
        for s in answer.needs
    ]

    def local(ms: int) -> str:
        try:
            return datetime.fromtimestamp(ms / 1000, ZoneInfo(zone)).strftime("%Y-%m-%d %H:%M")
        except (ValueError, OverflowError, OSError):
            return ""

    return ready_to_test_sheet(job, answer, commands, local)
