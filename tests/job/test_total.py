"""No set of entries makes the fold, the assessment or any sheet raise: valid, nearly valid and hostile bodies, in any order."""

from __future__ import annotations

import importlib
import inspect
import math
import pkgutil
from collections.abc import Callable
from pathlib import Path
from typing import Any

import msgspec
import pytest
from builder import DEVICES, ITEM, PEOPLE, Book, named
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from msgspec import inspect as look

import wholefilm.sheets
from wholefilm.job.fold import fold
from wholefilm.job.kinds import KINDS
from wholefilm.ledger.entry import Entry, make_entry, parse_entry
from wholefilm.proof.assessment import assess
from wholefilm.proof.states import Standing

GOLDEN = Path(__file__).parent / "golden"
FEW = [named(f"entry {n}") for n in range(1, 13)]
IDS = st.sampled_from([*FEW, *PEOPLE.values(), *DEVICES.values(), named("job"), named("nowhere")])
NAMES = st.sampled_from(
    ["F", "F-1", "S1", "S1-1", "tank", "T1", "brush 0.3", "5 m", "final", "10", "A1", "R-01", "second_exposure", "ignition source",
     "before test", "after retest", "floor", "shell", "V1-1", "", " ", "x" * 300, "\u202eabc\u0000", "Ω µ", "tank\n"]
)  # fmt: skip
TIMES = st.sampled_from(
    ["2025-03-03T08:00:00.000+01:00", "2025-03-03T09:00:00.000+01:00", "2025-03-02T23:30:00.000-14:00", "0002-01-01T00:00:00.000+14:00",
     "9998-12-31T23:59:59.999-14:00", "2025-02-30T08:00:00.000+01:00", "2025-03-03"]
)  # fmt: skip
NUMBERS = st.sampled_from(["3.0", "0", "-1", "1000", "0,5", ".5", "1" + "0" * 25, "1" + "0" * 400, "0." + "0" * 27 + "1"])
UNITS = {
    "length": ["m", "um", "mil", "km"], "voltage": ["kV", "V"], "temperature": ["degC", "degF", "K"], "share": ["%"], "area": ["m2", "cm2"],
    "time": ["h", "d"], "pressure": ["hPa"], "resistance": ["kohm"], "angle": ["deg"], "temperature_difference": ["K"],
    "frequency": ["Hz"], "speed": ["m/s"],
}  # fmt: skip
PLAIN = st.one_of(NAMES, st.integers(-(2**53) + 1, 2**53 - 1), st.booleans(), IDS, TIMES, st.just("3 m"), st.just("90 deg"))
TREE = st.recursive(
    PLAIN,
    lambda inner: (
        st.lists(inner, max_size=3) | st.dictionaries(st.sampled_from(["form", "source", "on", "at", "shape"]), inner, max_size=3)
    ),
)
RULES: list[dict[str, Any]] = [
    {"form": "coverage", "share": "100 %"},
    {"form": "coverage", "share": "1" + "0" * 400 + " %"},
    {"form": "limits", "limits": [{"form": "none_open"}, {"form": "within_radius", "at_most": 1, "radius": "1 m"}]},
    {"form": "limits", "limits": [{"form": "share", "below": "1 %"}, {"form": "per_area", "at_most": 1, "per": "0.000001 m2"}]},
    {"form": "limits", "limits": [{"form": "per_piece", "at_most": 1, "piece": "x"}, {"form": "count", "at_most": 0, "over": "job"}]},
    {"form": "thickness_range", "classes": ["flat"], "min": "600 um", "max": "500 um"},
    {"form": "thickness_range", "classes": []},
    {"form": "check_interval", "longest": "-5 h", "tolerance": "-1 %"},
    {"form": "check_interval", "longest": "5 h", "tolerance": ["5 %"]},
    {"form": "cure", "by": ""},
    {"form": "holds", "points": ["before test", "before repair", "after retest", "x"]},
    {"form": ["coverage"], "limits": 3},
    {"form": "user_enters", "source": {"document": "x", "grade": ["seen"]}},
    {"source": {"document": "x", "edition": 4, "grade": "seen"}, "confirmed": True},
    {"source": []},
]
KNOWN: dict[str, st.SearchStrategy[Any]] = {
    "rule": st.sampled_from(RULES),
    "outline": st.lists(
        st.one_of(
            st.sampled_from(
                [
                    {"shape": "disc", "at": {"on": "floor", "x": "0.5 m", "y": "0.5 m"}, "radius": "0.1 m"},
                    {"shape": "disc", "at": {"on": "floor", "x": "1" + "0" * 25 + " km", "y": "0 m"}, "radius": "1" + "0" * 25 + " km"},
                    {"shape": "panel", "panel": "F-1"},
                    {"shape": "panel", "panel": ["F-1"]},
                    {"shape": "rect", "on": "shell", "at": ["350 deg", "10 deg"], "z": ["0 m", "1 m"]},
                    {"shape": "strip", "from": {"on": "floor", "x": "0 m", "y": "0 m"}, "to": {"on": "shell"}, "width": "1 m"},
                ]
            ),
            st.dictionaries(st.sampled_from(["shape", "on", "at"]), TREE, max_size=3),
        ),
        min_size=1,
        max_size=3,
    ),
    "columns": st.sampled_from([{}, {"value": "um", "class": "on", "test_area": "area"}, {"value": ["um"]}, {"value": 3, "x": {}}]),
    "units": st.sampled_from([{"value": "um"}, {}, {"value": "kV"}, {"value": ["um"], "first": {}}]),
    "blob": st.sampled_from(["a" * 64, "b" * 64, "c" * 64, "d" * 64]),
    "hash": st.sampled_from(["a" * 64, "e" * 64]),
    "card": st.sampled_from(["a" * 64, "b" * 64, "f" * 64]),
}
BLOBS = {
    "a" * 64: b"um,on,area\n700,flat,F\n",
    "b" * 64: b"[" * 100_000,
    "c" * 64: b"um,on,area\r700,flat,F\r" + b"\x00" * 10,
    "d" * 64: b'um,on,area\n"' + b"9" * 200_000 + b'",flat,F\n',
    "f" * 64: b'{"name": ["x"]}',
}


