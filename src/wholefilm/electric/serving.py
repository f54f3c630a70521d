"""The fewest settings that serve a set of readings, each of which allows a stretch of voltages.

Stabbing of intervals: take them by their upper ends; the first upper end serves all that begin at or below it; go on with the
rest. The number is the least possible (greedy argument; see any text on interval scheduling).
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import msgspec

from wholefilm.base.errors import BadInput

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray


class Setting(msgspec.Struct, frozen=True):
    """A setting and what it serves.

    Attributes
    ----------
    low, high : float
        Every voltage from `low` to `high` serves the same readings. [unit of the stretches]
    at : float
        The geometric middle of the two.
    serves : int
        How many readings.
    """

    low: float
    high: float
    at: float
    serves: int


def fewest_settings(low: NDArray[np.float64], high: NDArray[np.float64]) -> tuple[list[Setting], NDArray[np.intp]]:
    """Fewest settings so that every stretch holds one.

    Parameters
    ----------
    low, high : array, shape (n,)
        Ends of the stretch that each reading allows, more than zero. [any one unit]

    Returns
    -------
    settings : list of Setting
        Rising.
    which : array of int, shape (n,)
        Index of the setting that serves each reading; -1 where a reading allows none (its low end lies above its high end).

    Raises
    ------
    BadInput
        If the two differ in length, or an end is no number more than zero.
    """
    import numpy as np

    low, high = np.asarray(low, dtype=np.float64), np.asarray(high, dtype=np.float64)
    if low.shape != high.shape or low.ndim != 1:
        raise BadInput("stretches", f"{low.shape} and {high.shape}", "two rows of the same length")
    if not (np.isfinite(low).all() and np.isfinite(high).all() and (low > 0).all() and (high > 0).all()):
        raise BadInput("stretches", "an end that is no number more than zero", "voltages more than zero")
    which = np.full(low.size, -1, dtype=np.intp)
    order = np.argsort(high, kind="stable")
    order = order[low[order] <= high[order]]
    settings: list[Setting] = []
    while order.size:
        end = high[order[0]]
        # What begins at or below this end is served by it; the rest waits for the next. A rest that is sorted by its low
        # ends too (as with any rising curve) is cut in one step, so that the work stays near n log n.
        begins = low[order]
        if begins.size > 1 and (begins[1:] >= begins[:-1]).all():
            cut = int(np.searchsorted(begins, end, side="right"))
            served, order = order[:cut], order[cut:]
        else:
            inside = begins <= end
            served, order = order[inside], order[~inside]
        which[served] = len(settings)
        first = float(low[served].max())
        settings.append(Setting(first, float(end), float(np.sqrt(first * end)), int(served.size)))
    return settings, which
