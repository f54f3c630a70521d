"""Spots of film thickness: one by one, and in columns that hold a million."""

from __future__ import annotations

from array import array
from collections.abc import Callable, Iterator, Sequence
from fractions import Fraction
from itertools import repeat

import msgspec

from wholefilm.base.quantity import Quantity, quantity

NEEDED = ("test_area", "class", "value")
PLACED = ("on", "first", "second", "spot", "measured_area")
KNOWN = (*NEEDED, *PLACED)
CLASSES = ("flat", "weld", "edge", "corner", "pit")
SHOWN = 20
"""Bad rows that are named one by one."""
NAN = float("nan")


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


class Spots:
    """Spots in columns, all of shape (n,); texts that repeat are kept once.

    Attributes
    ----------
    unit : str
        Unit in which the values were typed.
    row : array of int
        Line of the file on which the spot stands.
    test_area, class_, on, spot, measured_area : list of str
        `measured_area`: which of the areas that a rule asks for a reading belongs to. Empty texts where the file has no such column.
    texts : dict of float to str
        How each value was typed, in `unit`, as it came first ("410" and "410.0" are one value).
    values_um : array of float
        The nearest float to the exact value. [um]
    first, second : array of float
        Map coordinates on the part; NaN where none is given. [m]

    Notes
    -----
    `on`, `spot`, `measured_area`, `first` and `second` may be read when they are first asked for: an acceptance needs none of them.
    """

    __slots__ = (
        "_first",
        "_later",
        "_on",
        "_parts",
        "_second",
        "_spot",
        "class_",
        "row",
        "test_area",
        "texts",
        "unit",
        "values_um",
    )

    def __init__(self, unit: str) -> None:
        self.unit = unit
        self.row = array("I")
        self.values_um = array("d")
        self.test_area: list[str] = []
        self.class_: list[str] = []
        self.texts: dict[float, str] = {}

        self._on: list[str] = []
        self._spot: list[str] = []
        self._parts: list[str] = []
        self._first, self._second = array("d"), array("d")
        self._later: Callable[[], Spots] | None = None

    def extend(self, on: Sequence[str], spot: Sequence[str], measured: Sequence[str], first: array[float], second: array[float]) -> None:
        """More places and names of spots."""
        self._on.extend(on)
        self._spot.extend(spot)
        self._parts.extend(measured)
        self._first.extend(first)
        self._second.extend(second)

    def read_later(self, rest: Callable[[], Spots]) -> None:
        """Where places and names of spots come from when they are asked for; a line that is not there has none."""
        self._later = rest

    def _rest(self) -> None:
        if self._later is None:
            return
        rest, self._later = self._later(), None
        if rest.row == self.row:
            self.extend(rest.on, rest.spot, rest.measured_area, rest.first, rest.second)
            return
        at = {row: n for n, row in enumerate(rest.row)}
        there = [at.get(row) for row in self.row]
        on, spot, parts = (["" if n is None else names[n] for n in there] for names in (rest.on, rest.spot, rest.measured_area))
        first, second = (array("d", [NAN if n is None else x[n] for n in there]) for x in (rest.first, rest.second))
        self.extend(on, spot, parts, first, second)

    @property
    def on(self) -> list[str]:
        """Part of the item of each spot."""
        self._rest()
        return self._on

    @property
    def spot(self) -> list[str]:
        """Name of the spot of each reading."""
        self._rest()
        return self._spot

    @property
    def measured_area(self) -> list[str]:
        """Name of the measured area of each reading."""
        self._rest()
        return self._parts

    @property
    def first(self) -> array[float]:
        """First map coordinate of each spot. [m]"""
        self._rest()
        return self._first

    @property
    def second(self) -> array[float]:
        """Second map coordinate of each spot. [m]"""
        self._rest()
        return self._second

    def __len__(self) -> int:
        return len(self.values_um)

    def quantity(self, n: int) -> Quantity:
        """The value of one spot as typed, exact."""
        return quantity(f"{self.texts[self.values_um[n]]} {self.unit}", "length", "value")

    def exact_um(self, n: int) -> Fraction:
        """The exact value of one spot. [um]"""
        return self.quantity(n).exact("um")

    def reading(self, n: int) -> SpotReading:
        """One spot by itself."""
        first, second = (None if x != x else x for x in (self.first[n], self.second[n]))
        return SpotReading(self.row[n], self.test_area[n], self.class_[n], self.quantity(n), self.on[n], first, second)

    def __iter__(self) -> Iterator[SpotReading]:
        return (self.reading(n) for n in range(len(self)))

    def groups(self, aside: frozenset[int] | set[int] = frozenset()) -> dict[tuple[str, str], array[float]]:
        """Values by test area and class, in the order of the file. [um]

        Parameters
        ----------
        aside : set of int
            Lines that do not count.

        Returns
        -------
        dict of (str, str) to array of float
        """
        add: dict[str, dict[str, Callable[[float], None]]] = {}
        found: dict[tuple[str, str], array[float]] = {}
        for row, area, class_, value in zip(self.row if aside else repeat(0), self.test_area, self.class_, self.values_um, strict=False):
            if row in aside:
                continue
            try:
                add[area][class_](value)
            except KeyError:
                found[area, class_] = array("d", [value])
                add.setdefault(area, {})[class_] = found[area, class_].append
        return found
