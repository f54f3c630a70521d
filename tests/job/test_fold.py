"""The record itself: gaps, lost devices, strangers, forks, missing bytes, times. Each is said; what must bar, bars."""

from __future__ import annotations

import random
from typing import Any

import pytest
from builder import DEVICES, PEOPLE, Book

from wholefilm.job.facts import Job
from wholefilm.job.fold import fold
from wholefilm.ledger.entry import make_entry


def whats(job: Job, bars: bool | None = None) -> list[str]:
    return [p.what for p in job.problems if bars is None or p.bars is bars]


def two() -> Book:
    book = Book()
    book.write("device.joined", "2 08:00", device=DEVICES["B"], letter="B", holder="QA")
    for n in range(4):
        book.write("delay.noted", f"3 0{n}:00", on="B", who="qa", reason=f"rain {n}")
    return book


def without(book: Book, *gone: int) -> Job:
    """The record without some entries of device B, by their number."""
    kept = [e for e in book.entries if not (e.device == DEVICES["B"] and e.seq in gone)]
    return fold(kept)


def test_a_whole_record_has_no_problem() -> None:
    job = two().fold()
    assert whats(job) == []
    assert job.heads[DEVICES["B"]][0] == 4
    assert (job.name, job.title) == ("small", "Small tank")


@pytest.mark.parametrize(("gone", "says"), [((1,), "entry 1 is"), ((2, 3), "entries 2 to 3 are")])
def test_a_gap_bars_and_names_what_is_not_here(gone: tuple[int, ...], says: str) -> None:
    job = without(two(), *gone)
    assert whats(job, True) == ["gap"]
    assert f"device B: {says} not here" in job.problems[0].says


def test_a_lost_device_turns_its_gap_into_a_line() -> None:
    book = two()
    book.write("device.lost", "4 08:00", device=DEVICES["B"], last_seen="2025-03-03T05:00:00.000+01:00", redone_by="QC")
    job = without(book, 2)
    assert (whats(job, True), whats(job, False)) == ([], ["gap"])
    assert "done again by QC" in job.problems[0].says


def test_a_device_lost_before_anything_of_it_came() -> None:
    book = two()
    book.write("device.lost", "4 08:00", device=DEVICES["B"], last_seen="2025-03-03T05:00:00.000+01:00", redone_by="QC")
    assert whats(without(book, 1, 2, 3, 4)) == ["gap"]


def test_a_person_and_a_device_that_never_joined_bar() -> None:
    book = Book()
    book.write("delay.noted", "3 08:00", who="stranger", reason="x")
    job = book.fold()
    assert whats(job, True) == ["never_joined"]
    assert PEOPLE["stranger"][:8] in job.problems[0].says
    book = Book()
    book.write("delay.noted", "3 08:00", on="X", reason="x")
    assert whats(book.fold(), True) == ["never_joined"]


def test_a_letter_given_twice_bars() -> None:
    book = Book()
    book.write("device.joined", "2 08:00", device=DEVICES["B"], letter="A", holder="QA")
    assert whats(book.fold(), True) == ["letter_twice"]


def test_a_fork_bars_until_a_person_settles_it() -> None:
    book = Book()
    first = book.write("delay.noted", "3 08:00", reason="rain")
    seq = book.entries[-1].seq
    second = book.write("delay.noted", "3 08:00", reason="wind", seq=seq, prev=book.entries[-1].prev)
    job = book.fold()
    assert whats(job, True) == ["fork"]
    assert len(job.all("delay.noted")) == 1
    book.write("duplicate.settled", "3 09:00", entries=[first, second], keep=first, reason="x", seq=seq + 1, prev="c" * 64)
    job = book.fold()
    assert "fork" in whats(job, False)
    assert "fork" not in whats(job, True)


def test_what_a_store_kept_aside_is_a_fork_too() -> None:
    book = two()
    assert whats(fold(book.entries[:-1], aside=[book.entries[-1]]), True) == ["fork"]


@pytest.mark.parametrize("kind", ["panel.swept", "delay.noted"])
def test_an_unknown_kind_or_version_bars_and_the_rest_counts(kind: str) -> None:
    book = Book()
    book.write(kind, "3 08:00", version=99, reason="x")
    book.write("delay.noted", "3 09:00", reason="rain")
    job = book.fold()
    assert whats(job, True) == ["unknown_kind"]
    assert len(job.all("delay.noted")) == 1


