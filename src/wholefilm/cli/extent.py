"""The command about the extent of a nonconforming area of film."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from .options import Json, leaving
from .tell import say, say_json


def extent(
    file: Annotated[Path, typer.Argument(metavar="FILE", help="CSV with columns x and y in m, and value; an empty value: not measurable.")],
    rule: Annotated[str, typer.Option("--rule", metavar="ID", help="SSPC-PA2/um or SSPC-PA2/mil.")],
    start: Annotated[str, typer.Option("--from", metavar="'X m, Y m'", help="Place of the nonconforming spot on the map.")],
    min_: Annotated[str | None, typer.Option("--min", metavar="V", help="Least specified, such as '600 um'.")] = None,
    max_: Annotated[str | None, typer.Option("--max", metavar="V", help="Most specified.")] = None,
    edition: Annotated[str | None, typer.Option("--edition", metavar="E", help="Edition, by name where editions differ.")] = None,
    unit: Annotated[str | None, typer.Option("--unit", metavar="U", help="Unit of the values; that of the rule if left out.")] = None,
    json: Json = False,
) -> int:
    """Where to measure next about a nonconforming spot. Exit 0 every direction has ended, 3 not yet."""
    from wholefilm.services.extent import extent_of

    a = extent_of(file, rule, start, min_, max_, edition, unit)
    code = 0 if a.over else 3
    if json:
        say_json(a)
        return code
    say(f"{a.says}.")
    for spot in a.spots:
        word = spot.state.replace("_", " ")
        say(f"  direction {spot.direction + 1}, {spot.step * a.step_m:.1f} m out, at x {spot.first:.2f} m, y {spot.second:.2f} m: {word}")
    bad = "; ".join(f"{x:.2f}, {y:.2f}" for x, y in a.nonconforming)
    say(f"nonconforming: all within {a.radius_m:.1f} m of {bad} (x, y in m)")
    if a.elsewhere:
        say(f"readings at no spot of the search: {a.elsewhere}")
    say(f"source: {a.rule}. Shown for comparison until you confirm it from your own copy.")
    return code


def add(app: typer.Typer) -> None:
    """Add the command of this file."""
    app.command("extent")(leaving(extent))
