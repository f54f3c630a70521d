"""Where a record is not intact, in words of the trade. Acts, times and numbers are those of the demo's own scenario, typed by hand."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from wholefilm.demo import DEMOS
from wholefilm.job.kinds import KINDS
from wholefilm.job.plain import entry_words
from wholefilm.ledger.chain import check_chains
from wholefilm.ledger.entry import Entry
from wholefilm.ledger.jobfile import examine, write_jobfile
from wholefilm.services.places import Places


@pytest.fixture(scope="module")
def lines() -> list[bytes]:
    """The demo's job file, line by line."""
    return write_jobfile(DEMOS["north-basin"]().entries).splitlines(keepends=True)


def said(lines: list[bytes]) -> list[str]:
    found, breaks = examine(b"".join(lines))
    return Places([*found.entries, *found.aside]).say(breaks)


def end_check(lines: list[bytes]) -> int:
    """Index of the line of the end check that read 2.46 kV."""
    (found,) = [n for n, line in enumerate(lines) if b'"read":"2.46 kV"' in line]
    return found


def changed(lines: list[bytes], old: bytes, new: bytes) -> list[bytes]:
    assert sum(line.count(old) for line in lines) == 1
    return [line.replace(old, new) for line in lines]


CHECK = "entry 134 of device B (check of HV-01, 2025-06-03 16:55)"
BATTERY = "entry 135 of device B (battery of HV-01 changed, 2025-06-03 17:00)"


def test_a_reading_made_better_is_named_by_tester_and_time(lines: list[bytes]) -> None:
    (says,) = said(changed(lines, b'"read":"2.46 kV"', b'"read":"2.96 kV"'))
    assert says.startswith(f"E{CHECK[1:]} is not what the entry after it, {BATTERY}, saw: one of the two was changed [id 0197364a-")
    assert says.endswith("]")
    assert ", hash " in says


def test_a_line_taken_out_is_named_by_what_stood_before(lines: list[bytes]) -> None:
    n = end_check(lines)
    out, last = said([*lines[:n], *lines[n + 1 :]])
    assert out.startswith("A line was taken out after entry 133 of device B (")
    assert ": entry 134 is missing [next here: id " in out
    assert last == "The last line of the file says 401 entries; 400 are here"


def test_a_damaged_line_is_told_once(lines: list[bytes]) -> None:
    (says,) = said(changed(lines, b'"read":"2.46 kV"', b'"read":2.96'))
    assert says.startswith("Line 235 of the file is damaged: entry 134 of device B was changed [")


def test_a_line_out_of_order_and_a_line_twice(lines: list[bytes]) -> None:
    (says,) = said([lines[0], lines[2], lines[1], *lines[3:]])
    assert says.startswith(
        "Line 2 of the file, entry 3 of device A (QA for the owner joined, 2025-05-12 08:12), is out of order: here belongs "
    )
    twice, _ = said([*lines[:5], lines[3], *lines[5:]])
    assert twice.startswith("Line 6 of the file, entry 4 of device A (")
    assert "repeats line 4" in twice


def test_an_end_cut_off_is_told_a_device_at_a_time(lines: list[bytes]) -> None:
    told = said([*lines[:299], lines[-1]])
    assert told[:2] == [
        "The last line of the file says 401 entries; 299 are here",
        "The last line of the file says 15 photos, files and cards; the entries here name 12",
    ]
    assert [line[:52] for line in told[2:]] == [f"The last line of the file says of device {x} that it e" for x in "ABDE"]


def test_the_opening_changed(lines: list[bytes]) -> None:
    told = said(changed(lines, b'"contract":"NB-07 rev B"', b'"contract":"NB-07 rev C"'))
    assert any(x.startswith("The entry that opened the job is not what entry 1 of device B (") for x in told)
    assert any(x.startswith("Entry 1 of device A (opening of the job, 2025-05-12 08:00) is not what the entry after it, ") for x in told)


@pytest.fixture(scope="module")
def entries() -> list[Entry]:
    return DEMOS["north-basin"]().entries


@pytest.mark.parametrize(
    ("keep", "says"),
    [
        (
            lambda e: not (e.device[0] == "b" and e.seq == 134),
            "Entry 134 of device B has not come, or was taken out: after entry 133 of device B (",
        ),
        (lambda e: not (e.device[0] == "b" and e.seq > 150), "Entry 189 of device B is not here, though it was seen by entry 6"),
        (lambda e: e.kind != "job.opened", "The entry that opened the job is not here"),
    ],
)
def test_what_a_database_lacks_may_still_come(entries: list[Entry], keep: Callable[[Entry], bool], says: str) -> None:
    there = [e for e in entries if keep(e)]
    assert any(x.startswith(says) for x in Places(there, file=False).say(check_chains(there, True)))


# No word of a program in any kind's words.
@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_has_words_whatever_its_body_holds(kind: str) -> None:
    bodies: tuple[dict[str, object], ...] = (
        {},
        {"number": 3, "panel": None, "about": [{}], "of": []},
        {"instrument": "HV-01 " * 40, "panel": "a\nb"},
    )
    for body in bodies:
        words = entry_words(kind, body)
        assert words
        assert not set("._{}\n") & set(words.replace(" ...", "")), words
        assert len(words) < 120


@pytest.mark.parametrize(
    ("kind", "body", "says"),
    [
        ("instrument.checked", {"instrument": "HV-01"}, "check of HV-01"),
        ("panel.tested", {"panel": "S3-4"}, "test of S3-4"),
        ("retest.done", {"repair": "R-01"}, "retest of R-01"),
        ("cure.released", {"about": ["F", "S1", "S2", "S3", "R"]}, "cure of F, S1, S2, S3 ... released"),
        ("signed", {"role": "QC inspector"}, "signature of the QC inspector"),
        ("never.seen", {}, "never seen"),
    ],
)
def test_words_of_an_entry(kind: str, body: dict[str, object], says: str) -> None:
    assert entry_words(kind, body) == says
