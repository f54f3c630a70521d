"""Properties that hold for any thickness: monotone, the same for any unit typed, gaps kept, JSON without fractions."""

from __future__ import annotations

import json
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wholefilm.base.errors import BadInput, OutOfRange, UnknownEdition
from wholefilm.base.quantity import Quantity, quantity
from wholefilm.rules import Worked, as_body, evaluate, from_body, load, may_choose, rule, user_rule
from wholefilm.rules.document import Rule
from wholefilm.rules.forms import FindOnMadeHoliday, Linear, Power, Table

POINTS = {"SP0274/table", "SP0490/table"}  # single thicknesses, which a drawn number hardly ever meets: typed one by one elsewhere
BY_THICKNESS = sorted(r.id for r in load().values() if isinstance(r.form, Power | Linear | Table) and r.id not in POINTS)
hundredths_um = st.integers(min_value=100, max_value=2_000_000)


def typed(hundredths: int, unit: str = "um") -> Quantity:
    """The same film in another unit, as exact decimal text: 1 um is 5/127 mil, so mil are typed from whole 127ths."""
    number = Fraction(hundredths, 100) / {"um": 1, "mm": 1000, "cm": 10_000}[unit]
    digits = f"{number.numerator * 10**8 // number.denominator:09d}"
    assert Fraction(int(digits), 10**8) == number
    return quantity(f"{digits[:-8]}.{digits[-8:]} {unit}", "length")


def worked(one: Rule, thickness: Quantity) -> Worked | None:
    choice = "2" if one.id == "AS-3894.1" else None
    try:
        return evaluate(one, one.editions[0], thickness, choice=choice)
    except OutOfRange:
        return None


def volts(found: Worked) -> float:
    assert found.volts is not None
    assert found.volts.high is not None
    return quantity(found.volts.high, "voltage").si


@pytest.mark.parametrize("id_", BY_THICKNESS)
@given(a=hundredths_um, b=hundredths_um)
def test_thicker_film_never_asks_for_fewer_volts(id_: str, a: int, b: int) -> None:
    """Monotone within a branch, and from branch to branch, since every step in the shipped rules goes up."""
    low, high = sorted((a, b))
    one, other = worked(rule(id_), typed(low)), worked(rule(id_), typed(high))
    if one is not None and other is not None:
        assert volts(one) <= volts(other)


@pytest.mark.parametrize("id_", BY_THICKNESS)
@given(hundredths=hundredths_um)
def test_the_unit_typed_changes_nothing(id_: str, hundredths: int) -> None:
    results = [worked(rule(id_), typed(hundredths, unit)) for unit in ("um", "mm", "cm")]
    assert len({r.volts.high if r and r.volts else None for r in results}) == 1


@pytest.mark.parametrize("id_", BY_THICKNESS)
@given(hundredths_mil=st.integers(min_value=10, max_value=80_000))
def test_mil_and_um_typed_are_the_same_film(id_: str, hundredths_mil: int) -> None:
    """1 mil = 25.4 um exactly, so n/100 mil = n x 0.254 um."""
    in_mil = quantity(f"{hundredths_mil // 100}.{hundredths_mil % 100:02d} mil", "length")
    thousandths = hundredths_mil * 254
    in_um = quantity(f"{thousandths // 1000}.{thousandths % 1000:03d} um", "length")
    results = [worked(rule(id_), in_mil), worked(rule(id_), in_um)]
    assert len({r.volts.high if r and r.volts else None for r in results}) == 1


@pytest.mark.parametrize("between", ["40.01 mil", "40.5 mil", "40.99 mil", "1030 um"])
def test_the_gap_of_the_mil_form_of_g62_is_kept(between: str) -> None:
    """40 mil and below 525, 41 mil and above 1250 (memory); between them nothing is defined."""
    with pytest.raises(OutOfRange, match=r"at most 40 mil; at least 41 mil\. Between these the document has a gap"):
        evaluate(rule("G62-pre-2023-B/mil"), "2013", quantity(between, "length"))
    by_hand = {"40 mil": "3320 V", "41 mil": "8004 V"}
    for thickness, wanted in by_hand.items():
        found = evaluate(rule("G62-pre-2023-B/mil"), "2013", quantity(thickness, "length"))
        assert found.volts is not None
        assert found.volts.low == wanted
        assert any("near the step" in w for w in found.warnings)


@pytest.mark.parametrize("gap", ["0.29 mm", "0.51 mm", "1.40 mm", "1.005 mm", "2.03 mm", "3.19 mm"])
def test_the_gaps_of_the_mm_table_of_sp0188_are_kept(gap: str) -> None:
    with pytest.raises(OutOfRange) as refused:
        evaluate(rule("SP0188-2006/mm"), "2006", quantity(gap, "length"))
    assert "SP0188-2006/mm" in refused.value.allowed


def test_sp0188_in_mil_is_looked_up_in_whole_mils_rounded_up() -> None:
    """A derived reading of the table: 11.2 mil is looked up as 12 mil, 40.1 mil as 41 mil."""
    for thickness, wanted in {"11 mil": "1500 V", "11.2 mil": "2000 V", "40 mil": "3000 V", "40.1 mil": "4000 V"}.items():
        found = evaluate(rule("SP0188-2006/mil"), "2006", quantity(thickness, "length"))
        assert found.volts is not None
        assert found.volts.low == wanted


