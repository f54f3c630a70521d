"""Corrections and withdrawals: what they reach, what waits for another person, what stays for ever."""

from __future__ import annotations

from typing import Any

import pytest
from builder import DEVICES, PEOPLE, Book, named

from wholefilm.job.facts import Job


def whats(job: Job, bars: bool | None = None) -> list[str]:
    return [p.what for p in job.problems if bars is None or p.bars is bars]


def correct(book: Book, of: str, change: dict[str, Any], over: str = "", when: str = "4 08:00", **more: Any) -> str:
    old = dict(next(e.body for e in book.entries if e.id == of))
    return book.write("entry.corrected", when, of=of, over=over or of, body={**old, **change}, reason="typed wrong", **more)


def reading(book: Book, of: str) -> str:
    fact = book.fold().get(of, "thickness.read")
    assert fact is not None
    return ",".join(fact.body.values)


def with_reading(**book: Any) -> tuple[Book, str]:
    made = Book(**book)
    place = {"on": "floor", "x": "1 m", "y": "1 m"}
    return made, made.write("thickness.read", "3 08:00", place=place, values=["700 um"], gauge="G1", **{"class": "flat"})


def test_a_correction_takes_the_place_of_the_body_and_the_entry_stays_in_the_book() -> None:
    book, of = with_reading()
    new = correct(book, of, {"values": ["710 um"]})
    job = book.fold()
    assert reading(book, of) == "710 um"
    assert job.by_id[of].corrected_by == (new,)
    assert (job.changes[0].of, job.changes[0].in_force, job.changes[0].removes_failure) == (of, True, False)
    assert whats(job) == []
    assert job.entries == len(book.entries)


def test_a_correction_of_a_correction_counts_last() -> None:
    book, of = with_reading()
    first = correct(book, of, {"values": ["710 um"]})
    correct(book, of, {"values": ["720 um"]}, over=first)
    assert reading(book, of) == "720 um"
    assert whats(book.fold()) == []


def test_two_over_the_same_until_a_third_settles() -> None:
    book, of = with_reading()
    correct(book, of, {"values": ["710 um"]})
    last = correct(book, of, {"values": ["720 um"]})
    assert whats(book.fold(), True) == ["corrections_conflict"]
    assert reading(book, of) == "720 um"  # the later in order counts meanwhile
    correct(book, of, {"values": ["730 um"]}, over=last)
    assert whats(book.fold()) == []
    assert reading(book, of) == "730 um"


def test_a_third_that_cannot_be_read_settles_nothing() -> None:
    book, of = with_reading()
    correct(book, of, {"values": ["710 um"]})
    last = correct(book, of, {"values": ["720 um"]})
    correct(book, of, {"values": ["thick"]}, over=last)
    assert sorted(whats(book.fold(), True)) == ["corrections_conflict", "unreadable_correction"]
    assert reading(book, of) == "720 um"


def test_two_over_the_same_from_two_devices_in_either_order_of_arrival() -> None:
    for turn in (False, True):
        book, of = with_reading()
        book.write("device.joined", "3 09:00", device=DEVICES["B"], letter="B", holder="QA")
        correct(book, of, {"values": ["710 um"]}, when="4 08:00")
        correct(book, of, {"values": ["720 um"]}, when="4 07:00", on="B", who="qa")
        if turn:
            book.entries.reverse()
        assert whats(book.fold(), True) == ["corrections_conflict"]
        assert reading(book, of) == "710 um"  # later by the clocks, whatever came first


def test_withdrawn_stays_withdrawn() -> None:
    book, of = with_reading()
    book.write("entry.withdrawn", "4 08:00", of=of, reason="twice")
    correct(book, of, {"values": ["710 um"]}, when="4 09:00")
    job = book.fold()
    assert job.get(of, "thickness.read") is None
    gone = job.changes[-1]
    assert (gone.of, gone.withdraws, gone.in_force) == (of, True, True)
    again = book.write("entry.withdrawn", "4 10:00", of=of, reason="twice")
    assert again in book.fold().by_id
    assert book.fold().get(of, "thickness.read") is None


