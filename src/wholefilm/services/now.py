"""The clock, behind a small edge that tests replace."""

from __future__ import annotations

import os
import time
from datetime import UTC, datetime

from wholefilm.ledger.entry import uuid7

_STARTED = time.monotonic()


def written_now() -> str:
    """Wall clock with its offset: ``2025-06-03T16:55:00.000+02:00``."""
    return datetime.now(UTC).astimezone().isoformat(timespec="milliseconds")


def new_id() -> str:
    """A new id, UUIDv7."""
    return uuid7(time.time_ns() // 1_000_000, os.urandom(10))


def ticks() -> int:
    """Milliseconds since this program began. [ms]"""
    return int((time.monotonic() - _STARTED) * 1000)


SESSION = new_id()
"""One run of the program is one session."""
