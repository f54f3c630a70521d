"""First streamer at the end of a fine wire over a plane: why a voltage under the even-gap curve can still find a hole.

A model of ours, not published: field of a hyperbolic tip over a plane, ionisation alpha/p = 1.6053 (E/p - 2.165)^2 - 0.2873
(mm, bar, kV; from memory, Petcharaks, thesis 1995), a streamer when its integral along the axis reaches 9.15. A first
streamer is not yet a spark that crosses a long gap.
"""

from __future__ import annotations

import math

from wholefilm.base.errors import OutOfRange

from .air import LEAST_GAP_MM, MOST_GAP_MM

TIP_RADIUS_MM = 0.1
"""Radius of the wire end that is shown, a fine brush. [mm]"""
_ONE_ATM_BAR, _NEEDED = 1.013, 9.15
_STEPS, _HALVINGS = 400, 40


def tip_kv(gap_mm: float, density: float = 1.0, radius_mm: float = TIP_RADIUS_MM) -> float:
    """Voltage of the first streamer from a wire end over a plane. [mm, mm -> kV]

    Parameters
    ----------
    gap_mm : float
        From the wire end to the plane.
    density : float
        Relative density of the air.
    radius_mm : float
        Radius of the wire end.

    Raises
    ------
    OutOfRange
        If the gap lies outside 0.02 to 20 mm or the radius outside 0.02 to 2 mm.
    """
    if not LEAST_GAP_MM <= gap_mm <= MOST_GAP_MM:
        raise OutOfRange("thickness", f"{gap_mm:g} mm", f"{LEAST_GAP_MM:g} mm to {MOST_GAP_MM:g} mm for the air-gap model")
    if not 0.02 <= radius_mm <= 2:
        raise OutOfRange("radius", f"{radius_mm:g} mm", "0.02 mm to 2 mm")
    bar = _ONE_ATM_BAR * density
    across, weights = _field(gap_mm, radius_mm)
    low, high = 0.01, 200.0
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        if _grown(middle, across, weights, bar) < _NEEDED:
            low = middle
        else:
            high = middle
    return (low + high) / 2


def _field(gap_mm: float, radius_mm: float) -> tuple[list[float], list[float]]:
    """Field for 1 kV [kV/mm] at points along the axis, dense at the tip, and the length that each stands for [mm]."""
    eta = math.sqrt(1 / (1 + radius_mm / gap_mm))
    focus = gap_mm / eta
    scale = focus * math.atanh(eta)
    field, lengths = [], []
    for i in range(_STEPS):
        u0, u1 = i / _STEPS, (i + 1) / _STEPS
        at = gap_mm * ((u0 + u1) / 2) ** 2
        here = (gap_mm - at) / focus
        field.append(1 / (scale * (1 - here * here)))
        lengths.append(gap_mm * (u1 * u1 - u0 * u0))
    return field, lengths


def _grown(voltage_kv: float, field: list[float], lengths: list[float], bar: float) -> float:
    """The integral of ionisation along the axis."""
    total = 0.0
    for one, length in zip(field, lengths, strict=True):
        e = voltage_kv * one / bar
        if e > 2.588:
            total += bar * (1.6053 * (e - 2.165) ** 2 - 0.2873) * length
    return total
