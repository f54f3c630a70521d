"""Statistics of thickness readings."""

from __future__ import annotations

import math
from collections.abc import Sequence

import msgspec


class ThicknessStatistics(msgspec.Struct, frozen=True):
    """Number, mean, standard deviation (n - 1), smallest and largest of some spots. [um]"""

    n: int
    mean_um: float
    sd_um: float
    min_um: float
    max_um: float


def thickness_statistics(values_um: Sequence[float]) -> ThicknessStatistics:
    """Statistics of spots.

    Parameters
    ----------
    values_um : sequence of float, shape (n,)
        At least one. [um]

    Returns
    -------
    ThicknessStatistics
        The standard deviation of one spot is given as 0.
    """
    n = len(values_um)
    mean = math.fsum(values_um) / n
    sd = math.sqrt(math.fsum((v - mean) ** 2 for v in values_um) / (n - 1)) if n > 1 else 0.0
    return ThicknessStatistics(n, mean, sd, min(values_um), max(values_um))
