"""Acid store floor: flake lining on concrete, a dead ground tab, a lead that was open, a joint that cracks through. All invented."""

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
