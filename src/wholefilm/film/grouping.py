"""Readings gathered into spots, and spots into measured areas."""

from __future__ import annotations

from array import array
from collections import Counter
from collections.abc import Sequence
from fractions import Fraction
from operator import mul, truediv

import msgspec

from .result import PM, Readings, picometres


class Grouped(msgspec.Struct, frozen=True):
    """Means of spots and of areas, each the nearest float to its exact value. [um]

    Attributes
    ----------
    spots : array of float
    few : int
        Spots with fewer readings than asked for, among those that have a name.
    areas : list of float
    names : sequence of str
        Of the areas; empty if they were not told.
    sizes : list of int
        Spots of each area.
    """

    spots: array[float]
    few: int
    areas: list[float]
    names: Sequence[str]
    sizes: list[int]

    def name(self, n: int) -> str:
        """Name of an area, or its number from 1."""
        return f"area {(self.names[n] or '(no name)') if self.names else n + 1}"


def grouped(readings: Readings, readings_a_spot: int, spots_an_area: int) -> Grouped:
    """Spots and areas of a set of readings.

    Parameters
    ----------
    readings : Readings
        At least one. A reading without a name of its spot is a spot by itself.
    readings_a_spot, spots_an_area : int
        Where no place is told, so many spots make an area in the order of the readings; a rest counts with the last.

    Returns
    -------
    Grouped

    Notes
    -----
    Sums are whole picometres and each mean is rounded once, which keeps the order of exact values and keeps equal ones equal.
    """
    totals, counts, places, few = _spots(readings, readings_a_spot)
    means = array("d", map(truediv, totals, map(mul, counts, [PM] * len(counts))))
    if any(places):
        members: dict[str, list[int]] = {}
        for n, place in enumerate(places):
            members.setdefault(place, []).append(n)
        parts = [([totals[n] for n in of], [counts[n] for n in of]) for of in members.values()]
        return Grouped(means, few, [_mean(*p) for p in parts], list(members), [len(t) for t, _ in parts])
    whole = max(1, len(totals) // spots_an_area)
    cut = (whole - 1) * spots_an_area
    sizes = [spots_an_area] * (whole - 1) + [len(totals) - cut]
    if len(set(counts[:cut])) == 1:
        each = counts[0] * spots_an_area * PM
        areas = [total / each for total in map(sum, zip(*[iter(totals[:cut])] * spots_an_area, strict=True))]
    else:
        ends = range(0, cut, spots_an_area)
        areas = [_mean(totals[n : n + spots_an_area], counts[n : n + spots_an_area]) for n in ends]
    return Grouped(means, few, [*areas, _mean(totals[cut:], counts[cut:])], (), sizes)


def _spots(readings: Readings, readings_a_spot: int) -> tuple[list[int], list[int], Sequence[str], int]:
    """Of each spot: sum [pm], number of readings, place; and how many named ones have too few."""
    sums = list(picometres(readings.values_um))
    if not any(readings.spots):
        return sums, [1] * len(sums), readings.places, 0
    named = [s or n for n, s in enumerate(readings.spots)]
    marks: Sequence[object] = list(zip(readings.places, named, strict=True)) if any(readings.places) else named
    count = Counter(marks)
    total: dict[object, int] = dict.fromkeys(count, 0)
    for mark, s in zip(marks, sums, strict=True):
        total[mark] += s
    counts = list(count.values())
    few = sum(1 for mark, n in count.items() if n < readings_a_spot and isinstance(mark[1] if isinstance(mark, tuple) else mark, str))
    return list(total.values()), counts, [m[0] for m in count if isinstance(m, tuple)], few


def _mean(totals: list[int], counts: list[int]) -> float:
    """Mean of the means of some spots. [um]"""
    if len(set(counts)) == 1:
        return sum(totals) / (counts[0] * len(totals) * PM)
    return float(sum((Fraction(t, n) for t, n in zip(totals, counts, strict=True)), Fraction(0)) / (len(totals) * PM))
