"""The window of the planning model on many thicknesses at once: floor by an even air gap, ceiling by an entered strength."""

from __future__ import annotations

from typing import TYPE_CHECKING

from .air import LEAST_GAP_MM, MOST_GAP_MM, uniform_kv
from .film import Strength

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]


def floor_of_row(mm: Floats, density: float = 1.0) -> Floats:
    """`uniform_kv` of many gaps. [mm, shape (n,) -> V, shape (n,)]; NaN where a gap lies outside the model."""
    import numpy as np

    mm = np.asarray(mm, dtype=np.float64)
    # The curve is a x + b sqrt(x): its two figures follow from two of its values, and stand in one place only.
    one, four = 1000 * uniform_kv(1.0), 1000 * uniform_kv(4.0)
    a, b = (four - 2 * one) / 2, (4 * one - four) / 2
    x = mm * density
    return np.where((mm >= LEAST_GAP_MM) & (mm <= MOST_GAP_MM), a * x + b * np.sqrt(x), np.nan)


def ceiling_of_row(mm: Floats, strength: Strength) -> Floats:
    """`ceiling_kv` of many thicknesses. [mm, shape (n,) -> V, shape (n,)]"""
    import numpy as np

    at_one = strength.kv_per_mm * strength.at_mm**strength.exponent
    volts: Floats = 1000 * strength.share * at_one * np.asarray(mm, dtype=np.float64) ** (1 - strength.exponent)
    return volts
