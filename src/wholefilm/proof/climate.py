"""Climate readings of the job: worked out, held against what the contract asks, before and during the work that it speaks of."""

from __future__ import annotations

import itertools
from collections.abc import Iterator

import msgspec

from wholefilm.base.errors import BadInput
from wholefilm.base.findings import Finding, Outcome, count_of
from wholefilm.base.times import clock, local_day, utc_ms
from wholefilm.climate.entered import FIELDS, measured
from wholefilm.climate.holding import Earlier, Held, hold_all, worst_of
from wholefilm.climate.requirement import ClimateRequired
from wholefilm.climate.state import ClimateState, climate_state
from wholefilm.job.facts import Fact, Job

from .site import Site
from .states import PanelState, RepairState, Requirement

SOME = 6


class ReadClimate(msgspec.Struct, frozen=True):
    """One reading: worked out, or why not; and the reading of the same day and place before it."""

    fact: Fact
    state: ClimateState | None
    why_not: str
    earlier: Earlier | None

    @property
    def named(self) -> str:
        """How a reader finds it: ``2025-06-03 07:20, at the work``."""
        return f"{clock(self.fact.when)}, {self.fact.body.place}"


class Work(msgspec.Struct, frozen=True):
    """A piece of work that the climate matters for. [ms UTC]

    `where` are names of panels or test areas; `reading` is the id of the reading that the entry itself names, if any.
    """

    name: str
    where: tuple[str, ...]
    start: int
    end: int
    day: str
    reading: str = ""


def climate_readings(job: Job) -> list[ReadClimate]:
    """Every climate reading of a job in order of time; none raises."""
    found: list[ReadClimate] = []
    last: dict[tuple[str, str], ReadClimate] = {}
    for fact in sorted(job.all("climate.read"), key=lambda f: (f.start, f.rank)):
        state, why_not = _state(fact)
        key = (fact.body.place, local_day(fact.when))
        before = last.get(key)
        earlier = None
        if before is not None and before.state is not None:
            earlier = Earlier(before.state.measured.surface_c, before.state.spread_k, clock(before.fact.when))
        one = ReadClimate(fact, state, why_not, earlier)
        found.append(one)
        if state is not None:
            last[key] = one
    return found


def _state(fact: Fact) -> tuple[ClimateState | None, str]:
    b = fact.body
    texts = {name: getattr(b, name) for name in FIELDS}
    both = b.rh is not None and b.wet_bulb is not None
    if both:
        texts |= {"wet_bulb": None, "wet_bulb_uncertainty": None, "pressure": None}
    class_ = b.psychrometer_class if b.wet_bulb is not None and not both else None
    try:
        state = climate_state(measured(texts, psychrometer=b.psychrometer or "wmo", wick=b.wick or "", class_=class_ or ""))
    except BadInput as error:
        return None, f"not worked out: {error}"
    if both:
        state = msgspec.structs.replace(state, notes=(*state.notes, "humidity and wet bulb were read: the humidity is used"))
    return state, ""


def hold_reading(rule: ClimateRequired, reading: ReadClimate) -> list[Held]:
    """One reading against the limits of a requirement; cannot tell where it could not be worked out."""
    limits, any_of = rule.all_limits
    if reading.state is None:
        return [Held("no value", str(rule), Outcome.CANNOT_TELL, reading.why_not)] if limits else []
    return hold_all(limits, any_of, reading.state, reading.earlier)


