"""Programs of one installation take turns at writing."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from wholefilm.ledger.errors import NotStored


@contextmanager
def turn(beside: Path) -> Iterator[None]:
    """Hold the turn; the system gives it back when the program ends, however it ends.

    Parameters
    ----------
    beside : Path
        The database file; the turn is a lock on ``FILE.turn`` beside it.

    Raises
    ------
    NotStored
        If the file cannot be made.
    """
    place = beside.with_name(beside.name + ".turn")
    try:
        file = place.open("ab")
    except OSError as error:
        raise NotStored(str(place), error) from error
    with file:
        if sys.platform == "win32":
            import msvcrt

            file.seek(0)
            msvcrt.locking(file.fileno(), msvcrt.LK_LOCK, 1)
        else:
            import fcntl

            fcntl.flock(file, fcntl.LOCK_EX)
        yield