@pytest.mark.parametrize("kind", ["job.opened", "signed", "assessment.made", "entry.corrected", "entry.withdrawn", "entry.agreed"])
def test_fixed_kinds_cannot_be_changed(kind: str) -> None:
    book, of = with_reading()
    corrected = correct(book, of, {"values": ["710 um"]})
    made = {
        "job.opened": lambda: book.job,
        "signed": lambda: book.write(
            "signed", "4 09:00", scope=["F"], statement="x", reservations=[], role="QC", digest="a" * 64, program="x"
        ),
        "assessment.made": lambda: book.write("assessment.made", "4 09:00", assessment="meets", digest="a" * 64, program="x"),
        "entry.corrected": lambda: corrected,
        "entry.withdrawn": lambda: book.write("entry.withdrawn", "4 09:00", of=named("nothing"), reason="x"),
        "entry.agreed": lambda: book.write("entry.agreed", "4 09:00", of=corrected, who="qa"),
    }[kind]()
    book.write("entry.withdrawn", "4 10:00", of=made, reason="x", who="qa")
    correct(book, made, {"reason": "other"}, when="4 10:01", who="qa")
    job = book.fold()
    assert made in job.by_id
    assert whats(job).count("cannot_be_changed") == 2
    assert reading(book, of) == "710 um"


FAILED: list[tuple[str, dict[str, Any]]] = [
    ("check", {"read": "3.00 kV"}),
    ("check", {"tolerance": "50 %"}),
    ("check", {"instrument": "T9"}),
    ("check", {"electrode": "brush 9"}),
    ("check", {"lead": "9 m"}),
    ("check", {"set": "2.4 kV"}),
    ("check", {"as_found": False}),
    ("check", {"happened": {"from": "2025-03-02T08:00:00.000+01:00"}}),
    ("indication", {"number": "A5"}),
    ("indication", {"retest": named("nothing")}),
    ("holiday", {"indication": named("nothing")}),
    ("retest", {"indications": []}),
    ("retest", {"repair": named("nothing")}),
    ("retest", {"happened": {"from": "2025-03-02T08:00:00.000+01:00"}}),
]


def with_failures(people: tuple[str, ...] = ("qa", "engineer", "applicator")) -> tuple[Book, dict[str, str]]:
    book = Book(people=people)
    ids = {"check": book.check("3 12:00", "2.40 kV", "after"), "holiday": book.holiday("A1", "3 08:05")}
    ids["indication"] = next(e.id for e in book.entries if e.kind == "indication.raised")
    repair = book.plan("R-01", [ids["holiday"]])
    book.mend(repair)
    raised = book.write("indication.raised", "6 10:02", number="A2", panel="F-1", retest=repair)
    ids["retest"] = book.retest(repair, "6 10:00", "6 10:05", indications=[raised])
    return book, ids


def changed(book: Book, of: str, change: dict[str, Any] | None) -> str:
    if change is None:
        return book.write("entry.withdrawn", "7 08:00", of=of, reason="slip")
    return correct(book, of, change, when="7 08:00")


@pytest.mark.parametrize(("what", "change"), [*FAILED, *((w, None) for w in ("check", "indication", "holiday", "retest"))])
def test_what_speaks_against_the_work_goes_only_with_another_persons_agreement(what: str, change: dict[str, Any] | None) -> None:
    book, ids = with_failures()
    old = book.fold().by_id[ids[what]].body
    made = changed(book, ids[what], change)
    job = book.fold()
    assert job.by_id[ids[what]].body == old
    assert whats(job, True) == ["waits_for_agreement"]
    book.write("entry.agreed", "7 08:10", of=made, who="qc")  # the same person
    assert book.fold().by_id[ids[what]].body == old
    book.write("entry.agreed", "7 08:20", of=made, who="qa")
    job = book.fold()
    fact = job.by_id.get(ids[what])
    assert (fact is None) if change is None else (fact is not None and fact.body != old)
    assert "waits_for_agreement" not in whats(job)
    assert (job.changes[0].removes_failure, job.changes[0].agreed_by, job.changes[0].alone) == (True, PEOPLE["qa"], False)


