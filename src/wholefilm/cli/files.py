"""Commands about files: load, export, verify."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from .options import Database, JobArg, leaving
from .tell import BROKEN, progress, say


def load(
    files: Annotated[list[Path], typer.Argument(metavar="FILE...", help="Job files (.jsonl, .zip), whole or parts, in any order.")],
    database: Database = None,
) -> int:
    """Load job files into the database. Loading twice changes nothing; what disagrees is kept aside."""
    from wholefilm.services.database import open_store
    from wholefilm.services.load import load as write

    store, _ = open_store(database)
    intact = True
    try:
        for path in files:
            with progress(f"loading {path.name}") as bar:
                done = write(store, path, bar)
            aside = f", {done.aside} kept aside until a person settles them" if done.aside else ""
            say(f"{path}: {done.stored} entries stored, {done.known} known before{aside}; {done.blobs} photos and files stored")
            for line in done.broken[:5]:
                say(f"  not intact: {line}")
            if done.broken:
                intact = False
                say(f"  {path} was changed or is not whole; it is stored as it came, and the job cannot meet while that stands")
    finally:
        store.close()
    return 0 if intact else BROKEN


def export(
    job: JobArg,
    output: Annotated[Path, typer.Option("-o", "--output", metavar="FILE", help="FILE.jsonl, or FILE.zip with photos and files.")],
    as_: Annotated[str, typer.Option("--as", help="jsonl (the one form so far).")] = "jsonl",
    database: Database = None,
) -> int:
    """Write a job as a job file. Another program can read it and verify it."""
    from wholefilm.base.errors import BadInput
    from wholefilm.services.export import export as write
    from wholefilm.services.view import find

    if as_ != "jsonl":
        raise BadInput("--as", as_, "jsonl")
    count = write(find(job, database), output)
    say(f"written: {output}, {count} entries")
    return 0


def verify(
    job: Annotated[str, typer.Argument(metavar="FILE|JOB", help="A job file, a report (.pdf), or a job in the database.")],
    database: Database = None,
) -> int:
    """Say whether a record is intact. Entries, their chains, what others had seen of them, photos, signed sheets. Exit 1 if not."""
    from wholefilm.services.find import is_path
    from wholefilm.services.verify import verify_anything, verify_stored
    from wholefilm.services.view import find

    path = Path(job)
    done = verify_anything(path) if is_path(job) or path.suffix == ".pdf" else verify_stored(find(job, database))
    for line in done.breaks:
        say(f"not intact: {line}")
    for line in done.notes:
        say(f"  {line}")
    places = f"{len(done.breaks)} place{'' if len(done.breaks) == 1 else 's'} not intact"
    say(f"{done.what}: {'intact' if done.intact else places}")
    return 0 if done.intact else BROKEN


def add(app: typer.Typer) -> None:
    """Add the commands of this file."""
    app.command("load")(leaving(load))
    app.command("export")(leaving(export))
    app.command("verify")(leaving(verify))
