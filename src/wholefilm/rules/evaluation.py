"""One rule worked out for one thickness, each step printed in the document's own unit.

The result says what the document says, with the worst grade of the figures used. It is not a proposal: all cited
rules stand side by side, and a person whose role the contract names chooses.
"""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Context, Decimal
from fractions import Fraction
from typing import Literal

import msgspec

from wholefilm.base.errors import BadInput, OutOfRange
from wholefilm.base.quantity import Quantity, quantity
from wholefilm.base.sources import Grade

from .document import Rule, worst_grade
from .forms import Class, FindOnMadeHoliday, Fixed, Limit, Linear, Power, Span, Table
from .ranges import inside, worded

_CONTEXT = Context(prec=40)
Means = Literal["set", "at_least", "range", "span", "limit"]


class Volts(msgspec.Struct, frozen=True):
    """Voltages of a result, text with unit; `low` equals `high` for a single one, an open end is None.

    `means`: `set` and `range` = what the document gives; `at_least` = a least voltage; `span` = what it allows at
    all; `limit` = what a wet-sponge tester is held to.
    """

    low: str | None
    high: str | None
    means: Means


class Worked(msgspec.Struct, frozen=True, kw_only=True):
    """A rule worked out.

    Attributes
    ----------
    rule, edition, thickness : str
    volts : Volts or None
        None where the document gives no figure here: the user enters it, or it is found on a made holiday.
    steps : list of str
    grade : Grade or None
        Worst grade of the figures used; None if none was.
    choosable : bool
        Whether it may be chosen without the user's own confirmation.
    warnings : list of str
    """

    rule: str
    edition: str
    thickness: str
    volts: Volts | None
    steps: list[str]
    grade: Grade | None
    choosable: bool
    warnings: list[str]


class _Used:
    """What a form's working gathers on its way."""

    def __init__(self) -> None:
        self.steps: list[str] = []
        self.warnings: list[str] = []
        self.grades: list[Grade] = []
        self.range_grades: list[Grade] = []


def evaluate(rule: Rule, edition: str, thickness: Quantity, *, choice: str | None = None, approval: str | None = None) -> Worked:
    """Work out a rule for one thickness.

    Parameters
    ----------
    rule : Rule
    edition : str
        One of the rule's editions; never defaults.
    thickness : Quantity
        Dry film thickness on the rule's `thickness_basis`. [length]
    choice : str, optional
        Name of the class, for a rule that divides by one.
    approval : str, optional
        Reference of the written approval that the extended range of a rule asks for.

    Returns
    -------
    Worked

    Raises
    ------
    UnknownEdition
        If the rule was not read for that edition.
    OutOfRange
        If the rule was not written for that thickness, or it falls into a gap of the document.
    BadInput
        If `thickness` is no length or not more than zero, or `choice` is missing, unknown or not asked for.

    Notes
    -----
    Lengths are compared as exact fractions; powers are taken to 40 digits; a computed voltage is rounded to 1 V, half up.
    """
    rule.check_edition(edition)
    if thickness.dimension != "length" or thickness.number <= 0:
        raise BadInput("thickness", thickness.text, "a thickness more than zero with its unit, such as '800 um'")
    used = _Used()
    _check_range(rule, thickness, approval, used)
    kind = _class(rule, choice)
    volts: Volts | None = None
    match rule.form:
        case Power() as form:
            volts = _power(rule, form, thickness, kind, used)
        case Linear() as form:
            volts = _linear(form, thickness, used)
        case Table() as form:
            volts = _table(rule, form, thickness, used)
        case Fixed() as form:
            volts = _fixed(form, used)
        case Span() as form:
            volts = _span(form, used)
        case Limit() as form:
            volts = _limit(form, used)
        case FindOnMadeHoliday() as form:
            used.grades.append(form.grade)
            used.steps += [form.procedure, f"one record for each {form.zone}"]
        case _:
            used.steps.append("no figure of this document is shipped: enter it from your own copy, with its page")
    grade = worst_grade(used.grades + used.range_grades) if used.grades else None
    choosable = grade is not None and grade.choosable and not rule.doubts
    warnings = used.warnings + _remarks(rule, grade)
    return Worked(
        rule=rule.id,
        edition=edition,
        thickness=thickness.text,
        volts=volts,
        steps=used.steps,
        grade=grade,
        choosable=choosable,
        warnings=warnings,
    )


