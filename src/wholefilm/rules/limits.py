"""Acceptance limits as a clause states them: how many open holidays, over what, and what follows.

A limit is not a voltage rule. Eight forms: a count, a count per area or per length, a share of the area, a count
within a radius, a count per piece, failed retests, and none open. What a clause leaves undecided (whether a small area takes its
part of the count, whether the share counts the feathered edge) is left out, never filled in.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated, Any, Literal

import msgspec
from msgspec import Meta

from wholefilm.base.errors import BadInput
from wholefilm.base.quantity import quantity

AtMost = Annotated[int, Meta(ge=0, le=1_000_000)]
Below = Annotated[int, Meta(ge=1, le=1_000_000)]
ProRata = bool | Literal["in_all"]
Classes = Annotated[tuple[Literal["flat", "weld", "edge", "corner", "pit"], ...], Meta(min_length=1)]


class LimitBase(msgspec.Struct, frozen=True, forbid_unknown_fields=True, omit_defaults=True, tag_field="form", kw_only=True):
    """Root of the forms of a limit; `form` in the data names which one it is."""


class Counting(LimitBase, frozen=True, kw_only=True):
    """What every form that counts holidays may tell.

    Attributes
    ----------
    at_most, below : int
        The bound, itself allowed or not; one of the two.
    classes : list of str
        Only holidays of these classes of place: flat, weld, edge, corner, pit. All if left out.
    larger_than : str
        Only holidays whose recorded size is over this length. All if left out.
    """

    at_most: AtMost | None = None
    below: Below | None = None
    classes: Classes | None = None
    larger_than: str | None = None


class Count(Counting, tag="count", frozen=True, kw_only=True):
    """So many over a test area or over the whole job."""

    over: Literal["test_area", "job"]


class PerArea(Counting, tag="per_area", frozen=True, kw_only=True):
    """So many for each `per`, an area with its unit.

    `pro_rata`: true = an area takes its part of the number, also in fractions; false = each whole `per` takes the number, a
    smaller area the number once; ``"in_all"`` = the number holds for the area as a whole, whatever its size. Left out = the clause
    does not say.
    """

    per: str
    pro_rata: ProRata | None = None


class PerLength(Counting, tag="per_length", frozen=True, kw_only=True):
    """So many for each `per`, a length with its unit; `pro_rata` as for an area.

    `length` is the length of each test area where the item does not tell it.
    """

    per: str
    pro_rata: ProRata | None = None
    length: str | None = None


class Share(LimitBase, tag="share", frozen=True, kw_only=True):
    """A share of the area: strictly `below` it, or `at_most` it; one of the two.

    `with_feather` left out = the clause does not say whether the feathered edge counts.
    """

    below: str | None = None
    at_most: str | None = None
    with_feather: bool | None = None


class WithinRadius(Counting, tag="within_radius", frozen=True, kw_only=True):
    """So many inside a circle of `radius` about any point."""

    radius: str


class PerPiece(Counting, tag="per_piece", frozen=True, kw_only=True):
    """So many on each piece: a pipe, a joint, a sleeve.

    Attributes
    ----------
    piece : str
        What the clause calls it.
    by : str
        What a piece is in the record: each panel, each test area, or each item.
    redone_by : str
        Class of the repair that does a piece over the limit again, such as ``new sleeve``.
    counts : str
        ``as_it_stands``: what such a repair covers, once its retest passed, counts no more; ``all_found``: it does. Left out = the
        clause does not say.
    """

    piece: Annotated[str, Meta(min_length=1)]
    by: Literal["panel", "test_area", "item"] = "panel"
    redone_by: str = ""
    counts: Literal["as_it_stands", "all_found"] | None = None


class FailedRetests(LimitBase, tag="failed_retests", frozen=True, kw_only=True):
    """No repair fails its retest more often than `at_most`; 0 = none after repair. `redone_by` as for a piece."""

    at_most: AtMost
    redone_by: str = ""


class NoneOpen(LimitBase, tag="none_open", frozen=True, kw_only=True):
    """No holiday may stay open: each repaired and its retest passed."""


Limit = Count | PerArea | PerLength | Share | WithinRadius | PerPiece | FailedRetests | NoneOpen
"""Any one form of a limit."""

FORMS: tuple[type[LimitBase], ...] = (Count, PerArea, PerLength, Share, WithinRadius, PerPiece, FailedRetests, NoneOpen)


class LimitsRule(msgspec.Struct, frozen=True, forbid_unknown_fields=True, omit_defaults=True, tag="limits", tag_field="form", kw_only=True):
    """The limits of one clause, all to be kept, and what the clause says follows if one is not.

    Attributes
    ----------
    limits : tuple of Limit
        One or more.
    follows : str
        In the clause's sense, such as "whole floor coating removed and redone". Empty if it does not say.
    """

    limits: Annotated[tuple[Limit, ...], Meta(min_length=1)]
    follows: str = ""


def form_of(limit: LimitBase) -> str:
    """Name of the form of a limit, as it stands under `form` in the data."""
    return str(type(limit).__struct_config__.tag)


def read_limits(given: Mapping[str, Any]) -> LimitsRule:
    """Read a rule of limits, strictly.

    Parameters
    ----------
    given : dict
        ``{"form": "limits", "limits": [{"form": "per_area", "at_most": 1, "per": "200 m2"}, ...], "follows": "..."}``.

    Returns
    -------
    LimitsRule

    Raises
    ------
    BadInput
        If a form or key is unknown, a value is of the wrong type or missing, a quantity has no unit or is not more
        than zero, or a share gives both or neither of `below` and `at_most`. Names the field, the value and what is allowed.
    """
    if not isinstance(given, Mapping):
        raise BadInput("limits", given, 'an object with "form": "limits", "limits" and "follows"')
    if given.get("form") != "limits":
        raise BadInput("form", given.get("form", "nothing"), '"limits"')
    strange = sorted(str(key) for key in given if key not in ("form", "limits", "follows"))
    if strange:
        raise BadInput(strange[0], given[strange[0]], "only form, limits and follows")
    listed = given.get("limits")
    if not isinstance(listed, list | tuple) or not listed:
        raise BadInput("limits", "nothing" if listed is None else listed, "a list of at least one limit")
    follows = given.get("follows", "")
    if not isinstance(follows, str):
        raise BadInput("follows", follows, "text: what the clause says follows")
    return LimitsRule(limits=tuple(read_limit(one, f"limits[{i}]") for i, one in enumerate(listed)), follows=follows)


def read_limit(given: object, field: str = "limit") -> Limit:
    """Read one limit, strictly.

    Parameters
    ----------
    given : object
        A mapping with `form` and the fields of that form.
    field : str
        Where it stands, for the message.

    Returns
    -------
    Limit

    Raises
    ------
    BadInput
        As `read_limits`.
    """
    names = {str(form.__struct_config__.tag): form for form in FORMS}
    if not isinstance(given, Mapping):
        raise BadInput(field, given, f"an object with form, one of {', '.join(names)}")
    form = names.get(str(given.get("form")))
    if form is None:
        raise BadInput(f"{field}.form", given.get("form", "nothing"), ", ".join(names))
    fields = {f.name: f for f in msgspec.structs.fields(form)}
    allowed = f"for {given['form']}: {', '.join(fields) or 'no further fields'}"
    for key in given:
        if key != "form" and key not in fields:
            raise BadInput(f"{field}.{key}", given[key], allowed)
    for name, info in fields.items():
        if info.required and name not in given:
            raise BadInput(f"{field}.{name}", "nothing", f"a value; {allowed}")
        if name in given:
            _one(info.type, given[name], f"{field}.{name}")
    limit: Limit = msgspec.convert(dict(given), Limit)
    return _checked(limit, field)


_SAYS = {
    "over": "test_area or job",
    "by": "panel, test_area or item",
    "classes": "a list of flat, weld, edge, corner, pit",
    "counts": "as_it_stands, all_found, or left out if the clause does not say",
    "redone_by": "the class of the repair that does the piece again",
    "pro_rata": "true, false, in_all, or left out if the clause does not say",
    "with_feather": "true, false, or left out if the clause does not say",
    "piece": "the name of a piece, such as panel, pipe, joint",
}


def _one(type_: Any, value: object, field: str) -> None:
    name = field.rsplit(".", 1)[1]
    try:
        msgspec.convert(value, type_)
    except msgspec.ValidationError as error:
        is_count = name in ("at_most", "below") and not isinstance(value, str)
        default = f"a whole number from {0 if name == 'at_most' else 1} to 1000000" if is_count else "text with a number and a unit"
        raise BadInput(field, value, _SAYS.get(name, default)) from error


def _checked(limit: Limit, field: str) -> Limit:
    if isinstance(limit, Counting):
        if (limit.at_most is None) == (limit.below is None):
            both = "both" if limit.below is not None else "nothing"
            raise BadInput(f"{field}.at_most", both, "one of at_most (the number itself is allowed) and below (it is not)")
        if limit.larger_than is not None:
            _positive(limit.larger_than, "length", f"{field}.larger_than")
    match limit:
        case PerArea(per=per):
            _positive(per, "area", f"{field}.per")
        case PerLength(per=per, length=length):
            _positive(per, "length", f"{field}.per")
            if length is not None:
                _positive(length, "length", f"{field}.length")
        case WithinRadius(radius=radius):
            _positive(radius, "length", f"{field}.radius")
        case Share(below=below, at_most=at_most):
            if (below is None) == (at_most is None):
                raise BadInput(field, "both" if below else "neither", "one of below and at_most")
            name, text = ("below", below) if below is not None else ("at_most", at_most)
            _share(str(text), f"{field}.{name}", zero=name == "at_most")
        case PerPiece(piece=piece) if not piece.strip():
            raise BadInput(f"{field}.piece", piece, _SAYS["piece"])
        case PerPiece(counts=counts, redone_by="") if counts is not None:
            raise BadInput(f"{field}.counts", counts, "only beside redone_by")
        case _:
            pass
    return limit


def _positive(text: str, dimension: str, field: str) -> None:
    if quantity(text, dimension, field).number <= 0:
        raise BadInput(field, text, f"more than zero ({dimension} with its unit)")


def _share(text: str, field: str, *, zero: bool) -> None:
    read = quantity(text, "share", field).exact("1")
    if not (0 <= read <= 1) or (read == 0 and not zero):
        raise BadInput(field, text, f"from {'0 %' if zero else 'more than 0 %'} to 100 %")
