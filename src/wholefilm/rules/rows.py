"""A voltage rule on a row of thicknesses at once, for planning on many readings. One thickness, exact, is `evaluation`."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

from wholefilm.base.errors import BadInput
from wholefilm.base.quantity import quantity

from .document import Rule
from .forms import Class, Fixed, Linear, Power, Table
from .ranges import Bounded

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

_NEAR = 1e-9
"""A thickness so near to a whole step of a table, as a share of the step, is taken for it: a float of 20 mil is no 20.000001."""


def volts_of_row(rule: Rule, um: Floats, *, choice: str | None = None, approval: str | None = None) -> tuple[Floats, Floats]:
    """Voltages that a rule gives for each of many thicknesses.

    Parameters
    ----------
    rule : Rule
        One with figures that gives a voltage to set: a power, a line, a table, a fixed voltage or a range.
    um : array of float, shape (n,)
        [um]
    choice, approval : str, optional
        As in `evaluate`.

    Returns
    -------
    low, high : array of float, shape (n,)
        Equal for a single voltage; NaN where the document gives none. Not rounded to whole volts. [V]

    Raises
    ------
    BadInput
        If the rule gives no voltage to set, or its class is missing or unknown.
    """
    import numpy as np

    um = np.asarray(um, dtype=np.float64)
    form = rule.form
    if isinstance(form, Power):
        low = high = _power(rule, form, um, choice)
    elif isinstance(form, Linear):
        low, high = _linear(form, um)
    elif isinstance(form, Table):
        low = high = _table(form, um)
    elif isinstance(form, Fixed):
        ends = (_volts(form.volts.value), _volts((form.to or form.volts).value))
        low, high = (np.full(um.shape, v) for v in ends)
    else:
        raise BadInput("rule", rule.id, "a rule that gives a voltage to set: a formula, a table or a fixed voltage")
    known = _known(rule, um, approval)
    return np.where(known, low, np.nan), np.where(known, high, np.nan)


def _volts(text: str) -> float:
    return quantity(text, "voltage").to("V")


def _um(text: str) -> float:
    return float(quantity(text, "length").exact("um"))


def _inside(bounds: Bounded, um: Floats) -> NDArray[np.bool_]:
    import numpy as np

    found = np.ones(um.shape, dtype=bool)
    if bounds.at_least is not None:
        found &= um >= _um(bounds.at_least)
    if bounds.over is not None:
        found &= um > _um(bounds.over)
    if bounds.at_most is not None:
        found &= um <= _um(bounds.at_most)
    if bounds.below is not None:
        found &= um < _um(bounds.below)
    return found


def _known(rule: Rule, um: Floats, approval: str | None) -> NDArray[np.bool_]:
    """Where the document was written for the thickness."""
    found = um > 0
    if rule.thickness_range is not None:
        written = _inside(rule.thickness_range, um)
        further = rule.extended_range
        if further is not None and (not further.needs or (approval and approval.strip())):
            written |= _inside(further, um)
        found &= written
    return found


def _divisor(rule: Rule, classes: tuple[Class, ...], choice: str | None) -> float:
    if not classes:
        return 1.0
    for kind in classes:
        if kind.name == choice:
            return float(Fraction(kind.divisor))
    raise BadInput("choice", choice or "nothing", f"for {rule.id} one of {', '.join(f'{k.name} ({k.says})' for k in classes)}")


def _power(rule: Rule, form: Power, um: Floats, choice: str | None) -> Floats:
    import numpy as np

    t = um / _um(f"1 {form.unit}")
    exponent = float(Fraction(form.exponent))
    volts = np.sqrt(t) if form.exponent == "0.5" else t**exponent
    divisor = _divisor(rule, form.classes, choice)
    if len(form.branches) == 1:
        whole = volts * (float(Fraction(form.branches[0].k)) / divisor)
        found = np.where(_inside(form.branches[0], um), whole, np.nan)
    else:
        found = np.full(um.shape, np.nan)
        for branch in form.branches:
            here = _inside(branch, um)
            found[here] = volts[here] * (float(Fraction(branch.k)) / divisor)
    if form.span is not None:
        if form.span.low:
            found[found < _volts(form.span.low)] = np.nan
        if form.span.high:
            found[found > _volts(form.span.high)] = np.nan
    return found


def _linear(form: Linear, um: Floats) -> tuple[Floats, Floats]:
    import numpy as np

    ends = []
    for slope in (form.slope, form.to or form.slope):
        volts = (_volts(form.base.value) if form.base else 0.0) + _volts(slope.value) * (um / _um(form.each))
        if form.floor is not None:
            volts = np.maximum(volts, _volts(form.floor.value))
        if form.cap is not None:
            volts = np.minimum(volts, _volts(form.cap.value))
        ends.append(volts)
    return ends[0], ends[1]


def _table(form: Table, um: Floats) -> Floats:
    import numpy as np

    t = um
    if form.rounded_up_to is not None:
        step = _um(form.rounded_up_to.value)
        t = np.ceil(um / step - _NEAR) * step
    low, high = (np.array([_um(end) for end in ends]) for ends in zip(*((r.from_, r.to) for r in form.rows), strict=True))
    volts = np.array([_volts(r.volts) for r in form.rows])
    # A row's upper end is inside it; the rows rise and do not overlap.
    at = np.minimum(np.searchsorted(high * (1 + 1e-12), t), len(volts) - 1)
    here = (t >= low[at] * (1 - 1e-12)) & (t <= high[at] * (1 + 1e-12))
    return np.where(here, volts[at], np.nan)
