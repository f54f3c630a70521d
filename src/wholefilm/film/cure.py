"""Cure and recoat clocks: the maker's row as entered, the last coat, the steel as it was, and who released.

A row is taken whole or not at all: nothing is worked out between two rows. The maker's table gives the time; a named person
releases. Cure follows the temperature of the steel, not of the air or the calendar [1]_: the lowest steel temperature seen
since the last coat stands beside the row, and a colder one means that the row does not say how long to wait.

References
----------
.. [1] UFGS 09970, 3.10.3: holiday test not sooner than 48 h after the topcoat (text read). MIL-HDBK-1110, 9.6.8.5: the record
   must let the cure time of each coat be worked out (text read). Steel rather than air: common practice.
"""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from wholefilm.base.findings import Outcome
from wholefilm.base.quantity import quantity

MOST_S = 10 * 365.25 * 86400
"""A wait longer than ten years counts as ten: one that can still be written as a date. [s]"""


class Row(msgspec.Struct, frozen=True):
    """A row of the coating maker's table, as entered: its name, what it is for, steel temperature, shortest and longest wait."""

    name: str
    what: str
    steel: str
    wait: str
    longest: str | None = None
    before: str | None = None


class Steel(msgspec.Struct, frozen=True):
    """One steel temperature: when [ms UTC], as typed, where."""

    at: int
    temperature: str
    where: str


class Clock(msgspec.Struct, frozen=True):
    """What a row says of a coat at a time.

    Attributes
    ----------
    row : Row or None
    earliest, latest : int or None
        First and last moment that the row allows; latest only where it states a longest wait. [ms UTC]
    lowest : Steel or None
        The lowest steel temperature seen from the last coat to `at`.
    finding : Outcome
        Met if due, not yet too late, and no colder steel was seen; cannot tell if no row or no steel temperature is here.
    says : str
        One sentence: the row, and why.
    """

    row: Row | None
    earliest: int | None
    latest: int | None
    lowest: Steel | None
    finding: Outcome
    says: str


def _wait_ms(text: str, field: str) -> int:
    return int(min(max(0.0, quantity(text, "time", field).si), MOST_S) * 1000)


def row_for(rows: Sequence[Row], name: str) -> Row | None:
    """The row of that name; of two of one name the later entered. None if there is none."""
    return next((r for r in reversed(rows) if r.name == name), None)


def latest_of(row: Row, last_coat: int) -> int | None:
    """The last moment that a row allows; None where it states no longest wait. [ms UTC]"""
    return last_coat + _wait_ms(row.longest, "longest") if row.longest else None


def lowest_steel(series: Sequence[Steel], begin: int, end: int) -> Steel | None:
    """The lowest steel temperature of a span, whatever the units typed; the earliest of equals. [ms UTC]"""
    seen = [s for s in series if begin <= s.at <= end]
    return min(seen, key=lambda s: (quantity(s.temperature, "temperature", "steel").exact("K"), s.at), default=None)


def clock(rows: Sequence[Row], name: str, last_coat: int, series: Sequence[Steel], at: int) -> Clock:
    """What a row of the maker's table says of a coat at a time.

    Parameters
    ----------
    rows : sequence of Row
        The maker's table as entered.
    name : str
        The row that the release names; never one between two rows.
    last_coat : int
        When the last coat was finished. [ms UTC]
    series : sequence of Steel
        Steel temperatures as recorded, in any order.
    at : int
        When the work would begin (test, retest, next coat). [ms UTC]

    Returns
    -------
    Clock

    Raises
    ------
    BadInput
        If a temperature or a wait cannot be read.
    """
    row = row_for(rows, name)
    lowest = lowest_steel(series, last_coat, max(at, last_coat))
    if row is None:
        return Clock(None, None, None, lowest, Outcome.CANNOT_TELL, f"the maker's table as entered has no row {name}")
    earliest = last_coat + _wait_ms(row.wait, "wait")
    latest = latest_of(row, last_coat)
    told = f"row {row.name}: {row.wait} at {row.steel}"
    if at < earliest:
        return Clock(row, earliest, latest, lowest, Outcome.NOT_MET, f"{told}; {_span(earliest - at)} before it is due")
    if latest is not None and at > latest:
        return Clock(row, earliest, latest, lowest, Outcome.NOT_MET, f"{told}; {_span(at - latest)} after the longest wait, {row.longest}")
    if lowest is None:
        return Clock(row, earliest, latest, None, Outcome.CANNOT_TELL, f"{told}; no steel temperature is recorded since the last coat")
    if quantity(lowest.temperature, "temperature", "steel").exact("K") < quantity(row.steel, "temperature", "steel").exact("K"):
        says = f"{told}; the steel was at {lowest.temperature} ({lowest.where}), colder than the row: it does not say how long to wait"
        return Clock(row, earliest, latest, lowest, Outcome.NOT_MET, says)
    return Clock(row, earliest, latest, lowest, Outcome.MET, f"{told}; lowest steel {lowest.temperature} ({lowest.where})")


def _span(ms: int) -> str:
    """A span for a sentence, rounded down: hours, below one hour minutes."""
    return f"{ms // 3_600_000} h" if ms >= 3_600_000 else f"{ms // 60_000} min"
