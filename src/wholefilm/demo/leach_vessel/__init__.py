"""Leach vessel V-12: rubber lining tested before and after its cure by spark length, an end check that was high. All invented."""

from __future__ import annotations

from ..scribe import Demo
from . import mends, opening, papers, site, sweeps
from .tables import CAST


def build() -> Demo:
    """Write the job, the same to the byte every time.

    Returns
    -------
    Demo
        Entries in the order of writing, and the bytes beside them.
    """
    book = CAST.book()
    tellers = (opening.opening, papers.before, site.site, papers.during, sweeps.sweeps, mends.mends, papers.closing)
    return book.play(act for teller in tellers for act in teller(book))
