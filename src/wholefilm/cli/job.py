"""Commands about jobs as a whole: job list, show, new."""

from __future__ import annotations

from typing import Annotated

import typer

from .options import AsOf, Database, JobArg, Json, ReceivedBy, leaving
from .tell import CODES, say, say_json, say_table, warn_broken


def list_(json: Json = False, database: Database = None) -> int:
    """List the jobs of the database."""
    from wholefilm.services.database import open_store
    from wholefilm.services.library import Library

    store, url = open_store(database)
    try:
        lines = Library(store).names()
    finally:
        store.close()
    if json:
        say_json(lines)
    elif not lines:
        say(f"No job in {url} yet. Try: wholefilm job new NAME ..., wholefilm load FILE, or wholefilm demo")
    for line in [] if json else lines:
        say(f"{line.name:<24} {line.assessment.replace('_', ' '):<15} {line.as_of[:16].replace('T', ' ')}  {line.title}")
    return 0


SHEETS = (
    "job",
    "requirements",
    "voltage",
    "readings",
    "climate",
    "checks",
    "doubt",
    "cure",
    "test",
    "holidays",
    "repairs",
    "assessment",
    "statistics",
    "people",
    "days",
)


def show(
    job: JobArg,
    sheet: Annotated[str, typer.Option("--sheet", metavar="NAME", help=", ".join(SHEETS))] = "job",
    as_of: AsOf = None,
    received_by: ReceivedBy = None,
    json: Json = False,
    database: Database = None,
) -> int:
    """Show one sheet of a job, by default its first page. Exit as for assess."""
    from wholefilm.services.show import sheet_of
    from wholefilm.services.view import view

    found = view(job, as_of, database, received_by)
    warn_broken(found.found)
    made = sheet_of(found, sheet)
    if json:
        say_json(made)
        return CODES[found.assessment.assessment]
    if sheet == "job":
        say(made.title)
        say(made.sentence)
        say(made.sub)
        if received_by:
            say(f"On what this database had received by {received_by}.")
        say()
        for n, line in enumerate(made.margin, start=1):
            say(f"  {n}  {line.says}" + (f"\n     {line.detail}" if line.detail else ""))
        for line in made.notes:
            say(f"  -  {line.says}" + (f"\n     {line.detail}" if line.detail else ""))
        say()
    for table in made.tables():
        say_table(table)
        say()
    return CODES[found.assessment.assessment]


def new(
    name: Annotated[str, typer.Argument(metavar="NAME", help="Short name: lower-case letters, digits, hyphens.")],
    title: Annotated[str, typer.Option("--title", help="Title of the job.")],
    contract: Annotated[str, typer.Option("--contract", help="Contract or specification, with its revision.")],
    person: Annotated[str, typer.Option("--person", help="Your name, as on your card.")],
    role: Annotated[list[str], typer.Option("--role", help="Your role, such as 'QC inspector'; may be repeated.")],
    letter: Annotated[str, typer.Option("--letter", help="Letter of this device's wall numbers.")] = "A",
    time_zone: Annotated[str, typer.Option("--time-zone", help="Such as Europe/Berlin.")] = "UTC",
    certificate: Annotated[str, typer.Option("--certificate", help="Your certificate, for the card.")] = "",
    database: Database = None,
) -> int:
    """Open a new job."""
    from wholefilm.services.database import open_store
    from wholefilm.services.open_job import NewJob, open_job

    store, url = open_store(database)
    try:
        opened = open_job(
            store,
            url,
            NewJob(
                name=name,
                title=title,
                contract=contract,
                person=person,
                roles=role,
                letter=letter,
                time_zone=time_zone,
                certificate=certificate,
            ),
        )
    finally:
        store.close()
    say(f"opened: {name} ({opened.id}); you are {person}, {', '.join(role)}; wall numbers begin with {letter}")
    say(
        f"next: wholefilm record {name} requirement.noted topic=coverage document=... edition=... grade=entered says='...' --by '{role[0]}'"
    )
    return 0


def add(app: typer.Typer) -> None:
    """Add the commands of this file."""
    group = typer.Typer(no_args_is_help=True, rich_markup_mode=None, help="Open a job, list jobs, show one.")
    group.command("list")(leaving(list_))
    group.command("show")(leaving(show))
    group.command("new")(leaving(new))
    app.add_typer(group, name="job")
