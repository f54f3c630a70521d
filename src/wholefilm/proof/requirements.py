"""The requirements that judge this job: as noted, as decided, and whether they may be used."""

from __future__ import annotations

from typing import Any

import msgspec

from wholefilm.base.errors import BadInput
from wholefilm.base.misfit import misfit
from wholefilm.base.quantity import quantity
from wholefilm.base.sources import Grade, Source
from wholefilm.climate.requirement import ClimateRequired, read_climate
from wholefilm.film.acceptance import FORMS as THICKNESS_FORMS
from wholefilm.film.acceptance import NominalShare, PointsOnly, ShareFloor, SpotAndArea, ThicknessRange
from wholefilm.job.facts import Fact, Job
from wholefilm.rules.limits import read_limits

from .asked import People, Permissions, Rate, Roles, check_asked
from .cited import Cited, is_cited, read_cited
from .states import Requirement


class Coverage(msgspec.Struct, frozen=True, tag_field="form", tag="coverage", forbid_unknown_fields=True):
    """A share of the surface is tested."""

    share: str


class CheckInterval(msgspec.Struct, frozen=True, tag_field="form", tag="check_interval", forbid_unknown_fields=True):
    """The longest time between two as-found readings, and their tolerance."""

    longest: str | None = None
    tolerance: str | None = None


class Cure(msgspec.Struct, frozen=True, tag_field="form", tag="cure", forbid_unknown_fields=True):
    """Nothing is tested before the cure that this table gives."""

    by: str


class Holds(msgspec.Struct, frozen=True, tag_field="form", tag="holds", forbid_unknown_fields=True):
    """Hold points: work stops there until a named person releases it."""

    points: list[str]


FORMS = (*THICKNESS_FORMS, Coverage, CheckInterval, Cure, Holds, Permissions, People, Rate, Roles, ClimateRequired)
_Form = (
    ThicknessRange
    | SpotAndArea
    | NominalShare
    | ShareFloor
    | PointsOnly
    | Coverage
    | CheckInterval
    | Cure
    | Holds
    | Permissions
    | People
    | Rate
    | Roles
)


def read_rule(rule: dict[str, Any]) -> Any:
    """Read the rule of a requirement, strictly.

    Raises
    ------
    BadInput
        If the form is unknown, a key is unknown or a quantity cannot be read.
    """
    if is_cited(rule):
        return read_cited(rule)
    if rule.get("form") == "limits":
        return read_limits({k: v for k, v in rule.items() if k != "source"})
    if rule.get("form") == "climate":
        return read_climate({k: v for k, v in rule.items() if k != "source"})
    try:
        found = msgspec.convert({k: v for k, v in rule.items() if k != "source"}, _Form, strict=True)
    except msgspec.ValidationError as error:
        names = ["limits", *(str(f.__struct_config__.tag) for f in FORMS)]
        raise misfit(error, rule, "rule", forms=names, page="docs/reference/requirements.md") from error
    for name, dimension in (("min", "length"), ("max", "length"), ("share", "share"), ("longest", "time"), ("tolerance", "share")):
        text = getattr(found, name, None)
        if text is not None:
            quantity(text, dimension, f"rule.{name}")
    if isinstance(found, THICKNESS_FORMS):
        found.check()
    check_asked(found)
    return found


def requirements(job: Job) -> list[Requirement]:
    """Every requirement noted, with the latest decision about it, in the order noted."""
    decisions: dict[str, Fact] = {f.body.noted: f for f in job.all("requirement.decided")}
    return [_one(job, fact, decisions.get(fact.id)) for fact in job.all("requirement.noted")]


def _one(job: Job, fact: Fact, decided: Fact | None) -> Requirement:
    body = fact.body
    source = Source(body.document, body.edition, Grade(body.grade), body.clause or "", body.page or "")
    given = decided.body.rule if decided else body.rule
    rule, why_not = None, ""
    if given is not None:
        try:
            rule = read_rule(given)
        except BadInput as error:
            why_not = str(error)
    held = rule is not None and not isinstance(rule, Cited)  # a cited voltage rule is compared; the voltage sheet is what is held
    if held and not source.grade.choosable and not (decided and decided.body.confirmed):
        why_not = f"its grade is {source.grade.value}: shown for comparison until confirmed from an own copy"
    groups = [list(g) for g in (decided.body.counts_as_one or [])] if decided else []
    return Requirement(
        fact,
        body.topic,
        source,
        rule,
        body.says,
        list(body.applies_to or []),
        body.stage or "",
        decided,
        groups,
        rule is not None and not why_not,
        why_not,
    )


def of_form(found: list[Requirement], form: type) -> list[Requirement]:
    """Usable requirements whose rule is of a form."""
    return [r for r in found if r.usable and isinstance(r.rule, form)]


def source_of(found: list[Requirement], form: type, otherwise: str) -> Source:
    """Source of the first requirement of a form; common practice where the contract is silent."""
    chosen = of_form(found, form)
    return chosen[0].source if chosen else Source("common practice", "", Grade.RESTATED, otherwise)
