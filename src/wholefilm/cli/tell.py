"""Printing: tables for a reader, JSON for a program, and errors in one sentence."""

from __future__ import annotations

import sys
import traceback
from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Callable

    from wholefilm.services.find import Found
    from wholefilm.sheets.rows import Table

CODES = {"meets": 0, "does_not_meet": 1, "cannot_tell": 3}
BAD_INPUT, BROKEN, INTERNAL = 2, 1, 70


def tell_error(error: Exception) -> int:
    """Print an error to standard error and give its exit code."""
    from wholefilm.base.errors import BadInput, Broken, Conflict, Needs, WholefilmError

    if isinstance(error, Needs):
        print("Not recorded. What is missing:", file=sys.stderr)
        for need, says in error.sentences:
            print(f"  {need}: {says}", file=sys.stderr)
        if error.untold:
            print(
                "What the record does not tell; it refuses nothing, and stands on the exceptions page if begun so:",
                file=sys.stderr,
            )
        for need, says in error.untold:
            print(f"  {need}: {says}", file=sys.stderr)
        if error.liftable:
            print("If it was done all the same on a written instruction, add although.needs=NEED although.why='...'", file=sys.stderr)
            print("although.instruction=ID (or although.told=slate); it is stored as what it is and never counts as good.", file=sys.stderr)
        return BAD_INPUT
    if isinstance(error, BadInput | Conflict):
        print(error, file=sys.stderr)
        return BAD_INPUT
    if isinstance(error, Broken):
        print(error, file=sys.stderr)
        return BROKEN
    if isinstance(error, WholefilmError):
        print(error, file=sys.stderr)
        return INTERNAL
    traceback.print_exception(error, file=sys.stderr)
    print("Internal error: nothing was stored by this command that it did not report. Please send the lines above.", file=sys.stderr)
    return INTERNAL


def say(text: str = "") -> None:
    """One line for a reader."""
    print(text)


def warn_broken(found: Found) -> None:
    """Say on standard error that a file is not intact, whatever is said of the job in it."""
    if found.broken:
        places = f"{found.broken} place{'' if found.broken == 1 else 's'}"
        print(f"{found.where} is not intact: {places}. See them: wholefilm verify {found.where}", file=sys.stderr)


def say_json(sheet: Any) -> None:
    """A sheet as JSON, indented, keys in the order of the sheet."""
    import msgspec

    print(msgspec.json.format(msgspec.json.encode(sheet), indent=2).decode())


def say_table(table: Table, most: int | None = None) -> None:
    """A table in the width of the terminal; one that is wider says once what is the same in every row."""
    from rich.console import Console
    from rich.table import Table as Drawn
    from rich.text import Text

    from wholefilm.sheets.rows import lifted, weighty

    if not table.cells:
        say(f"{table.title}: {table.empty}")
        return
    console = Console(highlight=False, width=None if sys.stdout.isatty() else 140)
    widths = [max(len(table.columns[n].title), *(len(row[n]) for row in table.cells)) for n in range(len(table.columns))]
    note, kept = lifted(table) if sum(widths) + 2 * len(widths) > console.width else ("", list(range(len(widths))))
    drawn = Drawn(
        title=table.title, title_justify="left", title_style="bold", box=None, pad_edge=False, header_style="dim", show_edge=False
    )
    for n in kept:
        drawn.add_column(table.columns[n].title, justify="right" if table.columns[n].number else "left", overflow="fold")
    for cells in table.cells[:most]:
        drawn.add_row(*[Text(cells[n], style="bold" if weighty(cells[n]) else "") for n in kept])
    console.print(drawn)
    if note:
        say(note)
    if most is not None and len(table.cells) > most:
        say(f"... and {len(table.cells) - most} more")


@contextmanager
def progress(what: str) -> Iterator[Callable[[int, int], None]]:
    """A bar on standard error, drawn only where a person looks at it."""
    if not sys.stderr.isatty():
        yield lambda done, total: None
        return
    from rich.console import Console
    from rich.progress import Progress

    with Progress(console=Console(stderr=True), transient=True) as bar:
        task = bar.add_task(what, total=None)
        yield lambda done, total: bar.update(task, completed=done, total=total)
