"""Commands that judge and draw: assess, report, map."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from .options import AsOf, Database, JobArg, Json, leaving
from .tell import CODES, say, say_json, say_table


def assess(job: JobArg, as_of: AsOf = None, json: Json = False, database: Database = None) -> int:
    """How the job stands against the limits entered, and why. Exit 0 meets, 1 does not meet, 3 cannot tell."""
    from wholefilm.base.times import clock
    from wholefilm.services.view import view

    found = view(job, as_of, database)
    sheet = found.assessment
    if json:
        say_json(sheet)
        return CODES[sheet.assessment]
    a, h, r = sheet.area, sheet.holidays, sheet.repairs
    say(sheet.title)
    say(f"{sheet.says}. As it stood on {clock(sheet.as_of)}." if sheet.as_of else f"{sheet.says}. Nothing is recorded yet.")
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
    job: JobArg, output: Annotated[Path, typer.Option("-o", "--output", metavar="FILE.pdf")], as_of: AsOf = None, database: Database = None
) -> int:
    """Write the test report as PDF, with the record inside."""
    from wholefilm.services.report import write_report
    from wholefilm.services.view import view

    for path in write_report(view(job, as_of, database), output):
        say(f"written: {path}")
    return 0


def map_(
    job: JobArg,
    item: Annotated[str, typer.Argument(metavar="ITEM", help="Name of an item, or ITEM/PART.")],
    output: Annotated[Path, typer.Option("-o", "--output", metavar="FILE.svg")],
    as_of: AsOf = None,
    paper: Annotated[str, typer.Option("--paper", help="book, sun or tank.")] = "book",
    database: Database = None,
) -> int:
    """Write the developed map of an item: one SVG file a part."""
    from wholefilm.services.map import write_map
    from wholefilm.services.view import view

    for path in write_map(view(job, as_of, database), item, output, paper=paper):
        say(f"written: {path}")
    return 0


def add(app: typer.Typer) -> None:
    """Add the commands of this file."""
    app.command("assess")(leaving(assess))
    app.command("report")(leaving(report))
    app.command("map")(leaving(map_))