def test_missing_bytes_bar_and_withheld_bytes_are_said() -> None:
    book = Book()
    sha = book.keep(b"photo")
    book.write("photo.taken", "3 08:00", blob=sha, about=["F-1"])
    assert whats(book.fold()) == []
    book.blobs.clear()
    assert whats(book.fold(), True) == ["bytes_missing"]
    assert whats(fold(book.entries), True) == ["bytes_missing"]
    book.write("withheld", "3 09:00", hash=sha, reason="faces")
    job = book.fold()
    assert (whats(job, True), whats(job, False)) == ([], ["bytes_withheld"])
    assert "withheld: faces" in job.problems[0].says


@pytest.mark.parametrize("kind", ["photo.taken", "file.attached", "readings.loaded", "log.loaded"])
def test_every_kind_that_names_bytes_is_asked_for_them(kind: str) -> None:
    more: dict[str, Any] = {
        "photo.taken": {"about": ["F"]},
        "file.attached": {"about": ["F"], "name": "x"},
        "readings.loaded": {"columns": {}, "units": {}, "rows": 0, "about": "F"},
        "log.loaded": {"columns": {}, "units": {}, "rows": 0, "panels": ["F"]},
    }[kind]
    book = Book()
    book.write(kind, "3 08:00", blob="d" * 64, **more)
    assert whats(book.fold(), True) == ["bytes_missing"]


@pytest.mark.parametrize(
    ("happened", "expected"),
    [
        ("3 08:00", []),
        ("3 08:01", ["happened_later"]),
        ("2 20:00", []),
        ("2 19:59", ["entered_late"]),
        ("2 19:00..3 07:00", []),
        ("2 19:00..3 08:01", ["happened_later"]),
    ],
)
def test_happened_later_and_entered_over_12_hours_late(happened: str, expected: list[str]) -> None:
    book = Book()
    book.write("delay.noted", "3 08:00", reason="rain", happened=happened)
    job = book.fold()
    assert (whats(job, False), whats(job, True)) == (expected, [])


def test_a_part_without_its_opening_is_said() -> None:
    book = two()
    job = fold([e for e in book.entries if e.device == DEVICES["B"]])
    assert "not_opened" in whats(job, True)
    assert (job.name, job.opened) == (job.id, None)
    assert whats(fold([]), True) == ["not_opened"]


def test_an_entry_of_another_job_is_left_out() -> None:
    book = Book()
    n = len(book.fold().facts)
    book.write("delay.noted", "3 08:00", job=PEOPLE["stranger"], on="X", reason="x")
    job = book.fold()
    assert whats(job, True) == ["other_job"]
    assert len(job.facts) == n


def test_the_order_of_arrival_changes_nothing() -> None:
    book = two()
    expected = [(f.id, f.rank) for f in book.fold().facts]
    for seed in range(5):
        mixed = list(book.entries)
        random.Random(seed).shuffle(mixed)
        assert [(f.id, f.rank) for f in fold(mixed + mixed[:3]).facts] == expected


# What an entry states that it saw: the end of a device written again or cut off, with nothing after it on that device to show it.
def countersigned() -> Book:
    book = two()
    book.write("day.closed", "4 18:00", heads=True, date="2025-03-04", narrative="x", marks_counted=0)
    return book


def test_an_end_that_a_daily_report_saw_and_that_is_not_here_bars() -> None:
    job = without(countersigned(), 4)
    assert [(p.what, p.says) for p in job.problems] == [("gap", "device B: entry 4 is not here, though others saw it")]
    job = without(countersigned(), 1, 2, 3, 4)
    assert [(p.what, p.bars) for p in job.problems] == [("gap", True)]
    assert "device B: entries 1 to 4 are not here, though others saw them" in job.problems[0].says


def test_an_end_written_again_after_a_daily_report_saw_it_bars() -> None:
    book = countersigned()
    n = next(n for n, e in enumerate(book.entries) if e.device == DEVICES["B"] and e.seq == 4)
    names = ("at", "body", "by", "device", "id", "job", "kind", "prev", "seq", "session", "tick", "version", "heads")
    same: dict[str, Any] = {x: getattr(book.entries[n], x) for x in names}
    forged = make_entry(**(same | {"body": {"reason": "sun"}}))
    job = fold([*book.entries[:n], forged, *book.entries[n + 1 :]])
    assert [(p.what, p.bars) for p in job.problems] == [("broken_chain", True)]
    assert job.problems[0].says == "device B: entry 4 is not what others saw of it before"


def test_behind_a_cut_at_a_time_nothing_is_missing() -> None:
    """The clock of B runs ahead: as of a time between, what A saw of B lies behind the cut."""
    book = countersigned()
    kept = [e for e in book.entries if not (e.device == DEVICES["B"] and e.seq == 4)]
    assert whats(fold(kept, cut=True)) == []
