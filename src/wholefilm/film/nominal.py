"""Single readings held against a nominal thickness: mean, floor, the share that may be low, and a most."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

import msgspec

from wholefilm.base.errors import BadInput
from wholefilm.base.findings import Outcome
from wholefilm.base.quantity import Quantity, quantity
from wholefilm.rules.sampling import Sampling, check_sampling

from .due import least_due, number_due, split_note
from .result import Number, Readings, ThicknessResult, exact_mean_um, length_um, share_of, writer
from .uncertainty import thickness_uncertainty


class NominalBase(msgspec.Struct, frozen=True, tag_field="form", forbid_unknown_fields=True, kw_only=True):
    """What both forms share.

    Attributes
    ----------
    classes : list of str
    nominal : str
    floor : str
        Share of nominal that no reading may lie under.
    strict : bool or None
        Whether the share of low readings must lie under the figure (True) or may equal it (False). None: the document can be read
        both ways, and where the ways differ the outcome is `cannot_tell`.
    max : str
        Most of any reading.
    correction : str
        Taken off each reading for the profile of the surface.
    base_metal : str
        Reading on the bare surface, taken off in place of a correction.
    due : Sampling
    gauge_uncertainty, reference_uncertainty : str
    """

    classes: list[str]
    nominal: str
    floor: str
    strict: bool | None = None
    max: str | None = None
    correction: str | None = None
    base_metal: str | None = None
    due: Sampling | None = None
    gauge_uncertainty: str | None = None
    reference_uncertainty: str | None = None

    def check(self) -> None:
        """Refuse what makes no sense.

        Raises
        ------
        BadInput
        """
        length_um(self.nominal, "rule.nominal")
        if not 0 <= share_of(self.floor, "rule.floor") <= 1:
            raise BadInput("rule.floor", self.floor, "from 0 % to 100 % of nominal")
        if self.max and length_um(self.max, "rule.max") < length_um(self.nominal, "rule.nominal"):
            raise BadInput("rule.max", self.max, f"not less than nominal, {self.nominal}")
        taken_off_um(self)
        if self.due is not None:
            check_sampling(self.due, "rule.due")
        thickness_uncertainty(self.gauge_uncertainty, self.reference_uncertainty)


class NominalShare(NominalBase, frozen=True, tag="nominal_share", kw_only=True):
    """Mean at least nominal, none under the floor, few between floor and nominal, none over the most (ISO 19840).

    Attributes
    ----------
    low_share : str
        Share of readings that may lie between floor and nominal.
    mean : str
        Share of nominal that the mean reaches.
    max_of_nominal : str
        Most of any reading as a share of nominal, where `max` is left out.
    least_nominal : str
        The document is for this nominal thickness and more.
    """

    low_share: str
    mean: str = "100 %"
    max_of_nominal: str | None = None
    least_nominal: str | None = None

    def check(self) -> None:
        """Refuse what makes no sense; BadInput."""
        super().check()
        for name in ("low_share", "mean"):
            share_of(getattr(self, name), f"rule.{name}")
        if self.max_of_nominal and share_of(self.max_of_nominal, "rule.max_of_nominal") < 1:
            raise BadInput("rule.max_of_nominal", self.max_of_nominal, "100 % or more")
        if self.least_nominal:
            length_um(self.least_nominal, "rule.least_nominal")


class ShareFloor(NominalBase, frozen=True, tag="share_floor", kw_only=True):
    """A share of readings at or above nominal, none under the floor: 90/10, 85/15, 80/20 and any other pair.

    Attributes
    ----------
    share : str
        Share of readings at or above nominal.
    """

    share: str

    def check(self) -> None:
        """Refuse what makes no sense; BadInput."""
        super().check()
        if not 0 < share_of(self.share, "rule.share") <= 1:
            raise BadInput("rule.share", self.share, "more than 0 % and at most 100 %")


def taken_off_um(rule: NominalBase) -> Fraction:
    """What is taken off each reading: a correction for the profile or a reading on the bare surface, never both. [um]

    Raises
    ------
    BadInput
        If both are given, or one is negative.
    """
    if rule.correction and rule.base_metal:
        raise BadInput("rule.correction", rule.correction, f"a correction or a reading on the bare surface ({rule.base_metal}), never both")
    name, text = ("correction", rule.correction) if rule.correction else ("base_metal", rule.base_metal)
    if not text:
        return Fraction(0)
    read = quantity(text, "length", f"rule.{name}")
    if read.number < 0:
        raise BadInput(f"rule.{name}", text, "zero or more")
    return read.exact("um")


def accept_nominal(rule: NominalShare | ShareFloor, readings: Readings, area: Quantity | None = None) -> ThicknessResult:
    """Hold single readings against a nominal thickness.

    Parameters
    ----------
    rule : NominalShare or ShareFloor
    readings : Readings
        As read; what is to be taken off is taken off here. [um]
    area : Quantity, optional
        For how many are due. [area]

    Returns
    -------
    ThicknessResult
        `not_met` if a criterion fails in every reading of the rule; else `cannot_tell` if the readings of the rule differ, readings
        are short, or the rule is not for such a nominal thickness.

    Notes
    -----
    Readings and bounds are rounded once to the nearest float, which keeps their order; the mean is exact to the picometre of each.
    """
    nominal, off = length_um(rule.nominal, "rule.nominal"), taken_off_um(rule)
    written = writer(rule.nominal)
    low_share, limit = _share(rule), _limit(rule)
    due = number_due(rule.due, area) if rule.due and area is not None else least_due(rule.due)
    values, n = readings.values_um, len(readings)
    if not n:
        because = "no reading of these classes"
        return ThicknessResult(Outcome.CANNOT_TELL, 0, 0, 0, "no reading", limit, because, due or Number(), Number(), ("short",))
    floor = nominal * share_of(rule.floor, "rule.floor")
    most = _most(rule, nominal)
    under, below = _less(values, floor + off), _less(values, nominal + off)
    over = sum(map(float(most + off).__lt__, values)) if most is not None else 0
    mean, lowest, highest = exact_mean_um(values) - off, min(values) - float(off), max(values) - float(off)
    low = below if isinstance(rule, ShareFloor) else below - under
    broken: list[tuple[str, str]] = []
    if isinstance(rule, NominalShare) and mean < nominal * share_of(rule.mean, "rule.mean"):
        broken.append(("mean", f"the mean {written(mean)} is under {rule.mean} of {rule.nominal}"))
    if under:
        broken.append(
            ("floor", f"{under} of {n} readings under {written(floor)} ({rule.floor} of nominal): {written(min(values) - float(off))}")
        )
    if over and most is not None:
        broken.append(("max", f"{over} of {n} readings over {written(most)}: {written(max(values) - float(off))}"))
    says = f"{low} of {n} readings ({float(Fraction(100 * low, n)):.3g} %) under {rule.nominal}"
    allowed = _percent(low_share)
    open_: list[tuple[str, str]] = []
    if Fraction(low, n) > low_share or (rule.strict and Fraction(low, n) >= low_share):
        broken.append(("share", f"{says}; {'less than' if rule.strict else 'at most'} {allowed} may be"))
    elif rule.strict is None and Fraction(low, n) == low_share and low:
        open_.append(
            (
                "share",
                f"{says}: met if at most {allowed} may be low, not met if less than {allowed} may; which of the two holds is to be decided",
            )
        )
    if isinstance(rule, NominalShare) and rule.least_nominal and nominal < length_um(rule.least_nominal, "rule.least_nominal"):
        open_.append(("range", f"the document is for a nominal thickness of {rule.least_nominal} and more"))
    if due is None and area is not None:
        open_.append(("short", f"no number of readings was read for {area.text}"))
    elif due is not None and n < due.readings:
        open_.append(("short", f"short: {n} of {due.readings} readings"))
    notes = [split_note(rule.due, area)]
    if area is None and rule.due is not None:
        notes.append("the area was not told, so only the least number was asked for")
    inside = _inside(rule, readings, nominal, floor, most, off, mean, low_share)
    told = [t for _, t in broken + open_] or [f"mean {written(mean)}, {says}, none under {written(floor)}"]
    outcome = Outcome.NOT_MET if broken else Outcome.CANNOT_TELL if open_ else Outcome.MET
    value = f"mean {written(mean)}, {written(lowest)} to {written(highest)}, {n} readings, {low} low"
    if off:
        value += f", {written(off)} taken off each"
    return ThicknessResult(
        outcome, n, below, over, value, limit, "; ".join([*told, *(x for x in notes if x)]) + ("; inside uncertainty" if inside else ""),
        due or Number(), Number(readings=n), tuple(w for w, _ in broken + open_), inside,
    )  # fmt: skip


def low_readings(rule: NominalShare | ShareFloor, readings: Readings) -> int:
    """Readings that count as low: under nominal, and for `NominalShare` not under the floor."""
    nominal, off = length_um(rule.nominal, "rule.nominal"), taken_off_um(rule)
    below = _less(readings.values_um, nominal + off)
    return below if isinstance(rule, ShareFloor) else below - _less(readings.values_um, nominal * share_of(rule.floor, "floor") + off)


def _less(values: Sequence[float], bound: Fraction) -> int:
    return sum(map(float(bound).__gt__, values))


def _share(rule: NominalShare | ShareFloor) -> Fraction:
    """Share of readings that may be low. [1]"""
    return 1 - share_of(rule.share, "rule.share") if isinstance(rule, ShareFloor) else share_of(rule.low_share, "rule.low_share")


def _most(rule: NominalShare | ShareFloor, nominal: Fraction) -> Fraction | None:
    if rule.max:
        return length_um(rule.max, "rule.max")
    if isinstance(rule, NominalShare) and rule.max_of_nominal:
        return nominal * share_of(rule.max_of_nominal, "rule.max_of_nominal")
    return None


def _percent(share: Fraction) -> str:
    return f"{float(share * 100):g} %"


def _limit(rule: NominalShare | ShareFloor) -> str:
    if isinstance(rule, ShareFloor):
        said = [f"{rule.share} of readings at or above {rule.nominal}", f"none under {rule.floor} of it"]
    else:
        word = {True: "under", False: "at most", None: "under or at most"}[rule.strict]
        said = [f"mean at least {rule.mean} of {rule.nominal}", f"none under {rule.floor}", f"{word} {rule.low_share} of readings low"]
    if rule.max:
        said.append(f"none over {rule.max}")
    elif isinstance(rule, NominalShare) and rule.max_of_nominal:
        said.append(f"none over {rule.max_of_nominal}")
    return ", ".join(said) + f", on {' and '.join(rule.classes)}"


def _inside(
    rule: NominalShare | ShareFloor, readings: Readings, nominal: Fraction, floor: Fraction, most: Fraction | None,
    off: Fraction, mean: Fraction, low_share: Fraction,
) -> bool:  # fmt: skip
    """Whether the uncertainty reaches the floor, the most or the mean, or would turn the share."""
    of = thickness_uncertainty(rule.gauge_uncertainty, rule.reference_uncertainty)
    if of is None:
        return False
    values = readings.values_um
    ends = [(min(values) - float(off), floor), (max(values) - float(off), most)]
    if isinstance(rule, NominalShare):
        ends.append((float(mean), nominal * share_of(rule.mean, "rule.mean")))
    if any(bound is not None and abs(v - float(bound)) <= of(v) for v, bound in ends):
        return True
    play = Fraction(of(float(nominal)))
    few, many = (Fraction(_less(values, nominal + off + sign * play), len(values)) for sign in (-1, 1))
    return (few <= low_share) != (many <= low_share)
