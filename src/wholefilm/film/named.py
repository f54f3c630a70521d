"""A document's rule with the job's own figures in it: the whole rule as a job can name it, and where its figures come from."""

from __future__ import annotations

from collections.abc import Mapping

import msgspec

from wholefilm.base.errors import BadInput
from wholefilm.base.sources import Grade, Source
from wholefilm.rules.document import worst_grade
from wholefilm.rules.forms import Figure
from wholefilm.rules.thickness import Level, Nominal, Points, ShareAndFloor, SpotsAndAreas, ThicknessRule, grades_in, source_of

from .acceptance import ThicknessForm
from .nominal import NominalShare, ShareFloor
from .points import PointsOnly
from .spot_and_area import SpotAndArea

WANTED = {
    "spot_and_area": ("min", "max", "single", "level"),
    "nominal_share": ("nominal", "max", "strict", "profile", "base_metal"),
    "share_floor": ("nominal", "max", "strict", "share", "floor", "base_metal"),
    "points": (),
}


class NotRead(BadInput):
    """The figures asked for did not come with the program: the user enters them from an own copy."""


class Named(msgspec.Struct, frozen=True):
    """A rule that readings can be held against.

    Attributes
    ----------
    form : ThicknessForm
    source : Source
        With the worst grade of the figures that are used.
    """

    form: ThicknessForm
    source: Source


class Own(msgspec.Struct, frozen=True, omit_defaults=True):
    """Figures that the contract gives, as typed.

    Attributes
    ----------
    nominal, min, max : str or None
        Thicknesses with unit.
    level : int or None
    profile : str or None
        fine, medium, coarse or unknown.
    base_metal : str or None
        Reading on the bare surface.
    strict : bool or None
        Whether the share of low readings must lie under the figure.
    share, floor : str or None
    gauge_uncertainty, reference_uncertainty : str or None
    """

    nominal: str | None = None
    min: str | None = None
    max: str | None = None
    level: int | None = None
    profile: str | None = None
    base_metal: str | None = None
    strict: bool | None = None
    share: str | None = None
    floor: str | None = None
    gauge_uncertainty: str | None = None
    reference_uncertainty: str | None = None


def named_rule(rule: ThicknessRule, edition: str | None, own: Own, classes: list[str]) -> Named:
    """A document's rule with the contract's figures in it.

    Parameters
    ----------
    rule : ThicknessRule
    edition : str or None
        None is accepted where all editions known say the same.
    own : Own
    classes : list of str
        Classes of place that are judged.

    Returns
    -------
    Named

    Raises
    ------
    UnknownEdition
    NotRead
        If the level asked for has no figure here.
    BadInput
        If a figure is missing, is of no use to this rule, or makes no sense.
    """
    chosen = rule.edition(edition)
    uncertainties = {n: v for n in ("gauge_uncertainty", "reference_uncertainty") if (v := getattr(own, n))}
    form: ThicknessForm
    match rule.accept:
        case SpotsAndAreas():
            form, grades = _spots(rule, rule.accept, chosen, own, classes, uncertainties)
        case Nominal():
            form, grades = _nominal(rule, rule.accept, own, classes, uncertainties)
        case ShareAndFloor():
            form, grades = _share(rule, rule.accept, own, classes, uncertainties)
        case Points():
            _only(rule, own, "points", uncertainties)
            if rule.due is None:
                raise BadInput("rule", rule.id, "a rule with a number of points")
            form, grades = PointsOnly(classes=classes, due=rule.due), []
    form.check()
    return Named(form, source_of(rule, chosen, worst_grade([*grades, *grades_in(rule.due)])))


def _only(rule: ThicknessRule, own: Own, form: str, more: Mapping[str, str]) -> None:
    """Refuse figures that the rule has no use for."""
    wanted = WANTED[form]
    for name in Own.__struct_fields__:
        value = getattr(own, name)
        if value is not None and name not in wanted and name not in (more if form != "points" else ()):
            if name == "nominal" and "single" in wanted:
                continue
            said = ", ".join(w for w in wanted if w != "single") or "nothing of the kind"
            raise BadInput(name, value, f"left out: {rule.id} asks for {said}")


