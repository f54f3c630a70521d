"""The command that records one entry."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Annotated

import typer

from .options import AtSite, By, Database, Name, check_acts, leaving
from .tell import say


def record(
    name: Name,
    kind: Annotated[str, typer.Argument(metavar="KIND", help="Kind of entry, such as panel.tested; see docs/reference/bodies.md.")],
    words: Annotated[
        list[str] | None,
        typer.Argument(metavar="[KEY=VALUE]...", help="Dotted keys go deep; a repeated key makes a list; B17, R-01, Q-01 stand for ids."),
    ] = None,
    by: By = "",
    body: Annotated[str | None, typer.Option("--body", metavar="FILE|-", help="The body as JSON from a file or standard input.")] = None,
    at_site: AtSite = None,
    database: Database = None,
) -> int:
    """Record one entry. What lacks a need is refused with a sentence that tells what is missing."""
    from wholefilm.base.errors import BadInput
    from wholefilm.services.database import open_store
    from wholefilm.services.record import record as write

    check_acts(by)
    if name.endswith((".jsonl", ".zip")):
        raise BadInput("NAME", name, "a job in the database; a job file is read-only (wholefilm load it first)")
    given = None
    if body == "-":
        given = sys.stdin.read()
    elif body:
        try:
            given = Path(body).read_text(encoding="utf-8")
        except (OSError, UnicodeDecodeError) as error:
            raise BadInput("--body", body, f"a JSON file that can be read ({error})") from error
    store, url = open_store(database)
    try:
        done = write(store, url, name, kind, words or [], by, at_site, given)
    finally:
        store.close()
    number = f" {done.number}" if done.number else ""
    say(f"recorded: {kind}{number}, entry {done.entry.id}, number {done.entry.seq} of this device")
    return 0


def add(app: typer.Typer) -> None:
    """Add the command of this file."""
    app.command("record")(leaving(record))
