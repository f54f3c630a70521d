"""The command about one day of a job: its draft report, written from the entries."""

from __future__ import annotations

from typing import Annotated

import typer

from .options import AsOf, Database, JobArg, Json, leaving
from .tell import say, say_json, say_table, warn_broken


def day(
    job: JobArg,
    date: Annotated[str, typer.Argument(metavar="DATE", help="Calendar day of the site, YYYY-MM-DD.")],
    as_of: AsOf = None,
    json: Json = False,
    database: Database = None,
) -> int:
    """Write the daily report of one day from its entries. Read it, then close the day with your own words and the marks counted."""
    from wholefilm.services.day import day_of

    found, sheet = day_of(job, date, as_of, database)
    warn_broken(found)
    if json:
        say_json(sheet)
        return 0
    say(f"{sheet.date}")
    for line in sheet.summary:
        say(f"  {line}")
    counted = "not counted yet" if sheet.marks_counted is None else f"{sheet.marks_counted} counted"
    say(
        f"  Marks that should stand on the wall: {sheet.marks_expected}; {counted}."
        + (f" {_numbers(sheet.numbers)}" if sheet.numbers else "")
    )
    if sheet.narrative:
        say(f"  The inspector tells: {sheet.narrative}")
    for line in sheet.late:
        say(f"  entered later: {line}")
    say()
    for table in sheet.tables():
        say_table(table)
        say()
    if not sheet.narrative:
        say("To close it: wholefilm record NAME day.closed date=" + sheet.date + " narrative='...' marks_counted=N --by PERSON")
    say(f"To sign it: wholefilm record NAME signed scope='day {sheet.date}' statement='...' reservations=[] role='...' --by PERSON")
    return 0


def _numbers(numbers: list[str], most: int = 40) -> str:
    return ", ".join(numbers[:most]) + (f" and {len(numbers) - most} more" if len(numbers) > most else "")


def add(app: typer.Typer) -> None:
    """Add the command of this file."""
    app.command("day")(leaving(day))