class Bytes:
    """Bytes beside the record, some of them no good."""

    def has(self, sha: str) -> bool:
        return sha in BLOBS

    def get(self, sha: str) -> bytes | None:
        return BLOBS.get(sha)


def value_of(kind: look.Type, name: str, extra: dict[str, Any] | None = None) -> st.SearchStrategy[Any]:
    """Values of a field: mostly good ones."""
    if name in KNOWN:
        return KNOWN[name]
    match kind:
        case look.Metadata():
            return value_of(kind.type, name, {**(extra or {}), **(kind.extra or {})})
        case look.UnionType():
            return st.one_of(*(value_of(t, name, extra) for t in kind.types if not isinstance(t, look.NoneType)))
        case look.ListType():
            return st.lists(value_of(kind.item_type, name, extra), min_size=0 if name in ("indications", "found") else 1, max_size=3)
        case look.StructType():
            return struct_of(kind.cls)
        case look.LiteralType():
            return st.sampled_from(list(kind.values))
        case look.BoolType():
            return st.booleans()
        case look.IntType():
            return st.one_of(st.integers(kind.ge if kind.ge is not None else -(2**53) + 1, 3), st.just(2**53 - 1))
        case look.DictType():
            return st.dictionaries(st.sampled_from(["form", "source", "value", "diameter"]), TREE, max_size=3)
        case look.StrType():
            return text_of(kind, name, extra or {})
    return TREE


def text_of(kind: look.StrType, name: str, extra: dict[str, Any]) -> st.SearchStrategy[str]:
    if "dimension" in extra:
        return st.builds("{} {}".format, NUMBERS, st.sampled_from(UNITS[extra["dimension"]]))
    if extra.get("time"):
        return TIMES
    if name in ("set", "read", "setting", "chosen", "step", "low", "high"):
        return st.sampled_from(["3.0 kV", "3000 V", "2.4 kV", "80 kohm", "2 mm", "no alarm", "0 V", "-3 kV", "1" + "0" * 25 + " kV"])
    pattern = kind.pattern or ""
    if "{8}-" in pattern:
        return IDS
    if "[A-HJ" in pattern:
        return st.sampled_from(["A", "B", "AB"])
    if "64" in pattern:
        return st.sampled_from(["a" * 64, "b" * 64])
    if "\\d\\d" in pattern:
        return st.sampled_from(["2025-03-03", "0000-99-99"])
    if pattern:
        return st.just("small")
    return NAMES


