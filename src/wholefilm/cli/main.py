"""`wholefilm`: the commands, and what their exit codes mean.

0 done, meets, intact, ready; 1 does not meet, not intact, not ready; 2 bad input; 3 cannot tell; 70 internal error.
"""

from __future__ import annotations

import sys

import typer

from . import files, job, judge, record, rules, start
from .tell import tell_error

UsageError: type[typer.BadParameter] = typer.BadParameter.__bases__[0]
"""Words on the command line that no command takes: unknown, missing, not of the type."""

app = typer.Typer(
    name="wholefilm",
    no_args_is_help=True,
    add_completion=False,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
    help="Plan, record, judge and hand over a holiday test on a protective coating.\n\nJOB is the path of a job file (.jsonl, .zip) or the name of a job in the database.\nExit codes: 0 done, meets, intact; 1 does not meet, not intact; 2 bad input; 3 cannot tell; 70 internal error.",
)
start.add(app)
job.add(app)
record.add(app)
judge.add(app)
files.add(app)
rules.add(app)


def run() -> None:
    """Run the command line and leave with its exit code."""
    try:
        code = app(standalone_mode=False)
    except typer.Abort:
        code = 130
    except UsageError as error:
        error.show()
        code = 2
    except Exception as error:
        code = tell_error(error)
    sys.exit(code if isinstance(code, int) else 0)