def _spots(
    rule: ThicknessRule, accept: SpotsAndAreas, edition: str, own: Own, classes: list[str], more: Mapping[str, str]
) -> tuple[SpotAndArea, list[Grade]]:
    _only(rule, own, "spot_and_area", more)
    level = rule.level(edition, own.level)
    if level.grade is None:
        raise NotRead("level", level.level, f"a level whose figures are known here; enter those of {rule.document} from your own copy")
    if own.nominal and (own.min or own.max):
        raise BadInput("nominal", own.nominal, "a range (min, max) or a single value, not both")
    if not (own.nominal or own.min or own.max):
        raise BadInput(
            "min", "nothing", f"min and max, or one of them, or nominal alone for a single value; {rule.id} is held against them"
        )
    if own.nominal and accept.single_value is None:
        raise BadInput("nominal", own.nominal, f"left out: what {rule.document} makes of a single value was not read; give min and max")
    single = {"single": own.nominal, "single_within": accept.single_value.value} if own.nominal and accept.single_value else {}
    form = SpotAndArea(
        classes=classes, min=own.min, max=own.max, spot_min=level.spot_min, spot_max=level.spot_max, area_min=level.area_min,
        area_max=level.area_max, readings_a_spot=accept.readings_a_spot.value, spots_an_area=accept.spots_an_area.value, due=rule.due,
        **single, **more,
    )  # fmt: skip
    parts: list[Level | Figure | None] = [level, accept.single_value if single else None]
    return form, [accept.readings_a_spot.grade, accept.spots_an_area.grade, *grades_in(parts)]


def _nominal(
    rule: ThicknessRule, accept: Nominal, own: Own, classes: list[str], more: Mapping[str, str]
) -> tuple[NominalShare, list[Grade]]:
    _only(rule, own, "nominal_share", more)
    correction = None
    if own.profile is not None:
        correction = accept.corrections.get(own.profile)
        if correction is None:
            raise BadInput("profile", own.profile, f"one of {', '.join(accept.corrections)}")
    strict = own.strict if own.strict is not None else accept.strict.value if accept.strict else None
    form = NominalShare(
        classes=classes, nominal=_needed(rule, own.nominal), floor=accept.floor.value, low_share=accept.low_share.value,
        mean=accept.mean.value, strict=strict, max=own.max,
        max_of_nominal=accept.max_of_nominal.value if accept.max_of_nominal and not own.max else None,
        least_nominal=accept.least_nominal.value if accept.least_nominal else None,
        correction=correction.value if correction else None, base_metal=own.base_metal, due=rule.due, **more,
    )  # fmt: skip
    used = [accept.mean, accept.floor, accept.low_share, correction, accept.max_of_nominal if not own.max else None]
    return form, grades_in(used)


def _share(
    rule: ThicknessRule, accept: ShareAndFloor, own: Own, classes: list[str], more: Mapping[str, str]
) -> tuple[ShareFloor, list[Grade]]:
    _only(rule, own, "share_floor", more)
    figures = {}
    for name, figure in (("share", accept.share), ("floor", accept.floor)):
        mine = getattr(own, name)
        if figure is not None and mine is not None:
            raise BadInput(name, mine, f"left out: {rule.id} says {figure.value}")
        if figure is None and mine is None:
            raise BadInput(name, "nothing", f"the {name} that the contract gives, such as '85 %'; {rule.id} has no figure of its own")
        figures[name] = figure.value if figure else str(mine)
    strict = own.strict if own.strict is not None else accept.strict.value if accept.strict else None
    form = ShareFloor(
        classes=classes,
        nominal=_needed(rule, own.nominal),
        strict=strict,
        max=own.max,
        base_metal=own.base_metal,
        due=rule.due,
        **figures,
        **more,
    )
    return form, grades_in([accept.share, accept.floor])


def _needed(rule: ThicknessRule, nominal: str | None) -> str:
    if not nominal:
        raise BadInput("nominal", "nothing", f"the nominal thickness that the contract gives, with its unit; {rule.id} is held against it")
    return nominal
