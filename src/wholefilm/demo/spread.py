"""Readings made to a table: a sample with the mean, standard deviation, least and largest value that the table gives."""

from __future__ import annotations

import hashlib
import math
import statistics
from statistics import NormalDist

from wholefilm.base.errors import BadInput

_ROUNDS = 100


def sample(mean: float, sd: float, low: int, high: int, count: int) -> list[int]:
    """Whole numbers, rising, with a given mean, standard deviation (n - 1), minimum and maximum.

    Parameters
    ----------
    mean, sd : float
        [any unit]
    low, high : int
        [the same unit]
    count : int
        At least 4.

    Returns
    -------
    list of int, length `count`
        Normal quantiles at (i - 0.5)/n; the ends set to `low` and `high`, the inner ones shifted and stretched until mean and
        standard deviation are right, those beyond an end held at it, then rounded.

    Raises
    ------
    BadInput
        If no such sample exists.
    """
    inner = [NormalDist().inv_cdf((i - 0.5) / count) for i in range(2, count)]
    n, ends = len(inner), (float(low), float(high))
    if n < 2:
        raise BadInput("count", count, "4 or more")
    centre = (count * mean - sum(ends)) / n
    squares = (count - 1) * sd**2 - sum((end - mean) ** 2 for end in ends) - n * (centre - mean) ** 2
    if squares <= 0:
        raise BadInput("sd", sd, f"more, for a sample from {low} to {high}")
    middle = math.fsum(inner) / n
    stretch = math.sqrt(squares / math.fsum((z - middle) ** 2 for z in inner))
    exact = [centre + stretch * (z - middle) for z in inner]
    values = [round(x) for x in exact]
    if values[0] < low or values[-1] > high:
        values = [round(x) for x in _held(exact, mean, sd, ends)]
        said = statistics.mean([*ends, *values]), statistics.stdev([*ends, *values])
        if abs(said[0] - mean) > 0.5 or abs(said[1] - sd) > 0.5:
            raise BadInput("sd", sd, f"less, for a sample from {low} to {high}: held inside its ends it has {said[1]:.1f}")
    return [low, *values, high]


def _held(values: list[float], mean: float, sd: float, ends: tuple[float, float]) -> list[float]:
    """Values held inside the ends, shifted and stretched again and again until mean and standard deviation come near."""
    middle, stretch = mean, 1.0
    centre = math.fsum(values) / len(values)
    held = values
    for _ in range(_ROUNDS):
        held = [min(max(middle + stretch * (x - centre), ends[0]), ends[1]) for x in values]
        whole = [*ends, *held]
        middle += mean - math.fsum(whole) / len(whole)
        stretch *= sd / statistics.stdev(whole)
    return held


def mixed(values: list[int], name: str) -> list[int]:
    """The values in an order that is the same in every build and has nothing to do with their size."""
    keyed = [(hashlib.sha256(f"{name}/{i}".encode()).digest(), value) for i, value in enumerate(values)]
    return [value for _, value in sorted(keyed)]
