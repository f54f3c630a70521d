"""`wholefilm`: the commands, and what their exit codes mean.

0 done, meets, intact, ready; 1 does not meet, not intact, not ready; 2 bad input; 3 cannot tell; 70 internal error.
"""

from __future__ import annotations

import gc
import os
import sys
from typing import Annotated

import typer

from . import climate, day, extent, files, job, judge, readings, ready, record, rules, setting, start, surface, thickness, voltage
from .tell import tell_error

HELP = """Plan, record, judge and hand over a holiday test on a protective coating.

JOB is the path of a job file (.jsonl, .zip) or the name of a job in the database.
Exit codes: 0 done, meets, intact; 1 does not meet, not intact; 2 bad input; 3 cannot tell; 70 internal error.
"""

VARIABLE = "WHOLEFILM_DATABASE"
Before = Annotated[str | None, typer.Option("--database", help="Address of the database for the command that follows.", metavar="URL")]

app = typer.Typer(
    name="wholefilm",
    no_args_is_help=True,
    add_completion=False,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
)


@app.callback(help=HELP)
def before(context: typer.Context, database: Before = None) -> None:
    """Take an address of the database that stands before the command; one after it goes first."""
    if not database:
        return
    was = os.environ.get(VARIABLE)
    os.environ[VARIABLE] = database

    def put_back() -> None:
        del os.environ[VARIABLE]
        if was is not None:
            os.environ[VARIABLE] = was

    context.call_on_close(put_back)


start.add(app)
job.add(app)
record.add(app)
ready.add(app)
readings.add(app)
judge.add(app)
files.add(app)
rules.add(app)
thickness.add(app)
extent.add(app)
climate.add(app)
voltage.add(app)
setting.add(app)
day.add(app)
surface.add(app)


def run() -> None:
    """Run the command line and leave with its exit code."""
    gc.set_threshold(200_000, 20, 20)  # entries come by the ten thousand and hold no circles
    try:
        app()
    except Exception as error:
        sys.exit(tell_error(error))
