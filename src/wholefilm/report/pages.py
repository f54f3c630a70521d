"""Pages to print about the voltage of a job, as PDF: a question by its number, the voltage sheet of a test area."""

from __future__ import annotations

from wholefilm.base import cautions
from wholefilm.base.errors import NotFound
from wholefilm.job.facts import Fact, Job
from wholefilm.proof.states import Standing
from wholefilm.sheets.people import who
from wholefilm.sheets.setting import setting_sheet
from wholefilm.sheets.voltage import voltage_sheet

from .setting import request_page, voltage_page
from .sheet import make_sheet


def question_page(standing: Standing, number: str) -> bytes:
    """The page of a question about a voltage, as the record stands.

    Raises
    ------
    NotFound
        If no question of that number asks about a voltage.
    """
    fact = question(standing.job, number)
    asked = fact.body.voltage
    sheets = [setting_sheet(standing, area) for area in asked.test_areas]
    opened = standing.job.opened
    assert opened is not None
    page = request_page(fact.body.number, opened.body.title, opened.body.contract, list(fact.body.to), who(standing.job, fact.by), sheets)
    return make_sheet(page, at_ms=fact.ms)


def question(job: Job, number: str) -> Fact:
    """The question of that number that asks about a voltage.

    Raises
    ------
    NotFound
    """
    asked = [f for f in job.all("question.raised") if f.body.voltage is not None]
    for fact in asked:
        if number in (fact.body.number, fact.id):
            return fact
    known = ", ".join(f.body.number for f in asked) or "none yet: ask first (wholefilm setting ask)"
    raise NotFound("QUESTION", number, f"a question about a voltage: {known}")


def voltage_pdf(standing: Standing, area: str, stage: str = "") -> bytes:
    """The page of the voltage sheet in force for a test area.

    Raises
    ------
    NotFound
        If none is set.
    """
    sheet = voltage_sheet(standing)
    mine = [s for s in sheet.sheets if s.state != "replaced" and area in s.test_areas.split(", ") and stage in ("", s.stage)]
    if not mine:
        known = ", ".join(dict.fromkeys(f"{s.test_areas} ({s.stage})" for s in sheet.sheets)) or "none yet"
        raise NotFound("AREA", area, f"a test area with a voltage sheet: {known}")
    row, opened = mine[-1], standing.job.opened
    assert opened is not None
    says = [*cautions.FOR_A_VOLTAGE, *([cautions.OZONE] if "AC" in row.method else []), cautions.FIRST]
    page = voltage_page(opened.body.title, opened.body.contract, row, sheet, says)
    return make_sheet(page, at_ms=standing.job.by_id[row.entry].ms)


def page_of(standing: Standing, what: str, stage: str = "") -> bytes:
    """The page of a question by its number, or of the voltage sheet of a test area.

    Raises
    ------
    NotFound
    """
    if any(what == f.body.number for f in standing.job.all("question.raised")):
        return question_page(standing, what)
    return voltage_pdf(standing, what, stage)
