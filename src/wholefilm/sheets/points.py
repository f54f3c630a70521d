"""Hold and witness points: notice, who came, who released, and what the contract names that nobody has come to yet."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Annotated

from wholefilm.base.times import clock
from wholefilm.job.facts import Fact, Job
from wholefilm.proof.requirements import Holds, of_form
from wholefilm.proof.states import Requirement, Standing

from .people import who
from .rows import Row, head

CAME = {"came": "came", "waived": "waived", "no_show": "did not come"}


class PointRow(Row, frozen=True, kw_only=True):
    """A hold or witness point."""

    what: Annotated[str, head("What")]
    point: Annotated[str, head("Point")]
    about: Annotated[str, head("About")]
    notice: Annotated[str, head("Notice")]
    witness: Annotated[str, head("Witness")]
    released: Annotated[str, head("Released")]
    by: Annotated[str, head("By")]
    entry: str


def points(standing: Standing) -> list[PointRow]:
    """Hold points that the contract names, each release, each notice to a witness, in the order of time; those still to come last.

    Parameters
    ----------
    standing : Standing
    """
    job = standing.job
    facts = sorted(job.all("hold.released", "witness.noted"), key=lambda f: (f.start, f.rank))
    rows = [_release(job, f) if f.kind == "hold.released" else _witness(job, f) for f in facts]
    return [*rows, *_due(job, standing.requirements)]


def _release(job: Job, f: Fact) -> PointRow:
    about, by = ", ".join(f.body.about), who(job, f.body.by)
    return PointRow(what="hold", point=f.body.point, about=about, notice="", witness="", released=clock(f.when), by=by, entry=f.id)


def _witness(job: Job, f: Fact) -> PointRow:
    b = f.body
    return PointRow(
        what="witness",
        point=b.point,
        about=", ".join(b.about),
        notice=clock(b.notice_at),
        witness=f"{CAME[b.came]}, {clock(f.when)}",
        released="",
        by=who(job, b.person) if b.person else "",
        entry=f.id,
    )


def _due(job: Job, found: list[Requirement]) -> Iterator[PointRow]:
    """Hold points that a clause names and nobody has released for any of what it is about."""
    for r in of_form(found, Holds):
        for point in r.rule.points:
            if not any(f.body.point == point for f in job.all("hold.released")):
                about = ", ".join(r.applies_to) or f"clause {r.clause}"
                yield PointRow(
                    what="hold", point=point, about=about, notice="", witness="", released="not released", by="", entry=r.fact.id
                )