@pytest.mark.parametrize(
    ("what", "change"),
    [
        ("check", {"read": "2.30 kV"}),
        ("check", {"note": "battery"}),
        ("holiday", {"size": "pinhole"}),
        ("retest", {"local_thickness": "1 mm"}),
    ],
)
def test_a_correction_that_leaves_the_failure_needs_nobody(what: str, change: dict[str, Any]) -> None:
    book, ids = with_failures()
    changed(book, ids[what], change)
    assert whats(book.fold()) == []
    assert book.fold().changes[0].in_force


def test_alone_on_a_job_it_takes_effect_at_once_and_is_said() -> None:
    book, ids = with_failures(people=())
    changed(book, ids["check"], {"read": "3.00 kV"})
    job = book.fold()
    assert job.by_id[ids["check"]].body.read == "3.00 kV"
    assert (job.changes[0].in_force, job.changes[0].alone) == (True, True)
    assert whats(job) == ["alone"]


def test_a_check_that_fails_only_by_the_contracts_tolerance_is_a_failed_check() -> None:
    book = Book().usual()  # 5 %
    check = book.check("3 12:00", "2.40 kV", "after", tolerance="50 %")
    book.write("entry.withdrawn", "4 08:00", of=check, reason="slip")
    assert whats(book.fold(), True) == ["waits_for_agreement"]


def test_a_second_correction_cannot_finish_what_the_first_was_let_do() -> None:
    """The set value is moved first to where the reading passes; each step alone is held against what was recorded first."""
    book, ids = with_failures()
    first = correct(book, ids["check"], {"read": "2.45 kV"}, when="7 08:00")
    correct(book, ids["check"], {"read": "2.99 kV"}, over=first, when="7 08:10")
    job = book.fold()
    assert job.by_id[ids["check"]].body.read == "2.45 kV"
    assert whats(job, True) == ["waits_for_agreement"]


def test_a_correction_about_nothing_and_one_that_cannot_be_read() -> None:
    book, of = with_reading()
    book.write("entry.corrected", "4 08:00", of=named("nothing"), over=of, body={}, reason="x")
    assert whats(book.fold(), True) == ["refers_to_absent"]
    correct(book, of, {"values": ["thick"]})
    assert whats(book.fold(), True) == ["refers_to_absent", "unreadable_correction"]
    assert reading(book, of) == "700 um"


@pytest.mark.parametrize(
    ("kind", "version", "what"),
    [("panel.swept", 1, "unknown_kind"), ("delay.noted", 7, "unknown_kind"), ("delay.noted", 1, "unreadable_body")],
)
def test_an_entry_that_cannot_be_read_stops_barring_when_withdrawn_by_agreement(kind: str, version: int, what: str) -> None:
    book = Book()
    strange = book.write(kind, "3 08:00", version=version, swept="F-1")
    assert whats(book.fold(), True) == [what]
    gone = book.write("entry.withdrawn", "4 08:00", of=strange, reason="written by a trial version")
    assert sorted(whats(book.fold(), True)) == sorted([what, "waits_for_agreement"])
    book.write("entry.agreed", "4 08:10", of=gone, who="qa")
    job = book.fold()
    assert whats(job, True) == []
    assert whats(job, False) == [what]


def test_the_times_of_a_corrected_body_are_the_corrected_ones() -> None:
    book, of = with_reading()
    correct(book, of, {"happened": {"from": "2025-03-02T07:00:00.000+01:00", "to": "2025-03-02T07:30:00.000+01:00"}})
    fact = book.fold().by_id[of]
    assert (fact.when[:16], fact.until[:16]) == ("2025-03-02T07:00", "2025-03-02T07:30")
    assert fact.end - fact.start == 30 * 60 * 1000
