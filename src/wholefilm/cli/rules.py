"""Commands about what documents say: rules list, show."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from .options import AtSite, By, Database, Json, Name, check_acts, leaving
from .tell import say, say_json

if TYPE_CHECKING:
    from wholefilm.rules.document import Rule

Clause = Annotated[str, typer.Option("--clause", help="Clause of the contract that cites it.")]
For = Annotated[list[str] | None, typer.Option("--for", help="Test area that it is for; may be repeated. None: all.")]


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


def cite(
    name: Name,
    rule: Annotated[str, typer.Argument(metavar="RULE:EDITION", help="Rule of the shelf with its edition; see rules show.")],
    page: Annotated[str | None, typer.Option("--page", help="Page of your own copy, where you confirm the rule from it.")] = None,
    read_by: Annotated[str | None, typer.Option("--read-by", help="Who read that page.")] = None,
    read_on: Annotated[str | None, typer.Option("--read-on", help="On which day, YYYY-MM-DD.")] = None,
    clause: Clause = "",
    for_: For = None,
    by: By = "",
    at_site: AtSite = None,
    database: Database = None,
) -> int:
    """Cite a voltage rule of the shelf in a job. What is restated or remembered is compared only, until you confirm it."""
    from wholefilm.services.cite import confirmation, shelf_rule

    found, edition = shelf_rule(rule)
    return _cited(name, found, edition, by, confirmation(page, read_by, read_on), clause, for_, at_site, database)


def enter(
    name: Name,
    file: Annotated[
        Path, typer.Argument(metavar="FILE", help="TOML file with one rule of your own copy; see docs/reference/own-rules.md.")
    ],
    edition: Annotated[str | None, typer.Option("--edition", help="Where the file names several.")] = None,
    clause: Clause = "",
    for_: For = None,
    by: By = "",
    at_site: AtSite = None,
    database: Database = None,
) -> int:
    """Enter a voltage rule from your own copy into a job. Page, reader and day stand in the file; then it is a rule like any other."""
    from wholefilm.services.cite import rule_of_file

    found, chosen = rule_of_file(file, edition)
    return _cited(name, found, chosen, by, None, clause, for_, at_site, database)


def _cited(
    name: str, rule: Rule, edition: str, by: str, confirmed: dict[str, str] | None, clause: str, for_: list[str] | None,
    at_site: str | None, database: str | None,
) -> int:  # fmt: skip
    from wholefilm.services.cite import cite as write
    from wholefilm.services.database import open_store

    check_acts(by)
    store, url = open_store(database)
    try:
        done = write(store, url, name, rule, edition, by, confirmed=confirmed, clause=clause, applies_to=for_ or (), at_site=at_site)
    finally:
        store.close()
    may = "may be chosen" if rule.choosable or confirmed else "is shown for comparison until it is confirmed from your own copy"
    say(f"recorded: {rule.id}, {rule.document} {edition}, cited in {name}; it {may} (entry {done.entry.id})")
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
    group.command("cite")(leaving(cite))
    group.command("enter")(leaving(enter))
    app.add_typer(group, name="rules")
