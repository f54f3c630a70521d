"""What a failed or missing check drags along: everything in doubt at once, what to test again, and which findings it turned."""

from __future__ import annotations

from collections.abc import Iterator

import msgspec

from wholefilm.base.findings import Finding
from wholefilm.base.times import clock
from wholefilm.instruments.field_check import Verdict
from wholefilm.job.facts import Fact, Job

from .assessment import assess
from .setting import is_spark
from .states import CheckState, PanelState, PanelWord, Standing, TestWord


class InDoubt(msgspec.Struct, frozen=True):
    """One thing in doubt: what kind, its name, area of panels [m2], why, since which reading, and what puts it right."""

    what: str
    name: str
    m2: float | None
    why: str
    cure: str
    entry: str


class Again(msgspec.Struct, frozen=True):
    """One thing to test again: panel or repair, area [m2], setting, when it was tested, what to ask first."""

    name: str
    m2: float | None
    set: str
    tested: str
    ask: str
    what: str


class Turned(msgspec.Struct, frozen=True):
    """A finding that a failed check turned: clause, about, what it would be had the check passed, what it is."""

    check: str
    clause: str
    about: str
    had_it_passed: str
    now: str


def in_doubt(standing: Standing) -> list[InDoubt]:
    """Tests, retests, decisions that an indication was false, ground proofs, found voltages, film readings, and releases on them."""
    return [*_panels(standing), *_retests(standing), *_decisions(standing), *_falls(standing), *_releases(standing)]


def _panels(standing: Standing) -> Iterator[InDoubt]:
    for p in standing.panels:
        if p.word is PanelWord.IN_DOUBT and p.counts is not None:
            yield InDoubt("test", p.name, p.in_doubt_m2, p.counts.why, "test again", p.counts.fact.id)
        elif _burns_due(p) and p.counts is not None:
            yield InDoubt("test, for burns", p.name, p.awaiting_m2, p.counts.why, "look for burns; no holiday is doubted", p.counts.fact.id)


def _burns_due(p: PanelState) -> bool:
    counts = p.counts
    return p.word is PanelWord.AWAITING and counts is not None and counts.bracket is not None and counts.bracket.cause == "high"


def _retests(standing: Standing) -> Iterator[InDoubt]:
    for r in standing.repairs:
        for x in r.retests[-1:]:
            if x.word is TestWord.IN_DOUBT and x.passed:
                yield InDoubt("retest", f"{r.number} retest {x.nth}", None, x.why, "retest again", x.fact.id)


def _decisions(standing: Standing) -> Iterator[InDoubt]:
    for i in standing.indications:
        if i.decided == "false" and i.in_doubt and i.false is not None:
            yield InDoubt("false indication", i.number, None, "decided with a tester that is in doubt", "try it again", i.false.id)


def _falls(standing: Standing) -> Iterator[InDoubt]:
    for f in standing.falls:
        yield InDoubt(f.what, f.name, None, f.bracket.why, "find it again", f.fact.id)


def _releases(standing: Standing) -> Iterator[InDoubt]:
    """A hold released after a test that is in doubt now covers what nobody has proved."""
    doubtful = {p.name: p for p in standing.panels if p.word is PanelWord.IN_DOUBT and p.counts is not None}
    for fact in standing.job.all("hold.released"):
        if fact.body.point == "before test":
            continue
        mine = sorted(n for n, p in doubtful.items() if _covers(fact, p) and p.counts is not None and p.counts.fact.end <= fact.start)
        if mine:
            names = ", ".join(mine[:6]) + (f" and {len(mine) - 6} more" if len(mine) > 6 else "")
            says = f"released {clock(fact.when)} on tests that are in doubt: {names}"
            yield InDoubt("release", f"hold {fact.body.point}", None, says, "release anew after the test", fact.id)


def _covers(fact: Fact, panel: PanelState) -> bool:
    about = fact.body.about
    return panel.name in about or panel.test_area in about or panel.item in about


def to_test_again(standing: Standing) -> list[Again]:
    """What is to be tested or looked at again, in the order in which it was tested: the way the inspector walked."""
    found: list[tuple[int, Again]] = []
    for p in standing.panels:
        test = p.counts
        if test is None or test.started is None or not (p.word is PanelWord.IN_DOUBT or _burns_due(p)):
            continue
        set_, first = test.started.body.set, clock(test.started.when)
        if _burns_due(p):
            found.append((test.started.start, Again(p.name, p.awaiting_m2, set_, first, "nothing", "look for burns")))
            continue
        ask = "the coating maker's or engineer's written word: a second exposure" if is_spark(set_) else "nothing: under 100 V"
        found.append((test.started.start, Again(p.name, p.in_doubt_m2, set_, first, ask, "test again")))
    for r in standing.repairs:
        for x in r.retests[-1:]:
            if x.word is TestWord.IN_DOUBT and x.passed:
                found.append((x.fact.start, Again(r.number, None, x.fact.body.set, clock(x.fact.when), "nothing", "retest again")))
    return [again for _, again in sorted(found, key=lambda pair: (pair[0], pair[1].name))]


def turned(standing: Standing) -> list[Turned]:
    """Findings that would be another had each failed check passed: the check is taken as read at its set value, and all is judged anew."""
    failed = [c for c in standing.checks if c.result.verdict is not Verdict.PASSED]
    now = _outcomes(standing.findings)
    found = []
    for check in failed:
        if not _drags(standing, check):
            continue
        then = _outcomes(assess(_as_if_passed(standing.job, check.fact)).findings)
        for key, word in now.items():
            if key in then and then[key] != word:
                found.append(Turned(check.fact.id, key[0], key[1], then[key], word))
    return found


def _drags(standing: Standing, check: CheckState) -> bool:
    """Whether a failed check still has something in doubt or waiting with it."""
    tests = [p.counts for p in standing.panels if p.counts is not None and p.word in (PanelWord.IN_DOUBT, PanelWord.AWAITING)]
    retests = [x for r in standing.repairs for x in r.retests[-1:] if x.word in (TestWord.IN_DOUBT, TestWord.AWAITING)]
    brackets = [t.bracket for t in tests] + [x.bracket for x in retests] + [f.bracket for f in standing.falls]
    return any(b is not None and check.fact in (b.before, b.after) for b in brackets)


def _outcomes(findings: list[Finding]) -> dict[tuple[str, str], str]:
    """Worst outcome of each clause about each thing."""
    rank = {"met": 0, "cannot_tell": 1, "not_met": 2}
    worst: dict[tuple[str, str], str] = {}
    for f in findings:
        key = (f.rule.clause or f.rule.document, f.about)
        if key not in worst or rank[f.finding.value] > rank[worst[key]]:
            worst[key] = f.finding.value
    return worst


def _as_if_passed(job: Job, check: Fact) -> Job:
    """The job with one check read at its set value."""
    passed = msgspec.structs.replace(check, body=msgspec.structs.replace(check.body, read=check.body.set))
    facts = [passed if f is check else f for f in job.facts]
    of = {kind: [passed if f is check else f for f in mine] for kind, mine in job.of.items()}
    return msgspec.structs.replace(job, facts=facts, of=of, by_id={**job.by_id, check.id: passed})
