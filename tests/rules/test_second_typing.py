"""The data files against a second typing by hand: every coefficient, row, range and edition that ships.

Typed from the reference tables of voltages (their section 7, and 2 and 3 for the tables). Most rows there are from memory or
restated: agreement here shows that nothing was mistyped, not that a standard says so.
"""

from __future__ import annotations

from wholefilm.base.sources import Grade
from wholefilm.rules import load, rule
from wholefilm.rules.document import grades, has_figures
from wholefilm.rules.forms import FindOnMadeHoliday, Fixed, Limit, Linear, Power, Span, Table, UserEnters

# unit, exponent, [(coefficient, bounds, grade)], classes
POWER = {
    "SP0274/mil": ("mil", [("1250", None, "restated")]),
    "SP0274/um": ("um", [("250", None, "restated")]),
    "SP0274/mm": ("mm", [("7900", None, "memory")]),
    "SP0490/mil": ("mil", [("525", None, "memory")]),
    "SP0490/um": ("um", [("104.2", None, "memory")]),
    "SP0490/mm": ("mm", [("3294", None, "memory")]),
    "G62-pre-2023-B/mil": ("mil", [("525", "at_most 40 mil", "memory"), ("1250", "at_least 41 mil", "memory")]),
    "G62-pre-2023-B/mm": ("mm", [("3294", "below 1.0 mm", "memory"), ("7843", "at_least 1.0 mm", "memory")]),
    "CHINA-PIPE": ("mm", [("3294", "below 1.0 mm", "restated"), ("7843", "at_least 1.0 mm", "restated")]),
    "AS-3894.1": ("um", [("250", None, "restated")]),
}
# thickness, slope, upper slope, base, cap, grade
LINEAR = {
    "PHMSA-FBE": ("1 mil", "125 V", "150 V", None, None, "restated"),
    "MILL-PLASTIC-PIPE": ("1 mm", "5 kV", None, "5 kV", "20 kV", "restated"),
    "ISO-21809-1": ("1 mm", "10 kV", None, None, "25 kV", "memory"),
    "ISO-21809-2": ("1 um", "5 V", None, None, None, "memory"),
    "CSA-Z245.20": ("1 um", "5 V", None, None, None, "memory"),
    "RUBBER/ordinary": ("1 mm", "5 kV", None, None, None, "restated"),
    "RUBBER/carbon-rich": ("1 mm", "1.5 kV", None, None, None, "restated"),
    "SAIC-H-2031-B5/linear": ("25 um", "125 V", None, None, None, "seen"),
    "RULE-100V-PER-MIL": ("1 mil", "100 V", None, None, None, "restated"),
}
TABLE: dict[str, list[tuple[float, float, int]]] = {
    "SP0188-2006/mil": [(8, 11, 1500), (12, 15, 2000), (16, 20, 2500), (21, 40, 3000), (41, 55, 4000), (56, 80, 6000), (81, 125, 10000)],
    "SP0188-2006/mm": [
        (0.20, 0.28, 1500), (0.30, 0.38, 2000), (0.40, 0.50, 2500), (0.53, 1.0, 3000), (1.01, 1.39, 4000), (1.42, 2.00, 6000),
        (2.06, 3.18, 10000),
    ],
    "SP0274/table": [
        (20, 20, 6000), (31, 31, 7000), (62, 62, 10000), (94, 94, 12000), (125, 125, 14000), (156, 156, 16000), (188, 188, 17000),
        (500, 500, 28000), (625, 625, 31000), (750, 750, 34000),
    ],
    "SP0490/table": [
        (10, 10, 1650), (11, 11, 1750), (12, 12, 1800), (13, 13, 1900), (14, 14, 1950), (15, 15, 2050), (16, 16, 2100), (17, 17, 2150),
        (18, 18, 2250), (19, 19, 2300), (20, 20, 2350), (25, 25, 2650), (30, 30, 2900),
    ],
}  # fmt: skip
# volts, upper, tolerance, grade
FIXED = {
    "ASTM-D5162-A": ("67.5 V", None, None, "memory"),
    "ISO-28721-1/first": ("20 kV", None, None, "restated"),
    "ISO-28721-1/after": ("12 kV", None, None, "restated"),
    "OPERATOR-3LPE": ("25 kV", None, None, "seen"),
    "GB-50268-ASPHALT/ordinary": ("16 kV", None, None, "restated"),
    "GB-50268-ASPHALT/strengthened": ("18 kV", None, None, "memory"),
    "GB-50268-ASPHALT/special": ("20 kV", None, None, "memory"),
    "SYT-FBE-GB-3LPE": ("25 kV", None, None, "memory"),
    "N-2137/wet": ("67.5 V", None, "5 %", "restated"),
    "JIS-PE/contact": ("10 kV", "12 kV", None, "restated"),
    "JIS-PE/noncontact": ("20 kV", "40 kV", None, "restated"),
    "JIS-PU/type-I": ("8 kV", "10 kV", None, "restated"),
    "JIS-PU/type-II": ("12 kV", "15 kV", None, "restated"),
    "SAIC-H-2031-B5/flat": ("2400 V", None, "50 V", "seen"),
    "UFGS-15559A": ("12 kV", "15 kV", None, "seen"),
    "UFGS-11390": ("90 V", None, None, "seen"),
}
SPAN = {
    "G62-pre-2023-B/span": ("900 V", "20000 V", "seen"),
    "G62-2023-B": ("3400 V", "35000 V", "seen"),
    "N-2137/dry": ("500 V", "5000 V", "restated"),
    "AWWA-C203-PROC": (None, "15000 V", "restated"),
}
LIMIT = {
    "G62-A": {"below": "100 V"},
    "AS-3894.2": {"at_most": "90 V"},
    "TM0384": {"trip": "80000 ohm", "trip_tolerance": "10 %"},
    "CT-685": {"at_least": "67.5 V", "at_most": "100 V", "check_resistor": "80000 ohm"},
}
NO_FIGURES = {
    "ASTM-D5162-08-15-B", "ASTM-D5162-21-B", "SP0188-2024/spark", "SP0188-2024/wet-sponge", "ISO-29601/wet-sponge", "ISO-29601/spark",
    "ISO-2746", "EN-14430", "ISO-21809-3", "CSA-Z245.21", "DNV-RP-F106", "DIN-30670", "EN-10289", "EN-10290", "DIN-55670", "EN-14879",
    "DIN-28055", "API-5L2", "NACE-SP0394", "AWWA-C203", "AWWA-C210", "AWWA-C213", "AWWA-C222", "D4787/wet-sponge",
}  # fmt: skip
# at least, over, at most, below, grade
RANGES = {
    "ASTM-D5162-08-15-B": (None, "0.5 mm", None, None, "seen"),
    "ASTM-D5162-21-B": (None, "0.5 mm", None, None, "seen"),
    "ASTM-D5162-A": (None, None, "0.5 mm", None, "seen"),
    "SP0188-2006/mil": ("8 mil", None, "125 mil", None, "memory"),
    "SP0188-2006/mm": ("0.20 mm", None, "3.18 mm", None, "memory"),
    "SP0274/mil": ("20 mil", None, None, None, "seen"),
    "SP0274/um": ("500 um", None, None, None, "seen"),
    "SP0274/mm": ("0.5 mm", None, None, None, "seen"),
    "SP0490/mil": ("10 mil", None, "30 mil", None, "seen"),
    "SP0490/um": ("250 um", None, "760 um", None, "seen"),
    "SP0490/mm": ("0.25 mm", None, "0.76 mm", None, "seen"),
    "SP0490/table": ("10 mil", None, "30 mil", None, "seen"),
    "G62-2023-B": (None, "0.508 mm", None, None, "seen"),
    "G62-A": ("0.025 mm", None, "0.254 mm", None, "seen"),
    "D4787/wet-sponge": (None, None, "20 mil", None, "seen"),
    "AS-3894.1": ("150 um", None, None, None, "seen"),
    "AS-3894.2": (None, None, None, "250 um", "restated"),
    "GB-50268-ASPHALT/ordinary": ("4.0 mm", None, None, None, "restated"),
    "GB-50268-ASPHALT/strengthened": ("5.5 mm", None, None, None, "memory"),
    "GB-50268-ASPHALT/special": ("7.0 mm", None, None, None, "memory"),
    "N-2137/wet": (None, None, "150 um", None, "restated"),
    "N-2137/dry": (None, "150 um", None, None, "restated"),
    "SAIC-H-2031-B5/flat": ("350 um", None, "750 um", None, "seen"),
    "TM0384": (None, None, "250 um", None, "seen"),
    "CT-685": (None, None, "10 mil", None, "seen"),
    "UFGS-11390": ("14 mil", None, "20 mil", None, "seen"),
}


