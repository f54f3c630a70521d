"""Times as written in the book: wall clock with its offset, never Z."""

from __future__ import annotations

import re
from datetime import UTC, datetime

from .errors import BadInput

PATTERN = re.compile(r"^[0-9]{4}-[0-9]{2}-[0-9]{2}T[0-9]{2}:[0-9]{2}:[0-9]{2}\.[0-9]{3}[+-][0-9]{2}:[0-9]{2}\Z")
_EPOCH = datetime(1970, 1, 1, tzinfo=UTC)
FORM = "YYYY-MM-DDThh:mm:ss.sss+hh:mm"


_days: dict[str, int] = {}  # days read once, with their offset; bounded, because entries come many to a day
_DAYS_MOST = 4096
_MINUTES = {f"{h:02d}:{m:02d}:": (h * 60 + m) * 60_000 for h in range(24) for m in range(60)}
_SECONDS = {f"{s:02d}.{tenth}": s * 1000 + tenth * 100 for s in range(60) for tenth in range(10)}
_PARTS = {f"{part:02d}": part for part in range(100)}


def utc_ms(at: str, field: str = "at") -> int:
    """Milliseconds of UTC since 1970 of a written time. [ms]

    Raises
    ------
    BadInput
        If the text is not of the form or no real time.
    """
    try:  # a day with its offset has 17 letters, so what is found here has the right length too
        return _days[at[:11] + at[23:]] + _MINUTES[at[11:17]] + _SECONDS[at[17:21]] + _PARTS[at[21:23]]
    except KeyError:
        ms = _read(at, field)
    if len(_days) < _DAYS_MOST:
        _days[at[:11] + at[23:]] = ms - _MINUTES[at[11:17]] - _SECONDS[at[17:21]] - _PARTS[at[21:23]]
    return ms


def _read(at: str, field: str) -> int:
    if not PATTERN.match(at):
        raise BadInput(field, at, FORM)
    try:
        moment = datetime.fromisoformat(at)
    except ValueError as error:
        raise BadInput(field, at, FORM + ", a real time") from error
    offset = moment.utcoffset()
    if offset is None or abs(offset.total_seconds()) > 14 * 3600:
        raise BadInput(field, at, FORM + ", offset at most 14 hours")
    if not 2 <= moment.year <= 9998:
        raise BadInput(field, at, FORM + ", a year from 0002 to 9998, so that any offset can be written")
    delta = moment - _EPOCH
    return (delta.days * 86400 + delta.seconds) * 1000 + delta.microseconds // 1000


def local_day(at: str) -> str:
    """Calendar day where the writer stood, ``YYYY-MM-DD``."""
    return at[:10]


def clock(at: str) -> str:
    """Day and minute for a reader: ``2025-06-03 16:55``."""
    return f"{at[:10]} {at[11:16]}"
