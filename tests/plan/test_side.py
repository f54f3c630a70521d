"""Rules side by side: the worked table of one tank under six rules, bases, remarks, refusals."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wholefilm.base.errors import BadInput, UnknownEdition
from wholefilm.base.quantity import quantity
from wholefilm.plan import Film, SideRow, side_by_side
from wholefilm.rules import load, rule


def film(**thickness: str) -> Film:
    return Film({name: quantity(text, "length") for name, text in thickness.items()})


def rows(of: Film, *ids: str, **more: object) -> list[SideRow]:
    return side_by_side(of, [(rule(i), "") for i in ids], **more).rows  # type: ignore[arg-type]


TANK = film(min="600 um", nominal="800 um", max="1000 um")


@pytest.mark.parametrize(
    ("ident", "nominal_v", "max_v"),
    [
        ("RULE-100V-PER-MIL", 3150, 3937),  # 3150 and 3940 as printed beside MIL-HDBK-1110 10.3.13.2 (seen), rounded there to 10 V
        ("G62-pre-2023-B/mm", 2946, 7843),  # 3294 and 7843 per sqrt mm (memory); the step at 1 mm lies inside this film
        ("SP0274/mil", 7015, 7843),  # 1250 per sqrt mil (restated): the thick branch, here below its own step too
        ("SP0188-2006/mil", 3000, 3000),  # row 21 to 40 mil (memory)
    ],
)
def test_one_tank_several_rules(ident: str, nominal_v: int, max_v: int) -> None:
    by_basis = {r.basis: r.voltage_v for r in rows(TANK, ident)}
    assert by_basis["nominal"] == pytest.approx(nominal_v, abs=1)
    assert by_basis["maximum"] == pytest.approx(max_v, abs=1)


def test_a_rule_that_means_the_maximum_is_worked_out_for_it_alone() -> None:
    """SAIC-H-2031 item B5 (seen): 125 V per 25 um of maximum thickness, 5000 V at 1000 um."""
    (row,) = rows(TANK, "SAIC-H-2031-B5/linear")
    assert (row.basis, row.voltage_v, row.grade) == ("maximum", 5000, "seen")
    assert not row.choosable  # its own doubt is open


def test_a_film_outside_the_range_of_a_document_is_refused_by_it() -> None:
    """SP0490 is titled 250 to 760 um (seen); the owner's flat value holds for 350 to 750 um (seen)."""
    for ident in ("SP0490/um", "SAIC-H-2031-B5/flat"):
        for row in rows(TANK, ident):
            wanted = row.thickness == "600 um"
            assert (row.voltage_v is not None) == wanted
            assert ("outside what it was written for" in row.refused) != wanted


def test_as_3894_uses_the_specified_thickness_and_asks_for_its_class() -> None:
    """AS 3894.1 (restated): 250 sqrt(um) / F; 250 um gives 3,953 V with F 1 and 1,976 V with F 2."""
    of = film(nominal="250 um", max="400 um")
    (asked,) = rows(of, "AS-3894.1")
    assert (asked.basis, asked.voltage_v) == ("nominal", None)
    assert "ask for the class" in asked.refused
    classes = {kind.divisor: kind.name for kind in rule("AS-3894.1").form.classes}  # type: ignore[union-attr]
    for divisor, volts in (("1", 3953), ("2", 1976)):
        assert rows(of, "AS-3894.1", choice=classes[divisor])[0].voltage_v == pytest.approx(volts, abs=1)


def test_what_ships_no_figure_gives_no_voltage() -> None:
    (row,) = rows(film(thickness="800 um"), "SP0188-2024/spark")
    assert (row.voltage_v, row.grade, row.choosable) == (None, "no figure", False)
    assert "enter it from your own copy" in row.refused


def test_the_spread_of_the_film_is_remarked_over_a_fifth() -> None:
    assert any("moves this voltage by 67 %" in w for w in rows(TANK, "RULE-100V-PER-MIL")[0].warnings)
    assert not any("moves this" in w for w in rows(film(min="780 um", max="820 um"), "RULE-100V-PER-MIL")[0].warnings)


