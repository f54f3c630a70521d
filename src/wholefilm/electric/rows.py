"""The window of the planning model on many thicknesses at once: floor by an even air gap, ceiling by an entered strength."""

from __future__ import annotations

from typing import TYPE_CHECKING

from .air import LEAST_GAP_MM, MOST_GAP_MM, UNIFORM_LINEAR, UNIFORM_ROOT
from .film import Strength

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]


def floor_of_row(mm: Floats, density: float = 1.0) -> Floats:
    """`uniform_kv` of many gaps. [mm, shape (n,) -> V, shape (n,)]; NaN where a gap lies outside the model."""
    import numpy as np

    mm = np.asarray(mm, dtype=np.float64)
    x = mm * density / 10  # cm
    volts = 1000 * (UNIFORM_LINEAR * x + UNIFORM_ROOT * np.sqrt(x))
    return np.where((mm >= LEAST_GAP_MM) & (mm <= MOST_GAP_MM), volts, np.nan)


def ceiling_of_row(mm: Floats, strength: Strength) -> Floats:
    """`ceiling_kv` of many thicknesses. [mm, shape (n,) -> V, shape (n,)]"""
    import numpy as np

    at_one = strength.kv_per_mm * strength.at_mm**strength.exponent
    volts: Floats = 1000 * strength.share * at_one * np.asarray(mm, dtype=np.float64) ** (1 - strength.exponent)
    return volts
