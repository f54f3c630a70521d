"""Options that several commands share."""

from __future__ import annotations

import functools
from collections.abc import Callable
from typing import Annotated, ParamSpec

import typer

P = ParamSpec("P")


def leaving(command: Callable[P, int]) -> Callable[P, None]:
    """A command whose result is the exit code of the program."""

    @functools.wraps(command)
    def run(*args: P.args, **kwargs: P.kwargs) -> None:
        raise typer.Exit(command(*args, **kwargs))

    return run


Database = Annotated[
    str | None,
    typer.Option(
        "--database", help="Address of the database; else WHOLEFILM_DATABASE, else one SQLite file in your data folder.", metavar="URL"
    ),
]
JobArg = Annotated[str, typer.Argument(metavar="JOB", help="Path of a job file, or name of a job in the database.")]
AsOf = Annotated[str | None, typer.Option("--as-of", help="As it stood at a time, or at an entry (its id).", metavar="T|ENTRY")]
ReceivedBy = Annotated[
    str | None,
    typer.Option("--received-by", help="On what this database had received by a time; later arrivals are left out.", metavar="TIME"),
]
Json = Annotated[bool, typer.Option("--json", help="Print the sheet as JSON.")]
By = Annotated[str, typer.Option("--by", help="Who acts: a person of the job by role, name or id.", metavar="PERSON")]
AtSite = Annotated[
    str | None, typer.Option("--at-site", help="When it happened, if not now: YYYY-MM-DD hh:mm in the job's time zone.", metavar="TIME")
]