def struct_of(struct: type[msgspec.Struct]) -> st.SearchStrategy[dict[str, Any]]:
    info = look.type_info(struct)
    assert isinstance(info, look.StructType)
    needed = {f.encode_name: value_of(f.type, f.encode_name) for f in info.fields if f.required}
    rest = {f.encode_name: value_of(f.type, f.encode_name) for f in info.fields if not f.required}
    return st.fixed_dictionaries(needed, optional=rest)


def spoiled(good: st.SearchStrategy[dict[str, Any]]) -> st.SearchStrategy[dict[str, Any]]:
    """One field of a body replaced by anything."""
    return st.builds(lambda body, n, value: {**body, sorted(body)[n % len(body)]: value} if body else body, good, st.integers(0, 30), TREE)


def body_of(kind: str) -> st.SearchStrategy[dict[str, Any]]:
    good = st.one_of([struct_of(body) for body in KINDS[kind].values()])
    return st.one_of(good, good, good, spoiled(good), st.dictionaries(st.sampled_from(["a", "of", "happened"]), TREE, max_size=2))


ANY_BODY = {kind: body_of(kind) for kind in KINDS}
WRITTEN = [f"2025-03-0{d}T0{h}:00:00.000+01:00" for d in (3, 4) for h in (7, 8, 9)]


@st.composite
def entries(draw: st.DrawFn, kinds: tuple[str, ...]) -> list[Entry]:
    """Entries whose ids are few, so that they refer to one another, to themselves and in circles."""
    made = []
    for n in range(draw(st.integers(1, 8))):
        kind = draw(st.sampled_from(kinds))
        body = draw(ANY_BODY[kind])
        opened = kind == "job.opened"
        made.append(
            make_entry(
                at=draw(st.sampled_from(WRITTEN)), body=body, by=draw(st.sampled_from(sorted(PEOPLE.values()))),
                device=DEVICES[draw(st.sampled_from("AB"))], id=named("job") if opened else draw(st.sampled_from(FEW)), job=named("job"),
                kind=kind, prev="" if opened else "0" * 64, seq=1 if opened else draw(st.integers(1, 9)) + n, session=named("session"),
                tick=n, version=draw(st.sampled_from([1, 1, 2])), heads=None,
            )
        )  # fmt: skip
    return made


def sheets() -> list[tuple[str, Callable[[Standing], Any]]]:
    found = []
    for module in pkgutil.iter_modules(wholefilm.sheets.__path__):
        room = importlib.import_module(f"wholefilm.sheets.{module.name}")
        make = getattr(room, f"{module.name}_sheet", None)
        if make is not None and len([p for p in inspect.signature(make).parameters.values() if p.default is p.empty]) == 1:
            found.append((module.name, make))
    return found


SHEETS = sheets()


def finite(value: Any) -> bool:
    """Whether no number in a sheet is infinite or no number at all."""
    if isinstance(value, float):
        return math.isfinite(value)
    if isinstance(value, dict):
        return all(finite(v) for v in value.values())
    return all(finite(v) for v in value) if isinstance(value, list) else True


def everything(record: list[Entry]) -> bytes:
    """Fold, assess, every sheet and its tables; the bytes of all of them."""
    standing = assess(fold(record, Bytes()))
    out = []
    for _, make in SHEETS:
        sheet = make(standing)
        if hasattr(sheet, "tables"):
            for table in sheet.tables():
                assert all(len(row) == len(table.columns) for row in table.cells)
        assert finite(msgspec.to_builtins(sheet))
        out.append(msgspec.json.encode(sheet))
    for p in standing.panels:
        assert min(p.checked_m2, p.awaiting_m2, p.in_doubt_m2, p.not_reached_m2, p.not_in_scope_m2, p.not_yet_tested_m2) >= 0
    return b"\n".join(out)


def test_every_sheet_of_the_house_is_asked() -> None:
    assert {
        "assessment",
        "job",
        "requirements",
        "voltage",
        "readings",
        "checks",
        "panels",
        "holidays",
        "repairs",
        "days",
        "people",
        "maps",
    } <= {name for name, _ in SHEETS}


