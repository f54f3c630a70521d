"""The id of this installation as a device. A database that was copied or put elsewhere takes a new one."""

from __future__ import annotations

import os
import time
from pathlib import Path

import msgspec
import sqlalchemy as sa

from wholefilm.base.errors import BadInput

from .entry import is_id, uuid7
from .errors import NotStored
from .files import write_whole
from .tables import sqlite_file


class _Noted(msgspec.Struct):
    device: str
    database: str
    number: int


def installation(database: Path | str, folder: Path | None = None) -> str:
    """Device id of this installation, kept in a file beside the database.

    Parameters
    ----------
    database : Path or str
        File of an SQLite database, or the address of a database.
    folder : Path, optional
        For a database that is no file here: the folder in which the id is kept.

    Returns
    -------
    str
        The id noted there; a new one, noted, if there is none, if the file is damaged, or if the database has another
        path or file number than noted: it is a copy or was restored, and two devices must never write one chain.

    Raises
    ------
    BadInput
        If there is no such database file, or no folder for a database that is no file.
    NotStored
        If the id cannot be noted.
    """
    place, name, number = _where(database, folder)
    try:
        noted = msgspec.json.decode(place.read_bytes(), type=_Noted)
        if noted.database == name and noted.number == number and is_id(noted.device):
            return noted.device
    except (FileNotFoundError, msgspec.MsgspecError, UnicodeError):
        pass
    except OSError as error:
        raise NotStored(str(place), error) from error
    device = uuid7(time.time_ns() // 1_000_000, os.urandom(10))
    write_whole(place, msgspec.json.encode(_Noted(device, name, number)) + b"\n")
    return device


def _where(database: Path | str, folder: Path | None) -> tuple[Path, str, int]:
    """File of the id, and by what the database is known again."""
    if isinstance(database, str) and "://" in database:
        try:
            address = sa.make_url(database)
        except sa.exc.ArgumentError as error:
            raise BadInput("database", database, "a file, or the address of a database") from error
        file = sqlite_file(address)
        if file is None:
            if folder is None or not folder.is_dir():
                raise BadInput("folder", folder, "a folder that is there, because this database is no file here")
            real = folder.resolve()
            return real / "installation.device", f"{address.host}:{address.port}/{address.database} in {real}", real.stat().st_ino
        database = file
    path = Path(database).resolve()
    if not path.is_file():
        raise BadInput("database", database, "a database file that is there")
    return path.with_name(path.name + ".device"), str(path), path.stat().st_ino
