"""The acceptance clauses against a second typing by hand, and the strict reader of limits.

Typed from the reference tables of acceptance limits. A clause graded memory or restated proves nothing about the document.
"""

from __future__ import annotations

from typing import Any

import pytest

from wholefilm.base.errors import BadInput, NotFound, UnknownEdition
from wholefilm.rules import limit, load_limits, read_limits
from wholefilm.rules.limits import Count, NoneOpen, PerArea, PerLength, PerPiece, Share, WithinRadius

TYPED: dict[str, tuple[str, Any]] = {
    "UFGS-09970/floor-m2": ("seen", [Share(below="1 %", with_feather=True), PerArea(at_most=1, per="200 m2")]),
    "UFGS-09970/floor-ft2": ("seen", [Share(below="1 %", with_feather=True), PerArea(at_most=1, per="2000 ft2")]),
    "UFGS-09970/ceiling-m2": ("seen", [Share(below="5 %", with_feather=True), PerArea(at_most=1, per="100 m2")]),
    "UFGS-09970/ceiling-ft2": ("seen", [Share(below="5 %", with_feather=True), PerArea(at_most=1, per="1000 ft2")]),
    "UFGS-15559A/joints": ("seen", [NoneOpen()]),
    "UFGS-11390/plant": ("seen", [NoneOpen()]),
    "UFGS-13110A/pipe": ("seen", [NoneOpen()]),
    "CSA-Z245.20/under-355.6-mm": ("memory", [PerLength(at_most=1, per="1 m")]),
    "CSA-Z245.20/from-355.6-mm": ("memory", [PerArea(at_most=7, per="10 m2")]),
    "SYT-0315/under-325-mm": ("memory", [PerLength(at_most=1, per="1 m")]),
    "SYT-0315/from-325-mm": ("memory", [PerArea(at_most=7, per="10 m2")]),
    "GB-T-23257/pipe": ("memory", [PerPiece(at_most=2, piece="pipe")]),
    "OPERATOR-3LPE/pipe": ("seen", [PerPiece(at_most=1, piece="pipe")]),
    "ISO-21809-1/pipe": ("memory", [NoneOpen()]),
    "JIS-PE-PU/pipe": ("restated", [NoneOpen()]),
    "CHINA-PIPE/field": ("restated", [NoneOpen()]),
    "GAS-OWNER/sleeve": ("seen", [PerPiece(at_most=2, piece="sleeve")]),
    "ASTM-A775/m": ("memory", [PerLength(at_most=3, per="1 m")]),
    "ASTM-A775/ft": ("memory", [PerLength(at_most=1, per="1 ft")]),
    "PURCHASER-8002/class-A": ("seen", None),
    "PURCHASER-8002/class-B": ("seen", [WithinRadius(at_most=2, radius="6 in")]),
    "PURCHASER-8002/class-C": ("seen", [WithinRadius(at_most=2, radius="6 in")]),
    "FUEL-TERMINAL/list": ("seen", [NoneOpen()]),
    "CA-23-CCR-2635": ("seen", [NoneOpen()]),
    "IMO-MSC-215": ("seen", [NoneOpen()]),
    "ASTM-D5162/4.2": ("seen", None),
    "IMMERSION-LINING": ("memory", [NoneOpen()]),
    "AWWA-D102-78": ("restated", [Share(below="25 %")]),
}


def test_every_clause_is_typed_twice() -> None:
    found = {c.id: (c.grade.value, list(c.rule.limits) if c.rule else None) for c in load_limits().values()}
    assert found == TYPED


def test_a_clause_says_what_it_was_written_for() -> None:
    ufgs = limit("UFGS-09970/floor-m2")
    assert "wet sponge" in ufgs.written_for
    assert any("7 %" in doubt for doubt in ufgs.doubts)
    assert ufgs.rule is not None
    assert ufgs.rule.follows == "whole floor coating removed and redone"
    assert not ufgs.choosable
    assert ("what follows", "whole floor coating removed and redone") in ufgs.describe()
    assert all(clause.written_for and clause.says for clause in load_limits().values())


def test_a_clause_without_a_number_is_never_chosen() -> None:
    assert limit("ASTM-D5162/4.2").rule is None
    assert not limit("ASTM-D5162/4.2").choosable


