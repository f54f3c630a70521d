"""Commands that judge and draw: assess, report, map."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from .options import AsOf, Database, JobArg, Json, ReceivedBy, leaving
from .tell import CODES, say, say_json, say_table, warn_broken


def assess(job: JobArg, as_of: AsOf = None, received_by: ReceivedBy = None, json: Json = False, database: Database = None) -> int:
    """Hold a job against the limits entered, and say why. Exit 0 meets, 1 does not meet, 3 cannot tell."""
    from wholefilm.base.times import clock
    from wholefilm.services.view import view

    found = view(job, as_of, database, received_by)
    warn_broken(found.found)
    sheet = found.assessment
    if json:
        say_json(sheet)
        return CODES[sheet.assessment]
    a, h, r = sheet.area, sheet.holidays, sheet.repairs
    say(sheet.title)
    say(f"{sheet.says}. As it stood on {clock(sheet.as_of)}." if sheet.as_of else f"{sheet.says}. Nothing is recorded yet.")
    if received_by:
        say(f"On what this database had received by {received_by}.")
    say()
    parts = (("tested", a.tested_m2), ("not reached", a.not_reached_m2), ("not in scope", a.not_in_scope_m2))
    say(f"area       {a.total_m2:.2f} m2 = " + _sum((*parts, ("not yet tested", a.not_yet_tested_m2))))
    parts = (("checked before and after", a.checked_m2), ("awaiting its end check", a.awaiting_m2), ("in doubt", a.in_doubt_m2))
    say(f"tested     {a.tested_m2:.2f} m2 = {_sum(parts)}; on written instruction {a.on_instruction_m2:.2f}")
    say(f"holidays   {h.confirmed} = open {h.open} + repaired, retest due {h.repaired} + closed {h.closed}")
    say(f"others     indications not yet decided {h.undecided}, false indications {h.false_indications}")
    say(f"repairs    {r.planned}, closed {r.closed}, footprint {r.footprint_m2:.2f} m2 = {r.share_percent:.2f} % of the area")
    say()
    for table in sheet.tables():
        say_table(table)
        say()
    if sheet.missing:
        say("Missing:")
        for line in sheet.missing:
            say(f"  {line}")
    say("The tool assesses against the limits entered; acceptance is a signed act of a named person.")
    return CODES[sheet.assessment]


def _sum(parts: tuple[tuple[str, float], ...]) -> str:
    return " + ".join(f"{word} {value:.2f}" for word, value in parts)


def report(
    job: JobArg,
    output: Annotated[
        Path, typer.Option("-o", "--output", metavar="FILE.pdf", help="Name of the report; further volumes are FILE-2.pdf and so on.")
    ],
    as_of: AsOf = None,
    received_by: ReceivedBy = None,
    database: Database = None,
) -> int:
    """Write the test report as PDF, with the record inside."""
    from wholefilm.services.report import write_report
    from wholefilm.services.view import view

    found = view(job, as_of, database, received_by)
    warn_broken(found.found)
    for path in write_report(found, output):
        say(f"written: {path}")
    return 0


def map_(
    job: JobArg,
    item: Annotated[
        str | None, typer.Argument(metavar="[ITEM]", help="Name of an item, or ITEM/PART; left out, the items are listed.")
    ] = None,
    output: Annotated[
        Path | None, typer.Option("-o", "--output", metavar="FILE.svg", help="Where the drawing goes; more parts get their name in it.")
    ] = None,
    as_of: AsOf = None,
    paper: Annotated[str, typer.Option("--paper", help="Paper and ink of the drawing: book, sun or tank.")] = "book",
    database: Database = None,
) -> int:
    """Draw the map of an item as SVG. One file for each part; without ITEM the items are listed."""
    from wholefilm.base.errors import BadInput
    from wholefilm.services.map import items_of, write_map
    from wholefilm.services.view import view

    found = view(job, as_of, database)
    if item is None:
        items = items_of(found)
        for name, parts in items:
            say(f"{name}: {', '.join(parts)}")
        if items:
            say(f"Draw one: wholefilm map {job} {items[0][0]} -o {items[0][0]}.svg, or {items[0][0]}/PART for one part")
        else:
            say("No item is entered yet; record item.added first.")
        return 0
    if output is None:
        raise BadInput("-o", "nothing", "a name that ends in .svg")
    for path in write_map(found, item, output, paper=paper):
        say(f"written: {path}")
    return 0


def add(app: typer.Typer) -> None:
    """Add the commands of this file."""
    app.command("assess")(leaving(assess))
    app.command("report")(leaving(report))
    app.command("map")(leaving(map_))
