"""Rows of a file of thickness readings, as the job's columns and units name them."""

from __future__ import annotations

import csv
import io
from collections.abc import Mapping

import msgspec

from wholefilm.base.errors import BadInput
from wholefilm.base.quantity import Quantity, quantity

NEEDED = ("test_area", "class", "value")
KNOWN = (*NEEDED, "on", "first", "second", "spot")
CLASSES = ("flat", "weld", "edge", "corner", "pit")


class SpotReading(msgspec.Struct, frozen=True):
    """One spot.

    Attributes
    ----------
    row : int
        Line of the file, the header is line 1.
    test_area, class_ : str
    thickness : Quantity
        Length.
    on : str
        Part of the item, or empty.
    first, second : float or None
        Map coordinates on that part. [m]
    """

    row: int
    test_area: str
    class_: str
    thickness: Quantity
    on: str = ""
    first: float | None = None
    second: float | None = None


def read_spots(data: bytes, columns: Mapping[str, str], units: Mapping[str, str]) -> list[SpotReading]:
    """Read a CSV file of spots.

    Parameters
    ----------
    data : bytes
        UTF-8 CSV with a header line; comma or semicolon.
    columns : mapping
        Our name (`test_area`, `class`, `value`, optional `on`, `first`, `second`, `spot`) to the file's header.
    units : mapping
        Unit of `value`, and of `first` and `second` where given.

    Returns
    -------
    list of SpotReading

    Raises
    ------
    BadInput
        Naming the column or the line, with what is allowed. Nothing is half read.
    """
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise BadInput("file", f"byte {error.start}", "UTF-8 text") from error
    for ours in columns:
        if ours not in KNOWN:
            raise BadInput("columns", ours, f"one of {', '.join(KNOWN)}")
    for ours in NEEDED:
        if ours not in columns:
            raise BadInput("columns", ", ".join(columns), f"a column for each of {', '.join(NEEDED)}")
    if "value" not in units:
        raise BadInput("units", dict(units), "a unit for value, such as um")
    head = text.splitlines()[0] if text else ""
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=";" if head.count(";") > head.count(",") else ",")
    try:
        header = [h.strip() for h in next(reader, [])]
    except csv.Error as error:
        raise BadInput("line 1", str(error), "a header line of CSV") from error
    for ours, theirs in columns.items():
        if theirs not in header:
            raise BadInput("columns", f"{ours} = {theirs}", f"a header of the file: {', '.join(header) or '(empty file)'}")
        if header.count(theirs) > 1:
            raise BadInput("columns", f"{ours} = {theirs}", "a header that the file has once")
    at = {ours: header.index(theirs) for ours, theirs in columns.items()}
    spots = []
    try:
        for row in reader:
            if not any(cell.strip() for cell in row):
                continue
            if len(row) != len(header):
                raise BadInput(f"line {reader.line_num}", ",".join(row), f"{len(header)} cells, as in the header")
            spots.append(_spot(row, reader.line_num, at, units))
    except csv.Error as error:
        raise BadInput(f"line {reader.line_num}", str(error), "lines of CSV, cells under 131072 characters") from error
    return spots


def _spot(row: list[str], line: int, at: Mapping[str, int], units: Mapping[str, str]) -> SpotReading:
    def cell(name: str) -> str:
        return row[at[name]].strip() if name in at else ""

    def metres(name: str) -> float | None:
        return quantity(f"{cell(name)} {units.get(name, 'm')}", "length", f"line {line}, {name}").si if cell(name) else None

    class_ = cell("class")
    if class_ not in CLASSES:
        raise BadInput(f"line {line}, class", class_, ", ".join(CLASSES))
    if not cell("test_area"):
        raise BadInput(f"line {line}, test_area", "", "the name of a test area")
    value = quantity(f"{cell('value')} {units['value']}", "length", f"line {line}, value")
    if value.number < 0:
        raise BadInput(f"line {line}, value", cell("value"), "zero or more")
    return SpotReading(line, cell("test_area"), class_, value, cell("on"), metres("first"), metres("second"))
