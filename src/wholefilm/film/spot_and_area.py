"""Spots (means of readings) and areas (means of spots) held against a range, as SSPC-PA 2 and PA 9 have it."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

import msgspec

from wholefilm.base.errors import BadInput
from wholefilm.base.findings import Outcome, count_of
from wholefilm.base.quantity import Quantity
from wholefilm.rules.sampling import Sampling, check_sampling
from wholefilm.rules.thickness import FREE, UNREAD

from .due import least_due, number_due
from .grouping import Grouped, grouped
from .result import Number, Readings, ThicknessResult, Writer, length_um, share_of, writer
from .uncertainty import thickness_uncertainty


class SpotAndArea(msgspec.Struct, frozen=True, tag_field="form", tag="spot_and_area", forbid_unknown_fields=True, kw_only=True):
    """The mean of the readings of each spot and the mean of the spots of each area lie between shares of the least and the most.

    Attributes
    ----------
    classes : list of str
    spot_min, spot_max, area_min, area_max : str
        Shares of `min` and `max`; ``none`` where the document sets no limit, ``not known`` where its limit was not read.
    readings_a_spot, spots_an_area : int
    min, max : str
        Least and most specified; one may be left out.
    single, single_within : str
        One thickness in place of a range, and the share that the document allows on either side.
    due : Sampling
    gauge_uncertainty, reference_uncertainty : str
    """

    classes: list[str]
    spot_min: str
    spot_max: str
    area_min: str
    area_max: str
    readings_a_spot: int
    spots_an_area: int
    min: str | None = None
    max: str | None = None
    single: str | None = None
    single_within: str | None = None
    due: Sampling | None = None
    gauge_uncertainty: str | None = None
    reference_uncertainty: str | None = None

    def check(self) -> None:
        """Refuse what makes no sense.

        Raises
        ------
        BadInput
        """
        specified(self)
        for name in ("spot_min", "spot_max", "area_min", "area_max"):
            if getattr(self, name) not in (FREE, UNREAD):
                share_of(getattr(self, name), f"rule.{name}")
        for name in ("readings_a_spot", "spots_an_area"):
            if not 1 <= getattr(self, name) <= 1000:
                raise BadInput(f"rule.{name}", getattr(self, name), "from 1 to 1000")
        if self.due is not None:
            check_sampling(self.due, "rule.due")
        thickness_uncertainty(self.gauge_uncertainty, self.reference_uncertainty)


class Limits(msgspec.Struct, frozen=True):
    """Bounds of spots and areas; None where there is none. [um]"""

    spot_min: Fraction | None
    spot_max: Fraction | None
    area_min: Fraction | None
    area_max: Fraction | None


def specified(rule: SpotAndArea) -> tuple[Fraction | None, Fraction | None]:
    """Least and most specified; of a single value, the range that the document makes of it. [um]

    Raises
    ------
    BadInput
        If there is neither a range nor a single value, or both, or the ends are the wrong way round.
    """
    if rule.single is not None:
        if rule.min or rule.max:
            raise BadInput("rule.single", rule.single, "a range (min, max) or a single value, not both")
        if not rule.single_within:
            raise BadInput("rule.single_within", "nothing", "the share on either side of a single value, such as '20 %'")
        value, play = length_um(rule.single, "rule.single"), share_of(rule.single_within, "rule.single_within")
        return value * (1 - play), value * (1 + play)
    if not rule.min and not rule.max:
        raise BadInput("rule.min", "nothing", "min, max or both, or single: a thickness with its unit")
    low, high = (length_um(x, f"rule.{n}") if x else None for n, x in (("min", rule.min), ("max", rule.max)))
    if low is not None and high is not None and low > high:
        raise BadInput("rule.max", rule.max, f"not less than min, {rule.min}")
    return low, high


def spot_limits(rule: SpotAndArea) -> Limits:
    """Bounds of spots and areas. A limit that was not read is none here. [um]

    Raises
    ------
    BadInput
        As `specified`.
    """
    low, high = specified(rule)

    def bound(end: Fraction | None, text: str, name: str) -> Fraction | None:
        return None if end is None or text in (FREE, UNREAD) else end * share_of(text, f"rule.{name}")

    return Limits(
        bound(low, rule.spot_min, "spot_min"), bound(high, rule.spot_max, "spot_max"),
        bound(low, rule.area_min, "area_min"), bound(high, rule.area_max, "area_max"),
    )  # fmt: skip


def accept_spots(rule: SpotAndArea, readings: Readings, area: Quantity | None = None) -> ThicknessResult:
    """Hold readings against limits of spots and areas; single readings are not judged.

    Parameters
    ----------
    rule : SpotAndArea
    readings : Readings
        With names of spots where several readings make one; with names of places where areas are told. [um]
    area : Quantity, optional
        Coated area, for how many are due. [area]

    Returns
    -------
    ThicknessResult
        `not_met` if any spot or area lies outside; else `cannot_tell` if readings, spots or areas are short.

    Notes
    -----
    Where no place is told, spots make areas in the order of the readings, so many by so many, a rest counted with the last.
    """
    limits = spot_limits(rule)
    written = writer(rule.min, rule.max, rule.single)
    limit = _limit(rule, limits, written)
    due = number_due(rule.due, area, rule.readings_a_spot, rule.spots_an_area) if rule.due and area is not None else None
    due = due or least_due(rule.due, rule.readings_a_spot, rule.spots_an_area)
    n = len(readings)
    if not n:
        return ThicknessResult(
            Outcome.CANNOT_TELL, 0, 0, 0, "no reading", limit, "no spot of these classes was read", due, Number(), ("short",)
        )
    g = grouped(readings, rule.readings_a_spot, rule.spots_an_area)
    there = Number(len(g.areas), len(g.spots), n)
    why, told = [], []
    sides = ((limits.spot_min, rule.spot_min, "least", 1), (limits.spot_max, rule.spot_max, "most", -1))
    outside = [_outside(g.spots, bound, sign) for bound, _, _, sign in sides]
    for (bound, share, end, sign), bad in zip(sides, outside, strict=True):
        if bad and bound is not None:
            why.append("spot_low" if sign > 0 else "spot_high")
            says = (
                f"{len(bad)} of {count_of(len(g.spots), 'spot')} {'under' if sign > 0 else 'over'} {written(bound)} ({share} of the {end})"
            )
            told.append(f"{says}: {written(g.spots[bad[0]])}")
    for bound, sign in ((limits.area_min, 1), (limits.area_max, -1)):
        bad = _outside(g.areas, bound, sign)
        if bad and bound is not None:
            why.append("area_low" if sign > 0 else "area_high")
            says = f"the mean of {len(bad)} of {count_of(len(g.areas), 'area')} {'under' if sign > 0 else 'over'} {written(bound)}"
            told.append(f"{says}: {g.name(bad[0])} {written(g.areas[bad[0]])}")
    low_end, high_end = specified(rule)
    unread = _unread(rule, g, low_end, high_end)
    outcome = Outcome.NOT_MET if why else Outcome.MET
    if outcome is Outcome.MET and unread:
        outcome, why, told = Outcome.CANNOT_TELL, ["not_read"], [unread]
    short = _short(rule, readings, g, there, due)
    if outcome is Outcome.MET and short:
        outcome = Outcome.CANNOT_TELL
    if short:
        why.append("short")
        told.append(f"short: {short}")
    if not told:
        told.append(f"{count_of(len(g.spots), 'spot')} and {count_of(len(g.areas), 'area')}, all inside")
    if not any(readings.spots):
        told.append("each value was taken as one spot")
    if area is None and rule.due is not None:
        told.append("the area was not told, so only the least number was asked for")
    inside = _inside(rule, limits, g)
    areas = ", ".join(f"{g.name(k)} {written(m)}" for k, m in enumerate(g.areas[:6]))
    more = f" and {len(g.areas) - 6} more" if len(g.areas) > 6 else ""
    parts = [f"spots {written(min(g.spots))} to {written(max(g.spots))}", f"mean of {areas}{more}"]
    parts.append(f"{count_of(n, 'reading')}, {count_of(len(g.spots), 'spot')}, {count_of(len(g.areas), 'area')}")
    because = "; ".join(told) + ("; inside uncertainty" if inside else "")
    under, over = map(len, outside)
    return ThicknessResult(outcome, n, under, over, "; ".join(parts), limit, because, due, there, tuple(why), inside)


def _outside(means: Sequence[float], bound: Fraction | None, sign: int) -> list[int]:
    """Positions of the means on the wrong side of a bound, the worst first; sign 1 for a lower bound, -1 for an upper."""
    if bound is None or (min(means) >= float(bound) if sign > 0 else max(means) <= float(bound)):
        return []
    limit = float(bound)
    return sorted((n for n, m in enumerate(means) if sign * m < sign * limit), key=lambda n: sign * means[n])


def _unread(rule: SpotAndArea, g: Grouped, low: Fraction | None, high: Fraction | None) -> str:
    """What a limit that was not read leaves open: nothing if every area lies between the least and the most themselves."""
    if UNREAD in (rule.spot_min, rule.spot_max):
        return "the limits of a spot were not read: enter them from your own copy"
    outside = _outside(g.areas, low if rule.area_min == UNREAD else None, 1)
    outside += _outside(g.areas, high if rule.area_max == UNREAD else None, -1)
    if outside:
        named = ", ".join(g.name(n) for n in outside[:6])
        return f"the mean of {named} is outside the range, and whether that is allowed was not read: look it up in your own copy"
    return ""


def _short(rule: SpotAndArea, readings: Readings, g: Grouped, there: Number, due: Number) -> str:
    if not any(readings.spots):
        due = Number(due.areas, due.spots)
    parts = [there.short_of(due)]
    if g.few:
        parts.append(f"{count_of(g.few, 'spot')} with fewer than {count_of(rule.readings_a_spot, 'reading')}")
    thin = [g.name(n) for n, size in enumerate(g.sizes) if size < rule.spots_an_area]
    if thin:
        parts.append(f"fewer than {count_of(rule.spots_an_area, 'spot')} in {', '.join(thin[:6])}")
    return ", ".join(p for p in parts if p)


def _inside(rule: SpotAndArea, limits: Limits, g: Grouped) -> bool:
    of = thickness_uncertainty(rule.gauge_uncertainty, rule.reference_uncertainty)
    if of is None:
        return False
    ends = [(min(g.spots), limits.spot_min), (max(g.spots), limits.spot_max)]
    ends += [(min(g.areas), limits.area_min), (max(g.areas), limits.area_max)]
    return any(bound is not None and abs(v - float(bound)) <= of(v) for v, bound in ends)


def _limit(rule: SpotAndArea, limits: Limits, written: Writer) -> str:
    said = []
    for what, low, high in (("spots", limits.spot_min, limits.spot_max), ("mean of an area", limits.area_min, limits.area_max)):
        ends = [f"at least {written(low)}" if low is not None else "", f"at most {written(high)}" if high is not None else ""]
        unread = UNREAD in ((rule.spot_min, rule.spot_max) if what == "spots" else (rule.area_min, rule.area_max))
        said.append(f"{what} {' and '.join(e for e in ends if e) or ('not read' if unread else 'not limited')}")
    return ", ".join(said) + f", on {' and '.join(rule.classes)}"
