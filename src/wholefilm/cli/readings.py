"""The command that loads a file of readings, or only shows how it would be read."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from .options import AtSite, By, Database, Json, check_acts, leaving
from .tell import BAD_INPUT, say, say_json, say_table

if TYPE_CHECKING:
    from wholefilm.services.readings import Preview


def readings(
    name: Annotated[str, typer.Argument(metavar="NAME", help="Name of a job in the database.")],
    file: Annotated[Path, typer.Argument(metavar="FILE", help="CSV or XLSX with a header.")],
    about: Annotated[str, typer.Option("--about", help="What was read: gauge, day, areas.")] = "",
    by: By = "",
    column: Annotated[
        list[str] | None,
        typer.Option("--column", metavar="OURS=HEADER", help="test_area, class, value, on, first, second, spot; may be repeated."),
    ] = None,
    unit: Annotated[
        list[str] | None, typer.Option("--unit", metavar="[OURS=]UNIT", help="Unit of the values (um, mil, mm), or of first and second.")
    ] = None,
    test_area: Annotated[str | None, typer.Option("--test-area", metavar="NAME", help="The one test area of every row.")] = None,
    class_: Annotated[str | None, typer.Option("--class", metavar="NAME", help="The one class: flat, weld, edge, corner, pit.")] = None,
    on: Annotated[str | None, typer.Option("--on", metavar="PART", help="The one part of the item.")] = None,
    sheet: Annotated[str | None, typer.Option("--sheet", metavar="NAME", help="Sheet of a workbook that shows several.")] = None,
    encoding: Annotated[str | None, typer.Option("--encoding", help="Of a CSV file that is not UTF-8, such as cp1252.")] = None,
    decimal: Annotated[str | None, typer.Option("--decimal", metavar="point|comma", help="Decimal sign where it is in doubt.")] = None,
    preview: Annotated[bool, typer.Option("--preview", help="Show how the file is read; store nothing.")] = False,
    json: Json = False,
    at_site: AtSite = None,
    database: Database = None,
) -> int:
    """Load a file of thickness readings into a job. It is looked at whole first; nothing is half loaded."""
    from wholefilm.base.errors import BadInput
    from wholefilm.services.database import open_store
    from wholefilm.services.readings import Wanted, job_of, load_readings, look, unknown_areas
    from wholefilm.services.readings import preview as show

    if json and not preview:
        raise BadInput("--json", "without --preview", "--json together with --preview")
    if not preview:
        check_acts(by)
    if not preview and not about.strip():
        raise BadInput("--about", "nothing", "what was read: gauge, day, areas")
    given = {"test_area": test_area, "class": class_, "on": on}
    wanted = Wanted(
        columns=column or (),
        units=unit or (),
        constants={k: v for k, v in given.items() if v is not None},
        encoding=encoding,
        sheet=sheet,
        decimal=decimal,
    )
    store, url = open_store(database)
    try:
        job = job_of(store, name)
        looked = look(file, wanted)
        if preview:
            return _say_preview(show(looked, job), json)
        done = load_readings(store, url, name, looked, by, about=about, file_name=file.name, at_site=at_site)
    finally:
        store.close()
    say(f"loaded: {done.entry.body['rows']} spots, entry {done.entry.id}")
    for note in looked.notes + unknown_areas(job, looked.spots):
        say(f"note: {note}")
    return 0


def _say_preview(sheet: Preview, as_json: bool) -> int:
    if as_json:
        say_json(sheet)
    else:
        say(f"{sheet.rows} rows can be read ({sheet.written}); nothing is stored")
        for note in sheet.notes:
            say(f"note: {note}")
        for table in sheet.tables():
            say()
            say_table(table)
        if sheet.bad_rows:
            say()
            say(f"{sheet.bad_rows} bad rows or cells; the file would be refused:")
            for line in sheet.bad:
                say(f"  {line}")
            if sheet.bad_rows > len(sheet.bad):
                say(f"  and {sheet.bad_rows - len(sheet.bad)} more")
    return BAD_INPUT if sheet.bad_rows else 0


def add(app: typer.Typer) -> None:
    """Add the command of this file."""
    app.command("readings")(leaving(readings))
