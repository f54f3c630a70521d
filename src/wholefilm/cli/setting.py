"""Commands about the voltage of a job: show what documents give, ask in writing, choose on the answer, voltage areas, print."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from .options import (
    Altitude,
    Approval,
    AsOf,
    AtSite,
    By,
    ClassOf,
    Database,
    Exponent,
    JobArg,
    Json,
    Name,
    Pressure,
    ShareUsed,
    StrengthAt,
    StrengthSource,
    Temperature,
    check_acts,
    leaving,
)  # fmt: skip
from .tell import say, say_json, say_table, warn_broken

if TYPE_CHECKING:
    from wholefilm.sheets.setting import SettingSheet

Stage = Annotated[str, typer.Option("--stage", help="Stage asked about; else the one that the contract names, else final.")]
Area = Annotated[str, typer.Argument(metavar="AREA", help="Test area.")]
Pdf = Annotated[Path, typer.Option("-o", "--output", metavar="FILE", help="FILE.pdf.")]


def show(
    job: JobArg,
    area: Area,
    stage: Stage = "",
    pressure: Pressure = None,
    altitude: Altitude = None,
    temperature: Temperature = None,
    as_of: AsOf = None,
    json: Json = False,
    database: Database = None,
) -> int:
    """Show what the job's cited rules give for the film of a test area, side by side. None is preferred."""
    from wholefilm.services.view import view
    from wholefilm.services.voltage import air_of
    from wholefilm.sheets.setting import setting_sheet

    seen = view(job, as_of, database)
    warn_broken(seen.found)
    sheet = setting_sheet(seen.standing, area, air_of(pressure, altitude, temperature), stage=stage)
    if json:
        say_json(sheet)
        return 0
    _print(sheet)
    return 0


def _print(sheet: SettingSheet) -> None:
    from .voltage import say_answer

    say_table(sheet.tables()[0])
    say()
    say_answer(sheet)
    for row in sheet.in_force:
        say(f"In force: {row.setting}, {row.method}, stage {row.stage}, for {row.basis}; {row.source}; agreed by {row.agreed_by}")
    if not sheet.in_force:
        say("In force: no voltage sheet of this area is set")


def ask(
    name: Name,
    output: Pdf,
    areas: Annotated[list[str] | None, typer.Argument(metavar="[AREA]...", help="Test areas; all if none is named.")] = None,
    to: Annotated[list[str] | None, typer.Option("--to", help="Who is asked; may be repeated. None: coating maker and engineer.")] = None,
    stage: Stage = "",
    pressure: Pressure = None,
    altitude: Altitude = None,
    temperature: Temperature = None,
    by: By = "",
    at_site: AtSite = None,
    database: Database = None,
) -> int:
    """Ask engineer and coating maker in writing. Records the question and writes its page."""
    from wholefilm.services.database import open_store
    from wholefilm.services.setting import TO, check_pdf, write_pdf
    from wholefilm.services.setting import ask as write
    from wholefilm.services.voltage import air_of

    check_pdf(output)
    check_acts(by)
    store, url = open_store(database)
    try:
        air = air_of(pressure, altitude, temperature)
        done, pdf = write(store, url, name, areas or [], by, to=to or TO, air=air, stage=stage, at_site=at_site)
    finally:
        store.close()
    write_pdf(output, pdf)
    say(f"recorded: question {done.number}; its page: {output}")
    say(f"When the answer is there: wholefilm record {name} question.answered question={done.number} from='...' dated='...' text='...'")
    say(f"  evidence='...' --by PERSON; then wholefilm setting choose {name} {done.number} ...")
    return 0


