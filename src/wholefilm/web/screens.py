"""The screens of a job: a name in the address, a title, the sheet it shows."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import msgspec

from wholefilm.base.errors import NotFound
from wholefilm.proof.states import Standing
from wholefilm.sheets.checks import checks_sheet
from wholefilm.sheets.climate import climate_sheet
from wholefilm.sheets.cure import WORDS as CURE_WORDS
from wholefilm.sheets.cure import cure_sheet
from wholefilm.sheets.days import days_sheet
from wholefilm.sheets.doubt import doubt_sheet
from wholefilm.sheets.holidays import holidays_sheet
from wholefilm.sheets.job import job_sheet
from wholefilm.sheets.maps import maps_sheet
from wholefilm.sheets.panels import panels_sheet
from wholefilm.sheets.people import people_sheet
from wholefilm.sheets.readings import readings_sheet
from wholefilm.sheets.repairs import repairs_sheet
from wholefilm.sheets.requirements import requirements_sheet
from wholefilm.sheets.statistics import statistics_sheet
from wholefilm.sheets.voltage import voltage_sheet

from .library import View


class Screen(msgspec.Struct, frozen=True):
    """A screen: address, title, one sentence that says what it shows, its sheet."""

    slug: str
    title: str
    says: str
    sheet: Callable[[View], Any]


def _of(sheet: Callable[[Standing], Any]) -> Callable[[View], Any]:
    return lambda view: sheet(view.standing)


SCREENS = [
    Screen("requirements", "Requirements", "What was asked for, by whom, and who decided how it is read.", _of(requirements_sheet)),
    Screen(
        "voltage", "Voltage sheet", "The test voltage in force, its rule and source, and who agreed to it in writing.", _of(voltage_sheet)
    ),
    Screen("readings", "Readings", "Film thickness at its places.", _of(readings_sheet)),
    Screen(
        "climate",
        "Climate",
        "Dew point and spread of each reading: value, limit and source. The contract says what applies to the test.",
        _of(climate_sheet),
    ),
    Screen("checks", "Checks", "Each check of a tester, as found, and what it closed or put in doubt.", _of(checks_sheet)),
    Screen("doubt", "In doubt", "What a failed check drags along, what to test again, which findings it turned.", _of(doubt_sheet)),
    Screen("cure", "Coats and cure", CURE_WORDS, _of(cure_sheet)),
    Screen("test", "Test", "Panels and their tests. Untested is not clean.", _of(panels_sheet)),
    Screen("holidays", "Holidays", "Each holiday with its number on the wall and its place; false indications apart.", _of(holidays_sheet)),
    Screen("repairs", "Repairs", "Each repair and every retest, the failed ones too.", _of(repairs_sheet)),
    Screen("assessment", "Assessment", "Each requirement held against what was recorded, with the reason.", lambda v: v.assessment),
    Screen(
        "statistics",
        "Statistics",
        "Rates and unevenness. They tell of the process; a full test is a count.",
        _of(statistics_sheet),
    ),
    Screen("people", "People", "Who worked on the job, and on which devices it was recorded.", _of(people_sheet)),
    Screen("days", "Daily reports", "Days closed, photos and files, signatures.", _of(days_sheet)),
]
BY_SLUG = {s.slug: s for s in SCREENS}
SHEETS: dict[str, Callable[[View], Any]] = {
    "job": lambda v: job_sheet(v.standing, v.assessment.as_of, v.assessment),
    "maps": _of(maps_sheet),
    **{s.slug: s.sheet for s in SCREENS},
}
NAV = [("", "Job"), *[(s.slug, s.title) for s in SCREENS], ("report", "Report")]


def sheet_named(slug: str) -> Callable[[View], Any]:
    """The sheet of an address; NotFound names those that there are."""
    if slug not in SHEETS:
        raise NotFound("sheet", slug, ", ".join(SHEETS))
    return SHEETS[slug]
