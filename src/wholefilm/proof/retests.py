"""A retest held against its repair: what its outline leaves out, and with which tester an indication was tried again."""

from __future__ import annotations

from wholefilm.base.quantity import quantity
from wholefilm.job.facts import Fact, Job

from .site import Site
from .states import IndicationState, RepairState

SHARE = 0.001
"""A share of the repair's outline below which what is left out counts as rounding of the drawing; ours, no standard's. [-]"""


def outside(site: Site, repair: RepairState, done: Fact | None, outline: list[dict[str, object]]) -> str:
    """What a retest's outline leaves out of its repair, in words; empty if nothing, or if one of them cannot be drawn.

    `done` is the repair that the retest tests. The retest covers the repair's outline, and it is at least as large as what the
    preparation touched: the prepared spot with its feather all round. The spot's own place in the outline is not recorded, so
    only its size is compared.
    """
    own: list[dict[str, object]] = repair.fact.body.outline
    tested, _ = site.footprint(outline)
    if repair.footprint_m2 <= 0 or tested <= 0:
        return ""
    if not all(o in outline for o in own):
        both, _ = site.footprint([*own, *outline])
        left = both - tested
        if both > 0 and left > SHARE * repair.footprint_m2:
            return f"{left * 1e4:.0f} cm2 of the outline of {repair.number}"
    touched = prepared_m2(done) if done is not None else 0.0
    if touched > tested * (1 + SHARE):
        return f"part of what the preparation touched: {touched * 1e4:.0f} cm2 prepared, {tested * 1e4:.0f} cm2 retested"
    return ""


def prepared_m2(done: Fact) -> float:
    """The least area that a preparation touched: the bare spot with its feather on all sides where both sides are given. [m2]"""
    extent = done.body.bare
    if extent.length and extent.width:
        feather = 2 * quantity(done.body.feather, "length").si
        return float((quantity(extent.length, "length").si + feather) * (quantity(extent.width, "length").si + feather))
    return float(quantity(extent.area, "area").si) if extent.area else 0.0


def tried(job: Job, indication: IndicationState, decision: Fact) -> Fact | None:
    """The entry that names the tester with which a decision was tried: the retest it belongs to, else the last start of its panel."""
    if indication.retest_of:
        retests = [f for f in job.all("retest.done") if f.body.repair == indication.retest_of and f.start <= decision.end]
        if retests:
            return max(retests, key=lambda f: (f.start, f.rank))
    started = [f for f in job.all("panel.started") if f.body.panel == indication.panel and f.start <= decision.end]
    return max(started, key=lambda f: (f.start, f.rank), default=None)