def test_the_step_and_gaps_between_rows_are_said() -> None:
    assert any("near the step" in w for w in rows(film(thickness="0.95 mm"), "G62-pre-2023-B/mm")[0].warnings)
    assert not any("near the step" in w for w in rows(film(thickness="0.5 mm"), "G62-pre-2023-B/mm")[0].warnings)
    assert "gap" in rows(film(thickness="40.5 mil"), "G62-pre-2023-B/mil")[0].refused
    assert "gap between 0.50 mm and 0.53 mm" in rows(film(thickness="0.51 mm"), "SP0188-2006/mm")[0].refused


def test_another_edition_than_the_contract_names_is_remarked() -> None:
    old = rows(TANK, "G62-pre-2023-B/mm", contract=["ASTM G62 2023"])[0]
    assert any(w.startswith("the contract names ASTM G62 2023, this is 1987") for w in old.warnings)
    same = rows(TANK, "G62-pre-2023-B/mm", contract=["ASTM G62 2014"])[0]
    assert not any("the contract names" in w for w in same.warnings)


def test_editions_never_default_to_one() -> None:
    (row,) = rows(film(thickness="800 um"), "SP0274/mil")
    assert row.edition == "1974, 2004, 2011"
    one = side_by_side(film(thickness="800 um"), [(rule("SP0274/mil"), "2011")]).rows[0]
    assert one.edition == "2011"
    with pytest.raises(UnknownEdition, match="2019"):
        side_by_side(film(thickness="800 um"), [(rule("SP0274/mil"), "2019")])


def test_the_spread_between_documents_is_said_and_none_is_marked() -> None:
    side = side_by_side(TANK, [(rule(i), "") for i in ("G62-pre-2023-B/mm", "SP0274/mil", "SP0490/um")])
    assert (side.least_v, side.greatest_v) == (pytest.approx(2552, abs=1), pytest.approx(7843, abs=1))
    assert side.says == "2.55 kV to 7.84 kV, 3.1 times apart; 2 of 9 rows give none"
    assert not {f for f in SideRow.__struct_fields__ if "best" in f or "chosen" in f or "preferred" in f}


def test_restated_memory_or_doubtful_is_never_choosable() -> None:
    for row in side_by_side(TANK, [(r, "") for r in load().values()]).rows:
        assert not (row.choosable and (row.grade not in ("seen", "entered", "derived") or rule(row.id).doubts))


@pytest.mark.parametrize(
    ("thickness", "field"),
    [
        ({}, "thickness"),
        ({"min": "0 um"}, "min"),
        ({"max": "-3 um"}, "max"),
        ({"nominal": "3 m"}, "nominal"),
        ({"min": "900 um", "max": "800 um"}, "min"),
        ({"mean": "900 um", "max": "800 um"}, "mean"),
    ],
)
def test_what_is_no_film_is_refused(thickness: dict[str, str], field: str) -> None:
    with pytest.raises(BadInput, match=field):
        side_by_side(film(**thickness), [(rule("SP0274/mil"), "")])


@given(st.integers(200, 3000), st.sampled_from(sorted(i for i, r in load().items() if r.form.__class__.__name__ in ("Power", "Linear"))))
def test_the_same_film_in_mil_and_in_um_gives_the_same(tenths_mil: int, ident: str) -> None:
    """One form, one thickness, two units: the same voltage; the typed text stays."""
    um = f"{tenths_mil * 254}"
    in_um = f"{um[:-2] or '0'}.{um[-2:]} um"
    mil = rows(film(thickness=f"{tenths_mil // 10}.{tenths_mil % 10} mil"), ident)
    other = rows(film(thickness=in_um), ident)
    assert [(r.voltage_v, r.to_v, bool(r.refused)) for r in mil] == [(r.voltage_v, r.to_v, bool(r.refused)) for r in other]
    assert other[0].thickness == in_um


@given(
    st.integers(100, 4000),
    st.integers(1, 400),
    st.sampled_from(sorted(i for i, r in load().items() if r.form.__class__.__name__ == "Power")),
)
def test_voltage_never_falls_with_thickness(um: int, more: int, ident: str) -> None:
    kind = rule(ident).form.classes[0].name if rule(ident).form.classes else None  # type: ignore[union-attr]
    low, high = (rows(film(thickness=f"{t} um"), ident, choice=kind) for t in (um, um + more))
    if low[0].voltage_v is not None and high[0].voltage_v is not None:
        assert high[0].voltage_v >= low[0].voltage_v
