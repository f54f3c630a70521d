"""Spots and areas as SSPC-PA 2 and PA 9 judge them. Expected values are typed from the sources named beside each case."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from film.shelf import held
from wholefilm.base.errors import BadInput, UnknownEdition
from wholefilm.base.quantity import quantity
from wholefilm.film.acceptance import SpotAndArea, accept
from wholefilm.film.due import number_due
from wholefilm.film.named import NotRead, Own
from wholefilm.film.result import Readings
from wholefilm.film.spot_and_area import spot_limits
from wholefilm.rules.thickness import thickness_rule

MIL = 25.4


def due(rule: str, area: str) -> tuple[int, int, int]:
    found = thickness_rule(rule)
    assert found.due is not None
    number = number_due(found.due, quantity(area, "area"), 3, 5)
    assert number is not None
    return number.areas, number.spots, number.readings


@pytest.mark.parametrize(
    ("rule", "area", "expected"),
    [
        ("SSPC-PA2/mil", "12500 ft2", (15, 75, 225)),  # DFT-01, trade tutorial on PA 2, 2014, restated
        ("SSPC-PA2/um", "500 m2", (7, 35, 105)),  # DFT-02, JPCL Dec 2009 Table 2, restated
        ("SSPC-PA2/mil", "250 ft2", (3, 15, 45)),  # DFT-03, PA 2 8.2, derived
        ("SSPC-PA2/mil", "1000 ft2", (3, 15, 45)),  # DFT-04, PA 2 8.2, boundary, derived
        # further boundaries of the table of 8.2, restated; worked out by hand
        ("SSPC-PA2/mil", "100 ft2", (1, 5, 15)),
        ("SSPC-PA2/mil", "100.1 ft2", (2, 10, 30)),
        ("SSPC-PA2/mil", "300 ft2", (3, 15, 45)),
        ("SSPC-PA2/mil", "301 ft2", (3, 15, 45)),
        ("SSPC-PA2/mil", "1001 ft2", (4, 20, 60)),
        ("SSPC-PA2/mil", "2000 ft2", (4, 20, 60)),
        ("SSPC-PA2/um", "10 m2", (1, 5, 15)),
        ("SSPC-PA2/um", "30 m2", (3, 15, 45)),
        ("SSPC-PA2/um", "100 m2", (3, 15, 45)),
        ("SSPC-PA2/um", "100.01 m2", (4, 20, 60)),
        ("SSPC-PA9", "60 m2", (3, 15, 45)),  # PA 9, 30 to 100 m2: three areas of 10 m2, restated
    ],
)
def test_how_many_are_due(rule: str, area: str, expected: tuple[int, int, int]) -> None:
    assert due(rule, area) == expected


def test_the_two_sets_of_units_are_no_conversions_of_each_other() -> None:
    """28 m2 = 301.4 ft2 (1 ft = 0.3048 m): still area by area in m2, past 300 ft2 in the other set. 1080 ft2 = 100.3 m2."""
    assert due("SSPC-PA2/um", "1080 ft2") == (4, 20, 60)
    assert due("SSPC-PA2/mil", "1080 ft2") == (4, 20, 60)
    assert due("SSPC-PA2/um", "93 m2") == (3, 15, 45)
    assert due("SSPC-PA2/mil", "93 m2") == (4, 20, 60)  # 1001.04 ft2


def pa2(values: list[float], level: int | None, edition: str = "2015", **more: object):  # type: ignore[no-untyped-def]
    return held("SSPC-PA2/mil", values, "mil", edition=edition, own=Own(min="8 mil", max="12 mil", level=level), **more)  # type: ignore[arg-type]


def test_limits_of_a_spot_at_level_3() -> None:
    """DFT-06: 8 to 12 mil, lowest spot 6.4, highest 14.4. Course slide on PA 2, restated."""
    form = SpotAndArea(
        classes=["flat"], min="8 mil", max="12 mil", spot_min="80 %", spot_max="120 %", area_min="100 %", area_max="100 %",
        readings_a_spot=3, spots_an_area=5,
    )  # fmt: skip
    limits = spot_limits(form)
    assert limits.spot_min is not None
    assert limits.spot_max is not None
    assert (float(limits.spot_min) / MIL, float(limits.spot_max) / MIL) == pytest.approx((6.4, 14.4))


@pytest.mark.parametrize(
    ("values", "level", "mean", "outcome", "why"),
    [
        ([6.5, 9, 10, 12.5, 14.0], 3, "10.4 mil", "met", ()),  # DFT-07, PA 2 section 9, derived
        ([6.5, 9, 10, 12.5, 14.0], 2, "10.4 mil", "not_met", ("spot_low",)),  # DFT-08, PA 2 level 2, memory
        ([9, 9.5, 10, 12, 17.5], 4, "11.6 mil", "met", ()),  # DFT-10, PA 2 level 4, memory
        ([9, 9.5, 10, 12, 17.5], 3, "11.6 mil", "not_met", ("spot_high",)),  # the same at level 3: 17.5 over 14.4
        ([9, 9.5, 10, 12, 17.5], 2, "11.6 mil", "not_met", ("spot_high",)),
        ([9, 9.5, 10, 12, 18.1], 4, "11.72 mil", "not_met", ("spot_high",)),  # 150 % of 12 = 18
        ([9, 9.5, 10, 12, 18.0], 4, "11.7 mil", "met", ()),
        ([8, 12, 9, 10, 11], 1, "10 mil", "met", ()),  # level 1, memory: nothing beyond what is specified
        ([8, 12.1, 9, 10, 11], 1, "10.02 mil", "not_met", ("spot_high",)),
        ([7.9, 12, 9, 10, 11], 1, "9.98 mil", "not_met", ("spot_low",)),
        ([40, 12, 9, 10, 11], 5, "16.4 mil", "met", ()),  # level 5, memory: no most
        ([6.3, 12, 9, 10, 11], 5, "9.66 mil", "not_met", ("spot_low",)),
        ([6.4, 8, 8.5, 8.6, 8.5], 3, "8 mil", "met", ()),  # spot on 80 %, mean of the area on the least
        ([6.39, 8, 8.5, 8.6, 8.51], 3, "8 mil", "not_met", ("spot_low",)),
        ([6.4, 8, 8.5, 8.6, 8.4], 3, "7.98 mil", "not_met", ("area_low",)),
        ([14.4, 12, 11.5, 11, 11.1], 3, "12 mil", "met", ()),  # on 120 %, mean on the most
        ([14.41, 12, 11.5, 11, 11.09], 3, "12 mil", "not_met", ("spot_high",)),
        ([14.4, 12, 11.5, 11, 11.2], 3, "12.02 mil", "not_met", ("area_high",)),
    ],
)
def test_levels(values: list[float], level: int, mean: str, outcome: str, why: tuple[str, ...]) -> None:
    got = pa2(values, level)
    assert (got.outcome.value, got.why) == (outcome, why)
    assert f"area 1 {mean}" in got.value


def test_the_numerical_example_of_appendix_1() -> None:
    """DFT-12: 64, 76, 53, 76, 66 um, least 64 um: mean 67 um conforms, 53 um is over 51 um. PA 2 Appendix 1, memory."""
    got = held("SSPC-PA2/um", [64, 76, 53, 76, 66], edition="2012", own=Own(min="64 um", level=3))
    assert (got.outcome.value, got.why) == ("met", ())
    assert "area 1 67 um" in got.value


def test_a_single_value_becomes_a_range() -> None:
    """DFT-13: 3 mil alone is 2.4 to 3.6 mil. PA 2 section 9, restated. Mean of an area: 2.4 met, 2.39 not."""
    for values, outcome in (([2.4] * 5, "met"), ([2.39] * 5, "not_met"), ([3.6] * 5, "met"), ([3.61] * 5, "not_met")):
        got = held("SSPC-PA2/mil", values, "mil", edition="2015", own=Own(nominal="3 mil"))
        assert got.outcome.value == outcome, values


def test_before_2012_there_are_no_levels() -> None:
    """80 % and 120 % fixed, the mean of an area inside the range. PA 2 before 2012, restated."""
    assert pa2([6.4, 9, 10, 12, 14.4], None, "2004").outcome.value == "met"
    assert pa2([6.3, 9, 10, 12, 14.4], None, "2004").why == ("spot_low",)
    with pytest.raises(BadInput, match="no levels"):
        pa2([9, 9, 9, 9, 9], 3, "2004")


def test_editions_that_differ_are_asked_for_by_name() -> None:
    with pytest.raises(UnknownEdition) as caught:
        held("SSPC-PA2/um", [64] * 5, own=Own(min="60 um"))
    assert "2004" in caught.value.allowed
    assert "2012" in caught.value.allowed
    with pytest.raises(UnknownEdition):
        held("SSPC-PA2/um", [64] * 5, edition="2022", own=Own(min="60 um"))


@pytest.mark.parametrize(
    ("spot", "level", "outcome"),
    [(380, 3, "met"), (375, 3, "met"), (374, 3, "not_met"), (1250, 3, "met"), (1251, 3, "not_met"), (1251, 4, "met"), (499, 1, "not_met")],
)
def test_concrete_has_limits_of_its_own(spot: float, level: int, outcome: str) -> None:
    """DFT-16: a spot of 380 um at 500 to 1000 um conforms, limits 375 and 1250 um. PA 9 level 3 (and 4, 1), restated."""
    others = [700.0] * 4
    got = held("SSPC-PA9", [spot, *others], edition="2015", own=Own(min="500 um", max="1000 um", level=level))
    assert got.outcome.value == outcome


def test_what_was_not_read_is_not_made_up() -> None:
    with pytest.raises(NotRead, match="own copy"):
        held("SSPC-PA9", [700] * 5, edition="2015", own=Own(min="500 um", level=2))
    got = held("SSPC-PA9", [400] * 5, edition="2015", own=Own(min="500 um", level=3))  # spots over 375, mean of the area under 500
    assert (got.outcome.value, got.why) == ("cannot_tell", ("not_read",))
    assert "own copy" in got.because


def test_single_readings_are_not_judged_their_mean_is() -> None:
    """PA 2 3.2 and 8.1 (2012, seen): a spot is the mean of at least three readings; single readings are not restricted."""
    values = [4.0, 9.0, 11.0] + [9.0] * 12
    spots = [f"s{n // 3}" for n in range(15)]
    got = pa2(values, 3, spots=spots)
    assert (got.outcome.value, got.there.spots, got.there.readings) == ("met", 5, 15)
    assert pa2(values, 3, spots=None).why[0] == "spot_low"


def test_too_few_readings_spots_or_areas_cannot_be_told_and_say_how_many() -> None:
    got = pa2([9.0] * 14, 3, spots=[f"s{n // 3}" for n in range(14)])
    assert (got.outcome.value, got.why) == ("cannot_tell", ("short",))
    assert "14 of 15 readings" in got.because
    assert "1 spot with fewer than 3 readings" in got.because
    got = pa2([9.0] * 4, 3)
    assert got.outcome.value == "cannot_tell"
    assert "4 of 5 spots" in got.because
    got = pa2([9.0] * 10, 3, area="500 ft2")
    assert got.outcome.value == "cannot_tell"
    assert "2 of 3 areas, 10 of 15 spots" in got.because
    assert pa2([9.0] * 15, 3, area="500 ft2").outcome.value == "met"
    assert pa2([6.0] * 4, 3).outcome.value == "not_met"  # what is short does not hide what is not met
    assert pa2([], 3).outcome.value == "cannot_tell"


def test_places_make_areas_and_each_mean_is_judged() -> None:
    """Both together have a mean of 10 mil; the second alone 7.6 mil, under the least."""
    values, places = [12.0, 12.4, 12.4, 12.6, 12.6, *[7.6] * 5], ["a"] * 5 + ["b"] * 5
    got = pa2(values, 3, places=places)
    assert got.why == ("area_low", "area_high")
    assert "area b 7.6 mil" in got.because
    assert pa2([9.0] * 9, 3, places=["a"] * 5 + ["b"] * 4).why == ("short",)
    same = pa2([9.0, 9.0, 9.0] * 10, 3, places=["a"] * 15 + ["b"] * 15, spots=[f"{n // 3 % 5}" for n in range(30)])
    assert (same.there.spots, same.outcome.value) == (10, "met")  # the same name in another place is another spot


def test_a_mean_that_equals_a_limit_is_inside_in_any_unit() -> None:
    """6.3, 6.4 and 6.5 mil: mean 6.4 mil = 80 % of 8 mil exactly; sums of binary fractions would miss it."""
    values = [6.3, 6.4, 6.5] + [9.0] * 12
    assert pa2(values, 3, spots=[f"s{n // 3}" for n in range(15)]).outcome.value == "met"
    values[0] = 6.29
    assert pa2(values, 3, spots=[f"s{n // 3}" for n in range(15)]).why == ("spot_low",)


def test_uncertainty_flags_and_never_turns_a_finding() -> None:
    own = {"min": "8 mil", "max": "12 mil", "level": 3}
    near, far = [6.5, 9, 10, 11, 12], [9, 9.5, 10, 10.5, 10]
    for values, gauge, inside in ((near, "5 %", True), (far, "2 %", False), (near, None, False)):
        got = held("SSPC-PA2/mil", values, "mil", edition="2015", own=Own(**own, gauge_uncertainty=gauge))  # type: ignore[arg-type]
        assert (got.outcome.value, got.inside_uncertainty) == ("met", inside)
        assert ("inside uncertainty" in got.because) == inside


FORM = SpotAndArea(
    classes=["flat"], min="600 um", max="1000 um", spot_min="80 %", spot_max="120 %", area_min="100 %", area_max="100 %",
    readings_a_spot=3, spots_an_area=5,
)  # fmt: skip


@given(st.lists(st.integers(480, 1200), min_size=5, max_size=25), st.randoms())
def test_the_order_of_readings_in_a_named_spot_and_place_does_not_matter(values: list[int], chance) -> None:  # type: ignore[no-untyped-def]
    marks = [(float(v), f"s{n % 5}", "a") for n, v in enumerate(values)]
    mixed = list(marks)
    chance.shuffle(mixed)
    a, b = (accept(FORM, Readings(*map(list, zip(*m, strict=True)))) for m in (marks, mixed))  # type: ignore[arg-type]
    assert (a.outcome, a.why, a.there) == (b.outcome, b.why, b.there)


@given(st.lists(st.integers(300, 1500), min_size=5, max_size=5))
def test_five_spots_are_judged_as_a_pocket_calculator_would(values: list[int]) -> None:
    """480 to 1200 um a spot, 600 to 1000 um their mean: whole numbers, so sums compare without division."""
    inside = all(480 <= v <= 1200 for v in values) and 3000 <= sum(values) <= 5000
    assert (accept(FORM, Readings([float(v) for v in values])).outcome.value == "met") == inside


@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({"min": None, "max": None}, "rule.min"),
        ({"min": "1100 um"}, "rule.max"),
        ({"single": "800 um"}, "rule.single"),
        ({"min": None, "max": None, "single": "800 um"}, "rule.single_within"),
        ({"min": "-1 um"}, "rule.min"),
        ({"min": "600"}, "rule.min"),
        ({"spot_min": "80"}, "rule.spot_min"),
        ({"spot_min": "-80 %"}, "rule.spot_min"),
        ({"readings_a_spot": 0}, "rule.readings_a_spot"),
        ({"gauge_uncertainty": "5"}, "gauge_uncertainty"),
    ],
)
def test_a_rule_that_makes_no_sense_is_refused(change: dict[str, object], field: str) -> None:
    import msgspec

    with pytest.raises(BadInput) as caught:
        msgspec.structs.replace(FORM, **change).check()
    assert caught.value.field == field
