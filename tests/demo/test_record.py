"""The demo as a record: bodies readable, chains whole, the same bytes every time, nobody refers to what he has not seen."""

from __future__ import annotations

import hashlib
import itertools
import json
import os
import subprocess
import sys
from typing import Any

import msgspec
import pytest

from wholefilm.base.times import utc_ms
from wholefilm.demo import DEMOS
from wholefilm.job.bodies import read_body
from wholefilm.job.fold import fold
from wholefilm.ledger.chain import check_chains, heads_of
from wholefilm.ledger.jobfile import examine, write_jobfile

KINDS = {
    "job.opened", "person.joined", "device.joined", "requirement.noted", "requirement.decided", "question.raised", "question.answered",
    "instruction.received", "hold.released", "witness.noted", "item.added", "system.set", "coat.applied", "defect.noted",
    "surface.inspected", "instrument.added", "instrument.changed", "instrument.checked", "climate.read", "readings.loaded",
    "cure.released", "ground.checked", "permit.noted", "voltage.set", "panel.started", "panel.tested", "indication.raised",
    "indication.false", "holiday.confirmed", "repair.planned", "repair.done", "retest.done", "nonconformance.raised",
    "nonconformance.closed", "concession.given", "delay.noted", "photo.taken", "file.attached", "day.closed", "assessment.made", "signed",
    "clock.compared", "entry.corrected", "entry.withdrawn", "entry.agreed",
}  # fmt: skip


def test_the_kinds_used_are_these(story) -> None:
    assert {e.kind for e in story.entries} == KINDS


def test_every_body_can_be_read(story) -> None:
    for entry in story.entries:
        read_body(entry.kind, entry.version, entry.body)


def test_chains_and_job_file_are_intact(story) -> None:
    assert check_chains(story.entries, whole=True) == []
    jobfile, breaks = examine(write_jobfile(story.entries), story.blobs)
    assert breaks == []
    assert jobfile.whole
    assert sorted(e.raw for e in jobfile.entries) == sorted(e.raw for e in story.entries)


def test_a_changed_byte_is_seen(story) -> None:
    data = write_jobfile(story.entries).replace(b'"2.46 kV"', b'"2.96 kV"')
    assert examine(data, story.blobs)[1]


def test_fold_has_nothing_to_complain_of(story) -> None:
    assert fold(story.entries, story).problems == []


def test_two_builds_are_the_same_to_the_byte(story) -> None:
    again = DEMOS["north-basin"]()
    assert [e.raw for e in again.entries] == [e.raw for e in story.entries]
    assert again.blobs == story.blobs


@pytest.mark.parametrize("seed", ["1", "77"])
def test_another_process_writes_the_same_bytes(story, seed: str) -> None:
    code = (
        "import hashlib; from wholefilm.demo import DEMOS; d = DEMOS['north-basin']();"
        "print(hashlib.sha256(b'\\n'.join(e.raw for e in d.entries) + b''.join(d.blobs.values())).hexdigest())"
    )
    env = {**os.environ, "PYTHONHASHSEED": seed, "TZ": "Asia/Tokyo"}
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, env=env, check=True)
    here = hashlib.sha256(b"\n".join(e.raw for e in story.entries) + b"".join(story.blobs.values())).hexdigest()
    assert done.stdout.strip() == here


def test_entries_are_written_in_the_order_of_time_and_sequence_starts_at_one(story) -> None:
    assert [e.ms for e in story.entries] == sorted(e.ms for e in story.entries)
    assert story.entries[0].kind == "job.opened"
    for device in {e.device for e in story.entries}:
        queue = [e for e in story.entries if e.device == device]
        assert [e.seq for e in queue] == list(range(1, len(queue) + 1))
        assert all(a.tick < b.tick or a.ms == b.ms for a, b in itertools.pairwise(queue) if a.session == b.session)
        assert len({e.session for e in queue}) == len({e.at[:10] for e in queue})


def test_nobody_refers_to_an_entry_that_his_device_had_not_seen(story) -> None:
    seen: dict[str, dict[str, int]] = {}
    for entry in story.entries:
        known = seen.setdefault(entry.device, {})
        for device, (seq, _) in (entry.heads or {}).items():
            known[device] = max(known.get(device, 0), seq)
        for ref in entry.refs:
            other = story.by_id.get(ref)
            if other is not None and other.device != entry.device and other.kind != "job.opened":
                assert other.seq <= known.get(other.device, 0), f"{entry.kind} {entry.at} refers to {other.kind} {other.at}"


def test_heads_stand_where_they_must(story) -> None:
    must = {"clock.compared", "day.closed", "assessment.made", "signed"}
    assert all(e.heads for e in story.entries if e.kind in must)
    office = {e.device for e in story.entries if e.heads and e.kind not in must}
    assert office == {story.entries[0].device}, "the first entry of the office after an exchange, and no other"
    after_exchange = [e for e in story.entries if e.kind == "nonconformance.raised"]
    assert after_exchange[0].heads


def test_the_signature_covers_all_that_was_written_before(story) -> None:
    signed = story.of("signed")[0]
    assert signed is story.entries[-1]
    assert signed.heads == heads_of(story.entries[:-1])


def test_every_blob_has_its_name_and_every_name_its_blob(story) -> None:
    assert all(hashlib.sha256(data).hexdigest() == sha for sha, data in story.blobs.items())
    named = {e.body[key] for e in story.entries for key in ("blob", "card") if key in e.body}
    assert named == set(story.blobs)
    assert len(story.blobs) == 13  # 7 cards, 1 file of readings, 1 letter, 4 pictures


def test_cards_hold_what_a_card_holds(story) -> None:
    shas = [b["card"] for b in (*story.bodies("job.opened"), *story.bodies("person.joined"))]
    cards = [json.loads(story.blobs[sha]) for sha in shas]
    assert all(set(card) == {"name", "certificate", "contact", "salt"} for card in cards)
    assert all(card["name"].endswith(" Example") and card["contact"].endswith(".example") for card in cards)
    assert len({card["salt"] for card in cards}) == 7


def test_the_letter_says_that_it_is_invented(story) -> None:
    assert b"Invented for the demo" in story.blobs[story.bodies("file.attached")[0]["blob"]]


def test_nothing_is_told_before_it_happened(story) -> None:
    for entry in story.entries:
        when: dict[str, Any] = entry.body.get("happened", {})
        for text in when.values():
            assert utc_ms(text) <= entry.ms, entry.place


def test_demo_is_frozen(story) -> None:
    assert story.demo.name == "north-basin"
    with pytest.raises(AttributeError):
        story.demo.name = "other"
    assert msgspec.structs.fields(type(story.demo))[0].name == "name"