SOME = settings(max_examples=60, deadline=None, suppress_health_check=list(HealthCheck))
MANY = settings(max_examples=80, deadline=None, suppress_health_check=list(HealthCheck))
ALL = tuple(KINDS)


@SOME
@given(st.data())
def test_any_entries_and_nothing_else(data: st.DataObject) -> None:
    everything(data.draw(entries(ALL)))


@MANY
@given(st.data())
def test_any_entries_beside_a_job_done_well(data: st.DataObject) -> None:
    standing_job = Book().usual("5 h", ("before test", "after retest")).closed()
    everything(data.draw(st.permutations([*standing_job.entries, *data.draw(entries(ALL))])))


PROOF = ("requirement.noted", "requirement.decided", "instrument.checked", "panel.started", "panel.tested", "retest.done",
         "repair.done", "repair.planned", "indication.raised", "holiday.confirmed", "clock.compared", "cure.released", "system.set",
         "voltage.set")  # fmt: skip


@MANY
@given(st.data())
def test_any_entries_of_the_proof_beside_a_job_done_well(data: st.DataObject) -> None:
    everything([*Book().usual().closed().entries, *data.draw(entries(PROOF))])


@SOME
@given(
    st.dictionaries(st.sampled_from(sorted(ITEM)), TREE, max_size=3),
    st.dictionaries(st.sampled_from(sorted(ITEM["dimensions"])), TREE, max_size=2),
)
def test_any_item(change: dict[str, Any], dimensions: dict[str, Any]) -> None:
    item = {**ITEM, "dimensions": {**ITEM["dimensions"], **dimensions}, **change}
    book = Book(item=item)
    book.holiday("A1", "3 08:05")
    book.plan("R-01", [book.entries[-1].id])
    everything(book.entries)


def circle() -> list[Entry]:
    """Entries that correct and withdraw each other in a circle, on two devices."""
    book = Book()
    one, other = named("one"), named("other")
    book.write("entry.corrected", "3 08:00", ident=one, of=other, over=other, body={"of": one}, reason="x")
    book.write("entry.corrected", "3 08:00", ident=other, on="B", of=one, over=one, body={"of": other}, reason="x")
    third, fourth = named("third"), named("fourth")
    book.write("repair.done", "3 09:00", ident=third, repair=fourth, nth=1, preparation="x", bare={}, feather="1 mm",
               coats=[{"batch": "b", "at": "2025-03-03T08:00:00.000+01:00"}], applicator="x", mark_removed=True)  # fmt: skip
    book.write(
        "repair.planned", "3 09:00", ident=fourth, on="B", number="R", holidays=[third], procedure="x", outline=[{}], **{"class": "x"}
    )
    return book.entries


@pytest.mark.parametrize("record", [[], circle()], ids=["nothing", "a circle"])
def test_nothing_and_circles(record: list[Entry]) -> None:
    everything(record)


def test_every_golden_line_alone_and_all_together() -> None:
    golden = [parse_entry(p.read_bytes()[:-1]) for p in sorted(GOLDEN.glob("*.jsonl"))]
    for entry in golden:
        everything([entry])
    everything(golden)
    everything([*Book().usual().closed().entries, *golden])


def test_numbers_of_the_largest_and_smallest_size() -> None:
    huge = "9" * 30
    book = Book().usual().closed()
    book.write("area.not_reached", "7 08:00", panel="F-1", piece={"says": "x", "area": f"{huge} m2"}, reason="x")
    book.write("thickness.read", "7 08:00", place={"on": "floor", "x": f"{huge} km", "y": "0 m"}, values=[f"{huge} km"], gauge="G",
               correction=f"{huge} km", **{"class": "flat"})  # fmt: skip
    place = {"on": "floor", "x": "1 m", "y": "0 m"}
    book.write("thickness.read", "7 08:00", place=place, values=[f"{huge} km"], gauge="G", **{"class": "flat"})
    book.write(
        "system.set", "7 08:00", test_areas=["F"], layers=[], cure_table=[{"row": "10", "what": "x", "steel": "1 K", "wait": f"{huge} d"}]
    )
    book.write("clock.compared", "7 08:00", device=DEVICES["A"], offset_ms=-(2**53) + 1, round_trip_ms=2**53 - 1)
    everything(book.entries)