def test_every_shipped_rule_is_typed_twice() -> None:
    typed = {*POWER, *LINEAR, *TABLE, *FIXED, *SPAN, *LIMIT, *NO_FIGURES, "D4787"}
    assert set(load()) == typed


def test_powers() -> None:
    for id_, (unit, branches) in POWER.items():
        form = rule(id_).form
        assert isinstance(form, Power), id_
        assert (form.unit, form.exponent) == (unit, "0.5"), id_
        found = [
            (b.k, next((f"{n} {getattr(b, n)}" for n in ("at_least", "over", "at_most", "below") if getattr(b, n)), None), b.grade.value)
            for b in form.branches
        ]
        assert found == branches, id_
        span = (form.span.low, form.span.high, form.span.grade.value) if form.span else None
        assert span == (("900 V", "20000 V", "seen") if id_.startswith("G62") else None), id_
        # Table D1 of AS 3894.1, restated: what the voltage is divided by.
        assert [(k.name, k.divisor) for k in form.classes] == ([(n, n) for n in "1234"] if id_ == "AS-3894.1" else []), id_


def test_lines() -> None:
    for id_, (each, slope, to, base, cap, grade) in LINEAR.items():
        form = rule(id_).form
        assert isinstance(form, Linear), id_
        found = [f.value if f else None for f in (form.slope, form.to, form.base, form.cap, form.floor)]
        assert (form.each, *found) == (each, slope, to, base, cap, None), id_
        assert set(grades(form)) == {Grade(grade)}, id_
    least = {id_ for id_ in LINEAR if getattr(rule(id_).form, "minimum", False)}
    assert least == {"MILL-PLASTIC-PIPE", "PHMSA-FBE"}


