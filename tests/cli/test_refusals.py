"""What `record` answers to bad input, read whole: field, value, what is allowed; no word of the program's makers."""

from __future__ import annotations

import re

import pytest

from cli import small_tank as tank
from cli.desk import Desk

NOTED = ("topic=x", "document=x", "edition=x", "grade=entered", "says=x")
PROGRAM_WORDS = re.compile(
    r"`|\$|\bobject\b|Object|Expected|\bgot\b|\bstr\b|\bint\b|\bbool\b|\bdict\b|\bNone\b|True|False|Struct|Error"
    r"|Expecting|char |msgspec|regex"
)
ITEM = ("datum=x", "features=[]", "test_areas=[]", "panels.rule=x", "openings_deducted=no")


@pytest.mark.parametrize(
    ("kind", "words", "says"),
    [
        ("delay.noted", (), "reason: nothing is given. Needed: a value; needed in all: reason"),
        ("delay.noted", ("reason=",), "reason: '' is not accepted. Allowed: a value; leave the field out if there is none"),
        ("delay.noted", ("reason=rain", "reason=wind"), """reason: '["rain", "wind"]' is not accepted. Allowed: text"""),
        ("delay.noted", ('reason={"a":1}',), """reason: '{"a": 1}' is not accepted. Allowed: text"""),
        (
            "delay.noted",
            ("reason=rain", "files=[1"),
            "files: '[1' is not accepted. Allowed: JSON, since it begins with [; it goes wrong at line 1, character 3",
        ),
        (
            "delay.noted",
            ("reason",),
            "KEY=VALUE: 'reason' is not accepted. Allowed: a field, an equals sign and a value, such as panel=S3-4 or happened.from=...",
        ),
        ("requirement.noted", (*NOTED, "rule.form=coverage"), "rule.share: nothing is given. Needed: a value"),
        (
            "requirement.noted",
            (*NOTED, "rule.form=coverage", "rule.share=100"),
            "rule.share: '100' is not accepted. Allowed: text: a figure with its unit, or in quotes",
        ),
        (
            "requirement.noted",
            (*NOTED, "rule.form=coverage", "rule.share=100 %", "rule.part=half"),
            "rule.part: 'half' is not accepted. Allowed: a field that docs/reference/requirements.md lists",
        ),
        (
            "requirement.noted",
            (*NOTED, "rule=coverage"),
            "rule: 'coverage' is not accepted. Allowed: fields of its own, such as rule.form=..., or JSON in braces",
        ),
        ("requirement.noted", (*NOTED, "rule.form=holds", "rule.points=before"), "rule.points: 'before' is not accepted. Allowed: a list"),
        ("requirement.noted", (*NOTED, "rule.form=limits"), "limits: nothing is given. Needed: a list of at least one limit"),
        (
            "requirement.noted",
            (*NOTED, 'rule={"form":"climate","limits":[{"of":"spread","at_least":3}]}'),
            "rule.limits[0].at_least: '3' is not accepted. Allowed: text: a figure with its unit, or in quotes",
        ),
        (
            "requirement.noted",
            (*NOTED[:3], "grade=known", "says=x"),
            "grade: 'known' is not accepted. Allowed: derived, entered, memory, restated, seen",
        ),
        (
            "day.closed",
            ("date=yesterday", "narrative=x", "marks_counted=3"),
            "date: 'yesterday' is not accepted. Allowed: calendar day, YYYY-MM-DD",
        ),
        (
            "day.closed",
            ("date=2025-06-03", "narrative=x", "marks_counted=-3"),
            "marks_counted: '-3' is not accepted. Allowed: a whole number, 0 or more",
        ),
        (
            "item.added",
            ("item=T2", "shape=tank", "dimensions=big", *ITEM),
            "dimensions: 'big' is not accepted. Allowed: fields of its own, such as dimensions.form=..., or JSON in braces",
        ),
        ("item.added", ("item=T2", "shape=cone", "dimensions.a=x", *ITEM), "shape: 'cone' is not accepted. Allowed: one of tank, pipe"),
        (
            "system.set",
            ("test_areas=S1", "layers=coat 1"),
            "layers: 'coat 1' is not accepted. Allowed: fields of its own, such as layers.name=...",
        ),
        (
            "system.set",
            ("test_areas=S1", 'layers=[{"name":"c","conductive":"maybe"}]'),
            "layers.conductive: 'maybe' is not accepted. Allowed: no, unknown, yes",
        ),
        (
            "thickness.read",
            ("place.on=shell", "class=flat", "values=400", "gauge=G"),
            "values: '400' is not accepted. Allowed: a length with its unit (m, cm, mm, um, in, ft, mil, km), such as '800 um'",
        ),
        (
            "clock.compared",
            ("device=Z", "offset_ms=5", "round_trip_ms=3"),
            "device: 'Z' is not accepted. Allowed: the letter of a device of this job: B",
        ),
        (
            "repair.planned",
            ("holidays=B9", "class=spot", "procedure=x", "outline=round"),
            "holidays: 'B9' is not accepted. Allowed: the id of an entry, a number that is in the job (B17, R-01, Q-01, NCR-01), or last:",
        ),
    ],
)
def test_a_refusal_is_read_whole(opened: Desk, kind: str, words: tuple[str, ...], says: str) -> None:
    said = tank.refuse(opened, kind, *words).err
    assert said.startswith(says), said
    assert not PROGRAM_WORDS.search(said), said
