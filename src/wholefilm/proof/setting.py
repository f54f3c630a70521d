"""A voltage sheet: what it lacks by itself, and why it is not for another system, thickness or surface than its own."""

from __future__ import annotations

from collections.abc import Sequence

from wholefilm.base.errors import BadInput
from wholefilm.base.quantity import quantity
from wholefilm.base.sources import Grade
from wholefilm.base.times import clock
from wholefilm.job.facts import Fact, Job

from .site import Site

CONSENT_FROM_V = 100.0
"""Spark tests ask for consent to a second exposure from here; below it exposures are only counted. [V]"""


def is_spark(setting: str) -> bool:
    """Whether a setting is that of a spark test: 100 V or more, or a spark length. One that is not known asks what a spark test asks."""
    if not setting:
        return True
    try:
        return quantity(setting, "voltage").si >= CONSENT_FROM_V
    except BadInput:
        try:
            quantity(setting, "length")
        except BadInput:
            return False
        return True


def is_ac(method: str) -> bool:
    """Whether a method, as it is worded on a sheet, is a high-frequency AC spark."""
    return "ac" in method.lower().replace(",", " ").split()


def sheet_lacks(job: Job, sheet: Fact) -> list[str]:
    """What a voltage sheet lacks: a rule with source and grade, a thickness basis, an agreement in writing."""
    body, lacks = sheet.body, []
    source = body.rule.get("source")
    grade = source.get("grade") if isinstance(source, dict) else None
    if not isinstance(source, dict) or not source.get("document") or grade not in {g.value for g in Grade}:
        lacks.append("its rule names no document and grade")
    elif not Grade(grade).choosable and not body.rule.get("confirmed"):
        lacks.append(f"its rule is graded {grade} and nobody confirmed it from an own copy")
    if not (body.basis.low or body.basis.high):
        lacks.append("its thickness basis has no figure")
    agreed = [job.by_id.get(i) for i in body.agreed_by]
    if not any(f is not None and f.kind in ("question.answered", "instruction.received") for f in agreed):
        lacks.append("no answer or instruction in writing agrees to it")
    system = job.get(body.system, "system.set")
    if system is None or not set(body.test_areas) <= set(system.body.test_areas):
        lacks.append("it was set for another coating system than that of its test areas")
    return lacks


def reused(job: Job, site: Site, sheet: Fact, area: str, panels: Sequence[str], start: int) -> list[str]:
    """Why a sheet in force is not for a test: the system, the film or the surface is no more what it was set for.

    Parameters
    ----------
    job : Job
    site : Site
    sheet : Fact
        A voltage sheet of the area.
    area : str
        Test area.
    panels : sequence of str
    start : int
        When the test begins. [ms UTC]

    Returns
    -------
    list of str
        A sentence for each; empty if it is what it was.
    """
    found = []
    since = [f for f in job.all("system.set") if area in f.body.test_areas and sheet.start < f.start <= start and f.id != sheet.body.system]
    if since:
        found.append(f"another coating system was set {clock(since[-1].when)}, after the sheet")
    coats = [f for f in job.all("coat.applied") if area in f.body.test_areas and sheet.start < f.start <= start]
    if coats:
        found.append(
            f"{coats[-1].body.coat} was applied {clock(coats[-1].when)}, after the sheet: the film is no more the one of its basis"
        )
    looks = [f for f in job.all("surface.inspected") if f.start <= start and any(site.covers(f.body.panels, p) for p in panels)]
    if sheet.body.surface and looks:
        last = max(looks, key=lambda f: (f.start, f.rank))
        state = "dry" if last.body.dry else "wet"
        if state != sheet.body.surface:
            found.append(f"it was set for a {sheet.body.surface} surface, which was seen {state} {clock(last.when)}")
    return found


def outside(sheet: Fact, film: str) -> str:
    """Where a local film lies outside the thickness basis of a sheet: ``under 600 um``; empty if it lies inside or cannot be read."""
    basis = sheet.body.basis
    try:
        thick = quantity(film, "length").exact("m")
        if basis.low and thick < quantity(basis.low, "length").exact("m"):
            return f"under {basis.low}"
        if basis.high and thick > quantity(basis.high, "length").exact("m"):
            return f"over {basis.high}"
    except BadInput:
        return ""
    return ""
