"""Parts of a voltage sheet in words: its rule, the tester's steps, pulses on a point, the site's answers, the rules beside it."""

from __future__ import annotations

from typing import Annotated, Any

from wholefilm.base import cautions
from wholefilm.base.errors import BadInput
from wholefilm.base.quantity import quantity
from wholefilm.electric import pulses_on_a_point
from wholefilm.job.facts import Fact, Job
from wholefilm.rules.describing import figures
from wholefilm.rules.reading import read_rule

from .rows import Row, head


class SiteRow(Row, frozen=True, kw_only=True):
    """What the site's own people answered to one caution before a sheet."""

    test_areas: Annotated[str, head("Test areas")]
    stage: Annotated[str, head("Stage")]
    caution: Annotated[str, head("Asked of the site")]
    says: Annotated[str, head("Its answer")]
    by: Annotated[str, head("By")]
    entry: str


class BesideRow(Row, frozen=True, kw_only=True):
    """A rule as it stood beside the chosen one when a sheet was set."""

    test_areas: Annotated[str, head("Test areas")]
    stage: Annotated[str, head("Stage")]
    rule: Annotated[str, head("Rule")]
    film: Annotated[str, head("Film")]
    voltage: Annotated[str, head("Voltage")]
    grade: Annotated[str, head("Grade")]
    entry: str


def in_force(job: Job) -> dict[str, list[str]]:
    """Voltage sheets by entry, with the test areas for which each is the last of its stage; none for one that was replaced."""
    last: dict[tuple[str, str], Fact] = {}
    for fact in sorted(job.all("voltage.set"), key=lambda f: (f.start, f.rank)):
        for area in fact.body.test_areas:
            last[area, fact.body.stage] = fact
    found: dict[str, list[str]] = {f.id: [] for f in job.all("voltage.set")}
    for (area, _), fact in last.items():
        found[fact.id].append(area)
    return found


def further_text(job: Job, b: Any) -> str:
    """What else a sheet says: chosen value, steps, tolerance, pulses on a point, surface, found voltages, liquid, question."""
    said = []
    if b.chosen:
        said.append(f"chosen {b.chosen}")
    if b.steps:
        span = " to ".join(x for x in (b.steps.low, b.steps.high) if x)
        said.append(f"tester in steps of {b.steps.step}, brought {b.steps.rounded}" + (f", range {span}" if span else ""))
    if b.tolerance:
        said.append(f"tolerance {b.tolerance} ({b.tolerance_source or 'no source'})")
    if b.pulses:
        rate, contact, speed = (
            quantity(b.pulses.rate, "frequency"),
            quantity(b.pulses.contact, "length"),
            quantity(b.pulses.speed, "speed"),
        )
        try:
            on = pulses_on_a_point(rate.to("Hz"), contact.to("mm"), speed.to("m/s"))
        except BadInput as error:
            said.append(f"pulses on a point: {error}")
        else:
            under = ", under 1: a holiday can lie between two pulses" if on < 1 else ""
            said.append(f"{on:.1f} pulses on a point ({rate.text}, contact {contact.text}, {speed.text}){under}")
    if b.surface:
        said.append(f"for a {b.surface} surface")
    if b.found:
        said.append("found on made holidays: " + ", ".join(f"{f.zone} {f.voltage}" for f in b.found))
    if b.liquid:
        said.append(f"liquid {b.liquid}")
    asked = job.get(b.question, "question.raised") if b.question else None
    if asked is not None:
        said.append(f"answers {asked.body.number}")
    return "; ".join(said)


def site_rows(fact: Fact) -> list[SiteRow]:
    """The site's answers on one sheet."""
    site = fact.body.site
    if site is None:
        return []
    areas = ", ".join(fact.body.test_areas)
    answered = [(name, getattr(site, name)) for name in site.__struct_fields__ if name != "by" and getattr(site, name)]
    return [
        SiteRow(test_areas=areas, stage=fact.body.stage, caution=cautions.TOPICS[name], says=says, by=site.by, entry=fact.id)
        for name, says in answered
    ]


def beside_rows(fact: Fact) -> list[BesideRow]:
    """The rules that stood beside the chosen one on one sheet."""
    return [
        BesideRow(
            test_areas=", ".join(fact.body.test_areas),
            stage=fact.body.stage,
            rule=f"{b.rule} ({b.edition})",
            film=f"{b.basis} {b.thickness}",
            voltage=(b.voltage or f"none: {b.refused or 'no figure'}") + (f" to {b.to}" if b.to and b.to != b.voltage else ""),
            grade=b.grade,
            entry=fact.id,
        )
        for b in fact.body.beside or []
    ]


def rule_text(rule: dict[str, Any]) -> str:
    """A rule as carried in an entry, in one line."""
    if isinstance(rule.get("rule"), dict):
        return f"{rule['rule'].get('id', 'rule')}, {rule.get('edition', '')}: {_figures(rule['rule'])}".rstrip(": ")
    known = {k: v for k, v in rule.items() if k not in ("source", "confirmed")}
    form = str(known.pop("form", "rule")).replace("_", " ")
    parts = [f"{k.replace('_', ' ')} {' to '.join(map(str, v)) if isinstance(v, list) else v}" for k, v in known.items()]
    return f"{form}: {', '.join(parts)}" if parts else form


def _figures(rule: dict[str, Any]) -> str:
    """The figures of a whole rule in one line; empty if it cannot be read."""
    try:
        return figures(read_rule(rule))
    except BadInput:
        return ""