def test_tables() -> None:
    for id_, rows in TABLE.items():
        form = rule(id_).form
        assert isinstance(form, Table), id_
        unit = "mm" if id_.endswith("/mm") else "mil"
        found = [
            (float(r.from_.removesuffix(f" {unit}")), float(r.to.removesuffix(f" {unit}")), int(r.volts.removesuffix(" V")))
            for r in form.rows
        ]
        assert found == rows, id_
        assert {r.grade for r in form.rows} == {Grade.MEMORY}, id_
    # Sums by hand over the volts: a whole-table check of the second typing itself.
    assert sum(v for _, _, v in TABLE["SP0188-2006/mil"]) == 29000
    assert sum(v for _, _, v in TABLE["SP0274/table"]) == 175000
    assert sum(v for _, _, v in TABLE["SP0490/table"]) == 27800


def test_fixed_spans_and_limits() -> None:
    for id_, (volts, to, tolerance, grade) in FIXED.items():
        form = rule(id_).form
        assert isinstance(form, Fixed), id_
        assert (form.volts.value, form.to and form.to.value, form.tolerance and form.tolerance.value) == (volts, to, tolerance), id_
        assert set(grades(form)) == {Grade(grade)}, id_
    for id_, (low, high, grade) in SPAN.items():
        form = rule(id_).form
        assert isinstance(form, Span), id_
        assert (form.low and form.low.value, form.high and form.high.value) == (low, high), id_
        assert set(grades(form)) == {Grade(grade)}, id_
    for id_, wanted in LIMIT.items():
        form = rule(id_).form
        assert isinstance(form, Limit), id_
        assert {n: getattr(form, n).value for n in form.__struct_fields__ if getattr(form, n)} == wanted, id_


def test_ranges() -> None:
    found = {r.id: (b.at_least, b.over, b.at_most, b.below, b.grade.value) for r in load().values() if (b := r.thickness_range) is not None}
    assert found == RANGES


def test_what_could_not_be_read_ships_without_figures() -> None:
    assert {r.id for r in load().values() if not has_figures(r)} == NO_FIGURES
    assert all(isinstance(rule(id_).form, UserEnters) and rule(id_).grade is None for id_ in NO_FIGURES)
    assert isinstance(rule("D4787").form, FindOnMadeHoliday)


def test_editions_as_listed() -> None:
    assert rule("SP0274/mil").editions == ("1974", "2004", "2011")
    assert rule("SP0490/mil").editions == ("2007",)
    assert rule("SP0188-2006/mil").editions == ("1999", "2006")
    assert rule("ASTM-D5162-A").editions == ("2008", "2015", "2021")
    assert rule("D4787").editions == ("1993 (1999)", "2013 (2018)", "2024")
    assert rule("G62-2023-B").editions == ("2023",)
    assert "2023" not in rule("G62-pre-2023-B/mil").editions


def test_enamel_and_rubber_say_what_they_are_for() -> None:
    for id_ in ("ISO-2746", "EN-14430", "ISO-28721-1/first", "ISO-28721-1/after"):
        assert "never for an organic film" in rule(id_).only_for
    assert "rubber" in rule("RUBBER/ordinary").only_for
    assert rule("RUBBER/ordinary").method == "ac_spark"


def test_only_these_rules_may_be_chosen_as_they_stand() -> None:
    """Seen and without a doubt: G62 method A and California Test 685. Whatever else joins this list is looked at first."""
    assert {r.id for r in load().values() if r.choosable} == {"G62-A", "CT-685"}
