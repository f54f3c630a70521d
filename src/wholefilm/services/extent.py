"""How far a nonconforming area goes: spots measured so far, in a file, and where to measure next."""

from __future__ import annotations

import csv
import io
import math
from pathlib import Path

import msgspec

from wholefilm.base.errors import BadInput
from wholefilm.base.quantity import quantity
from wholefilm.base.sources import Grade, Source
from wholefilm.film.extent import NEAR, SearchReading, SearchSpot, find_extent, search_of
from wholefilm.rules.thickness import load_thickness, source_of, thickness_rule

MOST_BYTES = 16 * 1024 * 1024
COLUMNS = ("x", "y", "value")


class ExtentAnswer(msgspec.Struct, frozen=True):
    """How a search stands.

    Attributes
    ----------
    rule : Source
    says : str
    step_m, radius_m : float
    spots : list of SearchSpot
        Measured, and to measure next. [m]
    nonconforming : list of (float, float)
        Bad spots, the start first; all within `radius_m` of one is nonconforming. [m]
    over : bool
        Whether every direction has ended.
    elsewhere : int
        Readings at no spot of the search.
    """

    rule: Source
    says: str
    step_m: float
    radius_m: float
    spots: list[SearchSpot]
    nonconforming: list[tuple[float, float]]
    over: bool
    elsewhere: int


def extent_of(
    path: Path, rule: str, start: str, least: str | None, most: str | None, edition: str | None, unit: str | None
) -> ExtentAnswer:
    """Search from a bad spot.

    Parameters
    ----------
    path : Path
        CSV with columns x and y in metres on the map, and value; an empty value means that nothing can be measured there.
    rule : str
        Id of a rule for film thickness that describes such a search.
    start : str
        Place of the bad spot, such as ``"2.0 m, 3.5 m"``.
    least, most : str or None
        What the contract specifies; no allowance of a level holds here.
    edition : str, optional
    unit : str, optional
        Unit of the values; that of the rule if left out.

    Returns
    -------
    ExtentAnswer

    Raises
    ------
    BadInput
        Names the option, the column or the line.
    """
    found = thickness_rule(rule)
    if found.extent is None:
        able = ", ".join(i for i, r in load_thickness().items() if r.extent is not None)
        raise BadInput("--rule", rule, f"a rule that describes the search: {able}")
    named = found.edition(edition)
    if found.extent.editions and named not in found.extent.editions:
        raise BadInput("--edition", edition or named, f"an edition with the search: {', '.join(found.extent.editions)}")
    at = [quantity(part.strip(), "length", "--from").to("m") for part in start.split(",")]
    if len(at) != 2:
        raise BadInput("--from", start, "two lengths on the map, such as '2.0 m, 3.5 m'")
    low, high = (quantity(t, "length", n).to("um") if t else None for t, n in ((least, "--min"), (most, "--max")))
    if low is None and high is None:
        raise BadInput("--min", "nothing", "the least (--min), the most (--max) or both that the contract specifies, such as '600 um'")
    search = search_of(found.extent)
    readings = [r for r in _read(path, unit or found.unit or "") if not _is_start(r, (at[0], at[1]), search.step_m, low, high)]
    done = find_extent(search, (at[0], at[1]), readings, low, high)
    source = source_of(found, named, Grade.MEMORY)
    return ExtentAnswer(
        source,
        _says(done.next, done.suspect),
        search.step_m,
        search.radius_m,
        done.spots,
        done.nonconforming,
        not done.next,
        done.elsewhere,
    )


def _is_start(reading: SearchReading, at: tuple[float, float], step_m: float, low: float | None, high: float | None) -> bool:
    """Whether a reading is that of the bad spot itself; BadInput if it lies inside the limits."""
    if math.hypot(reading.first - at[0], reading.second - at[1]) > NEAR * step_m:
        return False
    if reading.value_um is not None and (low is None or reading.value_um >= low) and (high is None or reading.value_um <= high):
        read = f"{at[0]:g} m, {at[1]:g} m, where {reading.value_um:g} um was read"
        raise BadInput("--from", read, "the place of a spot that lies outside --min and --max")
    return True


def _says(left: list[SearchSpot], suspect: list[SearchSpot]) -> str:
    again = f"; inspect {len(suspect)} again after the repair" if suspect else ""
    if left:
        return f"measure next at {len(left)} places" + again
    return "every direction has ended" + again


def _read(path: Path, unit: str) -> list[SearchReading]:
    if not unit:
        raise BadInput("--unit", "nothing", "the unit of the values: um, mil or mm")
    try:
        if path.stat().st_size > MOST_BYTES:
            raise BadInput("FILE", str(path), f"a file of at most {MOST_BYTES // 1024**2} MiB")
        text = path.read_text(encoding="utf-8-sig")
    except UnicodeDecodeError as error:
        raise BadInput("FILE", f"byte {error.start}", "UTF-8 text") from error
    except OSError as error:
        raise BadInput("FILE", str(path), f"a file that can be read ({error.strerror})") from error
    try:
        rows = csv.DictReader(io.StringIO(text, newline=""), strict=True)
        missing = [c for c in COLUMNS if c not in (rows.fieldnames or ())]
        if missing:
            raise BadInput("FILE", ", ".join(rows.fieldnames or ()) or "nothing", f"a header line with columns {', '.join(COLUMNS)}")
        return [_reading(row, rows.line_num, unit) for row in rows]
    except csv.Error as error:
        raise BadInput("FILE", str(error), "lines of CSV") from error


def _reading(row: dict[str, str | None], line: int, unit: str) -> SearchReading:
    def metres(name: str) -> float:
        return quantity(f"{(row[name] or '').strip()} m", "length", f"line {line}, {name}").si

    value = (row["value"] or "").strip()
    return SearchReading(metres("x"), metres("y"), quantity(f"{value} {unit}", "length", f"line {line}, value").to("um") if value else None)
