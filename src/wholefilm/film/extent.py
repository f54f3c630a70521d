"""The extent of a nonconforming area: which spots to measure next, outward from the bad one, and what is known so far."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from typing import Literal

import msgspec

from wholefilm.base.errors import BadInput
from wholefilm.base.quantity import quantity
from wholefilm.rules.thickness import Extent

State = Literal["next", "conforming", "nonconforming", "suspect", "not_measurable"]
NEAR = 0.2
"""A reading belongs to a spot of the search if it lies within this share of a step from it."""


class Search(msgspec.Struct, frozen=True):
    """How to search.

    Attributes
    ----------
    step_m, radius_m : float
        From spot to spot; about a bad spot, all within is nonconforming. [m]
    directions, stop_after : int
        Equally spaced directions; conforming spots in a row that end one.
    """

    step_m: float
    radius_m: float
    directions: int
    stop_after: int


class SearchReading(msgspec.Struct, frozen=True):
    """The mean of a spot at a place of the search; no value where nothing can be measured. [m, um]"""

    first: float
    second: float
    value_um: float | None


class SearchSpot(msgspec.Struct, frozen=True):
    """A spot of the search.

    Attributes
    ----------
    direction : int
        0 along the first axis, then turning towards the second.
    step : int
        From 1 outward.
    first, second : float
        [m]
    state : str
    """

    direction: int
    step: int
    first: float
    second: float
    state: State


class Found(msgspec.Struct, frozen=True):
    """How a search stands.

    Attributes
    ----------
    spots : list of SearchSpot
        Those measured, and those to measure next: one for each direction that goes on.
    nonconforming : list of (float, float)
        Places of all bad spots, the start first. [m]
    radius_m : float
    elsewhere : int
        Readings at no spot of the search; bad ones among them count as bad.
    """

    spots: list[SearchSpot]
    nonconforming: list[tuple[float, float]]
    radius_m: float
    elsewhere: int

    @property
    def next(self) -> list[SearchSpot]:
        """Spots to measure next; empty when the search is over."""
        return [s for s in self.spots if s.state == "next"]

    @property
    def suspect(self) -> list[SearchSpot]:
        """Conforming spots before a later bad one in the same direction: inspected again after the repair."""
        return [s for s in self.spots if s.state == "suspect"]

    def bad_at(self, first: float, second: float) -> bool:
        """Whether a place lies within the radius of a bad spot, the edge inside. [m]"""
        return any(math.hypot(first - x, second - y) <= self.radius_m * (1 + 1e-12) for x, y in self.nonconforming)


def search_of(extent: Extent) -> Search:
    """The search that a document describes."""
    step, radius = (quantity(x.value, "length").to("m") for x in (extent.step, extent.radius))
    return Search(step, radius, extent.directions.value, extent.stop_after.value)


def find_extent(
    search: Search,
    start: tuple[float, float],
    readings: Sequence[SearchReading],
    min_um: float | None,
    max_um: float | None,
    reaches: Callable[[float, float], bool] | None = None,
) -> Found:
    """How far a nonconforming area is known to go, and where to measure next.

    Parameters
    ----------
    search : Search
    start : (float, float)
        Place of the bad spot on the plane. [m]
    readings : sequence of SearchReading
        Spots measured so far, in any order; of two at one spot the later counts.
    min_um, max_um : float or None
        The contract's own least and most: no allowance of a level holds here. [um]
    reaches : function, optional
        Whether a place belongs to the surface coated in that shift. [m]

    Returns
    -------
    Found

    Raises
    ------
    BadInput
        If neither least nor most is given, or the search makes no sense.

    Notes
    -----
    SSPC-PA 2, 2012, 8.2.4: interval, end of a direction and no allowance were read; eight directions, the radius and suspect spots
    are from memory. Grade: memory.
    """
    if min_um is None and max_um is None:
        raise BadInput("min", "nothing", "the least, the most or both that the contract specifies")
    if search.step_m <= 0 or search.directions < 1 or search.stop_after < 1:
        raise BadInput("search", search, "a step more than zero, at least one direction, at least one spot to stop after")
    spots: list[SearchSpot] = []
    taken: set[int] = set()
    for direction in range(search.directions):
        found, used = _along(search, start, direction, readings, min_um, max_um, reaches)
        spots += found
        taken |= used
    others = [r for n, r in enumerate(readings) if n not in taken]
    bad = [start, *((s.first, s.second) for s in spots if s.state == "nonconforming")]
    bad += [(r.first, r.second) for r in others if r.value_um is not None and not _conforms(r.value_um, min_um, max_um)]
    return Found(spots, bad, search.radius_m, len(others))


def _along(
    search: Search, start: tuple[float, float], direction: int, readings: Sequence[SearchReading],
    min_um: float | None, max_um: float | None, reaches: Callable[[float, float], bool] | None,
) -> tuple[list[SearchSpot], set[int]]:  # fmt: skip
    """Spots in one direction up to its end or to the next to measure, and which readings were used."""
    turn = 2 * math.pi * direction / search.directions
    spots: list[SearchSpot] = []
    used: set[int] = set()
    in_a_row = step = 0
    while in_a_row < search.stop_after:
        step += 1
        first, second = start[0] + step * search.step_m * math.cos(turn), start[1] + step * search.step_m * math.sin(turn)
        if reaches is not None and not reaches(first, second):
            break
        near = [n for n, r in enumerate(readings) if math.hypot(r.first - first, r.second - second) <= NEAR * search.step_m]
        used.update(near)
        value = readings[near[-1]].value_um if near else None
        if not near or value is None:
            spots.append(SearchSpot(direction, step, first, second, "not_measurable" if near else "next"))
            break
        conforms = _conforms(value, min_um, max_um)
        in_a_row = in_a_row + 1 if conforms else 0
        spots.append(SearchSpot(direction, step, first, second, "conforming" if conforms else "nonconforming"))
    last_bad = max((s.step for s in spots if s.state == "nonconforming"), default=0)
    return [
        msgspec.structs.replace(s, state="suspect") if s.state == "conforming" and s.step < last_bad else s for s in spots
    ], used  # fmt: skip


def _conforms(um: float, low: float | None, high: float | None) -> bool:
    return (low is None or um >= low) and (high is None or um <= high)


def readings_in_doubt(times_ms: Sequence[int], last_good_ms: int, found_ms: int) -> list[int]:
    """Which readings a gauge that failed its check puts in doubt: those after its last good check, up to the failure.

    Parameters
    ----------
    times_ms : sequence of int, shape (n,)
        When each reading was made. [ms UTC]
    last_good_ms, found_ms : int
        When the gauge last passed, and when it failed. [ms UTC]

    Returns
    -------
    list of int
        Positions in `times_ms`.

    Notes
    -----
    ASTM D7091 and SSPC-PA 2, verification of accuracy. Grade: memory.
    """
    return [n for n, t in enumerate(times_ms) if last_good_ms < t <= found_ms]
