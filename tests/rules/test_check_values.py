"""Check values of voltage rules, typed by hand from the reference tables of voltages, one row each with its mark.

The mark says how well the rule is known: `seen` in the document's text, `restated` in a second-hand text, `memory`.
A row marked memory or restated checks our arithmetic; it does not prove that the standard says so. The arithmetic itself
is exact to 1 V.
"""

from __future__ import annotations

import pytest

from wholefilm.base.errors import BadInput, OutOfRange
from wholefilm.base.quantity import Quantity, quantity
from wholefilm.base.sources import Grade
from wholefilm.rules import allows, evaluate, rule


def film(text: str) -> Quantity:
    return quantity(text, "length")


# (row, rule, edition, thickness, class, volts low, volts high, mark)
ROWS = [
    (1, "SP0274/um", "2011", "2000 um", None, 11180, 11180, "restated"),
    (2, "SP0274/mil", "2011", "20 mil", None, 5590, 5590, "restated"),
    (2, "SP0274/table", "2011", "20 mil", None, 6000, 6000, "memory"),
    (3, "SP0274/mil", "2011", "100 mil", None, 12500, 12500, "restated"),
    (4, "SP0274/table", "2011", "62 mil", None, 10000, 10000, "memory"),
    (4, "SP0274/mil", "2011", "62 mil", None, 9843, 9843, "restated"),
    (5, "SP0490/mil", "2007", "16 mil", None, 2100, 2100, "memory"),
    (6, "SP0490/mil", "2007", "20 mil", None, 2348, 2348, "memory"),
    (6, "SP0490/table", "2007", "20 mil", None, 2350, 2350, "memory"),
    (7, "SP0490/mil", "2007", "30 mil", None, 2876, 2876, "memory"),
    (7, "SP0490/table", "2007", "30 mil", None, 2900, 2900, "memory"),
    (9, "CHINA-PIPE", "1999", "0.50 mm", None, 2329, 2329, "restated"),
    (9, "G62-pre-2023-B/mm", "2013", "0.50 mm", None, 2329, 2329, "memory"),
    (10, "CHINA-PIPE", "1999", "0.99 mm", None, 3277, 3277, "restated"),
    (11, "CHINA-PIPE", "1999", "1.00 mm", None, 7843, 7843, "restated"),
    (11, "G62-pre-2023-B/mm", "2013", "1.00 mm", None, 7843, 7843, "memory"),
    (12, "CHINA-PIPE", "1999", "3.00 mm", None, 13584, 13584, "restated"),
    (13, "CHINA-PIPE", "1999", "0.999 mm", None, 3292, 3292, "restated"),
    (14, "AS-3894.1", "2002 (R2013)", "250 um", "1", 3953, 3953, "restated"),
    (15, "AS-3894.1", "2002 (R2013)", "250 um", "2", 1976, 1976, "restated"),
    (16, "AS-3894.1", "2002 (R2013)", "500 um", "4", 1398, 1398, "restated"),
    (18, "MILL-PLASTIC-PIPE", "undated", "2 mm", None, 15000, 15000, "restated"),
    (19, "MILL-PLASTIC-PIPE", "undated", "4 mm", None, 20000, 20000, "restated"),
    (20, "OPERATOR-3LPE", "not shown (uploaded 2013)", "3 mm", None, 25000, 25000, "seen"),
    (21, "ISO-21809-1", "2018", "2 mm", None, 20000, 20000, "memory"),
    (21, "ISO-21809-1", "2018", "3 mm", None, 25000, 25000, "memory"),
    (22, "ISO-21809-2", "2014", "400 um", None, 2000, 2000, "memory"),
    (22, "CSA-Z245.20", "M92", "400 um", None, 2000, 2000, "memory"),
    (23, "PHMSA-FBE", "undated", "16 mil", None, 2000, 2400, "restated"),
    (23, "PHMSA-FBE", "undated", "20 mil", None, 2500, 3000, "restated"),
    (24, "N-2137/wet", "Rev C 2007", "150 um", None, 67.5, 67.5, "restated"),
    (24, "N-2137/dry", "Rev C 2007", "151 um", None, 500, 5000, "restated"),
    (25, "RUBBER/ordinary", "procedure", "4 mm", None, 20000, 20000, "restated"),
    (25, "RUBBER/carbon-rich", "procedure", "4 mm", None, 6000, 6000, "restated"),
    (26, "SP0188-2006/mil", "2006", "10 mil", None, 1500, 1500, "memory"),
    (26, "SP0188-2006/mil", "2006", "20 mil", None, 2500, 2500, "memory"),
    (26, "SP0188-2006/mil", "2006", "40 mil", None, 3000, 3000, "memory"),
    (26, "SP0188-2006/mil", "2006", "100 mil", None, 10000, 10000, "memory"),
    (34, "RULE-100V-PER-MIL", "undated", "25 mil", None, 2500, 2500, "restated"),
    (37, "GB-50268-ASPHALT/ordinary", "2008", "4.0 mm", None, 16000, 16000, "restated"),
    # SAIC-H-2031 (31 Jul 2022), item B5: 125 V per 25 um of the maximum; 1000 um gives 5000 V, and 2400 V flat beside it.
    ("B5", "SAIC-H-2031-B5/linear", "2022-07-31", "1000 um", None, 5000, 5000, "seen"),
    ("B5", "SAIC-H-2031-B5/flat", "2022-07-31", "600 um", None, 2400, 2400, "seen"),
]


