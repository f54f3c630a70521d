"""Spots in columns: exact values, every bad row told, one decimal sign, the same spots as row by row."""

from __future__ import annotations

import csv
import io
import math
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from wholefilm.base.errors import BadInput
from wholefilm.base.quantity import quantity
from wholefilm.film.cells import Lengths, Signs
from wholefilm.film.readings import BadRows, examine, read_columns, read_spots

COLUMNS: dict[str, Any] = {"test_area": "area", "class": "on", "value": "dft"}
POINT = {"value": "um", "text": {"decimal": "."}}
HEAD = "area,on,dft\n"


def units(unit: str = "um", **text: str) -> dict[str, Any]:
    return {"value": unit, "text": text}


@pytest.mark.parametrize(
    ("typed", "unit", "exact"),
    [
        # 1 mil = 25.4 um, 1 in = 25.4 mm, 1 ft = 304.8 mm: international yard and pound agreement, 1959
        ("23.6", "mil", Fraction("599.44")), ("0.3937", "mil", Fraction("9.99998")), ("0.0315", "in", Fraction("800.1")),
        ("0,6", "mm", Fraction(600)), ("600.0", "um", Fraction(600)), (".5", "mm", Fraction(500)), ("+12", "um", Fraction(12)),
        ("0.1", "um", Fraction("0.1")), ("599.99999999999999", "um", Fraction("599.99999999999999")), ("007", "um", Fraction(7)),
    ],
)  # fmt: skip
def test_values_are_exact_and_rounded_once(typed: str, unit: str, exact: Fraction) -> None:
    spots = read_columns(f'{HEAD}S,flat,"{typed}"\n'.encode(), COLUMNS, units(unit))
    assert spots.exact_um(0) == exact
    assert spots.values_um[0] == float(exact)


@settings(max_examples=200, deadline=None)
@given(st.decimals(0, 99_999, places=6), st.sampled_from(["um", "mil", "mm", "in", "cm", "ft"]))
def test_the_float_is_the_nearest_to_the_exact_value(number: Any, unit: str) -> None:
    assert Lengths(unit, "um")[str(number)] == float(quantity(f"{number} {unit}", "length").exact("um"))


number = st.decimals(0, 5_000, places=2, allow_nan=False, allow_infinity=False)
name = st.text(st.characters(exclude_categories=["C", "Z"]), min_size=1, max_size=5)
place = st.decimals(-99, 99, places=3)


@settings(max_examples=120, deadline=None)
@given(
    st.lists(
        st.tuples(name, st.sampled_from(["flat", "weld", "edge", "corner", "pit"]), number, name, place, st.none() | place), min_size=1
    ),
    st.sampled_from([(",", "."), (";", "."), (";", ","), ("\t", "."), ("\t", ","), (",", ",")]),
    st.sampled_from(["utf-8", "utf-16"]),
    st.sampled_from(["\n", "\r\n"]),
    st.integers(0, 2),
)
def test_any_table_in_either_delimiter_and_decimal_reads_back_the_same(
    rows: list[Any], way: tuple[str, str], encoding: str, end: str, blank: int
) -> None:
    """Written by the standard library; values, names and places come back as they were, whatever the way of writing."""
    delimiter, decimal = way
    out = io.StringIO()
    write = csv.writer(out, delimiter=delimiter, lineterminator=end).writerow
    write(["area", "on", "dft", "part", "u", "v"])
    for area, class_, value, part, u, v in rows:
        write(
            [area, class_, str(value).replace(".", decimal), part, *[("" if x is None else str(x)).replace(".", decimal) for x in (u, v)]]
        )
        out.write(end * blank)
    columns = COLUMNS | {"on": "part", "first": "u", "second": "v"}
    given = {"value": "um", "first": "m", "second": "m", "text": {"encoding": encoding, "delimiter": delimiter, "decimal": decimal}}
    spots = read_columns(out.getvalue().encode(encoding), columns, given)
    assert list(zip(spots.test_area, spots.class_, spots.on, strict=True)) == [(a, c, p) for a, c, _, p, _, _ in rows]
    assert list(spots.values_um) == [float(value) for _, _, value, _, _, _ in rows]
    assert list(spots.first) == [float(u) for *_, u, _ in rows]
    assert [None if math.isnan(x) else x for x in spots.second] == [None if v is None else float(v) for *_, v in rows]
    assert list(spots.row) == [2 + n * (1 + blank) for n in range(len(rows))]


