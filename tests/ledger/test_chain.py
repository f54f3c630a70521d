"""Each device's chain, and every head ever stated."""

from __future__ import annotations

import pytest

from ledger.book import Book
from wholefilm.ledger.chain import by_arrival, check_chains, heads_of
from wholefilm.ledger.entry import Entry, make_entry


def changed(entry: Entry, **changes: object) -> Entry:
    """The same entry with fields changed, in right form again: what a forger would write."""
    names = ("at", "body", "by", "device", "id", "job", "kind", "prev", "seq", "session", "tick", "version", "heads")
    return make_entry(**({name: getattr(entry, name) for name in names} | changes))  # type: ignore[arg-type]


def test_an_intact_book_has_no_break() -> None:
    book = Book().fill(60)
    assert check_chains(book.entries, whole=True) == []
    assert check_chains(reversed(book.entries), whole=True) == []
    assert heads_of(book.entries) == book.last


@pytest.mark.parametrize("heads", [True, False])
def test_every_entry_removed_from_the_middle_of_a_chain_is_named(heads: bool) -> None:
    book = Book().fill(40, heads)
    for n, gone in enumerate(book.entries):
        breaks = check_chains(book.entries[:n] + book.entries[n + 1 :], whole=True)
        if gone.seq < book.last[gone.device][0]:
            assert any(f"seq {gone.seq}" in str(b) and gone.device in str(b) for b in breaks), gone.place


def test_a_rewritten_entry_is_named_by_the_next_of_its_device() -> None:
    book = Book(devices=1).fill(5)
    forged = changed(book.entries[2], body={"note": "never happened"})
    breaks = check_chains([*book.entries[:2], forged, *book.entries[3:]], whole=True)
    assert any(book.entries[3].place == b.where and "seq 3 of its device" in b.what for b in breaks)


def test_heads_show_a_tail_that_was_cut_or_written_again() -> None:
    book = Book(devices=2)
    a, b = book.devices
    for _ in range(3):
        book.write(b, {"note": "x"})
    book.write(a, {}, heads=dict(book.last))
    *rest, last, witness = book.entries
    assert [str(x).split(":")[0] for x in check_chains([*rest, witness], whole=True)] == [f"device {b}, seq 3"]
    again = changed(last, body={"note": "y"})
    (found,) = check_chains([*rest, again, witness], whole=True)
    assert found.where == f"device {b}, seq 3"
    assert witness.id in found.what
    # a part is held to its own chains only, but never to a wrong hash
    assert check_chains([witness], whole=False) == []


def test_a_part_may_start_anywhere_but_has_no_gap() -> None:
    book = Book(devices=1).fill(9)
    assert check_chains(book.entries[4:], whole=False) == []
    assert check_chains(book.entries[1:], whole=False) == []
    breaks = check_chains([*book.entries[4:6], *book.entries[8:]], whole=False)
    assert "seq 7 to 8" in breaks[0].what
    assert check_chains(book.entries[1:], whole=True)[0].where == "job"


def test_first_entry_of_a_device_holds_the_hash_of_the_opening() -> None:
    book = Book(devices=2)
    lone = book.write(book.devices[1], {})
    forged = changed(lone, prev="f" * 64)
    (found,) = check_chains([book.entries[0], forged], whole=True)
    assert (found.where, "opened the job" in found.what) == (forged.place, True)


def test_forks_are_breaks_and_the_first_to_arrive_stands() -> None:
    book = Book(devices=1).fill(4)
    last = book.entries[-1]
    same_id, same_number = changed(last, tick=7), changed(last, id=book.new_id())
    for other in (same_id, same_number):
        assert by_arrival([*book.entries, other, last]) == (book.entries, [other])
        breaks = check_chains([*book.entries, other], whole=True)
        assert len(breaks) == 1
        assert "kept aside" in breaks[0].what
        assert check_chains(book.entries, whole=True, aside=[other])[0].where == other.place


def test_an_entry_of_another_job_is_named() -> None:
    book, other = Book(1).fill(2), Book(2).fill(2)
    breaks = check_chains([*book.entries, *other.entries], whole=True)
    assert {b.where for b in breaks if "another job" in b.what} in ({e.place for e in book.entries}, {e.place for e in other.entries})
