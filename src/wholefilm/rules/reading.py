"""Reading a rule strictly: unknown keys, missing grades and figures that make no sense are refused by name."""

from __future__ import annotations

import itertools
import re
from collections.abc import Mapping
from datetime import date
from fractions import Fraction
from typing import Any, TypeVar

import msgspec

from wholefilm.base.errors import BadInput
from wholefilm.base.misfit import misfit
from wholefilm.base.quantity import quantity

from .document import Rule, has_figures
from .forms import Figure, Fixed, Limit, Linear, Power, Span, Table
from .ranges import check_bounds, metres

T = TypeVar("T")


def strict(given: object, type_: type[T], where: str) -> T:
    """Convert with msgspec and say in our words what was wrong and where.

    Raises
    ------
    BadInput
        Names the field below `where`, and what is expected there.
    """
    try:
        return msgspec.convert(given, type_)
    except msgspec.ValidationError as error:
        wrong = misfit(error, given, page="docs/reference/rules.md")
        field = where if wrong.field == "value" else f"{where}: {wrong.field}"
        raise BadInput(field, wrong.value, wrong.allowed) from error


def read_rule(given: Mapping[str, Any]) -> Rule:
    """Read one rule and check that its figures make sense together.

    Parameters
    ----------
    given : dict
        As in the data files.

    Returns
    -------
    Rule

    Raises
    ------
    BadInput
        On an unknown or missing key, a figure without grade, a quantity without unit, a range that is empty,
        rows or branches that overlap or fall, a rule with figures and without edition.
    """
    named = given.get("id") if isinstance(given, Mapping) else None
    rule = strict(given, Rule, str(named or "rule"))
    if has_figures(rule) and not rule.editions:
        raise BadInput(f"{rule.id}: editions", "none", "at least one edition, because the rule has figures")
    if len(set(rule.editions)) != len(rule.editions):
        raise BadInput(f"{rule.id}: editions", ", ".join(rule.editions), "each edition once")
    if rule.entered:
        check_day(rule.entered.when, f"{rule.id}: entered.when")
    for name, bounds in (("thickness_range", rule.thickness_range), ("extended_range", rule.extended_range)):
        if bounds is not None:
            check_bounds(bounds, f"{rule.id}: {name}")
    _check_form(rule)
    return rule


def check_day(text: str, field: str) -> None:
    """Refuse a day that is not in the calendar."""
    try:
        date.fromisoformat(text)
    except ValueError as error:
        raise BadInput(field, text, "a calendar day, YYYY-MM-DD") from error


def number(text: str, field: str) -> Fraction:
    """A plain positive number, exact."""
    if not re.fullmatch(r"\d+(\.\d+)?", text) or Fraction(text) <= 0:
        raise BadInput(field, text, "a number more than zero")
    return Fraction(text)


def _check_form(rule: Rule) -> None:
    where, form = f"{rule.id}: form", rule.form
    match form:
        case Power():
            quantity(f"1 {form.unit}", "length", f"{where}.unit")
            number(form.exponent, f"{where}.exponent")
            for one in form.branches:
                number(one.k, f"{where}.branches.k")
            for kind in form.classes:
                number(kind.divisor, f"{where}.classes.divisor")
            _check_branches(form, where)
            if form.span:
                _ordered(form.span.low, form.span.high, "voltage", f"{where}.span")
            if form.watch:
                check_bounds(form.watch, f"{where}.watch")
        case Linear():
            if metres(form.each, f"{where}.each") <= 0:
                raise BadInput(f"{where}.each", form.each, "a thickness more than zero")
            _volts(form.base, f"{where}.base")
            _pair(form.slope, form.to, f"{where}.slope")
            _pair(form.floor, form.cap, f"{where}.floor")
        case Table():
            _check_rows(form, where)
        case Fixed():
            _pair(form.volts, form.to, f"{where}.volts")
            if form.tolerance:
                _tolerance(form.tolerance, f"{where}.tolerance")
        case Span():
            if form.low is None and form.high is None:
                raise BadInput(where, "no end", "low, high or both")
            _pair(form.low, form.high, f"{where}.low")
        case Limit():
            _check_limit(form, where)
        case _:
            pass


def _check_branches(form: Power, where: str) -> None:
    ends = sorted(check_bounds(one, f"{where}.branches", open_ended=True) for one in form.branches)
    for (_, _, high, high_in), (low, low_in, _, _) in itertools.pairwise(ends):
        if high is None or high > low or (high == low and high_in and low_in):
            raise BadInput(f"{where}.branches", ", ".join(b.k for b in form.branches), "branches that do not overlap")
    names = [kind.name for kind in form.classes]
    if len(set(names)) != len(names):
        raise BadInput(f"{where}.classes", ", ".join(names), "each class once")


def _check_rows(form: Table, where: str) -> None:
    if form.rounded_up_to:
        metres(form.rounded_up_to.value, f"{where}.rounded_up_to")
    last, volts = Fraction(-1), Fraction(0)
    for row in form.rows:
        low, high = metres(row.from_, f"{where}.rows.from"), metres(row.to, f"{where}.rows.to")
        if not last < low <= high:
            raise BadInput(f"{where}.rows", f"{row.from_} to {row.to}", "rows in order of thickness that do not overlap")
        now = quantity(row.volts, "voltage", f"{where}.rows.volts").exact("V")
        if now <= 0 or now < volts:
            raise BadInput(f"{where}.rows.volts", row.volts, "more than zero and not under the row before")
        last, volts = high, now


def _check_limit(form: Limit, where: str) -> None:
    if form == Limit():
        raise BadInput(where, "no limit", "at least one of at_least, at_most, below, trip, check_resistor")
    if form.at_most and form.below:
        raise BadInput(where, f"{form.at_most.value}, {form.below.value}", "one of at_most and below")
    _pair(form.at_least, form.at_most or form.below, f"{where}.at_least")
    for name, figure in (("trip", form.trip), ("check_resistor", form.check_resistor)):
        if figure and quantity(figure.value, "resistance", f"{where}.{name}").number <= 0:
            raise BadInput(f"{where}.{name}", figure.value, "a resistance more than zero")
    if form.trip_tolerance:
        if form.trip is None:
            raise BadInput(f"{where}.trip_tolerance", form.trip_tolerance.value, "only together with trip")
        quantity(form.trip_tolerance.value, "share", f"{where}.trip_tolerance")


def _volts(figure: Figure | None, field: str) -> None:
    if figure is not None and quantity(figure.value, "voltage", field).number <= 0:
        raise BadInput(field, figure.value, "a voltage more than zero")


def _pair(low: Figure | None, high: Figure | None, field: str) -> None:
    _ordered(low.value if low else None, high.value if high else None, "voltage", field)


def _ordered(low: str | None, high: str | None, dimension: str, field: str) -> None:
    read = [quantity(text, dimension, field).exact("V") for text in (low, high) if text is not None]
    if any(one <= 0 for one in read) or read != sorted(read):
        raise BadInput(field, " to ".join(t for t in (low, high) if t), "voltages more than zero, the lower first")


def _tolerance(figure: Figure, field: str) -> None:
    try:
        quantity(figure.value, "share", field)
    except BadInput:
        quantity(figure.value, "voltage", field)
