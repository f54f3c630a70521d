"""Acceptance of film thickness by the one rule that the job names: here a strict range of every spot."""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from wholefilm.base.findings import Outcome
from wholefilm.base.quantity import quantity

from .readings import SpotReading


class ThicknessRange(msgspec.Struct, frozen=True, tag_field="form", tag="thickness_range", forbid_unknown_fields=True):
    """Every spot of the named classes lies between two bounds, both allowed themselves."""

    classes: list[str]
    statistic: str = "each_spot"
    min: str | None = None
    max: str | None = None


class RangeResult(msgspec.Struct, frozen=True):
    """Spots held against a range: how many, how many under and over, and the extremes as read."""

    outcome: Outcome
    n: int
    under: int
    over: int
    value: str
    limit: str
    because: str


def accept_range(rule: ThicknessRange, spots: Sequence[SpotReading]) -> RangeResult:
    """Hold spots against a strict range.

    Parameters
    ----------
    rule : ThicknessRange
    spots : sequence of SpotReading
        Of one test area, all classes; others than the rule's are left out.

    Returns
    -------
    RangeResult
        `cannot_tell` without a spot.
    """
    limit = f"{rule.min or 'no lower bound'} to {rule.max or 'no upper bound'}, every spot on {' and '.join(rule.classes)}"
    chosen = [s for s in spots if s.class_ in rule.classes]
    if not chosen:
        return RangeResult(Outcome.CANNOT_TELL, 0, 0, 0, "no reading", limit, "no spot of these classes was read")
    low = quantity(rule.min, "length", "min").exact("um") if rule.min else None
    high = quantity(rule.max, "length", "max").exact("um") if rule.max else None
    values = [(s.thickness.exact("um"), s) for s in chosen]
    under = sum(1 for v, _ in values if low is not None and v < low)
    over = sum(1 for v, _ in values if high is not None and v > high)
    least, most = min(v for v, _ in values), max(v for v, _ in values)
    value = f"{float(least):.0f} to {float(most):.0f} um, {len(values)} spots"
    told = [t for t in (f"{under} under {rule.min}" if under else "", f"{over} over {rule.max}" if over else "") if t]
    if told:
        return RangeResult(Outcome.NOT_MET, len(values), under, over, value, limit, " and ".join(told))
    return RangeResult(Outcome.MET, len(values), 0, 0, value, limit, f"all {len(values)} spots inside")
