"""Where the database is, and opening it."""

from __future__ import annotations

import os
from pathlib import Path
from typing import TYPE_CHECKING

from wholefilm.base.errors import BadInput

if TYPE_CHECKING:
    from wholefilm.ledger.store import Store

VARIABLE = "WHOLEFILM_DATABASE"
BLOBS_VARIABLE = "WHOLEFILM_BLOBS"


def data_folder() -> Path:
    """The user's data folder for this program."""
    from platformdirs import user_data_path

    return user_data_path("wholefilm")


def database_url(given: str | None = None) -> str:
    """Address of the database: the one given, else WHOLEFILM_DATABASE, else one SQLite file in the user's data folder."""
    url = given or os.environ.get(VARIABLE) or ""
    if not url:
        folder = data_folder()
        folder.mkdir(parents=True, exist_ok=True)
        return f"sqlite:///{folder / 'wholefilm.db'}"
    if "://" not in url:
        if url.endswith((".db", ".sqlite")):
            return f"sqlite:///{Path(url).expanduser().resolve()}"
        raise BadInput("database", url, "sqlite:///FILE.db, a path that ends in .db, or postgresql+psycopg://USER@HOST/NAME")
    if url.startswith(("postgres://", "postgresql://")):
        url = "postgresql+psycopg://" + url.split("://", 1)[1]
    return url


def blob_folder(url: str) -> Path | None:
    """Folder of photos and files: WHOLEFILM_BLOBS, or beside an SQLite file, or the user's data folder."""
    given = os.environ.get(BLOBS_VARIABLE)
    if given:
        return Path(given)
    return None if url.startswith("sqlite") else data_folder() / "blobs"


def open_store(given: str | None = None) -> tuple[Store, str]:
    """The store and its address.

    Raises
    ------
    BadInput
        If the address cannot be used.
    """
    from wholefilm.ledger.store import Store

    url = database_url(given)
    return Store.open(url, blob_folder(url)), url
