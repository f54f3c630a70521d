"""Write a file whole or not at all."""

from __future__ import annotations

import contextlib
import os
from pathlib import Path

from .errors import NotStored


def write_whole(path: Path, content: bytes) -> None:
    """Write beside, force to disk, rename into place.

    Parameters
    ----------
    path : Path
        Its folder must exist.
    content : bytes

    Raises
    ------
    NotStored
        If the disk refuses at any step; a file that stood there before still stands.
    """
    temporary = None
    try:
        name = str(path.parent / f".part-{os.urandom(8).hex()}")
        handle = os.open(name, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o666)  # the user's own mask decides who may read it
        temporary = name
        with os.fdopen(handle, "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        os.replace(temporary, path)
        temporary = None
        sync_folder(path.parent)
    except OSError as error:
        raise NotStored(str(path), error) from error
    finally:
        if temporary is not None:
            with contextlib.suppress(OSError):
                os.unlink(temporary)


def sync_folder(folder: Path) -> None:
    """Force a folder's list of names to disk, where the system can."""
    if os.name != "posix":
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