def test_the_same_spots_one_by_one_and_after_a_quote() -> None:
    """A quote takes the row by row way; one without takes whole chunks: 20,000 rows, one bad row in the middle is left out."""
    plain = [f"S{n % 4},flat,{500 + n % 300}.5" for n in range(20_000)]
    a, _, none, _ = examine((HEAD + "\n".join(plain)).encode(), COLUMNS, POINT)
    plain[10_000] = 'S0,"flat",abc'
    b, bad, one, _ = examine((HEAD + "\n".join(plain)).encode(), COLUMNS, POINT)
    assert (len(a), none, len(b), one, bad[0].field) == (20_000, 0, 19_999, 1, "line 10002, value")
    assert list(a.row) == list(range(2, 20_002))
    assert a.values_um[10_001:] == b.values_um[10_000:]
    assert a.row[10_001:] == b.row[10_000:]
    assert a.test_area[:10_000] == b.test_area[:10_000]


PLACES = "area,on,dft,u\nS,flat,1,0.5\n,,,\nS,flat,2,\nS,flat,3,x\nS,flat,4,5.\nS,flat,5,.5\nS,flat,6,--1\n"


def test_places_are_read_when_they_are_asked_for_and_a_bad_one_is_none() -> None:
    """What is loaded has no bad place; a record from elsewhere may, and its thickness counts all the same."""
    spots = read_columns(PLACES.encode(), COLUMNS | {"first": "u"}, POINT)
    assert list(spots.values_um) == [1, 2, 3, 4, 5, 6]
    assert [None if math.isnan(x) else x for x in spots.first] == [0.5, None, None, None, 0.5, None]
    assert (spots.on, spots.spot, len(spots.second)) == ([""] * 6, [""] * 6, 6)
    _, bad, count, _ = examine(PLACES.encode(), COLUMNS | {"first": "u"}, POINT)
    assert (count, [b.field for b in bad]) == (3, ["line 5, first", "line 6, first", "line 8, first"])


@pytest.mark.parametrize(("cell", "unit", "metres"), [("1500", "mm", 1.5), ("10", "ft", 3.048), ("-2.5", "m", -2.5), ("", "m", None)])
def test_places_in_metres(cell: str, unit: str, metres: float | None) -> None:
    """1 ft = 0.3048 m (international yard and pound agreement, 1959)."""
    (spot,) = read_spots(f"area,on,dft,u\nS,flat,1,{cell}\n".encode(), COLUMNS | {"first": "u"}, POINT | {"first": unit})
    assert spot.first == metres


def test_groups_leave_out_what_is_set_aside() -> None:
    data = (HEAD + "A,flat,1\nB,flat,2\nA,weld,3\nA,flat,4\n").encode()
    spots = read_columns(data, COLUMNS, POINT)
    assert {k: list(v) for k, v in spots.groups().items()} == {("A", "flat"): [1, 4], ("B", "flat"): [2], ("A", "weld"): [3]}
    assert {k: list(v) for k, v in spots.groups({2, 3}).items()} == {("A", "weld"): [3], ("A", "flat"): [4]}


@pytest.mark.parametrize(
    ("cell", "says"),
    [
        ("1e5", "no thousands separator, exponent, unit or blank in it"),
        ("NaN", "no thousands separator"), ("inf", "no thousands separator"), ("1_000", "no thousands separator"),
        ("1 234", "no thousands separator"), ("1\xa0234", "no thousands separator"), ("1'234", "no thousands separator"),
        ("410 um", "no thousands separator"), ("٤١٠", "no thousands separator"), ("", "no thousands separator"),
        ("-", "no thousands separator"),
        ("1,234.5", "no thousands separator"), ("1.234,5", "no thousands separator"), ("410,5", "a number with a decimal point in um"),
        ("-1", "zero or more"), ("-0.001", "zero or more"), ("7" * 31, "at most 30 digits"), ("1" * 10_000, "at most 1000 characters"),
    ],
)  # fmt: skip
def test_what_is_no_number_is_refused_by_line(cell: str, says: str) -> None:
    with pytest.raises(BadInput) as caught:
        read_columns(f'{HEAD}S,flat,400\nS,flat,"{cell}"\n'.encode(), COLUMNS, POINT)
    assert caught.value.field in ("line 3, value", "line 3, column dft")
    assert says in caught.value.allowed


