"""One line for every kind and version ever shipped. A line is typed once, when its version ships, and never changed."""

from __future__ import annotations

from pathlib import Path

import msgspec
import pytest

from wholefilm.base.errors import BadInput
from wholefilm.job.bodies import read_body
from wholefilm.job.kinds import KINDS
from wholefilm.job.upcast import newest, upcast
from wholefilm.ledger.entry import parse_entry

GOLDEN = Path(__file__).parent / "golden"
ONE_OF_TWO = {"thickness.read.2": {"correction"}}
"""Fields that a line leaves out because another one stands for the same thing."""
LINES = sorted(GOLDEN.glob("*.jsonl"))


def test_every_kind_and_version_has_a_line_and_no_line_is_of_an_unknown_one() -> None:
    shipped = {f"{kind}.{version}" for kind, versions in KINDS.items() for version in versions}
    assert {path.stem for path in LINES} == shipped


def test_there_are_58_kinds() -> None:
    """57 counted by hand in the list of kinds of the design, and `permit.stopped`."""
    assert len(KINDS) == 58


@pytest.mark.parametrize("path", LINES, ids=[p.stem for p in LINES])
def test_a_line_ever_shipped_is_read_whole(path: Path) -> None:
    raw = path.read_bytes()
    assert raw.count(b"\n") == 1
    entry = parse_entry(raw[:-1])
    assert path.stem == f"{entry.kind}.{entry.version}"
    typed = read_body(entry.kind, entry.version, dict(entry.body))
    assert type(typed) is newest(entry.kind)
    struct = KINDS[entry.kind][entry.version]
    unused = {f.encode_name for f in msgspec.structs.fields(struct)} - set(entry.body)
    assert unused == ONE_OF_TWO.get(path.stem, set()), "a golden line uses every field of its version"
    if entry.version == max(KINDS[entry.kind]):
        assert msgspec.to_builtins(typed) == entry.body


@pytest.mark.parametrize("path", LINES, ids=[p.stem for p in LINES])
def test_a_line_without_a_required_field_or_with_a_strange_one_is_refused(path: Path) -> None:
    entry = parse_entry(path.read_bytes()[:-1])
    struct = KINDS[entry.kind][entry.version]
    with pytest.raises(BadInput) as caught:
        read_body(entry.kind, entry.version, {**entry.body, "strange": "x"})
    assert "strange" in str(caught.value)
    for field in msgspec.structs.fields(struct):
        body = {k: v for k, v in entry.body.items() if k != field.encode_name}
        if field.required:
            with pytest.raises(BadInput, match=field.encode_name):
                read_body(entry.kind, entry.version, body)
        else:
            read_body(entry.kind, entry.version, body)
        with pytest.raises(BadInput):
            read_body(entry.kind, entry.version, {**entry.body, field.encode_name: 1.5})


def test_upcast_of_the_newest_version_is_the_body_itself() -> None:
    body = {"reason": "rain"}
    assert upcast("delay.noted", 1, body) == {"reason": "rain"}


def test_upcast_lifts_step_by_step(monkeypatch: pytest.MonkeyPatch) -> None:
    from wholefilm.job import upcast as module

    monkeypatch.setitem(module.KINDS, "delay.noted", {1: KINDS["delay.noted"][1], 2: KINDS["delay.noted"][1], 3: KINDS["delay.noted"][1]})
    monkeypatch.setitem(module.STEPS, ("delay.noted", 1), lambda b: {**b, "reason": b["reason"] + " 2"})
    monkeypatch.setitem(module.STEPS, ("delay.noted", 2), lambda b: {**b, "reason": b["reason"] + " 3"})
    assert upcast("delay.noted", 1, {"reason": "rain"}) == {"reason": "rain 2 3"}
    assert upcast("delay.noted", 2, {"reason": "rain"}) == {"reason": "rain 3"}
    assert upcast("delay.noted", 3, {"reason": "rain"}) == {"reason": "rain"}
