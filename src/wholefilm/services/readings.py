"""Load a file of thickness readings into a job: looked at whole before anything is stored."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Sequence
from pathlib import Path

from wholefilm.base.errors import BadInput
from wholefilm.film.readings import KNOWN, NEEDED, read_spots
from wholefilm.ledger.store import Store

from .record import Recorded, record


def guess_columns(header: Sequence[str]) -> dict[str, str]:
    """Columns that bear our own names, and the one value column that names its unit (``dft_um``)."""
    columns = {name: name for name in KNOWN if name in header}
    if "value" not in columns:
        values = [h for h in header if h.rsplit("_", 1)[-1] in ("um", "mil", "mm")]
        if len(values) == 1:
            columns["value"] = values[0]
    return columns


def load_readings(
    store: Store,
    url: str,
    name: str,
    path: Path,
    by: str,
    *,
    about: str,
    columns: Sequence[str] = (),
    unit: str | None = None,
    at_site: str | None = None,
) -> Recorded:
    """Store a CSV file as a blob and record it.

    Parameters
    ----------
    store, url, name, by
        As in `record`.
    path : Path
        CSV with a header.
    about : str
        What was read: instrument, day, area.
    columns : sequence of str
        ``OURS=HEADER`` for headers that do not bear our names.
    unit : str, optional
        Unit of the values; taken from the header where it ends in _um, _mil or _mm.
    at_site : str, optional
        When it was read.

    Raises
    ------
    BadInput
        Naming column or line; nothing is stored then.
    """
    try:
        data = path.read_bytes()
    except OSError as error:
        raise BadInput("FILE", str(path), f"a file that can be read ({error.strerror})") from error
    header = [h.strip() for h in data.split(b"\n", 1)[0].decode("utf-8-sig", "replace").replace(";", ",").split(",")]
    chosen = guess_columns(header)
    for word in columns:
        ours, eq, theirs = word.partition("=")
        if not eq or ours not in KNOWN:
            raise BadInput("--column", word, f"OURS=HEADER with OURS one of {', '.join(KNOWN)}")
        if theirs not in header:
            raise BadInput("--column", word, f"a header of the file: {', '.join(header)}")
        chosen[ours] = theirs
    lacking = [n for n in NEEDED if n not in chosen]
    if lacking:
        raise BadInput("--column", ", ".join(header), f"a column for {', '.join(lacking)}, such as --column {lacking[0]}=HEADER")
    unit = unit or (chosen["value"].rsplit("_", 1)[-1] if chosen["value"].endswith(("_um", "_mil", "_mm")) else "")
    if not unit:
        raise BadInput("--unit", "nothing", "the unit of the values: um, mil or mm")
    units = {"value": unit} | {n: "m" for n in ("first", "second") if n in chosen}
    spots = read_spots(data, chosen, units)
    body = {"blob": hashlib.sha256(data).hexdigest(), "columns": chosen, "units": units, "rows": len(spots), "about": about}
    return record(store, url, name, "readings.loaded", (), by, at_site, json.dumps(body), beside=data)
