"""Rates of holidays with exact intervals, and whether equal pieces differ by more than chance: about the process, not this surface.

After a full test the number of holidays is a count and no estimate; nothing here says how many more there may be. An interval is
for comparing areas, or where only a sample was tested. Exact Poisson interval: Garwood 1936 (chi-square quantiles); exact share:
Clopper and Pearson 1934; index of dispersion: Fisher's variance test.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Sequence

import msgspec

from wholefilm.base.errors import BadInput

from .states import Standing

LEVEL = 0.95
FEWEST_PIECES = 5
"""Fewest equal pieces whose counts are held against chance."""
LEAST_MEAN = 0.2
"""Least mean count of a piece for it: under it the chi-square is a poor measure."""


class Interval(msgspec.Struct, frozen=True):
    """A value with its exact two-sided interval at `level`."""

    value: float
    low: float
    high: float
    level: float = LEVEL


class Dispersion(msgspec.Struct, frozen=True):
    """How uneven counts are: variance over mean, its chi-square with degrees of freedom, and the probability of as much by chance."""

    mean: float
    index: float
    chi_square: float
    degrees: int
    p: float


class Rate(msgspec.Struct, frozen=True):
    """Holidays of a test area over what was tested of it. [1/m2]"""

    test_area: str
    tested_m2: float
    holidays: int
    rate: Interval | None
    sample: bool


class Pieces(msgspec.Struct, frozen=True):
    """Counts on pieces of equal area. [m2]"""

    what: str
    each_m2: float
    counts: dict[str, int]
    dispersion: Dispersion | None


def poisson_interval(count: int, exposure: float, level: float = LEVEL) -> Interval:
    """Exact interval of a Poisson rate.

    Parameters
    ----------
    count : int
    exposure : float
        Area or length. [any]
    level : float

    Raises
    ------
    BadInput
        If a number is none of a count, an exposure or a level.
    """
    from scipy.special import gammaincinv

    if count < 0 or not exposure > 0 or not 0 < level < 1:
        raise BadInput("rate", f"{count} in {exposure} at {level}", "a count of 0 or more, an exposure over 0, a level between 0 and 1")
    tail = (1 - level) / 2
    low = float(gammaincinv(count, tail)) if count else 0.0
    return Interval(count / exposure, low / exposure, float(gammaincinv(count + 1, 1 - tail)) / exposure, level)


def share_interval(count: int, of: int, level: float = LEVEL) -> Interval:
    """Exact interval of a share, such as pieces with a holiday among all.

    Raises
    ------
    BadInput
        If it is no share.
    """
    from scipy.special import betaincinv

    if not 0 <= count <= of or of < 1 or not 0 < level < 1:
        raise BadInput("share", f"{count} of {of} at {level}", "a count from 0 to the number of pieces, a level between 0 and 1")
    tail = (1 - level) / 2
    low = float(betaincinv(count, of - count + 1, tail)) if count else 0.0
    high = float(betaincinv(count + 1, of - count, 1 - tail)) if count < of else 1.0
    return Interval(count / of, low, high, level)


def dispersion(counts: Sequence[int]) -> Dispersion:
    """Index of dispersion of counts on equal pieces.

    Raises
    ------
    BadInput
        If there are fewer than two pieces, or no count at all.
    """
    from scipy.special import gammaincc

    n, total = len(counts), sum(counts)
    if n < 2 or total == 0 or min(counts) < 0:
        raise BadInput("counts", list(counts), "two pieces or more, and at least one holiday")
    mean = total / n
    chi_square = math.fsum((c - mean) ** 2 for c in counts) / mean
    return Dispersion(mean, chi_square / (n - 1), chi_square, n - 1, float(gammaincc((n - 1) / 2, chi_square / 2)))


def rates(standing: Standing) -> list[Rate]:
    """Rate of each test area; the interval only where areas are compared or a sample was tested."""
    areas = list(dict.fromkeys(p.test_area for p in standing.panels))
    found = []
    for area in areas:
        mine = [p for p in standing.panels if p.test_area == area]
        tested, total = (math.fsum(getattr(p, n) for p in mine) for n in ("tested_m2", "total_m2"))
        count = sum(1 for h in standing.holidays if h.test_area == area)
        sample = tested < total - 1e-6
        wanted = tested > 0 and (len(areas) > 1 or sample)
        found.append(Rate(area, tested, count, poisson_interval(count, tested) if wanted else None, sample))
    return found


def equal_pieces(standing: Standing) -> list[Pieces]:
    """Pieces of equal area that were tested, with their counts: over the whole job, so that joints or cans of one kind stand together."""
    groups: dict[float, list[str]] = defaultdict(list)
    for p in standing.panels:
        if p.tested_m2 > p.total_m2 - 1e-6:
            groups[round(p.total_m2, 3)].append(p.name)
    counted: dict[str, int] = defaultdict(int)
    for h in standing.holidays:
        counted[h.panel] += 1
    found = []
    for size, names in groups.items():
        counts = {name: counted[name] for name in names}
        total = sum(counts.values())
        if len(names) < FEWEST_PIECES or total == 0:
            continue
        told = dispersion(list(counts.values())) if total / len(names) >= LEAST_MEAN else None
        found.append(Pieces(f"{len(names)} pieces, {names[0]} to {names[-1]}", size, counts, told))
    return found