def choose(
    name: Name,
    number: Annotated[str, typer.Argument(metavar="QUESTION", help="Number of the question that was answered, such as Q-01.")],
    words: Annotated[
        list[str] | None, typer.Argument(metavar="[KEY=VALUE]...", help="The rest of the sheet: method, setting, reason, site.by ...")
    ] = None,
    rule: Annotated[str, typer.Option("--rule", help="ID or ID:EDITION of a rule that the job cites; none: the answer itself.")] = "",
    by: By = "",
    body: Annotated[Path | None, typer.Option("--body", metavar="FILE", help="More fields as JSON, such as the site's answers.")] = None,
    at_site: AtSite = None,
    database: Database = None,
) -> int:
    """Make a dated answer the voltage sheet of the areas that it was asked for. What it lacks is refused, with what is missing."""
    from wholefilm.base.errors import BadInput
    from wholefilm.services.database import open_store
    from wholefilm.services.setting import choose as write

    check_acts(by)
    try:
        more = body.read_text(encoding="utf-8") if body else None
    except (OSError, UnicodeDecodeError) as error:
        raise BadInput("--body", str(body), f"a JSON file that can be read ({error})") from error
    store, url = open_store(database)
    try:
        done = write(store, url, name, number, words or [], by, rule=rule, at_site=at_site, body=more)
    finally:
        store.close()
    say(f"recorded: voltage.set, entry {done.entry.id}, number {done.entry.seq} of this device")
    return 0


def print_(
    job: JobArg,
    what: Annotated[str, typer.Argument(metavar="AREA|QUESTION", help="Test area with a voltage sheet, or a question such as Q-01.")],
    output: Pdf,
    stage: Annotated[str, typer.Option("--stage", help="Where an area has sheets of several stages.")] = "",
    pressure: Pressure = None,
    altitude: Altitude = None,
    temperature: Temperature = None,
    as_of: AsOf = None,
    database: Database = None,
) -> int:
    """Write one page to print: the voltage sheet of an area for the pre-job meeting, or a question as it was asked."""
    from wholefilm.report.pages import page_of, raised
    from wholefilm.services.setting import check_pdf, write_pdf
    from wholefilm.services.view import view
    from wholefilm.services.voltage import air_of

    check_pdf(output)
    seen = view(job, as_of, database)
    asked = raised(seen.standing.job, what)
    if asked and not as_of:
        seen = view(job, asked, database)
    write_pdf(output, page_of(seen.standing, what, stage, air_of(pressure, altitude, temperature)))
    say(f"written: {output}")
    return 0


def areas(
    job: JobArg,
    rule: Annotated[str, typer.Option("--rule", help="ID or ID:EDITION of a rule of the shelf, or one that the job cites.")] = "",
    within: Annotated[str | None, typer.Option("--within", help="How far from the rule's voltage a setting may lie: '10 %'.")] = None,
    gauge: Annotated[str, typer.Option("--gauge", help="Uncertainty of the thickness gauge: '20 um'.")] = "0 um",
    class_: ClassOf = None,
    approval: Approval = None,
    strength: Annotated[str | None, typer.Option("--strength", help="In place of --rule: of the film, from the data sheet.")] = None,
    strength_at: StrengthAt = None,
    exponent: Exponent = None,
    share: ShareUsed = None,
    source: StrengthSource = None,
    pressure: Pressure = None,
    altitude: Altitude = None,
    temperature: Temperature = None,
    as_of: AsOf = None,
    json: Json = False,
    database: Database = None,
) -> int:
    """Work out voltage areas. The fewest settings that serve every reading of the job, place by place; a proposal, no setting."""
    from wholefilm.services.areas import areas_of
    from wholefilm.services.view import view
    from wholefilm.services.voltage import air_of, strength_of

    seen = view(job, as_of, database)
    warn_broken(seen.found)
    sheet = areas_of(
        seen, rule=rule, within=within, gauge=gauge, choice=class_, approval=approval,
        strength=strength_of(strength, strength_at, exponent, share, source), air=air_of(pressure, altitude, temperature),
    )  # fmt: skip
    if json:
        say_json(sheet)
        return 0
    for line in sheet.says:
        say(line)
    say()
    for table in sheet.tables():
        say_table(table)
        say()
    return 0


def add(app: typer.Typer) -> None:
    """Add the commands of this file."""
    group = typer.Typer(no_args_is_help=True, rich_markup_mode=None, help="See, ask in writing, choose and print the voltage of a job.")
    for name, command in (("show", show), ("ask", ask), ("choose", choose), ("areas", areas), ("print", print_)):
        group.command(name)(leaving(command))
    app.add_typer(group, name="setting")
