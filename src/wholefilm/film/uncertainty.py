"""Uncertainty of a thickness, from that of the gauge and that of the reference it was checked on."""

from __future__ import annotations

import math
from collections.abc import Callable

from wholefilm.base.errors import BadInput
from wholefilm.base.quantity import quantity


def root_sum_square(*parts: float) -> float:
    """Root of the sum of squares of independent parts, in the unit of the parts.

    Notes
    -----
    Combined tolerance of gauge and reference, as ASTM D7091 is remembered to combine them. Grade: memory.
    """
    return math.hypot(*parts)


def thickness_uncertainty(gauge: str | None, reference: str | None) -> Callable[[float], float] | None:
    """Combined uncertainty of a thickness as a function of it.

    Parameters
    ----------
    gauge, reference : str or None
        A share of the thickness, such as ``"3 %"``, or a length, such as ``"2 um"``. None if not stated.

    Returns
    -------
    function or None
        Thickness [um] to uncertainty [um]; None if neither is stated. Nothing is filled in for what is not stated.

    Raises
    ------
    BadInput
        If one is neither a share nor a length, or is negative.
    """
    parts = [_part(text, name) for text, name in ((gauge, "gauge_uncertainty"), (reference, "reference_uncertainty")) if text]
    if not parts:
        return None
    return lambda um: root_sum_square(*(value * um if share else value for value, share in parts))


def _part(text: str, field: str) -> tuple[float, bool]:
    share = text.rstrip().endswith("%")
    read = quantity(text, "share" if share else "length", field)
    if read.number < 0:
        raise BadInput(field, text, "zero or more: a share such as '3 %' or a length such as '2 um'")
    return (read.to("1") if share else read.to("um")), share