@pytest.mark.parametrize(("row", "id_", "edition", "thickness", "choice", "low", "high", "mark"), ROWS, ids=lambda v: str(v))
def test_check_value(row: object, id_: str, edition: str, thickness: str, choice: str | None, low: float, high: float, mark: str) -> None:
    worked = evaluate(rule(id_), edition, film(thickness), choice=choice)
    assert worked.volts is not None
    assert worked.volts.low is not None
    assert worked.volts.high is not None
    assert quantity(worked.volts.low, "voltage").si == low
    assert quantity(worked.volts.high, "voltage").si == high
    assert worked.grade == Grade(mark)
    assert worked.steps


# Side by side by hand: 525 and 1250 times the root of mil (rows of 5.3, arithmetic).
@pytest.mark.parametrize(("mils", "thin"), [(10, 1660), (12, 1819), (16, 2100), (20, 2348), (25, 2625), (30, 2876)])
def test_525_root_mil_side_by_side(mils: int, thin: int) -> None:
    worked = evaluate(rule("SP0490/mil"), "2007", film(f"{mils} mil"))
    assert worked.volts is not None
    assert worked.volts.low == f"{thin} V"


@pytest.mark.parametrize(
    ("mils", "thick"), [(20, 5590), (25, 6250), (30, 6847), (40, 7906), (50, 8839), (60, 9682), (80, 11180), (100, 12500), (125, 13975)]
)
def test_1250_root_mil_side_by_side(mils: int, thick: int) -> None:
    worked = evaluate(rule("SP0274/mil"), "2011", film(f"{mils} mil"))
    assert worked.volts is not None
    assert worked.volts.low == f"{thick} V"


@pytest.mark.parametrize(
    ("row", "id_", "edition", "thickness"),
    [
        (8, "SP0490/mil", "2007", "9 mil"),  # title range, seen
        (8, "SP0490/mil", "2007", "31 mil"),
        (8, "SP0490/um", "2007", "249 um"),
        (8, "SP0490/um", "2007", "761 um"),
        (17, "AS-3894.1", "2002 (R2013)", "149 um"),  # scope, seen
        (24, "N-2137/wet", "Rev C 2007", "151 um"),
        (24, "N-2137/dry", "Rev C 2007", "150 um"),
        (29, "G62-A", "2023", "509 um"),  # scope, seen
        (30, "ASTM-D5162-21-B", "2021", "300 um"),  # 4.3.1, seen: no approval on file
        (31, "ASTM-D5162-21-B", "2021", "500 um"),  # 4.3, seen: 0.5 mm is wet sponge
        (31, "ASTM-D5162-A", "2021", "501 um"),
        (26, "SP0188-2006/mil", "2006", "7.9 mil"),
        (26, "SP0188-2006/mil", "2006", "125.1 mil"),
    ],
)
def test_refused_outside_the_range(row: int, id_: str, edition: str, thickness: str) -> None:
    found = rule(id_)
    choice = "1" if id_ == "AS-3894.1" else None
    with pytest.raises(OutOfRange) as refused:
        evaluate(found, edition, film(thickness), choice=choice)
    assert refused.value.field == "thickness"
    assert id_ in refused.value.allowed


def test_row_13_warns_at_the_step_of_1_mm() -> None:
    """Row 13: 0.999 mm to 1.000 mm is 3,292 V to 7,843 V; both sides of the step carry the warning, 0.5 mm does not."""
    for thickness in ("0.999 mm", "1.000 mm"):
        assert any("step" in w and "1 mm" in w for w in evaluate(rule("CHINA-PIPE"), "1999", film(thickness)).warnings)
    assert not any("near the step" in w for w in evaluate(rule("CHINA-PIPE"), "1999", film("0.5 mm")).warnings)


def test_row_27_and_28_spans_of_g62() -> None:
    """Rows 27, 28 (1.3, seen): 900 to 20,000 V until 2022, 3.4 to 35 kV from 2023."""
    old, new = rule("G62-pre-2023-B/span"), rule("G62-2023-B")
    assert not allows(old, "2022", quantity("25 kV", "voltage")).inside
    assert allows(old, "2022", quantity("20 kV", "voltage")).inside
    assert not allows(old, "2022", quantity("899 V", "voltage")).inside
    answers = [allows(new, "2023", quantity(v, "voltage")).inside for v in ("3399 V", "3400 V", "35000 V", "35001 V")]
    assert answers == [False, True, True, False]