@pytest.mark.parametrize("bad", ["0 um", "-5 um"])
def test_a_thickness_that_is_none_is_refused(bad: str) -> None:
    with pytest.raises(BadInput, match="thickness"):
        evaluate(rule("SP0274/mil"), "2011", quantity(bad, "length"))
    with pytest.raises(BadInput, match="thickness"):
        evaluate(rule("SP0274/mil"), "2011", quantity("3 kV", "voltage"))


@pytest.mark.parametrize("choice", [None, "5", ""])
def test_as_3894_wants_its_class(choice: str | None) -> None:
    with pytest.raises(BadInput, match="choice"):
        evaluate(rule("AS-3894.1"), "2002 (R2013)", quantity("300 um", "length"), choice=choice)
    with pytest.raises(BadInput, match="no classes"):
        evaluate(rule("SP0274/mil"), "2011", quantity("30 mil", "length"), choice="1")


def fractions_and_nulls(value: object) -> bool:
    if isinstance(value, dict):
        return any(fractions_and_nulls(v) for v in value.values())
    return any(fractions_and_nulls(v) for v in value) if isinstance(value, list | tuple) else isinstance(value, float) or value is None


@pytest.mark.parametrize("id_", sorted(load()))
def test_a_rule_goes_into_an_entry_and_comes_back_the_same(id_: str) -> None:
    one = rule(id_)
    edition = one.editions[0] if one.editions else "1999"
    confirmed = {"page": "7", "who": "A. Reader", "when": "2025-05-28"}
    body = as_body(one, edition, confirmed)
    through = json.loads(json.dumps(body))
    assert through == body
    assert not fractions_and_nulls(body)
    back, its_edition, its_confirmation = from_body(through)
    assert (back, its_edition) == (one, edition)
    assert its_confirmation is not None
    assert its_confirmation.page == "7"
    # Without figures there is nothing to confirm: such a rule is never chosen.
    assert may_choose(back, its_confirmation) == (one.grade is not None)
    assert may_choose(back) == one.choosable
    assert body["source"]["document"] == one.document


@pytest.mark.parametrize(
    "confirmed",
    [{}, {"page": "7", "who": "A"}, {"page": "", "who": "A", "when": "2025-05-28"}, {"page": "7", "who": "A", "when": "2025-02-30"},
     {"page": "7", "who": "A", "when": "2025-05-28", "why": "x"}],
)  # fmt: skip
def test_half_a_confirmation_is_refused(confirmed: dict[str, str]) -> None:
    with pytest.raises(BadInput, match="confirmed"):
        as_body(rule("SP0274/mil"), "2011", confirmed)
    with pytest.raises(UnknownEdition):
        as_body(rule("SP0274/mil"), "2010")


OWN = {
    "id": "own/letter-7",
    "title": "Test voltage of the lining",
    "document": "Coating maker's letter",
    "editions": ["2025-05-28"],
    "method": "spark",
    "thickness_range": {"at_least": "600 um", "at_most": "1000 um", "grade": "entered"},
    "form": {"form": "fixed", "volts": {"value": "3.0 kV", "grade": "entered"}},
    "entered": {"page": "1", "who": "A. Reader", "when": "2025-05-29"},
}


def test_a_rule_of_the_users_own() -> None:
    own = user_rule(OWN)
    assert own.choosable
    found = evaluate(own, "2025-05-28", quantity("800 um", "length"))
    assert found.volts is not None
    assert (found.volts.low, found.grade, found.choosable) == ("3.0 kV", "entered", True)
    assert str(own.source("2025-05-28")) == "Coating maker's letter 2025-05-28 p. 1 [entered]"


@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({"entered": None}, "entered"),
        ({"entered": {"page": "1", "who": "A"}}, "entered"),
        ({"entered": {"page": "1", "who": "A", "when": "2025-13-01"}}, "when"),
        ({"id": "SP0274/mil"}, "id"),
        ({"form": {"form": "user_enters"}}, "form"),
        ({"form": {"form": "fixed", "volts": {"value": "3.0 kV", "grade": "seen"}}}, "grade"),
        ({"form": {"form": "fixed", "volts": {"value": "3.0 kV"}}}, "form"),
        ({"form": {"form": "fixed", "volts": {"value": "3.0", "grade": "entered"}}}, "volts"),
        ({"form": {"form": "fixed", "volts": {"value": "0 V", "grade": "entered"}}}, "volts"),
        ({"thickness_range": {"at_least": "600 um", "grade": "memory"}}, "grade"),
        ({"procedure": [{"what": "passes", "value": "1", "grade": "memory"}]}, "grade"),
        ({"colour": "red"}, "own/letter-7"),
    ],
)
def test_a_bad_rule_of_the_users_own_is_refused_by_name(change: dict[str, object], field: str) -> None:
    with pytest.raises(BadInput) as refused:
        user_rule({key: value for key, value in (OWN | change).items() if value is not None})
    assert field in refused.value.field


def test_found_voltage_has_a_procedure_and_no_figure() -> None:
    one = rule("D4787")
    assert isinstance(one.form, FindOnMadeHoliday)
    found = evaluate(one, "2024", quantity("3 mm", "length"))
    assert found.volts is None
    assert not found.choosable
    assert any("made holiday" in step or "make a holiday" in step for step in found.steps)