@pytest.mark.parametrize("cell", [" 410 ", "\xa0410", "410\u202f", "\t410"])
def test_blanks_round_a_number_do_not_count(cell: str) -> None:
    assert list(read_columns(f"{HEAD}S,flat,{cell}\n".encode(), COLUMNS, POINT).values_um) == [410]


def test_every_bad_row_is_told_twenty_by_themselves() -> None:
    rows = [f"S,flat,x{n}" if n % 2 else f"S,flat,{n}" for n in range(60)]
    with pytest.raises(BadRows) as caught:
        read_columns((HEAD + "\n".join(rows)).encode(), COLUMNS, POINT)
    lines = str(caught.value).split("\n")
    assert len(lines) == 21
    assert lines[0].startswith("line 3, value: 'x1' is not accepted. Allowed: a number with a decimal point in um")
    assert lines[19].startswith("line 41, value: 'x39'")
    assert lines[20] == "and 10 more"


@pytest.mark.parametrize(
    ("cells", "delimiter", "result"),
    [
        (["410", "395"], ",", "."),
        (["410.5", "395"], ";", "."),
        (["410,5", "395"], ";", ","),
        (["1.234", "1.2"], ";", "."),
        (["1,234", "15,7"], ";", ","),
        (["0,412"], ";", ","),
        (["1.234"], ",", "."),
        (["1.234"], ";", "line 2, value: '1.234'"),
        (["1.234", "850"], "\t", "line 2, value: '1.234'"),
        (["850", "1,234"], ",", "line 3, value: '1,234'"),
        (["850", "12,234,567"], ",", "."),  # no number at all: the row is bad
        (["410.5", "395,5"], ";", "line 3, value: '395,5'"),
        (["410,5", "395", "395.5"], ";", "line 4, value: '395.5'"),
        (["1,234", "410.5"], ",", "line 3, value: '410.5'"),
        (["no. 4", "410,5"], ";", ","),
    ],
)
def test_the_decimal_sign_of_a_file_or_why_it_cannot_be_told(cells: list[str], delimiter: str, result: str) -> None:
    signs = Signs()
    data = "\n".join([delimiter.join(["area", "on", "dft"]), *[delimiter.join(["S", "flat", f'"{c}"']) for c in cells]])
    examine(data.encode(), COLUMNS, units(delimiter=delimiter), signs)
    if len(result) == 1:
        assert signs.settle(delimiter) == result
    else:
        with pytest.raises(BadInput) as caught:
            signs.settle(delimiter)
        assert str(caught.value).startswith(result)
        assert "thousands" in caught.value.allowed


def test_constants_stand_for_columns() -> None:
    columns = {"test_area": {"constant": "S1"}, "class": {"constant": "weld"}, "value": "dft"}
    spots = read_columns(b"dft\n410\n\n395\n", columns, POINT)
    assert (spots.test_area, spots.class_, list(spots.row)) == (["S1", "S1"], ["weld", "weld"], [2, 4])


@pytest.mark.parametrize(
    ("columns", "more", "field"),
    [
        ({"class": {"constant": "wield"}}, {}, "columns.class"),
        ({"class": {"constant": 1}}, {}, "columns.class"),
        ({"class": {"fixed": "weld"}}, {}, "columns.class"),
        ({"value": {"constant": "410"}}, {}, "columns.value"),
        ({"test_area": {"constant": " "}}, {}, "columns.test_area"),
        ({}, {"text": {"delimiter": "|"}}, "units.text.delimiter"),
        ({}, {"text": {"encoding": "rot13"}}, "units.text.encoding"),
        ({}, {"text": {"colour": "blue"}}, "units.text"),
        ({}, {"text": "utf-8"}, "units.text"),
    ],
)
def test_columns_and_units_of_a_foreign_record_are_looked_at(columns: dict[str, Any], more: dict[str, Any], field: str) -> None:
    with pytest.raises(BadInput) as caught:
        read_columns((HEAD + "S,flat,400\n").encode(), COLUMNS | columns, {"value": "um"} | more)
    assert caught.value.field == field


def test_a_record_without_a_word_on_how_it_is_written_is_read_as_ever() -> None:
    """Both decimal signs in one file, as the first files were taken."""
    (one, two) = read_spots(b"area;on;dft\nS;flat;410,5\nS;weld;1.234\n", COLUMNS, {"value": "um"})
    assert (one.thickness.exact("um"), two.thickness.exact("um")) == (Fraction("410.5"), Fraction("1.234"))
    assert str(one.thickness) == "410,5 um"
