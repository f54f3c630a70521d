"""North basin raw-water tank, interior lining: steel tank 12 m across, spark test of 575.5 m2, 42 holidays. All invented."""

from __future__ import annotations

from ..scribe import Demo
from . import opening, papers, repairs, site, sweeps
from .tables import CAST


def build() -> Demo:
    """Write the job, the same to the byte every time.

    Returns
    -------
    Demo
        Entries in the order of writing, and the bytes beside them.
    """
    book = CAST.book()
    tellers = (
        opening.opening,
        opening.coating,
        opening.readings,
        papers.before,
        site.site,
        papers.during,
        sweeps.sweeps,
        repairs.repairs,
        papers.closing,
    )
    return book.play(act for teller in tellers for act in teller(book))
