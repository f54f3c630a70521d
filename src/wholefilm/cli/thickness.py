"""The command about film thickness: a file of readings held against a document's rule."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from .options import Json, leaving
from .tell import say, say_json

if TYPE_CHECKING:
    from wholefilm.services.thickness import Due, ThicknessAnswer

EXITS = {"met": 0, "not_met": 1, "cannot_tell": 3}


def thickness(
    file: Annotated[Path, typer.Argument(metavar="FILE", help="CSV with a column value; optional spot, class, place.")],
    rule: Annotated[str, typer.Option("--rule", metavar="ID", help="A rule of the shelf: wholefilm rules list --word thickness.")],
    nominal: Annotated[str | None, typer.Option("--nominal", metavar="V", help="Nominal or single thickness, such as '320 um'.")] = None,
    min_: Annotated[str | None, typer.Option("--min", metavar="V", help="Least specified, such as '8 mil'.")] = None,
    max_: Annotated[str | None, typer.Option("--max", metavar="V", help="Most specified, such as '12 mil'.")] = None,
    level: Annotated[int | None, typer.Option("--level", metavar="N", help="Restriction level, where the edition has levels.")] = None,
    area: Annotated[str | None, typer.Option("--area", metavar="A", help="Coated area, such as '500 m2': how many are due.")] = None,
    unit: Annotated[str | None, typer.Option("--unit", metavar="U", help="Unit of the values: um, mil or mm.")] = None,
    encoding: Annotated[
        str | None, typer.Option("--encoding", metavar="E", help="Of the file; else its byte order mark, else UTF-8.")
    ] = None,
    edition: Annotated[str | None, typer.Option("--edition", metavar="E", help="Edition, by name where editions differ.")] = None,
    profile: Annotated[
        str | None, typer.Option("--profile", metavar="P", help="Take off for the profile: fine, medium, coarse, unknown.")
    ] = None,
    base_metal: Annotated[
        str | None, typer.Option("--base-metal", metavar="V", help="Reading on the bare surface to take off; never with --profile.")
    ] = None,
    strict: Annotated[
        bool | None, typer.Option("--strict/--no-strict", help="The share of low readings lies under the figure, or may equal it.")
    ] = None,
    share: Annotated[
        str | None, typer.Option("--share", metavar="S", help="SHARE-FLOOR: share at or above nominal, such as '85 %'.")
    ] = None,
    floor: Annotated[str | None, typer.Option("--floor", metavar="S", help="SHARE-FLOOR: floor for the rest, such as '85 %'.")] = None,
    class_: Annotated[list[str] | None, typer.Option("--class", metavar="C", help="Only this class; may be repeated.")] = None,
    gauge: Annotated[str | None, typer.Option("--gauge-uncertainty", metavar="U", help="Such as '3 %' or '2 um'.")] = None,
    reference: Annotated[str | None, typer.Option("--reference-uncertainty", metavar="U", help="Such as '1 %' or '1 um'.")] = None,
    json: Json = False,
) -> int:
    """Hold thickness readings against a rule. Exit 0 met, 1 not met, 3 cannot tell."""
    from wholefilm.base.errors import BadInput
    from wholefilm.film.named import Own
    from wholefilm.services.thickness import judge_file

    own = Own(nominal, min_, max_, level, profile, base_metal, strict, share, floor, gauge, reference)
    try:
        answer = judge_file(file, rule, own, area=area, unit=unit, edition=edition, classes=class_ or (), encoding=encoding)
    except BadInput as error:
        if _option(error.field) == error.field:
            raise
        raise type(error)(_option(error.field), error.value, error.allowed) from error
    if json:
        say_json(answer)
    else:
        _print(answer, profile or "")
    return EXITS[answer.finding]


def _option(field: str) -> str:
    """A field as the option that it was typed with."""
    name = field.removeprefix("rule.")
    options = {
        "single": "--nominal", "correction": "--profile", "rule": "--rule", "edition": "--edition", "class": "--class",
        "nominal": "--nominal", "min": "--min", "max": "--max", "level": "--level", "area": "--area", "unit": "--unit",
        "profile": "--profile", "base_metal": "--base-metal", "strict": "--strict", "share": "--share", "floor": "--floor",
        "gauge_uncertainty": "--gauge-uncertainty", "reference_uncertainty": "--reference-uncertainty",
    }  # fmt: skip
    return options.get(name, field)


def _print(a: ThicknessAnswer, profile: str = "") -> None:
    finding = a.finding.value.replace("_", " ") + (", inside uncertainty" if a.inside_uncertainty else "")
    compared = "" if a.rule.grade.choosable else f"for comparison, the rule is graded {a.rule.grade.value}: "
    say(f"{compared}{finding}: {a.because}")
    say()
    say(f"value     {a.value}" + (f" (profile {profile})" if profile else ""))
    say(f"limit     {a.limit}")
    say(f"source    {a.rule}")
    if a.n:
        figures = f"n {a.n}, mean {a.mean_um:.1f} um, s {a.sd_um:.1f} um, {a.min_um:.1f} to {a.max_um:.1f} um"
        say(f"all       {figures}; read in {a.unit} ({a.unit_from})")
    say(f"due       {_number(a.due) or 'not said'}; there {_number(a.there) or 'nothing'}")
    if not a.rule.grade.choosable:
        say(f"The rule is graded {a.rule.grade.value}: shown for comparison until you confirm it from your own copy.")


def _number(due: Due) -> str:
    from wholefilm.base.findings import count_of

    parts = [count_of(n, what) for n, what in ((due.areas, "area"), (due.spots, "spot"), (due.readings, "reading")) if n]
    if due.repeats is not None:
        parts.append(f"at most {due.repeats} repeated")
    return ", ".join(parts)


def add(app: typer.Typer) -> None:
    """Add the command of this file."""
    app.command("thickness")(leaving(thickness))
