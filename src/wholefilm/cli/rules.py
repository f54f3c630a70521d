"""Commands about what documents say: rules list, show."""

from __future__ import annotations

from typing import Annotated

import typer

from .options import Json, leaving
from .tell import say, say_json


def list_(json: Json = False, word: Annotated[str, typer.Option("--word", help="Only ids and titles that hold this word.")] = "") -> int:
    """Every rule and clause on the shelf, with its grade. None is preferred."""
    from wholefilm.rules import load, load_limits

    rows = [(r.id, r.title, r.grade.value if r.grade else "no figure", ", ".join(r.editions)) for r in load().values()]
    clauses = [(c.id, c.title, "limits", ", ".join(c.editions)) for c in load_limits().values()]
    chosen = [x for x in [*rows, *clauses] if word.lower() in f"{x[0]} {x[1]}".lower()]
    if json:
        say_json([{"id": i, "title": t, "grade": g, "editions": e} for i, t, g, e in chosen])
        return 0
    for ident, title, grade, editions in chosen:
        say(f"{ident:<28} {grade:<10} {title} ({editions})")
    say("Grades: seen, restated, memory, derived, entered. What is restated or from memory is shown for comparison only,")
    say("until you confirm it from your own copy. Confirm every figure against the edition that your contract names.")
    return 0


def show(rule: Annotated[str, typer.Argument(metavar="RULE")], json: Json = False) -> int:
    """One rule: document, editions, range, figures with grades, doubts."""
    from wholefilm.base.errors import NotFound
    from wholefilm.rules import load_limits
    from wholefilm.rules import rule as find

    try:
        found = find(rule)
    except NotFound:
        if rule not in load_limits():
            raise
        clause = load_limits()[rule]
        rows = clause.describe()
    else:
        rows = found.describe()
    if json:
        say_json([{"label": label, "says": says} for label, says in rows])
        return 0
    width = max(len(k) for k, _ in rows)
    for key, value in rows:
        say(f"{key:<{width}}  {value}")
    return 0


def add(app: typer.Typer) -> None:
    """Add the commands of this file."""
    group = typer.Typer(no_args_is_help=False, invoke_without_command=True, rich_markup_mode=None, help="What documents say: list, show.")

    @group.callback()
    def root(context: typer.Context) -> None:
        if context.invoked_subcommand is None:
            list_()

    group.command("list")(leaving(list_))
    group.command("show")(leaving(show))
    app.add_typer(group, name="rules")
