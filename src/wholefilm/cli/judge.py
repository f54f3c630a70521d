"""Commands that judge and draw: assess, report, map."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from .options import AsOf, Database, JobArg, Json
from .tell import CODES, say, say_json, say_table


def assess(job: JobArg, as_of: AsOf = None, json: Json = False, database: Database = None) -> int:
    """How the job stands against the limits entered, and why. Exit 0 meets, 1 does not meet, 3 cannot tell."""
    from wholefilm.services.view import view

    found = view(job, as_of, database)
    sheet = found.assessment
    if json:
        say_json(sheet)
        return CODES[sheet.assessment]
    a, h, r = sheet.area, sheet.holidays, sheet.repairs
    say(sheet.title)
    say(f"{sheet.says}. As of {sheet.as_of or 'nothing recorded'}")
    say()
    say(
        f"area       {a.total_m2:.1f} m2 = tested {a.tested_m2:.1f} + not reached {a.not_reached_m2:.1f} + not in scope {a.not_in_scope_m2:.1f} + not yet tested {a.not_yet_tested_m2:.1f}"
    )
    say(
        f"tested     {a.tested_m2:.1f} m2 = checked before and after {a.checked_m2:.1f} + awaiting {a.awaiting_m2:.1f} + in doubt {a.in_doubt_m2:.1f}; on instruction {a.on_instruction_m2:.1f}"
    )
    say(
        f"holidays   {h.confirmed} = open {h.open} + repaired {h.repaired} + closed {h.closed}; undecided {h.undecided}; false indications {h.false_indications}"
    )
    say(f"repairs    {r.planned}, closed {r.closed}, footprint {r.footprint_m2:.2f} m2 = {r.share_percent:.2f} %")
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
    app.command("assess")(assess)
    app.command("report")(report)
    app.command("map")(map_)
