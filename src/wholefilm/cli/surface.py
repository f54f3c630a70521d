"""The command about shapes: what is its area, and how large is its map."""

from __future__ import annotations

from typing import Annotated

import typer

from .options import Json, leaving
from .tell import say, say_json

_MOST_LINES = 20


def surface(
    shape: Annotated[str, typer.Argument(metavar="SHAPE", help="A shape, or 'list' for all with their keys.")],
    words: Annotated[list[str] | None, typer.Argument(metavar="KEY=VALUE...", help="Dimensions, such as diameter='2.4 m'.")] = None,
    json: Json = False,
) -> int:
    """Area of a shape from few numbers, its parts, and the size of its developed map."""
    from wholefilm.base.errors import BadInput
    from wholefilm.services.surface import shapes, work_out

    if shape == "list":
        if words:
            raise BadInput("KEY=VALUE", words[0], "nothing after 'list'")
        lines = shapes()
        if json:
            say_json(lines)
            return 0
        for line in lines:
            say(f"{line.shape:<15} {line.says}")
            say(f"{'':<15} wholefilm surface {line.example}")
        return 0
    answer = work_out(shape, words or [])
    if json:
        say_json(answer)
        return 0
    say(f"{answer.area_m2:.3f} m2   {answer.shape}: {answer.says}")
    for part in answer.parts[:_MOST_LINES]:
        size = f", map {part.map.width_m:.3f} m by {part.map.height_m:.3f} m" if part.map else ", no flat map"
        say(f"  {part.name:<14} {part.area_m2:.3f} m2{size}")
    if len(answer.parts) > _MOST_LINES:
        say(f"  ... and {len(answer.parts) - _MOST_LINES} more parts")
    say(f"formula: {answer.formula.says}")
    say(f"source: {answer.formula.document} [{answer.formula.grade}]")
    if answer.note:
        say(f"note: {answer.note}")
    return 0


def add(app: typer.Typer) -> None:
    """Add the command of this file."""
    app.command("surface")(leaving(surface))
