"""The eight forms that a voltage rule takes in a document, as strict data.

Every figure is text and carries its grade: numbers in a rule travel inside a job's entries, where no number has a
fraction, and a reader sees them as the document prints them.
"""

from __future__ import annotations

from typing import Annotated

import msgspec
from msgspec import Meta

from wholefilm.base.sources import Grade

Text = Annotated[str, Meta(min_length=1)]


class Part(msgspec.Struct, frozen=True, forbid_unknown_fields=True, omit_defaults=True, kw_only=True, rename={"from_": "from"}):
    """A part of a rule: frozen, unknown keys refused, empty fields left out."""


class Figure(Part, frozen=True, kw_only=True):
    """A figure and how it is known. There is no figure without a grade."""

    value: Text
    grade: Grade


class Bounds(Part, frozen=True, kw_only=True):
    """A range of thickness. One lower and one upper bound at most; a side left out is open.

    Attributes
    ----------
    at_least, over, at_most, below : str
        Lengths with unit, in the document's unit.
    grade : Grade
        Grade of the range, apart from that of the figures.
    says : str
        What the document says of this range.
    needs : str
        Whose written approval a test in this range needs; empty if none.
    """

    grade: Grade
    at_least: Text | None = None
    over: Text | None = None
    at_most: Text | None = None
    below: Text | None = None
    says: str = ""
    needs: str = ""


class Class(Part, frozen=True, kw_only=True):
    """A class of coating and what the formula is divided by for it."""

    name: Text
    says: Text
    divisor: Text
    grade: Grade


class Branch(Part, frozen=True, kw_only=True):
    """One coefficient `k` of V = k t^a and the thickness over which it holds; no bound = everywhere."""

    k: Text
    grade: Grade
    at_least: Text | None = None
    over: Text | None = None
    at_most: Text | None = None
    below: Text | None = None


class Limits(Part, frozen=True, kw_only=True):
    """Voltages between which a document's figures hold, either end open."""

    grade: Grade
    low: Text | None = None
    high: Text | None = None


class Form(msgspec.Struct, frozen=True, forbid_unknown_fields=True, omit_defaults=True, tag_field="form", kw_only=True):
    """Root of the forms; `form` in the data names which one it is."""


class Power(Form, tag="power", frozen=True, kw_only=True):
    """V = k t^a / divisor, t the number of `unit`, volts. Branches leave their gaps open.

    `watch` is a stretch about a step between branches where the reading used decides the voltage.
    """

    unit: Text
    exponent: Text
    branches: Annotated[tuple[Branch, ...], Meta(min_length=1)]
    classes: tuple[Class, ...] = ()
    span: Limits | None = None
    watch: Bounds | None = None


class Linear(Form, tag="linear", frozen=True, kw_only=True):
    """V = base + slope t, held at least at `floor` and at most at `cap`; `to` = upper slope where a range is printed.

    Attributes
    ----------
    each : str
        The thickness over which the slope is printed, such as ``"1 mm"`` or ``"25 um"``.
    slope, to : Figure
        Volts for each `each`.
    minimum : bool
        The document gives a least voltage, not the one to set.
    """

    each: Text
    slope: Figure
    to: Figure | None = None
    base: Figure | None = None
    floor: Figure | None = None
    cap: Figure | None = None
    minimum: bool = False


class Row(Part, frozen=True, kw_only=True):
    """One row of a table: a thickness or a range of it as printed, ends included, and its volts."""

    from_: Text
    to: Text
    volts: Text
    grade: Grade


class Table(Form, tag="table", frozen=True, kw_only=True):
    """Rows as printed. Between two rows there is nothing: a gap is refused, not filled.

    `rounded_up_to` = the thickness is rounded up to a multiple of it before the look-up.
    """

    rows: Annotated[tuple[Row, ...], Meta(min_length=1)]
    rounded_up_to: Figure | None = None


class Fixed(Form, tag="fixed", frozen=True, kw_only=True):
    """One voltage, or a range of it, whatever the thickness inside the rule's range."""

    volts: Figure
    to: Figure | None = None
    tolerance: Figure | None = None


class Span(Form, tag="span", frozen=True, kw_only=True):
    """Voltages that the document allows at all; it does not say which to set."""

    low: Figure | None = None
    high: Figure | None = None


class FindOnMadeHoliday(Form, tag="find_on_made_holiday", frozen=True, kw_only=True):
    """No figure: the voltage is found on a made holiday, once for each `zone`."""

    procedure: Text
    zone: Text
    grade: Grade


class Limit(Form, tag="limit", frozen=True, kw_only=True):
    """Wet sponge: limits of the volts, and the resistance at which the tester must alarm."""

    at_least: Figure | None = None
    at_most: Figure | None = None
    below: Figure | None = None
    trip: Figure | None = None
    trip_tolerance: Figure | None = None
    check_resistor: Figure | None = None


class UserEnters(Form, tag="user_enters", frozen=True, kw_only=True):
    """The figures could not be read. They come from the user's own copy, with its page."""


AnyForm = Power | Linear | Table | Fixed | Span | FindOnMadeHoliday | Limit | UserEnters
"""Any one form of a voltage rule."""
