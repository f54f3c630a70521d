"""Second versions: the first stays what it was, is lifted when read, and a correction may be of either."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from wholefilm.base.errors import BadInput
from wholefilm.job.bodies import read_body, read_correction
from wholefilm.job.corrections import removes_failure
from wholefilm.job.facts import Fact
from wholefilm.job.kinds import KINDS
from wholefilm.job.upcast import upcast
from wholefilm.ledger.entry import parse_entry

GOLDEN = Path(__file__).parent / "golden"
TWO = sorted(kind for kind, versions in KINDS.items() if 2 in versions)


def body(kind: str, version: int) -> dict[str, Any]:
    return dict(parse_entry((GOLDEN / f"{kind}.{version}.jsonl").read_bytes()[:-1]).body)


def test_these_kinds_have_two_versions() -> None:
    assert TWO == [
        "climate.read", "coat.applied", "ground.checked", "instrument.added", "instrument.checked", "made_holiday.made", "panel.started",
        "permit.noted", "question.raised", "retest.done", "surface.inspected", "system.set", "thickness.read", "voltage.set",
    ]  # fmt: skip


@pytest.mark.parametrize("kind", TWO)
def test_version_1_has_no_field_of_version_2(kind: str) -> None:
    old = body(kind, 1)
    for field in sorted(set(body(kind, 2)) - set(old)):
        with pytest.raises(BadInput, match=field):
            read_body(kind, 1, {**old, field: body(kind, 2)[field]})


def test_a_row_of_the_makers_table_in_version_1_has_no_longest_wait() -> None:
    old = body("system.set", 1)
    with pytest.raises(BadInput):
        read_body("system.set", 1, {**old, "cure_table": body("system.set", 2)["cure_table"]})


@pytest.mark.parametrize(
    ("what", "topic"),
    [
        ("ignition source", "ignition_source"),
        ("Ignition source in the tank", "ignition_source"),
        ("entry", "other"),
        ("gas reading", "other"),
    ],
)
def test_the_topic_of_an_old_permission_is_read_from_its_words(what: str, topic: str) -> None:
    old = {**body("permit.noted", 1), "what": what}
    lifted: Any = read_body("permit.noted", 1, old)
    assert (lifted.topic, lifted.covers, lifted.device) == (topic, None, None)
    assert "topic" not in old, "the body as written is left as it is"


def test_an_old_ground_proof_says_nothing_of_what_was_found() -> None:
    lifted: Any = read_body("ground.checked", 1, body("ground.checked", 1))
    assert (lifted.found, lifted.serves) == (None, None)
    assert upcast("ground.checked", 1, {"point": "T1"}) == {"point": "T1"}


def test_a_correction_is_of_the_newest_version_or_of_that_of_its_entry() -> None:
    new: Any = read_correction("permit.noted", 1, body("permit.noted", 2))
    old: Any = read_correction("permit.noted", 1, body("permit.noted", 1))
    assert (new.topic, old.topic) == ("device_allowed", "ignition_source")
    with pytest.raises(BadInput, match="topic"):
        read_correction("permit.noted", 2, body("permit.noted", 1))


def test_a_base_metal_reading_and_a_correction_are_never_both_taken_off() -> None:
    """Common practice, and ASTM D7091 from memory: shim adjustment or subtraction, never both."""
    new = body("thickness.read", 2)
    with pytest.raises(BadInput) as caught:
        read_body("thickness.read", 2, {**new, "correction": "25 um"})
    assert (caught.value.field, caught.value.value) == ("base_metal", "12 um")
    del new["base_metal"]
    read_body("thickness.read", 2, {**new, "correction": "25 um"})


def fact(kind: str, version: int, **other: Any) -> Fact:
    typed = read_body(kind, version, {**body(kind, version), **other})
    return Fact("x", kind, "2025-03-03T21:00:00.000+01:00", 0, "p", "d", "s", 1, "", 0, 0, typed)


def test_what_speaks_against_the_work_goes_only_by_agreement() -> None:
    stopped, opened = fact("permit.stopped", 1), fact("ground.checked", 2)
    assert removes_failure(stopped, None)
    assert removes_failure(opened, None)
    assert removes_failure(opened, fact("ground.checked", 2, found="continuous").body)
    assert not removes_failure(opened, fact("ground.checked", 2, serves=["E3"]).body)
    assert not removes_failure(fact("ground.checked", 2, found="continuous"), None)
