"""What holds of every demo job: readable, whole, the same every time, and nothing in it that its story does not want."""

from __future__ import annotations

import pytest
from told import Kept, demo, stand

from wholefilm.demo import DEMOS, EVENINGS
from wholefilm.job.bodies import read_body
from wholefilm.job.fold import fold
from wholefilm.ledger.chain import check_chains
from wholefilm.ledger.jobfile import examine, write_jobfile
from wholefilm.surface import read_item

NAMES = sorted(DEMOS)
ASKED_OF_ALL = {
    "entry.corrected", "entry.withdrawn", "entry.agreed", "clock.compared", "photo.taken", "file.attached", "witness.noted",
    "hold.released", "question.answered", "signed", "assessment.made", "day.closed", "retest.done",
    "instrument.changed",
}  # fmt: skip


@pytest.mark.parametrize("name", NAMES)
def test_every_body_can_be_read_and_the_record_is_whole(name: str) -> None:
    one = demo(name)
    for entry in one.entries:
        read_body(entry.kind, entry.version, dict(entry.body))
    assert check_chains(one.entries, whole=True) == []
    jobfile, breaks = examine(write_jobfile(one.entries), one.blobs)
    assert (breaks, jobfile.whole) == ([], True)
    assert fold(one.entries, Kept(one)).problems == []


@pytest.mark.parametrize("name", NAMES)
def test_two_builds_are_the_same_to_the_byte(name: str) -> None:
    again = DEMOS[name]()
    assert write_jobfile(again.entries) == write_jobfile(demo(name).entries)
    assert again.blobs == demo(name).blobs


@pytest.mark.parametrize("name", NAMES)
def test_several_devices_and_what_every_story_has(name: str) -> None:
    one = demo(name)
    assert len({e.device for e in one.entries}) >= 4
    assert {e.kind for e in one.entries} >= ASKED_OF_ALL
    assert {e.body.get("told") for e in one.entries} & {"slate", "radio"}


@pytest.mark.parametrize("name", NAMES)
def test_an_agreement_is_another_persons(name: str) -> None:
    by_id = {e.id: e for e in demo(name).entries}
    for agreed in (e for e in by_id.values() if e.kind == "entry.agreed"):
        assert by_id[str(agreed.body["of"])].by != agreed.by


@pytest.mark.parametrize("name", NAMES)
def test_letters_of_devices_begin_no_name_on_the_item(name: str) -> None:
    """What is chalked beside a weld or a panel can be read in one way only."""
    one = demo(name)
    letters = {str(e.body["letter"]) for e in one.entries if e.kind in ("job.opened", "device.joined")}
    for item in (e for e in one.entries if e.kind == "item.added"):
        surface = read_item(dict(item.body))
        names = [*(p.name for p in surface.panels), *(a.name for a in surface.test_areas), *(s.name for s in surface.seams)]
        names += [f.name for f in surface.features]
        clash = sorted({n for n in names for letter in letters if n.startswith(letter) and n[len(letter) :][:1].isdigit()})
        assert clash == []


@pytest.mark.parametrize("name", NAMES)
def test_nobody_signs_for_more_than_was_done(name: str) -> None:
    """The last assessment that was printed says what the record says at its end."""
    standing = stand(name)
    printed = [e for e in demo(name).entries if e.kind == "assessment.made"][-1]
    assert printed.body["assessment"] == standing.assessment.value
    assert not {line.what for line in standing.lines} & {
        "marks_differ",
        "number_twice",
        "unreadable_place",
        "unreadable_outline",
        "other_role",
    }


def test_each_has_an_evening_worth_looking_at() -> None:
    assert set(EVENINGS) >= set(DEMOS)
