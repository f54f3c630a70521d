"""Commands about what documents say: rules list, show."""

from __future__ import annotations

from typing import Annotated

import typer

from .options import Json, leaving
from .tell import say, say_json


def list_(json: Json = False, word: Annotated[str, typer.Option("--word", help="Only ids and titles that hold this word.")] = "") -> int:
    """List every rule and clause on the shelf. Each with its grade; none is preferred."""
    from wholefilm.rules import load, load_limits
    from wholefilm.rules.climate import load_climate
    from wholefilm.rules.thickness import load_thickness

    rows = [(r.id, r.title, r.grade.value if r.grade else "no figure", ", ".join(r.editions)) for r in load().values()]
    clauses = [(c.id, c.title, "limits", ", ".join(c.editions)) for c in load_limits().values()]
    climate = [(c.id, c.title, c.grade.value, ", ".join(c.editions)) for c in load_climate().values()]
    film = [(t.id, t.title, t.grade.value if t.grade else "no figure", ", ".join(t.editions)) for t in load_thickness().values()]
    chosen = [x for x in [*rows, *climate, *film, *clauses] if word.lower() in f"{x[0]} {x[1]}".lower()]
    if json:
        say_json([{"id": i, "title": t, "grade": g, "editions": e} for i, t, g, e in chosen])
        return 0
    if not chosen:
        say(f"No id or title holds {word!r}; without --word all {len(rows) + len(climate) + len(film) + len(clauses)} are listed.")
        return 0
    for ident, title, grade, editions in chosen:
        say(f"{ident:<28} {grade:<10} {title}" + (f" ({editions})" if editions else ""))
    say("Grades: seen, restated, memory, derived, entered. What is restated or from memory is shown for comparison only,")
    say("until you confirm it from your own copy. Confirm every figure against the edition that your contract names.")
    return 0


def show(
    rule: Annotated[str, typer.Argument(metavar="RULE", help="Id of a rule or clause, as rules list shows it.")], json: Json = False
) -> int:
    """Show one rule. Document, editions, range, figures with their grades, and what is doubtful."""
    from wholefilm.rules import load, load_limits
    from wholefilm.rules.climate import load_climate
    from wholefilm.rules.loader import by_id as find
    from wholefilm.rules.thickness import load_thickness

    shelves = (load(), load_limits(), load_climate(), load_thickness())
    rows = find({name: each.describe for shelf in shelves for name, each in shelf.items()}, rule, "rule")()
    if json:
        say_json([{"label": label, "says": says} for label, says in rows])
        return 0
    width = max(len(k) for k, _ in rows)
    for key, value in rows:
        say(f"{key:<{width}}  {value}")
    return 0


def add(app: typer.Typer) -> None:
    """Add the commands of this file."""
    group = typer.Typer(
        no_args_is_help=False,
        invoke_without_command=True,
        rich_markup_mode=None,
        help="See what documents say, with the grade of every figure.",
    )

    @group.callback()
    def root(context: typer.Context) -> None:
        if context.invoked_subcommand is None:
            list_()

    group.command("list")(leaving(list_))
    group.command("show")(leaving(show))
    app.add_typer(group, name="rules")
