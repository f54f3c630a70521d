"""The command before a test: ready."""

from __future__ import annotations

from typing import Annotated

import typer

from .options import AsOf, Database, JobArg, Json, leaving
from .tell import say, say_json, say_table

CODES = {"met": 0, "not_met": 1, "cannot_tell": 3}


def ready(
    job: JobArg,
    area: Annotated[str, typer.Argument(metavar="AREA", help="A test area, panel or item, or a repair number such as R-01.")],
    as_of: AsOf = None,
    at: Annotated[
        str | None,
        typer.Option(
            "--at", metavar="TIME", help="When the test would begin: YYYY-MM-DD hh:mm in the job's time zone; else now, or --as-of."
        ),
    ] = None,
    tester: Annotated[
        str, typer.Option("--tester", metavar="NAME", help="The tester; else the one last checked at the sheet's setting.")
    ] = "",
    stage: Annotated[str, typer.Option("--stage", help="Stage of the test.")] = "final",
    operator: Annotated[str, typer.Option("--operator", metavar="PERSON", help="Who will hold the tester: role, name or id.")] = "",
    json: Json = False,
    database: Database = None,
) -> int:
    """Look before a test what is missing. Each need, why, what supplies it. Exit 0 ready by the record, 1 not ready, 3 cannot tell."""
    from wholefilm.services.ready import ready_list

    sheet = ready_list(job, area, as_of, at, tester, stage, operator, database)
    if json:
        say_json(sheet)
        return CODES[sheet.finding]
    say(sheet.title)
    say(sheet.sentence)
    say(f"stage {sheet.stage}, tester {sheet.tester or 'not known'}, set {sheet.setting or 'not known'}")
    say()
    for table in sheet.tables():
        say_table(table)
        say()
    for remark in sheet.remarks:
        say(f"Remark: {remark}")
    for caution in sheet.cautions:
        say(caution)
    return CODES[sheet.finding]


def add(app: typer.Typer) -> None:
    """Add the command of this file."""
    app.command("ready")(leaving(ready))