def _remarks(rule: Rule, grade: Grade | None) -> list[str]:
    said = []
    if not rule.editions:
        said.append("no edition of this document was read: the edition is the one that you name")
    if rule.only_for:
        said.append(f"only for {rule.only_for}")
    if rule.superseded_by:
        said.append(f"superseded by {rule.superseded_by}")
    if grade is not None and not grade.choosable:
        said.append(f"graded {grade.value}: confirm it from your own copy before it is chosen")
    said += [f"open doubt: {doubt}" for doubt in rule.doubts]
    return said + ([rule.note] if rule.note else [])


def _check_range(rule: Rule, thickness: Quantity, approval: str | None, used: _Used) -> None:
    normal, further = rule.thickness_range, rule.extended_range
    if normal is None:
        return
    used.range_grades.append(normal.grade)
    if inside(normal, thickness):
        return
    allowed = f"{rule.id}: {worded(normal)}"
    if further is not None and inside(further, thickness):
        if not further.needs or (approval and approval.strip()):
            used.warnings.append(f"{worded(further)}: {further.says}" + (f" (approval: {approval})" if further.needs else ""))
            used.range_grades.append(further.grade)
            return
        raise OutOfRange("thickness", thickness.text, f"{allowed}; {worded(further)} only with {further.needs}")
    raise OutOfRange("thickness", thickness.text, f"{allowed} [{normal.grade.value}]" + (f"; or {worded(further)}" if further else ""))


def _class(rule: Rule, choice: str | None) -> Class | None:
    classes = rule.form.classes if isinstance(rule.form, Power) else ()
    if not classes:
        if choice is not None:
            raise BadInput("choice", choice, f"nothing: {rule.id} has no classes")
        return None
    for kind in classes:
        if kind.name == choice:
            return kind
    raise BadInput("choice", choice or "nothing", f"one of {', '.join(f'{k.name} ({k.says})' for k in classes)}")


def plain(value: Fraction, places: int = 3) -> str:
    """A number with at most so many decimals, half up, no trailing zeros."""
    shown = (Decimal(value.numerator) / Decimal(value.denominator)).quantize(Decimal(1).scaleb(-places), ROUND_HALF_UP)
    text = f"{shown:f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def _in_unit(thickness: Quantity, unit: str, used: _Used) -> Fraction:
    t = thickness.exact(unit)
    same = thickness.unit == unit
    used.steps.append(f"t = {thickness.text}" if same else f"t = {thickness.text} = {plain(t)} {unit}")
    return t


def _power(rule: Rule, form: Power, thickness: Quantity, kind: Class | None, used: _Used) -> Volts:
    t = _in_unit(thickness, form.unit, used)
    branch = next((one for one in form.branches if inside(one, thickness)), None)
    if branch is None:
        known = "; ".join(worded(one) for one in form.branches)
        raise OutOfRange("thickness", thickness.text, f"{rule.id}: {known}. Between these the document has a gap and says nothing")
    used.grades.append(branch.grade)
    power = _CONTEXT.power(Decimal(t.numerator) / Decimal(t.denominator), Decimal(form.exponent))
    exact = Fraction(branch.k) * Fraction(power)
    how = f"sqrt({plain(t)})" if form.exponent == "0.5" else f"{plain(t)}^{form.exponent}"
    if kind is not None:
        exact /= Fraction(kind.divisor)
        used.grades.append(kind.grade)
    text = f"{plain(exact, 0)} V"
    used.steps.append(f"V = {branch.k} x {how}{f' / {kind.divisor}' if kind else ''} = {text}")
    if len(form.branches) > 1:
        used.steps.append(f"coefficient {branch.k}: {worded(branch)}")
    if form.watch is not None and inside(form.watch, thickness):
        used.warnings.append(f"{worded(form.watch)}: {form.watch.says}")
    if form.span is not None:
        _within_span(rule, form, exact, text, thickness)
        used.steps.append(f"inside the document's span {form.span.low} to {form.span.high}")
    return Volts(text, text, "set")


def _within_span(rule: Rule, form: Power, exact: Fraction, text: str, thickness: Quantity) -> None:
    span = form.span
    assert span is not None
    low = quantity(span.low, "voltage").exact("V") if span.low else None
    high = quantity(span.high, "voltage").exact("V") if span.high else None
    if (low is not None and exact < low) or (high is not None and exact > high):
        raise OutOfRange("thickness", thickness.text, f"{rule.id}: a thickness that gives {span.low} to {span.high}; this one gives {text}")


