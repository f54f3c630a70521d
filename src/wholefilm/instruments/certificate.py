"""The certificate of an instrument and the day it is due: apart from any field check.

A certificate says what a laboratory found on a day; a field check says what the instrument did today. One never stands for
the other. No interval between calibrations is assumed: none is fixed by the standards [1]_, the owner sets the due date.

References
----------
.. [1] SSPC-PA 2 (2004), 3.1.3: certificate and traceability required, no fixed interval (text read). ISO/IEC 17025:2017,
   7.8.4.3: no interval on a certificate unless the customer agreed (from memory).
"""

from __future__ import annotations

import enum

import msgspec

from wholefilm.base.times import clock, utc_ms

DAY_MS = 86_400_000


class Term(enum.StrEnum):
    """How an instrument stands to its due date."""

    RUNNING = "due date not reached"
    OVERDUE = "overdue"
    NONE_STATED = "no due date stated"


class Standing(msgspec.Struct, frozen=True):
    """An instrument's certificate at a time.

    Attributes
    ----------
    term : Term
    days_left : int or None
        Whole days until it is due, rounded down; negative when overdue; None where no date is stated. [d]
    says : str
        One sentence, which names a missing certificate too.
    """

    term: Term
    days_left: int | None
    says: str


def certificate_at(number: str | None, due: str | None, at: int, certified: str | None = None) -> Standing:
    """How a certificate stands at a time.

    Parameters
    ----------
    number : str or None
        Number of the certificate; None if none is named.
    due : str or None
        When it is due, as written, with offset.
    at : int
        The time asked about. [ms UTC]
    certified : str or None
        Date of the certificate, as written.

    Returns
    -------
    Standing

    Raises
    ------
    BadInput
        If a written time cannot be read.
    """
    named = f"certificate {number}" if number else "no certificate named"
    if certified:
        named += f" of {certified[:10]}"
        if utc_ms(certified, "certified") > at:
            named += ", which is later than this use"
    if due is None:
        return Standing(Term.NONE_STATED, None, f"{named}, no due date stated")
    left = (utc_ms(due, "due") - at) // DAY_MS
    if utc_ms(due, "due") < at:
        return Standing(Term.OVERDUE, left, f"{named}, overdue since {clock(due)}")
    return Standing(Term.RUNNING, left, f"{named}, due {due[:10]}, {left} {'day' if left == 1 else 'days'} left")
