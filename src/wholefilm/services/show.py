"""One sheet of a view, by name."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from wholefilm.base.errors import NotFound
from wholefilm.sheets.checks import checks_sheet
from wholefilm.sheets.climate import climate_sheet
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

from .view import View

MAKERS: dict[str, Callable[[View], Any]] = {
    "job": lambda v: job_sheet(v.standing, v.as_of, v.assessment),
    "requirements": lambda v: requirements_sheet(v.standing),
    "voltage": lambda v: voltage_sheet(v.standing),
    "readings": lambda v: readings_sheet(v.standing),
    "climate": lambda v: climate_sheet(v.standing),
    "checks": lambda v: checks_sheet(v.standing),
    "doubt": lambda v: doubt_sheet(v.standing),
    "cure": lambda v: cure_sheet(v.standing),
    "test": lambda v: panels_sheet(v.standing),
    "holidays": lambda v: holidays_sheet(v.standing),
    "repairs": lambda v: repairs_sheet(v.standing),
    "assessment": lambda v: v.assessment,
    "statistics": lambda v: statistics_sheet(v.standing),
    "people": lambda v: people_sheet(v.standing),
    "days": lambda v: days_sheet(v.standing),
    "maps": lambda v: maps_sheet(v.standing),
}


def sheet_of(view: View, name: str) -> Any:
    """The sheet of that name.

    Raises
    ------
    NotFound
        If there is no such sheet.
    """
    if name not in MAKERS:
        raise NotFound("--sheet", name, ", ".join(MAKERS))
    return MAKERS[name](view)
