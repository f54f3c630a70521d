"""One order, whatever the order of arrival. The cases with letters are worked by hand from the rule."""

from __future__ import annotations

import itertools
import random
from datetime import UTC

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ledger.book import START, Book, at, uid
from wholefilm.base.errors import BadInput, NotFound
from wholefilm.ledger.entry import Entry, make_entry
from wholefilm.ledger.order import as_of, order

OPEN = uid(100)
A, B, C = uid(101), uid(102), uid(103)  # devices, in the order of their ids


Heads = dict[str, tuple[int, str]]


def entry(ident: int, device: str, seq: int, second: int, *refs: int, heads: Heads | None = None, note: str = "") -> Entry:
    """An entry whose hash chain plays no part: the order looks at id, device, seq, at, refs and heads only."""
    return make_entry(
        at=at(START + 1000 * second), body={"of": [uid(ref) for ref in refs], "note": note}, by=uid(1), device=device, id=uid(ident),
        job=OPEN, kind="item.added", prev="0" * 64, seq=seq, session=uid(2), tick=0, version=1, heads=heads,
    )  # fmt: skip


def opened(second: int = 0) -> Entry:
    return make_entry(
        at=at(START + 1000 * second), body={}, by=uid(1), device=A, id=OPEN, job=OPEN, kind="job.opened", prev="", seq=1,
        session=uid(2), tick=0, version=1,
    )  # fmt: skip


def ids(entries: list[Entry]) -> list[int]:
    return [int(e.id[-6:], 16) for e in entries]


def check(entries: list[Entry], right: list[int], circles: list[int] | None = None, aside: int = 0) -> None:
    for given_order in itertools.islice(itertools.permutations(entries), 720):
        found = order(given_order)
        assert ids(found.entries) == right
        assert [int(name[-6:], 16) for name in found.circles] == (circles or [])
        assert len(found.aside) == aside


def test_time_first_then_device() -> None:
    check([opened(), entry(11, A, 2, 9), entry(21, B, 1, 5), entry(31, C, 1, 5), entry(22, B, 2, 7)], [100, 21, 31, 22, 11])


def test_a_device_keeps_its_own_order_when_its_clock_jumps_back() -> None:
    check([opened(), entry(21, B, 1, 50), entry(22, B, 2, 3), entry(31, C, 1, 10)], [100, 31, 21, 22])


def test_utc_counts_not_the_wall_clock() -> None:
    early = entry(21, B, 1, 5)
    told = {name: getattr(early, name) for name in ("body", "by", "job", "kind", "prev", "session", "tick", "version")}
    late = make_entry(at=at(START + 6000, UTC), device=C, id=uid(31), seq=1, **told)  # its wall clock shows two hours less
    assert late.at < early.at
    check([opened(), early, late], [100, 21, 31])


def test_everything_waits_for_the_entry_that_opened_the_job_even_if_a_clock_is_behind() -> None:
    check([opened(60), entry(21, B, 1, 5), entry(31, C, 1, 4)], [100, 31, 21])


def test_an_entry_waits_for_what_it_refers_to() -> None:
    check([opened(), entry(21, B, 1, 1, 31), entry(31, C, 1, 30), entry(11, A, 2, 20)], [100, 11, 31, 21])


def test_an_entry_waits_for_the_heads_that_it_states_and_takes_no_notice_of_what_is_not_there() -> None:
    heads = {C: (2, "0" * 64), uid(109): (4, "0" * 64), B: (9, "0" * 64)}
    first, second, third = entry(31, C, 1, 30), entry(32, C, 2, 31), entry(33, C, 3, 32)
    check([opened(), entry(21, B, 1, 1, 77, heads=heads), first, second, third], [100, 31, 32, 21, 33])
    check([opened(), entry(21, B, 1, 1, heads=heads), first, third], [100, 31, 21, 33])


def test_a_gap_does_not_hold_up_the_queue() -> None:
    check([opened(), entry(25, B, 5, 2), entry(22, B, 2, 9), entry(31, C, 1, 4)], [100, 31, 22, 25])


def test_a_circle_lets_the_smallest_of_its_fronts_through_and_reports_it() -> None:
    # B waits for C's entry and C for B's; A 2 (second 1) waits for B, so it is no part of the circle although it is smaller.
    check([opened(), entry(11, A, 2, 1, 21), entry(21, B, 1, 8, 31), entry(31, C, 1, 7, 21)], [100, 31, 21, 11], [31])
    # An entry that refers to a later one of its own device is a circle of one.
    check([opened(), entry(21, B, 1, 3, 22), entry(22, B, 2, 4), entry(31, C, 1, 9)], [100, 31, 21, 22], [21])
    # Heads that claim to have seen the writer's own future: the same.
    check([opened(), entry(21, B, 1, 3, heads={B: (2, "0" * 64)}), entry(22, B, 2, 4)], [100, 21, 22], [21])
    # A ring of three.
    check([opened(), entry(11, A, 2, 3, 21), entry(21, B, 1, 2, 31), entry(31, C, 1, 1, 11)], [100, 31, 21, 11], [31])


