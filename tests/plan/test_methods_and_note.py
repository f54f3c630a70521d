"""Methods as a question; the planning note stays a note."""

from __future__ import annotations

import pytest

from wholefilm.base.quantity import quantity
from wholefilm.electric import Air, Strength, relative_density
from wholefilm.plan import Film, MethodRow, methods, planning_note
from wholefilm.rules import load, rule


def film(um: str, **more: str) -> Film:
    return Film({"thickness": quantity(um, "length")}, **more)  # type: ignore[arg-type]


def ways(of: Film, *ids: str) -> dict[str, MethodRow]:
    return {m.method: m for m in methods(of, [(rule(i), "") for i in ids])}


@pytest.mark.parametrize(
    ("um", "sponge", "spark"),
    # ASTM D5162 4.3 (seen): wet sponge to 0.5 mm, spark over it; the 2021 edition lets 0.25 to 0.5 mm be spark tested with approval.
    [("500 um", "yes", "no"), ("501 um", "no", "yes"), ("300 um", "yes", "with consent"), ("200 um", "yes", "no")],
)
def test_d5162_by_thickness(um: str, sponge: str, spark: str) -> None:
    found = ways(film(um), "ASTM-D5162-A", "ASTM-D5162-21-B")
    assert found["wet_sponge"].documents[0].allows == sponge
    assert found["spark"].documents[0].allows == spark
    asks = found["spark"].asks
    assert any("consent in writing" in a for a in asks) == (spark == "with consent")


@pytest.mark.parametrize("um", ["300 um", "400 um"])
def test_where_documents_differ_the_maker_is_asked(um: str) -> None:
    """Wet sponge: AS 3894.2 to 250 um (restated), ASTM D5162 to 0.5 mm (seen). Spark: AS 3894.1 from 150 um, SP0274 from 500."""
    found = ways(film(um), "ASTM-D5162-A", "AS-3894.2", "AS-3894.1", "G62-2023-B", "SP0274/um")
    assert found["wet_sponge"].differ
    assert found["spark"].differ
    assert all("coating maker's consent in writing" in found[m].asks[0] for m in ("wet_sponge", "spark"))


def test_nothing_told_is_asked_first() -> None:
    asks = ways(film("800 um"), "SP0274/um")["not_testable"].asks
    assert [a.split()[0] for a in asks] == ["was", "does", "metal"]
    told = ways(film("800 um", substrate="metal", conductive="no", immersed="no"), "SP0274/um")
    assert "not_testable" not in told


@pytest.mark.parametrize(("more", "word"), [({"conductive": "zinc primer"}, "zinc primer"), ({"immersed": "yes"}, "once immersed")])
def test_film_that_carries_current_or_moisture_waits_for_two_answers(more: dict[str, str], word: str) -> None:
    asks = ways(film("800 um", substrate="metal", **more), "SP0274/um")["not_testable"].asks
    assert any(word in a and "coating maker and the engineer answer in writing" in a for a in asks)


def test_on_concrete_the_voltage_is_found() -> None:
    found = ways(film("3 mm", substrate="concrete", conductive="no", immersed="no"), "D4787", "SP0274/um")
    assert any("made holiday in each ground zone" in a for a in found["found_voltage"].asks)
    assert any("on concrete" in a for a in found["spark"].asks)


def test_carbon_black_is_for_the_maker_of_the_compound_to_tell() -> None:
    found = ways(film("6 mm"), "RUBBER/ordinary")
    assert any("only its maker's word" in a for a in found["ac_spark"].asks)


def test_no_method_is_chosen() -> None:
    cited = [(r, "") for r in load().values()]
    assert all(not hasattr(m, "chosen") for m in methods(film("450 um"), cited))


def test_the_note_says_what_it_is_and_keeps_its_figures() -> None:
    """Kuffel and Zaengl 4.61 kV, Bruce 4.34 kV at 1 mm (memory); wire end 2.85 kV (a model)."""
    note = planning_note(film("1 mm"), (2500, 4700))
    assert note.label.startswith("Model, for planning only")
    assert note.floor_v is not None
    assert (note.floor_v.uniform, note.floor_v.low, note.floor_v.tip) == pytest.approx((4606, 4345, 2850), abs=6)
    assert note.jump_gap_mm == {"2500": pytest.approx(0.439, abs=0.001), "4700": pytest.approx(1.026, abs=0.001)}
    assert any("2500 V" in r and "4700" not in r for r in note.remarks if "even-gap breakdown" in r)
    assert (note.ceiling_v, note.remaining_mm) == (None, None)


def test_thin_air_lowers_the_floor() -> None:
    """3.83 kV at density 0.85 by the older formula (memory)."""
    note = planning_note(film("1 mm"), air=Air(0.85, "worked example"))
    assert note.floor_v is not None
    assert note.floor_v.low == pytest.approx(3830, abs=15)
    assert relative_density(79.5, 20) == pytest.approx(0.785, abs=0.001)


def test_a_ceiling_only_from_a_strength_that_was_entered() -> None:
    strength = Strength(15, 1.0, 0.0, 0.5, "worked example, invented")
    thick = Film({"min": quantity("0.3 mm", "length"), "max": quantity("0.5 mm", "length")})
    note = planning_note(thick, (2500,), strength=strength)
    assert note.ceiling_v == 2250
    assert any("no single setting" in r for r in note.remarks)
    assert "worked example, invented" in note.strength


def test_a_film_outside_the_model_is_said_and_not_guessed() -> None:
    note = planning_note(film("30 mm"), (25000,))
    assert note.floor_v is None
    assert "20 mm" in note.outside