def _linear(form: Linear, thickness: Quantity, used: _Used) -> Volts:
    each = quantity(form.each, "length")
    t = _in_unit(thickness, each.unit, used)
    results = []
    for slope in (form.slope, form.to):
        if slope is None:
            continue
        used.grades.append(slope.grade)
        read = quantity(slope.value, "voltage")
        base = quantity(form.base.value, "voltage").exact(read.unit) if form.base else Fraction(0)
        exact = base + read.number * t / each.number
        places = 3 if read.unit == "kV" else 0
        per = f"{slope.value} each {form.each}"
        used.steps.append(
            f"V = {form.base.value + ' + ' if form.base else ''}{per} x {plain(t)} {each.unit} = {plain(exact, places)} {read.unit}"
        )
        for figure, pick, word in ((form.floor, max, "floor"), (form.cap, min, "cap")):
            if figure is not None:
                end = quantity(figure.value, "voltage").exact(read.unit)
                used.grades.append(figure.grade)
                if pick(exact, end) != exact:
                    used.steps.append(f"{word} {figure.value}")
                exact = pick(exact, end)
        results.append(f"{plain(exact, places)} {read.unit}")
    if form.base is not None:
        used.grades.append(form.base.grade)
    return Volts(results[0], results[-1], "at_least" if form.minimum else "range" if form.to else "set")


def _table(rule: Rule, form: Table, thickness: Quantity, used: _Used) -> Volts:
    first = quantity(form.rows[0].from_, "length")
    t = _in_unit(thickness, first.unit, used)
    if form.rounded_up_to is not None:
        step = quantity(form.rounded_up_to.value, "length").exact(first.unit)
        t = -(-t // step) * step
        used.grades.append(form.rounded_up_to.grade)
        used.steps.append(f"rounded up to a whole {form.rounded_up_to.value}: {plain(t)} {first.unit}")
    for row in form.rows:
        if quantity(row.from_, "length").exact(first.unit) <= t <= quantity(row.to, "length").exact(first.unit):
            used.grades.append(row.grade)
            used.steps.append(f"row {_row(row.from_, row.to)}: {row.volts}")
            return Volts(row.volts, row.volts, "set")
    under = [r for r in form.rows if quantity(r.to, "length").exact(first.unit) < t]
    above = [r for r in form.rows if quantity(r.from_, "length").exact(first.unit) > t]
    gap = f" The table has a gap between {under[-1].to} and {above[0].from_}" if under and above else ""
    known = f"{form.rows[0].from_} to {form.rows[-1].to}" if not gap else ", ".join(_row(r.from_, r.to) for r in form.rows)
    raise OutOfRange("thickness", thickness.text, f"{rule.id}: rows {known}.{gap}")


def _row(low: str, high: str) -> str:
    return low if low == high else f"{low} to {high}"


def _fixed(form: Fixed, used: _Used) -> Volts:
    used.grades += [figure.grade for figure in (form.volts, form.to, form.tolerance) if figure]
    high = form.to.value if form.to else form.volts.value
    used.steps.append(f"V = {_row(form.volts.value, high)}" + (f", tolerance {form.tolerance.value}" if form.tolerance else ""))
    return Volts(form.volts.value, high, "range" if form.to else "set")


def _span(form: Span, used: _Used) -> Volts:
    used.grades += [figure.grade for figure in (form.low, form.high) if figure]
    low, high = (figure.value if figure else None for figure in (form.low, form.high))
    used.steps.append(f"allowed: {f'at least {low}' if low else ''}{', ' if low and high else ''}{f'at most {high}' if high else ''}")
    used.warnings.append("the document allows these voltages; it does not say here which of them to set")
    return Volts(low, high, "span")


def _limit(form: Limit, used: _Used) -> Volts | None:
    words = (("at least", form.at_least), ("at most", form.at_most), ("below", form.below), ("alarm at", form.trip),
             ("alarm within", form.trip_tolerance), ("checked with a resistor of", form.check_resistor))  # fmt: skip
    used.grades += [figure.grade for _, figure in words if figure]
    used.steps += [f"{word} {figure.value}" for word, figure in words if figure]
    high = form.at_most or form.below
    if form.at_least is None and high is None:
        return None
    return Volts(form.at_least.value if form.at_least else None, high.value if high else None, "limit")
