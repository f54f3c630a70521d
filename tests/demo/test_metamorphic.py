"""What must not change a finding: the order of the entries, the unit of the readings, clocks, and what this program does not know."""

from __future__ import annotations

import random
import statistics
from decimal import ROUND_CEILING, ROUND_FLOOR, Context, Decimal

import msgspec
import pytest
from test_total import SHEETS
from told import Kept, demo, stand

from wholefilm.demo import DEMOS
from wholefilm.job.facts import Fact, Job
from wholefilm.job.fold import fold
from wholefilm.ledger.entry import Entry, make_entry, uuid7
from wholefilm.proof.assessment import assess
from wholefilm.proof.states import Standing

NAMES = sorted(DEMOS)
EXACT = Context(prec=28)


def pages(standing: Standing) -> list[bytes]:
    return [msgspec.json.encode(make(standing)) for _, make in SHEETS]


def outcomes(standing: Standing) -> list[tuple[str, str, str]]:
    return [(f.rule.clause, f.about, f.finding.value) for f in standing.findings]


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("seed", [1, 2])
def test_devices_split_shuffled_and_loaded_twice_give_the_same_bytes(name: str, seed: int) -> None:
    one = demo(name)
    mixed = [*one.entries, *one.entries]
    random.Random(seed).shuffle(mixed)
    assert pages(assess(fold(mixed, Kept(one)))) == pages(stand(name))


def changed(job: Job, kind: str, change: dict[str, msgspec.Struct]) -> Job:
    """The job with other bodies for some facts of a kind, by id."""

    def swap(fact: Fact) -> Fact:
        return msgspec.structs.replace(fact, body=change[fact.id]) if fact.id in change else fact

    facts = [swap(f) for f in job.facts]
    of = {**job.of, kind: [swap(f) for f in job.of.get(kind, [])]}
    return msgspec.structs.replace(job, facts=facts, of=of, by_id={f.id: f for f in facts})


class Swapped:
    """The bytes beside a demo, with some under another hash."""

    def __init__(self, name: str, more: dict[str, bytes]) -> None:
        self.kept, self.more = Kept(demo(name)), more

    def has(self, sha: str) -> bool:
        return sha in self.more or self.kept.has(sha)

    def get(self, sha: str) -> bytes | None:
        return self.more.get(sha) or self.kept.get(sha)


def in_mil(data: bytes, column: str) -> bytes:
    """A file of readings rewritten from um to mil: 28 digits, rounded toward the middle, so that rounding crosses no limit."""
    head, *rows = data.decode().splitlines()
    at = head.split(",").index(column)
    middle = statistics.median(int(row.split(",")[at]) for row in rows)
    out = [head]
    for row in rows:
        cells = row.split(",")
        um = Decimal(cells[at])
        context = EXACT.copy()
        context.rounding = ROUND_CEILING if um < middle else ROUND_FLOOR
        cells[at] = f"{context.divide(um, Decimal('25.4')):f}"
        out.append(",".join(cells))
    return ("\n".join(out) + "\n").encode()


@pytest.mark.parametrize("name", NAMES)
def test_readings_in_mil_give_the_same_findings(name: str) -> None:
    job = fold(demo(name).entries, Kept(demo(name)))
    more, bodies = {}, {}
    for fact in job.all("readings.loaded"):
        body = fact.body
        sha = "f" * 64
        more[sha] = in_mil(demo(name).blobs[body.blob], body.columns["value"])
        bodies[fact.id] = msgspec.structs.replace(body, blob=sha, units={**body.units, "value": "mil"})
    assert bodies
    rewritten = msgspec.structs.replace(changed(job, "readings.loaded", bodies), blobs=Swapped(name, more))
    standing = assess(rewritten)
    assert outcomes(standing) == outcomes(stand(name))
    assert standing.assessment is stand(name).assessment


@pytest.mark.parametrize("name", NAMES)
def test_clocks_two_hours_apart_turn_findings_to_cannot_tell_only(name: str) -> None:
    job = fold(demo(name).entries, Kept(demo(name)))
    devices = list(dict.fromkeys(f.device for f in job.all("clock.compared")))
    turned = 0
    for device in devices:
        mine = {f.id: msgspec.structs.replace(f.body, offset_ms=7_200_000) for f in job.all("clock.compared") if f.device == device}
        standing = assess(changed(job, "clock.compared", mine))
        before, after = outcomes(stand(name)), outcomes(standing)
        assert [x[:2] for x in before] == [x[:2] for x in after]
        for old, new in zip(before, after, strict=True):
            assert new[2] in (old[2], "cannot_tell")
            turned += new[2] != old[2]
    assert devices
    assert turned  # two hours do matter on these sites


def appended(name: str, **entry: object) -> list[Entry]:
    """The demo with one more entry of its first device, well chained."""
    entries = demo(name).entries
    first = entries[0]
    last = max((e for e in entries if e.device == first.device), key=lambda e: e.seq)
    ident = uuid7(last.ms + 60_000, b"0123456789")
    more = make_entry(
        at=last.at, by=first.by, device=first.device, id=ident, job=first.id, prev=last.hash, seq=last.seq + 1, session=last.session,
        tick=last.tick + 1, **entry,
    )  # fmt: skip
    return [*entries, more]


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize(
    ("kind", "version", "body"),
    [("weather.guessed", 1, {"says": "fair"}), ("panel.tested", 99, {"panel": "x"}), ("indication.raised", 2, {"number": "A1"})],
)
def test_what_this_program_does_not_know_never_meets(name: str, kind: str, version: int, body: dict[str, object]) -> None:
    standing = assess(fold(appended(name, kind=kind, version=version, body=body), Kept(demo(name))))
    assert standing.assessment.value != "meets"
    assert any(line.what == "unknown_kind" and line.bars for line in standing.lines)


@pytest.mark.parametrize("name", NAMES)
def test_a_missing_entry_never_meets(name: str) -> None:
    """Any one entry in the middle of a device left out is a gap."""
    entries = demo(name).entries
    tested = [e for e in entries if e.kind in ("panel.tested", "retest.done", "instrument.checked", "climate.read")]
    for entry in random.Random(7).sample(tested, 6):
        standing = assess(fold([e for e in entries if e.id != entry.id], Kept(demo(name))))
        assert standing.assessment.value != "meets"
