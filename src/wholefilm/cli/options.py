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
Pressure = Annotated[str | None, typer.Option("--pressure", help="Air pressure on site, such as '955 hPa'.")]
Altitude = Annotated[str | None, typer.Option("--altitude", help="In place of --pressure, such as '1200 m'.")]
Temperature = Annotated[str | None, typer.Option("--temperature", help="Of the air, such as '31 degC'.")]
StrengthAt = Annotated[str | None, typer.Option("--strength-at", help="Thickness it was measured on.")]
Exponent = Annotated[str | None, typer.Option("--exponent", help="How it falls with thickness, 0 to 0.9.")]
ShareUsed = Annotated[str | None, typer.Option("--share", help="Share of it to use, such as '50 %'.")]
StrengthSource = Annotated[str | None, typer.Option("--strength-source", help="Data sheet, edition, page.")]
ClassOf = Annotated[str | None, typer.Option("--class", help="Class, for a rule that divides by one.")]
Approval = Annotated[str | None, typer.Option("--approval", help="Reference of the coating maker's written approval.")]
Name = Annotated[str, typer.Argument(metavar="NAME", help="Name of a job in the database.")]
ReceivedBy = Annotated[
    str | None,
    typer.Option("--received-by", help="On what this database had received by a time; later arrivals are left out.", metavar="TIME"),
]
Json = Annotated[bool, typer.Option("--json", help="Print the sheet as JSON.")]
By = Annotated[str, typer.Option("--by", help="Who acts: a person of the job by role, name or id.", metavar="PERSON")]
AtSite = Annotated[
    str | None, typer.Option("--at-site", help="When it happened, if not now: YYYY-MM-DD hh:mm in the job's time zone.", metavar="TIME")
]


def check_acts(by: str) -> None:
    """Refuse a command that records and does not say who acts.

    Raises
    ------
    BadInput
    """
    from wholefilm.base.errors import BadInput

    if not by:
        raise BadInput("--by", "nothing", "who acts: a person of the job by role, name or id")