def test_edition_and_name_of_a_clause() -> None:
    assert str(limit("ASTM-D5162/4.2").source("2021")) == "ASTM D5162 2021 4.2 [seen]"
    with pytest.raises(UnknownEdition, match="2015, 2021"):
        limit("ASTM-D5162/4.2").source("2030")
    with pytest.raises(NotFound, match="UFGS-09970/floor-m2"):
        limit("UFGS-09970")


def whole(*limits: dict[str, Any]) -> dict[str, Any]:
    return {"form": "limits", "limits": list(limits), "follows": "repair"}


def test_all_seven_forms_are_read() -> None:
    given = whole(
        {"form": "count", "at_most": 3, "over": "test_area"},
        {"form": "per_area", "at_most": 1, "per": "200 m2", "pro_rata": False},
        {"form": "per_length", "at_most": 1, "per": "1 m"},
        {"form": "share", "at_most": "0 %"},
        {"form": "within_radius", "at_most": 2, "radius": "6 in"},
        {"form": "per_piece", "at_most": 2, "piece": "sleeve"},
        {"form": "none_open"},
    )
    assert list(read_limits(given).limits) == [
        Count(at_most=3, over="test_area"),
        PerArea(at_most=1, per="200 m2", pro_rata=False),
        PerLength(at_most=1, per="1 m"),
        Share(at_most="0 %"),
        WithinRadius(at_most=2, radius="6 in"),
        PerPiece(at_most=2, piece="sleeve"),
        NoneOpen(),
    ]


@pytest.mark.parametrize(
    ("bad", "field"),
    [
        ({"form": "counts", "at_most": 1}, "limits[0].form"),
        ({"at_most": 1}, "limits[0].form"),
        ({"form": "count", "at_most": -1, "over": "job"}, "limits[0].at_most"),
        ({"form": "count", "at_most": 1.5, "over": "job"}, "limits[0].at_most"),
        ({"form": "count", "at_most": True, "over": "job"}, "limits[0].at_most"),
        ({"form": "count", "at_most": "1", "over": "job"}, "limits[0].at_most"),
        ({"form": "count", "at_most": 1, "over": "tank"}, "limits[0].over"),
        ({"form": "count", "at_most": 1}, "limits[0].over"),
        ({"form": "per_area", "at_most": 1, "per": "200"}, "limits[0].per"),
        ({"form": "per_area", "at_most": 1, "per": "200 m"}, "limits[0].per"),
        ({"form": "per_area", "at_most": 1, "per": "0 m2"}, "limits[0].per"),
        ({"form": "per_area", "at_most": 1, "per": "200 m2", "pro_rata": "yes"}, "limits[0].pro_rata"),
        ({"form": "per_area", "at_most": 1, "per": "200 m2", "prorata": True}, "limits[0].prorata"),
        ({"form": "per_length", "at_most": 1, "per": "1 m2"}, "limits[0].per"),
        ({"form": "share"}, "limits[0]"),
        ({"form": "share", "below": "1 %", "at_most": "1 %"}, "limits[0]"),
        ({"form": "share", "below": "0 %"}, "limits[0].below"),
        ({"form": "share", "at_most": "101 %"}, "limits[0].at_most"),
        ({"form": "share", "below": 1}, "limits[0].below"),
        ({"form": "within_radius", "at_most": 2, "radius": "-6 in"}, "limits[0].radius"),
        ({"form": "per_piece", "at_most": 2, "piece": " "}, "limits[0].piece"),
        ({"form": "none_open", "at_most": 0}, "limits[0].at_most"),
    ],
)
def test_a_bad_limit_is_refused_by_name(bad: dict[str, Any], field: str) -> None:
    with pytest.raises(BadInput) as refused:
        read_limits(whole(bad))
    assert refused.value.field == field
    assert refused.value.allowed


ONE = {"form": "none_open"}


@pytest.mark.parametrize(
    "bad",
    [
        {},
        {"form": "limits"},
        {"form": "limits", "limits": []},
        {"form": "limit", "limits": [ONE]},
        {"form": "limits", "limits": [ONE], "follow": "x"},
        {"form": "limits", "limits": [ONE], "follows": 1},
        {"form": "limits", "limits": ["none_open"]},
    ],
)
def test_a_bad_rule_of_limits_is_refused(bad: dict[str, Any]) -> None:
    with pytest.raises(BadInput):
        read_limits(bad)
