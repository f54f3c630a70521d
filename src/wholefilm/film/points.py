"""A document that says how many points to measure and sets no limit that could be read."""

from __future__ import annotations

import msgspec

from wholefilm.base.findings import Outcome
from wholefilm.base.quantity import Quantity
from wholefilm.rules.sampling import Sampling, check_sampling

from .due import number_due
from .result import Number, Readings, ThicknessResult


class PointsOnly(msgspec.Struct, frozen=True, tag_field="form", tag="points", forbid_unknown_fields=True):
    """So many points on an area; held against no limit."""

    classes: list[str]
    due: Sampling

    def check(self) -> None:
        """Refuse what makes no sense.

        Raises
        ------
        BadInput
        """
        check_sampling(self.due, "rule.due")


def accept_points(rule: PointsOnly, readings: Readings, area: Quantity | None) -> ThicknessResult:
    """Count the points that are there and due; the outcome is `cannot_tell` always.

    Parameters
    ----------
    rule : PointsOnly
    readings : Readings
    area : Quantity, optional
        [area]
    """
    spots = set(zip(readings.places or readings.spots, readings.spots, strict=True)) if readings.spots else readings.values_um
    n = len(spots)
    due = number_due(rule.due, area) if area is not None else Number()
    told = "the area was not told" if area is None else f"no number was read for {area.text}" if due is None else ""
    because = "the document's limits were not read: enter them from your own copy as a rule of their own"
    value = f"{n} points, {told or f'{due.readings if due else 0} due'}"
    return ThicknessResult(
        Outcome.CANNOT_TELL,
        len(readings),
        0,
        0,
        value,
        "number of points only",
        because,
        due or Number(),
        Number(readings=n),
        ("no_limit",),
    )
