"""What a body refuses, with the field, the value and what is allowed."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from wholefilm.base.errors import BadInput
from wholefilm.job.bodies import read_body
from wholefilm.ledger.entry import parse_entry

GOLDEN = Path(__file__).parent / "golden"


def body(kind: str) -> dict[str, Any]:
    return dict(parse_entry((GOLDEN / f"{kind}.1.jsonl").read_bytes()[:-1]).body)


@pytest.mark.parametrize(
    ("kind", "field", "value", "named"),
    [
        ("climate.read", "air", "15", "air"),
        ("climate.read", "air", "15 kV", "air"),
        ("climate.read", "surface", "warm", "surface"),
        ("climate.read", "rh", "68 degC", "rh"),
        ("climate.read", "pressure", "1013", "pressure"),
        ("voltage.set", "setting", "100 V/mil", "setting"),
        ("voltage.set", "setting", "no alarm", "setting"),
        ("panel.started", "set", "no alarm", "set"),
        ("panel.started", "set", "3.0", "set"),
        ("retest.done", "set", "3 degC", "set"),
        ("retest.done", "local_thickness", "700", "local_thickness"),
        ("instrument.checked", "set", "no alarm", "set"),
        ("instrument.checked", "read", "none", "read"),
        ("instrument.checked", "tolerance", "5", "tolerance"),
        ("instrument.checked", "occasion", "later", "occasion"),
        ("instrument.checked", "as_found", "yes", "as_found"),
        ("thickness.read", "values", ["700 um", "700"], "values"),
        ("thickness.read", "values", [], "values"),
        ("thickness.read", "class", "round", "class"),
        ("thickness.read", "correction", "25 V", "correction"),
        ("cure.released", "last_coat_at", "2025-03-03", "last_coat_at"),
        ("cure.released", "last_coat_at", "2025-02-30T08:00:00.000+01:00", "last_coat_at"),
        ("cure.released", "last_coat_at", "2025-03-03T08:00:00.000Z", "last_coat_at"),
        ("day.closed", "date", "3.3.2025", "date"),
        ("day.closed", "marks_counted", -1, "marks_counted"),
        ("job.opened", "letter", "I", "letter"),
        ("job.opened", "letter", "ABC", "letter"),
        ("job.opened", "name", "Small Tank", "name"),
        ("photo.taken", "blob", "A" * 64, "blob"),
        ("hold.released", "by", "QA", "by"),
        ("hold.released", "about", [], "about"),
        ("entry.agreed", "of", "01955A60-1080-7445-B76C-CA1CF7A8424F", "of"),
        ("repair.done", "nth", 0, "nth"),
        ("repair.done", "bare", {"length": "30"}, "bare.length"),
        ("repair.done", "coats", [{"batch": "b", "at": "now"}], "coats.at"),
        ("system.set", "layers", [{"name": "c", "conductive": "no", "min": "3"}], "layers.min"),
        ("system.set", "cure_table", [{"row": "1", "what": "x", "steel": "10 degC", "wait": "4 m"}], "cure_table.wait"),
        ("area.disturbed", "piece", {"says": "x", "area": "4 m"}, "piece.area"),
        ("indication.raised", "place", {"on": "shell", "z": "0.5"}, "place.z"),
        ("burn.inspected", "found", [{"number": "A9", "place": {"arc": "1 V"}}], "found.place.arc"),
        ("defect.noted", "happened", {"from": "yesterday"}, "happened.from"),
        ("climate.read", "air", "9" * 5000 + " degC", "air"),
    ],
)
def test_a_wrong_value_is_refused_by_name(kind: str, field: str, value: object, named: str) -> None:
    with pytest.raises(BadInput) as caught:
        read_body(kind, 1, {**body(kind), field: value})
    error = caught.value
    assert named in f"{error.field} {error.value}"
    assert error.allowed
    assert len(str(error)) < 700


@pytest.mark.parametrize("text", ["700 um", "0,7 mm", "27.6 mil", "27,6 mils", ".7 mm", "700µm", "700 μm", "  700 um "])
def test_measured_text_is_kept_as_typed(text: str) -> None:
    typed: Any = read_body("retest.done", 1, {**body("retest.done"), "local_thickness": text})
    assert typed.local_thickness == text


@pytest.mark.parametrize(("kind", "version"), [("panel.swept", 1), ("", 1), ("delay.noted", 2), ("delay.noted", 0)])
def test_unknown_kinds_and_versions_are_refused(kind: str, version: int) -> None:
    with pytest.raises(BadInput) as caught:
        read_body(kind, version, {"reason": "rain"})
    assert caught.value.field == ("version" if kind == "delay.noted" else "kind")


@pytest.mark.parametrize("value", [None, [], "x", {"reason": None}, {}])
def test_no_body_at_all(value: Any) -> None:
    with pytest.raises(BadInput):
        read_body("delay.noted", 1, value)
