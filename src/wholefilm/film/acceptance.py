"""Acceptance of film thickness by the one rule that the job names; here a strict range of every spot."""

from __future__ import annotations

from fractions import Fraction

import msgspec

from wholefilm.base.errors import BadInput
from wholefilm.base.findings import Outcome
from wholefilm.base.quantity import Quantity, quantity

from .nominal import NominalShare, ShareFloor, accept_nominal
from .points import PointsOnly, accept_points
from .result import Number, Readings, ThicknessResult
from .spot_and_area import SpotAndArea, accept_spots
from .uncertainty import thickness_uncertainty


class ThicknessRange(msgspec.Struct, frozen=True, tag_field="form", tag="thickness_range", forbid_unknown_fields=True):
    """Every spot of the named classes lies between two bounds, both allowed themselves."""

    classes: list[str]
    statistic: str = "each_spot"
    min: str | None = None
    max: str | None = None
    gauge_uncertainty: str | None = None
    reference_uncertainty: str | None = None

    def check(self) -> None:
        """Refuse what makes no sense.

        Raises
        ------
        BadInput
        """
        low, high = (quantity(x, "length", f"rule.{n}").exact("um") if x else None for n, x in (("min", self.min), ("max", self.max)))
        if low is not None and high is not None and low > high:
            raise BadInput("rule.max", self.max, f"not less than min, {self.min}")
        thickness_uncertainty(self.gauge_uncertainty, self.reference_uncertainty)


__all__ = ["FORMS", "NominalShare", "PointsOnly", "ShareFloor", "SpotAndArea", "ThicknessForm", "ThicknessRange", "accept", "accept_range"]
FORMS = (ThicknessRange, SpotAndArea, NominalShare, ShareFloor, PointsOnly)
"""Every form of a thickness rule that a job can name."""
ThicknessForm = ThicknessRange | SpotAndArea | NominalShare | ShareFloor | PointsOnly


def accept(rule: ThicknessForm, readings: Readings, area: Quantity | None = None) -> ThicknessResult:
    """Hold readings against a rule of any form.

    Parameters
    ----------
    rule : ThicknessForm
    readings : Readings
        Of one test area and of the rule's classes. [um]
    area : Quantity, optional
        Its size, for how many readings are due. [area]

    Returns
    -------
    ThicknessResult
        `cannot_tell` without a reading.

    Raises
    ------
    BadInput
        If the rule or the area makes no sense.
    """
    match rule:
        case ThicknessRange():
            return accept_range(rule, readings)
        case SpotAndArea():
            return accept_spots(rule, readings, area)
        case PointsOnly():
            return accept_points(rule, readings, area)
        case _:
            return accept_nominal(rule, readings, area)


def accept_range(rule: ThicknessRange, readings: Readings) -> ThicknessResult:
    """Hold spots against a strict range.

    Parameters
    ----------
    rule : ThicknessRange
    readings : Readings
        Each value is a spot. [um]

    Returns
    -------
    ThicknessResult
        `cannot_tell` without a spot.

    Notes
    -----
    Values and bounds are rounded once from their exact values to the nearest float, which keeps their order and keeps equal ones
    equal: a bound typed in another unit than the value decides as it would in exact numbers.
    """
    limit = f"{_range(rule)}, every spot on {' and '.join(rule.classes)}"
    values = readings.values_um
    n = len(values)
    if not n:
        return ThicknessResult(Outcome.CANNOT_TELL, 0, 0, 0, "no reading", limit, "no spot of these classes was read", why=("short",))
    low, high = _bound(rule.min, "min"), _bound(rule.max, "max")
    least, most = min(values), max(values)
    under = sum(map(low.__gt__, values)) if low is not None and least < low else 0
    over = sum(map(high.__lt__, values)) if high is not None and most > high else 0
    of = thickness_uncertainty(rule.gauge_uncertainty, rule.reference_uncertainty)
    inside = of is not None and any(b is not None and abs(v - b) <= of(v) for v, b in ((least, low), (most, high)))
    value = f"{least:.0f} to {most:.0f} um, {n} spots"
    told = [t for t in (f"{under} under {rule.min}" if under else "", f"{over} over {rule.max}" if over else "") if t]
    because = " and ".join(told) if told else f"all {n} spots inside"
    return ThicknessResult(
        Outcome.NOT_MET if told else Outcome.MET,
        n,
        under,
        over,
        value,
        limit,
        because + (", inside uncertainty" if inside else ""),
        there=Number(spots=n),
        why=tuple(name for name, count in (("low", under), ("high", over)) if count),
        inside_uncertainty=inside,
    )


def _bound(text: str | None, field: str) -> float | None:
    if not text:
        return None
    exact: Fraction = quantity(text, "length", field).exact("um")
    return float(exact)


def _range(rule: ThicknessRange) -> str:
    """A range for a reader: both ends, or the one that there is."""
    if rule.min and rule.max:
        return f"{rule.min} to {rule.max}"
    return f"{rule.min} or more" if rule.min else f"{rule.max} or less"