class Climate:
    """Judges requirements of the climate for one job."""

    def __init__(self, job: Job, site: Site, panels: list[PanelState], repairs: list[RepairState]) -> None:
        self.job, self.site, self.panels, self.repairs = job, site, panels, repairs
        self.readings = climate_readings(job)
        self._names = {n for s in site.surfaces.values() for p in s.panels for n in (p.name, p.test_area)} | set(site.surfaces)

    def finding(self, r: Requirement, areas: list[str]) -> Finding:
        """The one finding of a requirement over the test areas that it is for.

        Not met: a reading that counts does not meet, or the interval that the contract names was not kept before or during
        a piece of work. Cannot tell: no reading of the same day where no interval is named, or a reading that tells nothing.
        """
        rule: ClimateRequired = r.rule
        about, limit = f"climate of the {rule.applies_to}", str(rule)
        doubt = unconfirmed(r)
        if doubt:
            return Finding(about, r.source, "not held against anything", limit, Outcome.CANNOT_TELL, doubt)
        work = [w for w in self._work(rule.applies_to, r.stage) if any(self.site.covers([a], p) or a == p for a in areas for p in w.where)]
        if not work:
            nothing = {"test": "nothing tested yet", "application": "no coat recorded yet", "cure": "no cure released yet"}
            says = nothing[rule.applies_to]
            return Finding(about, r.source, says, limit, Outcome.CANNOT_TELL, says)
        return self._over(r, rule, work, about, limit)

    def before(self, r: Requirement, panels: list[str], start: int, day: str) -> tuple[Finding, int | None]:
        """A requirement for the test, asked before a test of panels that would start now, and until when its reading lasts. [ms UTC]"""
        rule: ClimateRequired = r.rule
        about, limit, doubt = "climate of the test", str(rule), unconfirmed(r)
        if doubt:
            return Finding(about, r.source, "not held against anything", limit, Outcome.CANNOT_TELL, doubt), None
        work = Work("the test", tuple(panels), start, start, day)
        found = self._over(r, rule, [work], about, limit)
        read = max((c.fact.start for c in self._of(work, rule.interval_ms)[0]), default=None)
        return found, read + rule.interval_ms if read is not None and rule.interval_ms is not None else None

    def _over(self, r: Requirement, rule: ClimateRequired, work: list[Work], about: str, limit: str) -> Finding:
        late: list[str] = []
        unread: list[str] = []
        counting: dict[str, ReadClimate] = {}
        for one in work:
            mine, kept = self._of(one, rule.interval_ms)
            counting |= {c.fact.id: c for c in mine}
            if not kept:
                (late if rule.interval_ms is not None else unread).append(one.name)
        held = {i: hold_reading(rule, c) for i, c in counting.items()}
        bad = [i for i, h in held.items() if h and worst_of(h) is Outcome.NOT_MET]
        dim = [i for i, h in held.items() if h and worst_of(h) is Outcome.CANNOT_TELL]
        near = [i for i, h in held.items() if any(x.inside_uncertainty for x in h)]
        says = [_told(counting[i], held[i], Outcome.NOT_MET) for i in bad]
        says += [f"no reading within {rule.interval} before or during: {_some(late)}"] if late else []
        says += [f"no reading of the same day before: {_some(unread)}"] if unread else []
        says += [_told(counting[i], held[i], Outcome.CANNOT_TELL) for i in dim]
        outcome = Outcome.NOT_MET if bad or late else Outcome.CANNOT_TELL if dim or unread else Outcome.MET
        value = f"{count_of(len(counting), 'reading')} for {count_of(len(work), WORK[rule.applies_to])}"
        if bad:
            value += f", {len(bad)} not met"
        if near:
            value += f", {len(near)} inside uncertainty"
        because = "; ".join(says[:SOME]) + (f"; and {len(says) - SOME} more" if len(says) > SOME else "")
        return Finding(about, r.source, value, limit, outcome, because or "each read in time and within the limits", bool(near))

    def _work(self, what: str, stage: str) -> Iterator[Work]:
        if what == "test":
            for panel in self.panels:
                test = panel.counts
                if test is not None and (not stage or test.stage == stage):
                    yield Work(panel.name, (panel.name,), test.fact.start, test.fact.end, local_day(test.fact.when))
            for repair in self.repairs:
                for x in repair.retests[-1:]:
                    if not stage or x.fact.body.stage == stage:
                        f = x.fact
                        yield Work(f"{repair.number} retest {x.nth}", tuple(repair.panels), f.start, f.end, local_day(f.when))
        elif what == "application":
            for f in self.job.all("coat.applied"):
                names = tuple(f.body.test_areas)
                yield Work(f"{f.body.coat} on {', '.join(names)}", names, f.start, f.end, local_day(f.when), f.body.climate or "")
            for repair in self.repairs:
                for n, coat in enumerate((c for f in repair.done for c in f.body.coats), 1):
                    at = utc_ms(coat.at)
                    yield Work(f"{repair.number} coat {n}", tuple(repair.panels), at, at, local_day(coat.at), coat.climate or "")
        else:
            by_repair = {x.fact.id: x for x in self.repairs} | {x.number: x for x in self.repairs}
            for f in self.job.all("cure.released"):
                about = [p for name in f.body.about for p in (by_repair[name].panels if name in by_repair else [name])]
                called = [by_repair[name].number if name in by_repair else name for name in f.body.about]
                begun = utc_ms(f.body.last_coat_at)
                yield Work(f"cure of {', '.join(called)}", tuple(about), begun, max(begun, f.start), local_day(f.body.last_coat_at))

    def _of(self, work: Work, longest: int | None) -> tuple[list[ReadClimate], bool]:
        """Readings that count for a piece of work, and whether they were made in time."""
        mine = [c for c in self.readings if self._for(c, work)]
        named = next((c for c in self.readings if c.fact.id == work.reading), None)
        within = [c for c in mine if work.start < c.fact.start <= work.end]
        before = [c for c in mine if c.fact.start <= work.start]
        if longest is None:
            first = named or next((c for c in reversed(before) if local_day(c.fact.when) == work.day), None)
            return [*([first] if first else []), *within], first is not None
        first = named or (before[-1] if before else None)
        if first is None or work.start - first.fact.start > longest:
            return within, False
        times = [max(first.fact.start, work.start) if first is named else first.fact.start, *(c.fact.start for c in within), work.end]
        return [first, *within], all(b - a <= longest for a, b in itertools.pairwise(times))

    def _for(self, reading: ReadClimate, work: Work) -> bool:
        """A reading at a named panel, test area or item counts there alone; one whose place is told in free words counts everywhere."""
        place = reading.fact.body.place
        return place not in self._names or any(place == p or self.site.covers([place], p) or self._inside(place, p) for p in work.where)

    def _inside(self, place: str, area: str) -> bool:
        """Whether a place is a panel of a test area, or the item that bears it."""
        return any(area == p.test_area and place in (p.name, s.item) for s, p in self.site.panels)


WORK = {"test": "test", "application": "coat", "cure": "release"}


def unconfirmed(r: Requirement) -> str:
    """Why the rule of a document that a requirement names may not be held yet; empty if it may."""
    rule = r.rule.document_rule
    if rule is None or rule.choosable or (r.decided and r.decided.body.confirmed):
        return ""
    why = f"graded {rule.grade.value}" + (f", {rule.doubts[0]}" if rule.doubts else "")
    return f"the figure of {rule.id} is {why}: shown for comparison until confirmed from an own copy, or enter the contract's own figures"


def _told(reading: ReadClimate, held: list[Held], word: Outcome) -> str:
    mine = [f"{h.value}, {h.limit} ({h.says})" if word is Outcome.NOT_MET else f"{h.because}" for h in held if h.finding is word]
    return f"{reading.named}: {'; '.join(mine)}"


def _some(names: list[str]) -> str:
    unique = list(dict.fromkeys(names))
    return ", ".join(unique[:SOME]) + (f" and {len(unique) - SOME} more" if len(unique) > SOME else "")
