"""One day of a job."""

from __future__ import annotations

import re

from wholefilm.base.errors import BadInput
from wholefilm.sheets.day import DaySheet, day_sheet

from .find import Found
from .view import view


def day_of(job: str, date: str, as_of: str | None = None, database: str | None = None) -> tuple[Found, DaySheet]:
    """The daily report of one day.

    Raises
    ------
    BadInput
        If the date is none.
    NotFound
        If there is no such job, or nothing happened on that day.
    """
    if not re.fullmatch(r"\d{4}-\d\d-\d\d", date):
        raise BadInput("DATE", date, "a calendar day of the site, YYYY-MM-DD")
    found = view(job, as_of, database)
    return found.found, day_sheet(found.standing, date)
