"""What only the coating maker and the engineer together may allow: two dated words, from two sides."""

from __future__ import annotations

from wholefilm.base.times import utc_ms
from wholefilm.job.facts import Fact, Job

from .site import Site

_MAKER = ("coating maker", "maker", "manufacturer", "coating supplier")


def side(job: Job, said: str) -> str:
    """On whose side a person speaks: ``maker``, ``engineer`` or empty; told by role, or by the id of a person of the job."""
    words = " ".join([said, *job.roles(said)]).lower()
    if any(w in words for w in _MAKER):
        return "maker"
    return "engineer" if "engineer" in words else ""


def two_answers(job: Job, site: Site, what: str, panel: str, before: int) -> dict[str, Fact]:
    """The written words that allow something on a panel, by side.

    Parameters
    ----------
    job : Job
    site : Site
    what : str
        As in `allows.what`, such as ``"spark_on_immersed"``.
    panel : str
        The panel must be named, or its test area or item.
    before : int
        When the test begins; words dated later do not count. [ms UTC]

    Returns
    -------
    dict of str to Fact
        At most ``maker`` and ``engineer``; both are needed.
    """
    found: dict[str, Fact] = {}
    for fact in job.all("question.answered", "instruction.received"):
        body = fact.body
        if body.allows is None or body.allows.what != what or not site.covers(body.allows.panels or [], panel):
            continue
        if utc_ms(body.dated) >= before or _ended(body, before):
            continue
        of = side(job, body.from_)
        if of:
            found.setdefault(of, fact)
    return found


def _ended(body: object, at: int) -> bool:
    until = getattr(body, "until", None)
    return until is not None and utc_ms(until) < at


def missing_side(found: dict[str, Fact]) -> str:
    """Who has not answered yet, for a reader."""
    names = {"maker": "the coating maker", "engineer": "the engineer"}
    return " and ".join(words for key, words in names.items() if key not in found)
