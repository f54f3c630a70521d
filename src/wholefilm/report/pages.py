"""Pages to print about the voltage of a job, as PDF: a question by its number, the voltage sheet of a test area."""

from __future__ import annotations

from wholefilm.base import cautions
from wholefilm.base.errors import NotFound
from wholefilm.electric import Air
from wholefilm.job.facts import Fact, Job
from wholefilm.plan.note import EVEN_AIR
from wholefilm.proof.setting import is_ac
from wholefilm.proof.states import Standing
from wholefilm.sheets.people import who
from wholefilm.sheets.setting import setting_sheet
from wholefilm.sheets.voltage import voltage_sheet
from wholefilm.sheets.voltage_parts import in_force

from .setting import request_page, voltage_page
from .sheet import make_sheet


def question_page(standing: Standing, number: str, air: Air = EVEN_AIR) -> bytes:
    """The page of a question about a voltage, from the record as it stands: as it was asked, if it stands at the question.

    Raises
    ------
    NotFound
        If no question of that number asks about a voltage.
    """
    fact = question(standing.job, number)
    asked = fact.body.voltage
    sheets = [setting_sheet(standing, area, air, stage=asked.stage) for area in asked.test_areas]
    page = request_page(fact.body.number, *_named(standing.job), list(fact.body.to), who(standing.job, fact.by), sheets)
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
    sheet, held = voltage_sheet(standing), in_force(standing.job)
    mine = [s for s in sheet.sheets if area in held[s.entry] and stage in ("", s.stage)]
    if not mine:
        known = ", ".join(dict.fromkeys(f"{s.test_areas} ({s.stage})" for s in sheet.sheets)) or "none yet"
        raise NotFound("AREA", area, f"a test area with a voltage sheet: {known}")
    row = mine[-1]
    says = [*cautions.FOR_A_VOLTAGE, *([cautions.OZONE] if is_ac(row.method) else []), cautions.FIRST]
    page = voltage_page(*_named(standing.job), row, sheet, says)
    return make_sheet(page, at_ms=standing.job.by_id[row.entry].ms)


def raised(job: Job, number: str) -> str:
    """Entry of the question about a voltage that bears a number; empty if none does."""
    return next((f.id for f in job.all("question.raised") if f.body.voltage is not None and f.body.number == number), "")


def page_of(standing: Standing, what: str, stage: str = "", air: Air = EVEN_AIR) -> bytes:
    """The page of a question by its number, or of the voltage sheet of a test area.

    Raises
    ------
    NotFound
    """
    return question_page(standing, what, air) if raised(standing.job, what) else voltage_pdf(standing, what, stage)


def _named(job: Job) -> tuple[str, str]:
    """Title and contract; empty where the entry that opens the job is not here."""
    return (job.opened.body.title, job.opened.body.contract) if job.opened is not None else ("", "")