def test_a_fork_stands_by_the_smallest_hash_and_takes_no_other_part() -> None:
    one, two = entry(21, B, 1, 3, note="x"), entry(21, B, 1, 3, note="y")
    small, large = sorted([one, two], key=lambda e: e.hash)
    for given_order in itertools.permutations([opened(), one, two, one]):
        found = order(given_order)
        assert [e.hash for e in found.entries[1:]] == [small.hash]
        assert [e.hash for e in found.aside] == [large.hash]
    # same number, another id
    other = entry(23, B, 1, 3)
    found = order([opened(), one, other])
    assert {len(found.entries), len(found.aside)} == {2, 1}
    # already kept aside by a store: handed on, and what the store let stand stands, whatever the hashes
    for stands, kept in ((one, two), (two, one)):
        found = order([opened(), stands], aside=[kept])
        assert (found.entries[1].hash, [e.hash for e in found.aside]) == (stands.hash, [kept.hash])


def test_nothing_at_all() -> None:
    assert order([]).entries == []


@settings(max_examples=150, deadline=None)
@given(st.data())
def test_any_entries_in_any_order_give_one_order(data: st.DataObject) -> None:
    """Forks, gaps, circles, wrong clocks, heads that never were: every entry comes out once, the same way, queues in order."""
    n = data.draw(st.integers(1, 12))
    entries = [opened(data.draw(st.integers(0, 20)))] if data.draw(st.booleans()) else []
    for k in range(n):
        refs = data.draw(st.lists(st.integers(1, 14), max_size=2))
        heads = data.draw(st.none() | st.dictionaries(st.sampled_from([A, B, C]), st.tuples(st.integers(1, 6), st.just("0" * 64))))
        device, seq = data.draw(st.sampled_from([A, B, C])), data.draw(st.integers(2, 8))
        entries.append(entry(data.draw(st.integers(1, 14)), device, seq, data.draw(st.integers(0, 20)), *refs, heads=heads, note=str(k)))
    first = order(entries)
    again = list(entries)
    random.Random(data.draw(st.integers(0, 99))).shuffle(again)
    second = order(again + again[:2])
    assert [e.hash for e in first.entries] == [e.hash for e in second.entries]
    assert (first.circles, [e.hash for e in first.aside]) == (second.circles, [e.hash for e in second.aside])
    assert sorted(e.hash for e in first.entries + first.aside) == sorted({e.hash for e in entries})
    for device in (A, B, C):
        seqs = [e.seq for e in first.entries if e.device == device]
        assert seqs == sorted(seqs)
    assert [e.hash for e in order(first.entries).entries] == [e.hash for e in first.entries]
    if not first.circles:
        place = {e.id: n for n, e in enumerate(first.entries)}
        assert all(place.get(ref, -1) < place[e.id] for e in first.entries for ref in e.refs)


def test_three_thousand_entries_shuffled() -> None:
    book = Book(3, devices=5).fill(3000)
    right = [e.id for e in book.entries]  # written one after the other, each a second later
    random.Random(5).shuffle(book.entries)
    assert [e.id for e in order(book.entries).entries] == right


def test_as_of_a_time_takes_each_device_up_to_its_last_entry_by_then() -> None:
    # B's clock jumps: its entry 22 (second 3) follows 21 (second 50): both count as of second 10.
    entries = [opened(), entry(21, B, 1, 50), entry(22, B, 2, 3), entry(23, B, 3, 11), entry(31, C, 1, 10)]
    assert ids(as_of(entries, time=at(START + 10_000))) == [100, 21, 22, 31]
    assert ids(as_of(entries, time=at(START + 9_999))) == [100, 21, 22]
    assert as_of(entries, time=at(START - 1)) == []
    assert as_of(entries) == entries


def test_as_of_an_entry_takes_the_heads_stated_there() -> None:
    heads = {C: (1, "0" * 64), A: (1, "0" * 64)}
    entries = [opened(), entry(11, A, 2, 1), entry(31, C, 1, 1), entry(21, B, 1, 2), entry(22, B, 2, 3, heads=heads)]
    entries += [entry(32, C, 2, 2), entry(23, B, 3, 4)]
    assert ids(as_of(entries, entry_id=uid(22))) == [100, 31, 21, 22]
    assert ids(as_of(entries, entry_id=uid(21))) == [100, 11, 31, 21]  # states no heads: all before it in fold order
    with pytest.raises(NotFound, match="as of"):
        as_of(entries, entry_id=uid(99))
    with pytest.raises(BadInput, match="as of"):
        as_of(entries, time="yesterday")
    with pytest.raises(BadInput, match="not both"):
        as_of(entries, time=at(START), entry_id=uid(21))
