"""Voltage areas: the fewest settings that serve every reading, among places that an inspector can find on the item.

A proposal for people to decide on: each setting is a stretch of voltages, and none inside it is preferred.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import msgspec

from wholefilm.base.errors import BadInput
from wholefilm.electric import Strength, fewest_settings
from wholefilm.electric.rows import ceiling_of_row, floor_of_row
from wholefilm.rules.document import Rule
from wholefilm.rules.rows import volts_of_row

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]


MOST_WITHIN = 0.5
"""A setting that lies further than this share from what a rule gives follows it no more."""


class Stretch(msgspec.Struct, frozen=True):
    """A setting: every voltage from `low_v` to `high_v` serves the same places. [V]"""

    name: str
    low_v: float
    high_v: float
    places: int
    readings: int


class PlaceServed(msgspec.Struct, frozen=True):
    """A place and the settings that serve it.

    Attributes
    ----------
    place : str
    readings : int
    least_um, greatest_um : float
        [um]
    low_v, high_v : float or None
        What all its readings allow together; None where no one voltage serves them all. [V]
    settings : list of str
        One name, or several where no one voltage serves the whole place.
    unserved : int
        Readings that allow no voltage at all.
    """

    place: str
    readings: int
    least_um: float
    greatest_um: float
    low_v: float | None
    high_v: float | None
    settings: list[str]
    unserved: int


class VoltageAreas(msgspec.Struct, frozen=True):
    """Settings and places.

    Attributes
    ----------
    settings : list of Stretch
        Rising; ``V1``, ``V2`` ...
    places : list of PlaceServed
    unserved : int
        Readings that allow no voltage: the rule gives none there, or floor lies over ceiling.
    fewest : int
        How many settings would do if readings could be told apart wherever they lie.
    """

    settings: list[Stretch]
    places: list[PlaceServed]
    unserved: int
    fewest: int


def allowed_by_rule(
    rule: Rule, um: Floats, within: float, *, choice: str | None = None, approval: str | None = None, gauge_um: float = 0.0
) -> tuple[Floats, Floats]:
    """Voltages within a share of what a rule gives for each reading.

    Parameters
    ----------
    rule : Rule
    um : array of float, shape (n,)
        [um]
    within : float
        How far from the rule's voltage a setting may lie, 0 to 0.5; the user's figure, it has no default.
    choice, approval : str, optional
    gauge_um : float
        Uncertainty of the gauge: the stretch must hold for every thickness that far off. [um]

    Returns
    -------
    low, high : array of float, shape (n,)
        NaN where the rule gives none. [V]

    Raises
    ------
    BadInput
        If the rule gives no voltage to set, or a figure is none.
    """
    import numpy as np

    if not 0 <= within <= MOST_WITHIN:
        raise BadInput("within", f"{100 * within:g} %", f"0 % to {100 * MOST_WITHIN:g} % of the rule's voltage")
    if gauge_um < 0:
        raise BadInput("gauge", f"{gauge_um:g} um", "zero or more")
    if not gauge_um:
        low, high = volts_of_row(rule, um, choice=choice, approval=approval)
        return low * (1 - within), high * (1 + within)
    ends = [volts_of_row(rule, um + off, choice=choice, approval=approval) for off in (-gauge_um, 0.0, gauge_um)]
    least, greatest = np.minimum.reduce([e[1] for e in ends]), np.maximum.reduce([e[0] for e in ends])
    return greatest * (1 - within), least * (1 + within)


def allowed_by_model(um: Floats, density: float, strength: Strength, *, gauge_um: float = 0.0) -> tuple[Floats, Floats]:
    """Window of the planning model for each reading: floor by an even gap of air, ceiling by the strength that the user entered.

    Parameters
    ----------
    um : array of float, shape (n,)
        [um]
    density : float
        Of the air, relative.
    strength : Strength
    gauge_um : float
        [um]

    Returns
    -------
    low, high : array of float, shape (n,)
        [V]

    Raises
    ------
    BadInput
        If the strength is none.
    """
    import numpy as np

    strength.check()
    mm = np.asarray(um, dtype=np.float64) / 1000
    off = gauge_um / 1000
    return floor_of_row(mm + off, density), ceiling_of_row(np.maximum(mm - off, 1e-6), strength)


def voltage_areas(um: Floats, place: NDArray[np.intp], names: Sequence[str], low: Floats, high: Floats) -> VoltageAreas:
    """The fewest settings, a place at a time.

    Parameters
    ----------
    um : array of float, shape (n,)
        [um]
    place : array of int, shape (n,)
        Index into `names` of where each reading was taken.
    names : sequence of str
    low, high : array of float, shape (n,)
        Voltages that each reading allows; NaN or crossed where none. [V]

    Returns
    -------
    VoltageAreas

    Raises
    ------
    BadInput
        If the rows differ in length.

    Notes
    -----
    What all readings of a place allow together is the place's own stretch; a place without one is cut into the fewest that its
    readings need. The stretches of all places are stabbed once more: the least number that serves every place (greedy by upper
    ends, as in `fewest_settings`).
    """
    import numpy as np

    sizes = {um.shape, place.shape, low.shape, high.shape}
    if len(sizes) != 1 or um.ndim != 1:
        raise BadInput("readings", ", ".join(str(s) for s in sizes), "rows of one length")
    fine = np.isfinite(low) & np.isfinite(high) & (low > 0) & (low <= high)
    order = np.argsort(place, kind="stable")
    starts = np.searchsorted(place[order], np.arange(len(names)))
    ends = np.append(starts[1:], place.size)
    units: list[tuple[int, float, float, int]] = []
    together: list[tuple[float, float] | None] = []
    for n in range(len(names)):
        rows = order[starts[n] : ends[n]]
        rows = rows[fine[rows]]
        least, greatest = (float(low[rows].max()), float(high[rows].min())) if rows.size else (1.0, 0.0)
        together.append((least, greatest) if least <= greatest else None)
        if least <= greatest:
            units.append((n, least, greatest, int(rows.size)))
        elif rows.size:
            units += [(n, s.low, s.high, s.serves) for s in fewest_settings(low[rows], high[rows])[0]]
    settings, which = fewest_settings(np.array([u[1] for u in units]), np.array([u[2] for u in units]))
    word = [f"V{k + 1}" for k in range(len(settings))]
    served: dict[int, list[int]] = {}
    for (n, *_), k in zip(units, which, strict=True):
        if k not in served.setdefault(n, []):
            served[n].append(int(k))
    stretches = [
        Stretch(
            word[k],
            s.low,
            s.high,
            sum(1 for ks in served.values() if k in ks),
            sum(u[3] for u, j in zip(units, which, strict=True) if j == k),
        )
        for k, s in enumerate(settings)
    ]
    places = []
    for n, name in enumerate(names):
        rows = order[starts[n] : ends[n]]
        if not rows.size:
            continue
        both = together[n] or (None, None)
        mine = [word[k] for k in sorted(served.get(n, []))]
        left = int((~fine[rows]).sum())
        places.append(PlaceServed(name, int(rows.size), float(um[rows].min()), float(um[rows].max()), both[0], both[1], mine, left))
    fewest = len(fewest_settings(low[fine], high[fine])[0]) if fine.any() else 0
    return VoltageAreas(stretches, places, int((~fine).sum()), fewest)