def test_row_29_water_and_wetting_agent() -> None:
    """Row 29 (1.2, seen): 254 um tap water, 300 um wetting agent; under 100 V."""
    tap = evaluate(rule("G62-A"), "2023", film("254 um"))
    agent = evaluate(rule("G62-A"), "2023", film("300 um"))
    assert not any("wetting agent" in w for w in tap.warnings)
    assert any("wetting agent" in w for w in agent.warnings)
    assert [allows(rule("G62-A"), "2023", quantity(v, "voltage")).inside for v in ("99 V", "100 V")] == [True, False]


def test_row_30_approval_opens_the_thin_film_and_gives_no_figure() -> None:
    worked = evaluate(rule("ASTM-D5162-21-B"), "2021", film("300 um"), approval="letter of 2025-05-28")
    assert worked.volts is None
    assert worked.grade is None
    assert not worked.choosable
    assert any("letter of 2025-05-28" in w for w in worked.warnings)
    with pytest.raises(OutOfRange):
        evaluate(rule("ASTM-D5162-21-B"), "2021", film("300 um"), approval=" ")


def test_row_31_method_by_thickness() -> None:
    """Row 31 (4.3, seen): 500 um wet sponge, 501 um spark."""
    assert evaluate(rule("ASTM-D5162-A"), "2021", film("500 um")).volts is not None
    assert evaluate(rule("ASTM-D5162-21-B"), "2021", film("501 um")).volts is None
    assert rule("ASTM-D5162-21-B").method == "spark"


def test_row_33_trip_resistance() -> None:
    """Row 33 (abstract of TM0384-1989, seen): 80 kohm +-10 %, so 72 to 88 kohm."""
    answers = [allows(rule("TM0384"), "1989", quantity(r, "resistance")).inside for r in ("71.9 kohm", "72 kohm", "88 kohm", "88.1 kohm")]
    assert answers == [False, True, True, False]


def test_row_34_is_called_a_rule_of_thumb() -> None:
    worked = evaluate(rule("RULE-100V-PER-MIL"), "undated", film("25 mil"))
    assert any("Rule of thumb, not in a standard" in w for w in worked.warnings)
    assert not worked.choosable


def test_limits_of_wet_sponge() -> None:
    """California Test 685 (2008-02, seen) 67.5 to 100 V; AS 3894.2 (restated) at most 90 V; N-2137 (restated) 67.5 V +-5 %."""
    ct = [allows(rule("CT-685"), "2008-02", quantity(v, "voltage")).inside for v in ("67.4 V", "67.5 V", "100 V", "100.1 V")]
    assert ct == [False, True, True, False]
    assert [allows(rule("AS-3894.2"), "2002 (R2013)", quantity(v, "voltage")).inside for v in ("90 V", "91 V")] == [True, False]
    n = [allows(rule("N-2137/wet"), "Rev C 2007", quantity(v, "voltage")).inside for v in ("64 V", "64.2 V", "70.8 V", "71 V")]
    assert n == [False, True, True, False]
    saic = rule("SAIC-H-2031-B5/flat")
    assert [allows(saic, "2022-07-31", quantity(v, "voltage")).inside for v in ("2349 V", "2350 V", "2.45 kV", "2451 V")] == [
        False,
        True,
        True,
        False,
    ]


def test_a_rule_that_limits_nothing_says_so() -> None:
    with pytest.raises(BadInput, match="limits no voltage"):
        allows(rule("SP0274/mil"), "2011", quantity("5 kV", "voltage"))


def test_a_doubt_keeps_a_seen_figure_from_being_chosen() -> None:
    """The owner's checklist is seen and contradicts itself; G62 method A is seen and in no doubt."""
    doubted = evaluate(rule("SAIC-H-2031-B5/linear"), "2022-07-31", film("1000 um"))
    assert (doubted.grade, doubted.choosable) == (Grade.SEEN, False)
    assert any("contradicts itself" in w for w in doubted.warnings)
    plain = evaluate(rule("G62-A"), "2023", film("200 um"))
    assert (plain.grade, plain.choosable) == (Grade.SEEN, True)


@pytest.mark.parametrize("thickness", ["300 mil", "2.9 mil"])
def test_a_formula_ends_where_the_document_s_span_ends(thickness: str) -> None:
    """1250 sqrt(300) = 21,651 V and 525 sqrt(2.9) = 894 V lie outside 900 to 20,000 V (G62 1.3 until 2022, seen)."""
    with pytest.raises(OutOfRange, match="900 V to 20000 V"):
        evaluate(rule("G62-pre-2023-B/mil"), "2013", film(thickness))
