"""A rule on its way into the book and back, and rules that a user enters from an own copy."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import msgspec

from wholefilm.base.errors import BadInput
from wholefilm.base.sources import Grade

from .document import Entered, Rule, grades, has_figures
from .loader import load
from .reading import check_day, read_rule, strict


def as_body(rule: Rule, edition: str, confirmed: Mapping[str, str] | None = None) -> dict[str, Any]:
    """The whole rule as it stands in an entry: JSON without null and without a number that has a fraction.

    Parameters
    ----------
    rule : Rule
    edition : str
        The edition chosen.
    confirmed : dict, optional
        `page`, `who` and `when` (calendar day) of the user's own copy.

    Returns
    -------
    dict
        `form`, `rule` (all of it), `edition`, `source` and, where given, `confirmed`.

    Raises
    ------
    UnknownEdition
    BadInput
        If `confirmed` is not whole.
    """
    whole = _plain(rule)
    body = {"form": whole["form"]["form"], "edition": edition, "source": _plain(rule.source(edition)), "rule": whole}
    if confirmed is not None:
        body["confirmed"] = _plain(_confirmation(confirmed, rule.id))
    return body


def from_body(body: Mapping[str, Any]) -> tuple[Rule, str, Entered | None]:
    """Rule, edition and confirmation out of an entry, whatever rules are shipped today.

    Raises
    ------
    BadInput
        If the body is not what `as_body` writes.
    """
    if not isinstance(body, Mapping) or not isinstance(body.get("rule"), Mapping) or not isinstance(body.get("edition"), str):
        raise BadInput("rule", body, "an object with rule and edition")
    rule = read_rule(body["rule"])
    confirmed = body.get("confirmed")
    return rule, rule.check_edition(body["edition"]), None if confirmed is None else _confirmation(confirmed, rule.id)


def may_choose(rule: Rule, confirmed: Entered | None = None) -> bool:
    """Whether a rule may stand on a voltage sheet: choosable as it is, or with figures and confirmed from an own copy."""
    return rule.choosable or (has_figures(rule) and confirmed is not None)


def user_rule(given: Mapping[str, Any]) -> Rule:
    """Read a rule that a user enters from an own copy.

    Parameters
    ----------
    given : dict
        As in the data files, every grade `entered`, and `entered` = {`page`, `who`, `when`}.

    Returns
    -------
    Rule

    Raises
    ------
    BadInput
        As `read_rule`; also if `entered` is missing, a grade is another, no figure is given, or the id is a shipped one.
    """
    rule = read_rule(given)
    if rule.entered is None:
        raise BadInput(f"{rule.id}: entered", "nothing", "page, who and when (YYYY-MM-DD) of the copy that it was read from")
    if rule.id in load():
        raise BadInput("id", rule.id, "an id that no shipped rule has")
    if not has_figures(rule):
        raise BadInput(f"{rule.id}: form", "user_enters", "a form with the figures of your copy")
    found = grades(rule.form) + [p.grade for p in rule.procedure]
    found += [bounds.grade for bounds in (rule.thickness_range, rule.extended_range) if bounds]
    for grade in found:
        if grade is not Grade.ENTERED:
            raise BadInput(f"{rule.id}: grade", grade.value, "entered, on every figure")
    return rule


def _plain(struct: msgspec.Struct) -> dict[str, Any]:
    """As it comes out of JSON: lists, never tuples."""
    plain: dict[str, Any] = msgspec.json.decode(msgspec.json.encode(struct))
    return plain


def _confirmation(given: Mapping[str, str], where: str) -> Entered:
    read = strict(dict(given) if isinstance(given, Mapping) else given, Entered, f"{where}: confirmed")
    check_day(read.when, f"{where}: confirmed.when")
    return read
