"""`wholefilm`: the commands, and what their exit codes mean.

0 done, meets, intact, ready; 1 does not meet, not intact, not ready; 2 bad input; 3 cannot tell; 70 internal error.
"""

from __future__ import annotations

import gc
import sys

import typer

from . import climate, day, extent, files, job, judge, readings, ready, record, rules, start, surface, thickness, voltage
from .tell import tell_error

HELP = """Plan, record, judge and hand over a holiday test on a protective coating.

JOB is the path of a job file (.jsonl, .zip) or the name of a job in the database.
Exit codes: 0 done, meets, intact; 1 does not meet, not intact; 2 bad input; 3 cannot tell; 70 internal error.
"""

app = typer.Typer(
    name="wholefilm",
    no_args_is_help=True,
    add_completion=False,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
    help=HELP,
)
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
day.add(app)
surface.add(app)


def run() -> None:
    """Run the command line and leave with its exit code."""
    gc.set_threshold(200_000, 20, 20)  # entries come by the ten thousand and hold no circles
    try:
        app()
    except Exception as error:
        sys.exit(tell_error(error))
