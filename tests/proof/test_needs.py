"""Each need of a test, met and unmet, by small records; what lifts it, and that what is lifted never counts as good.

The facts of the trade in here are common practice: no spark test of a film once immersed, conductive, uncured or wet before coating
maker and engineer answered; a point of ground found open serves nothing; solvent beside a spark test stops it.
"""

from __future__ import annotations

from typing import Any

import pytest
from builder import PEOPLE, SOURCE, Book, at, findings, last_test, not_good, whats

DRY = {"panels": ["F"], "dry": True, "clean": True, "overspray": False, "old_water": False}


def begun(book: Book) -> Book:
    """Checked before, F-1 tested from 08:00 to 08:10, checked after."""
    book.check("3 07:30")
    book.test("F-1", "08:00", "08:10")
    book.check("3 12:00", occasion="after")
    return book


def lacks(book: Book) -> set[str]:
    """Names of the needs that the last test of F-1 did not meet."""
    return {u.need for u in last_test(book.stand(), "F-1").unmet}


def allow(book: Book, what: str, who: str, when: str = "07:00", panels: tuple[str, ...] = ("F-1",)) -> str:
    """A written word that allows something, from a role."""
    return book.write(
        "instruction.received", "07:05", dated=at(when), text="allowed", evidence="letter",
        allows={"what": what, "panels": list(panels)}, **{"from": who},
    )  # fmt: skip


def permit(book: Book, topic: str, when: str = "3 07:00", until: str = "20 23:59", **more: Any) -> str:
    body = {"topic": topic, "what": topic, "by": "gas tester", "until": at(until), "stops_when": "alarm"}
    return book.write("permit.noted", when, version=2, **{**body, **more})


def test_a_job_that_is_ready_lacks_nothing() -> None:
    book = begun(Book().usual())
    assert lacks(book) == set()
    assert last_test(book.stand(), "F-1").word.value == "checked before and after"


@pytest.mark.parametrize("topic", ["gas", "oxygen", "toxics", "entry", "isolation", "other_face_clear", "cathodic_protection_off",
                                   "instruments_disconnected", "device_allowed"])  # fmt: skip
def test_what_the_site_notes_is_asked_only_where_a_requirement_names_it(topic: str) -> None:
    assert lacks(begun(Book().usual())) == set()
    book = Book().usual()
    book.require("10.1", {"form": "permissions", "topics": [topic], "for": "spark"})
    begun(book)
    assert lacks(book) == {topic}
    assert findings(book.stand(), "10.1") == ["not_met"]
    book = Book().usual()
    book.require("10.1", {"form": "permissions", "topics": [topic], "for": "spark"})
    permit(book, topic)
    begun(book)
    assert lacks(book) == set()
    assert findings(book.stand(), "10.1") == ["met"]


def test_no_value_of_the_site_is_judged() -> None:
    """Any value, or none: what the gas tester wrote is repeated, never compared."""
    for value in ("0 % LEL", "90 % LEL", "see paper"):
        book = Book().usual()
        book.require("10.1", {"form": "permissions", "topics": ["gas"]})
        permit(book, "gas", value=value)
        assert lacks(begun(book)) == set()


@pytest.mark.parametrize(("noted", "lacking"), [("3 06:00", set()), ("3 05:59", {"gas"})])
def test_a_reading_asked_not_older_than_two_hours(noted: str, lacking: set[str]) -> None:
    book = Book().usual()
    book.require("10.1", {"form": "permissions", "topics": ["gas"], "not_older_than": "2 h"})
    permit(book, "gas", noted)
    assert lacks(begun(book)) == lacking


def test_a_requirement_for_other_areas_asks_nothing_here() -> None:
    book = Book().usual()
    book.require("10.1", {"form": "permissions", "topics": ["gas"]}, applies_to=["S1"])
    assert lacks(begun(book)) == set()


@pytest.mark.parametrize(("stopped", "lacking"), [("08:05", {"permission"}), ("08:10", set()), ("07:30", {"permission"})])
def test_a_permission_stopped(stopped: str, lacking: set[str]) -> None:
    book = Book().usual()
    noted = next(e.id for e in book.entries if e.kind == "permit.noted")
    book.check("3 07:20")
    if stopped == "07:30":
        book.write("permit.stopped", "3 07:30", permit=noted, why="gas alarm", by="gas tester")
    book.test("F-1", "08:00", "08:10")
    if stopped != "07:30":
        book.write("permit.stopped", "3 08:15", permit=noted, why="gas alarm", by="gas tester", happened=stopped)
    assert lacks(book) == lacking


def test_no_although_lifts_the_permission() -> None:
    book = Book().usual()
    noted = next(e.id for e in book.entries if e.kind == "permit.noted")
    book.write("permit.stopped", "3 07:00", permit=noted, why="gas alarm", by="gas tester")
    book.check("3 07:30")
    book.test("F-1", "08:00", "08:10", although={"needs": ["permission"], "why": "told", "told": "radio"})
    assert last_test(book.stand(), "F-1").word.value == "not valid"


@pytest.mark.parametrize("made", ["solvent", "permit"])
def test_solvent_wiping_beside_a_retest_stops_it(made: str) -> None:
    """Common practice: no spark beside solvent. Seen on the surface, or by the permission that stops when it begins."""
    book = Book().usual()
    book.check("3 07:30")
    book.test_all()
    found = book.holiday("A1", "3 08:05")
    book.check("3 12:00", occasion="after")
    repair = book.plan("R-01", [found])
    book.mend(repair)
    book.check("6 09:30")
    if made == "solvent":
        book.write("surface.inspected", "6 09:50", version=2, **DRY, solvent=True)
    else:
        noted = next(e.id for e in book.entries if e.kind == "permit.noted")
        book.write("permit.stopped", "6 09:50", permit=noted, why="work with solvent began", by="QA")
    book.retest(repair, "6 10:00", "6 10:05")
    book.check("6 10:30", occasion="after")
    standing = book.stand()
    not_good(standing)
    retest = standing.repairs[0].retests[0]
    assert ({u.need for u in retest.unmet}, retest.counts) == ({"solvent" if made == "solvent" else "permission"}, False)


# The film: what only coating maker and engineer lift together.
FILMS = {
    "spark_on_immersed": ("immersed", {"immersed": "once"}),
    "spark_on_conductive": ("conductive", {"layers": [{"name": "coat 1", "conductive": "yes"}]}),
    "spark_on_wet": ("wet", {}),
    "spark_on_uncured": ("cure", {}),
}


def film(what: str) -> Book:
    """A job whose film is as named, up to the check before the test."""
    book = Book().usual()
    if what == "spark_on_wet":
        book.write("surface.inspected", "3 06:50", **{**DRY, "dry": False})
    elif what == "spark_on_uncured":
        book.require("8.2", {"form": "cure", "by": "maker's table"})
    else:
        rows = [{"row": "10", "what": "repair", "steel": "10 degC", "wait": "48 h"}]
        body = {"test_areas": ["F", "S1"], "layers": [{"name": "coat 1", "conductive": "no"}], "cure_table": rows}
        book.system = book.write("system.set", "1 07:20", version=2, **{**body, **FILMS[what][1]})
        book.sheet()
    return book


@pytest.mark.parametrize("what", FILMS)
@pytest.mark.parametrize("sides", [(), ("engineer",), ("coating maker",), ("engineer", "engineer"), ("coating maker", "engineer")])
def test_a_film_that_two_must_answer_for(what: str, sides: tuple[str, ...]) -> None:
    need, book = FILMS[what][0], film(what)
    words = [allow(book, what, side) for side in sides]
    book.check("3 07:30")
    book.test("F-1", "08:00", "08:10", although={"needs": [need], "why": "answered", "told": "paper"})
    book.check("3 12:00", occasion="after")
    standing = book.stand()
    test = last_test(standing, "F-1")
    assert {u.need for u in test.unmet} == {need}
    both = set(sides) == {"coating maker", "engineer"}
    assert test.word.value == ("checked before and after" if both else "not valid"), words
    assert standing.assessment.value != "meets"
    if both:
        assert "on_instruction" in whats(standing, True)
        assert standing.sum_m2("on_instruction_m2") > 3


@pytest.mark.parametrize(("dated", "panels", "word"), [("07:00", ("F",), "checked before and after"), ("07:00", ("F-2",), "not valid"),
                                                       ("08:00", ("F-1",), "not valid")])  # fmt: skip
def test_the_two_answers_name_the_panel_and_are_dated_before(dated: str, panels: tuple[str, ...], word: str) -> None:
    book = film("spark_on_immersed")
    for side in ("coating maker's adviser", "owner's engineer"):
        allow(book, "spark_on_immersed", side, dated, panels)
    book.check("3 07:30")
    book.test("F-1", "08:00", "08:10", although={"needs": ["immersed"], "why": "answered", "told": "paper"})
    book.check("3 12:00", occasion="after")
    assert last_test(book.stand(), "F-1").word.value == word


def test_two_answers_without_although_lift_nothing() -> None:
    book = film("spark_on_immersed")
    for side in ("coating maker", "engineer"):
        allow(book, "spark_on_immersed", side)
    assert last_test(begun(book).stand(), "F-1").word.value == "not valid"


def test_a_conductive_underlayment_makes_no_film_conductive() -> None:
    """Layers from the substrate outwards: ASTM D4787 calls the conductive one under the film the underlayment (as seen in its -93 text)."""
    for layers, lacking in (
        ([("primer", "yes"), ("flake 1", "no"), ("flake 2", "no")], set()),
        ([("primer", "no"), ("top", "yes")], {"conductive"}),
        ([("primer", "unknown"), ("flake", "no")], set()),
    ):
        book = Book().usual()
        told = [{"name": n, "conductive": c} for n, c in layers]
        book.system = book.write("system.set", "1 07:20", test_areas=["F", "S1"], layers=told)
        book.sheet()
        assert lacks(begun(book)) == lacking


def test_a_film_of_which_nobody_knows_is_a_remark_and_refuses_nothing() -> None:
    book = Book().usual()
    told = [{"name": "coat 1", "conductive": "unknown"}]
    book.system = book.write("system.set", "1 07:20", version=2, test_areas=["F", "S1"], layers=told, immersed="unknown")
    book.sheet()
    standing = begun(book).stand()
    assert last_test(standing, "F-1").unmet == []
    lines = [x for x in standing.lines if x.what == "film_unknown"]
    assert [(x.says, x.bars) for x in lines] == [
        ("Nobody knows of the film of F, S1: whether coat 1 is conductive and whether it was ever immersed", False)
    ]


# People.
@pytest.mark.parametrize(
    ("stated", "lacking"),
    [({}, {"qualification"}), ({"qualification": "inspector, level 2"}, set()),
     ({"qualification": "inspector, level 2", "valid_until": "2025-03-02"}, {"qualification"}),
     ({"qualification": "inspector, level 2", "valid_until": "2025-03-03"}, set())],
)  # fmt: skip
def test_an_operator_with_the_qualification_that_a_requirement_asks(stated: dict[str, str], lacking: set[str]) -> None:
    book = Book().usual()
    book.require("11.1", {"form": "people", "operator": "coating inspector, level 2"})
    book.write("person.joined", "1 07:30", person=PEOPLE["qc"], roles=["QC"], card="2" * 64, **stated)
    begun(book)
    assert lacks(book) == lacking
    assert findings(book.stand(), "11.1") == ["not_met" if lacking else "met"]


def test_an_operator_whom_the_site_authorised() -> None:
    for stated, lacking in (({}, {"authorisation"}), ({"authorised": "site card 12"}, set())):
        book = Book().usual()
        book.require("11.2", {"form": "people", "authorised": True})
        book.write("person.joined", "1 07:30", person=PEOPLE["qc"], roles=["QC"], card="2" * 64, **stated)
        assert lacks(begun(book)) == lacking


def test_the_operator_named_is_asked_and_not_the_writer() -> None:
    book = Book().usual()
    book.require("11.2", {"form": "people", "authorised": True})
    book.write("person.joined", "1 07:30", person=PEOPLE["stranger"], roles=["tester's operator"], card="2" * 64, authorised="card 3")
    book.check("3 07:30")
    book.test("F-1", "08:00", "08:10", setup={"operator": "tester's operator"})
    assert lacks(book) == set()


# (c): a ground point found open.
@pytest.mark.parametrize(
    ("proofs", "lacking"),
    [
        ([("07:00", "T3", "open", ["F"])], {"ground_open", "ground"}),
        ([("07:00", "T3", "open", ["F"]), ("07:10", "T1", None, None)], {"ground_open", "ground"}),
        ([("07:00", "T3", "open", ["F"]), ("07:20", "T3b", "continuous", ["F"])], set()),
        ([("07:00", "T3", "open", ["S1"]), ("07:10", "T1", "continuous", ["F"])], set()),
        ([("07:10", "T1", "continuous", ["S1"])], {"ground"}),
    ],
)
def test_bays_of_a_point_found_open_wait_for_a_new_tab(
    proofs: list[tuple[str, str, str | None, list[str] | None]], lacking: set[str]
) -> None:
    book = Book().usual()
    book.grounded.add(3)
    for when, point, found, serves in proofs:
        more = {k: v for k, v in (("found", found), ("serves", serves)) if v is not None}
        book.write("ground.checked", f"3 {when}", version=2, point=point, to="flange", instrument="M1", **more)
    book.check("3 07:30")
    book.test("F-1", "08:00", "08:10", although={"needs": ["ground", "ground_open"], "why": "told", "told": "radio"})
    assert lacks(book) == lacking
    assert last_test(book.stand(), "F-1").word.value == ("not valid" if "ground_open" in lacking else "awaiting its end check")


# (e): the wet sponge.
def sponge(read: str = "80 kohm", liquid: str = "water with wetting agent", said: str | None = "water with wetting agent") -> Book:
    """A job tested with a wet sponge at 67.5 V; the tester is checked by the resistance at which it trips."""
    book = Book().usual()
    book.write(
        "voltage.set", "2 07:00", test_areas=["F", "S1"], system=book.system, stage="final", method="wet sponge", setting="67.5 V",
        basis={"what": "nominal", "low": "200 um", "high": "375 um"}, rule={"form": "user_enters", "source": SOURCE}, reason="spec",
        agreed_by=[book.agreed], electrode="sponge", valid_until="film changes", **({"liquid": liquid} if liquid else {}),
    )  # fmt: skip
    book.write("instrument.added", "2 07:01", instrument="T1", what="wet-sponge tester", range="9 V to 90 V", due=at("28 12:00"))
    setup = {"instrument": "T1", "electrode": "sponge", "lead": "5 m"}
    book.check("3 07:30", read, **setup, set="80 kohm", tolerance="10 %")
    book.check("3 07:31", "67.5 V", **setup, set="67.5 V", tolerance="10 %")
    book.test("F-1", "08:00", "08:10", setup={**setup, "set": "67.5 V", **({"liquid": said} if said else {}), "version": 2})
    return book


def test_a_sponge_test_asks_no_permission_for_a_spark_and_no_consent() -> None:
    book = sponge()
    assert lacks(book) == set()


@pytest.mark.parametrize("said", [None, "tap water"])
def test_a_sponge_test_names_the_liquid_of_its_sheet(said: str | None) -> None:
    assert lacks(sponge(said=said)) == {"liquid"}
    assert lacks(sponge(said=said, liquid="")) == set()


def test_a_setting_outside_the_range_of_the_tester_is_a_need_not_met() -> None:
    """A tester of 0.5 to 15 kV cannot give 20 kV; a range in other words than two ends is compared with nothing."""
    for range_text, expected in (("0.5 kV to 2 kV", {"instrument"}), ("0.5 kV to 15 kV", set()), ("up to 2 kV", set())):
        book = Book().usual()
        book.write("instrument.added", "2 07:01", instrument="T1", what="spark tester", range=range_text, due=at("28 12:00"))
        assert lacks(begun(book)) == expected


def test_thin_ends_ask_for_a_nonconformance_and_an_instruction_first() -> None:
    """(a), (e): ends under the contract's film thickness are no place to test until someone says so in writing."""
    book = Book().usual()
    book.require("6.2", {"form": "thickness_range", "min": "200 um", "max": "375 um", "classes": ["edge"]}, applies_to=["F"])
    place = {"on": "floor", "x": "1.9 m", "y": "0.1 m"}
    book.write("thickness.read", "3 07:00", place=place, values=["110 um"], gauge="G1", **{"class": "edge"})
    assert lacks(begun(book)) == {"thickness"}
    assert last_test(book.stand(), "F-1").word.value == "not valid"
    book.write(
        "nonconformance.raised", "4 07:00", number="NCR-01", requirement="6.2", finding="110 um", extent="ends", containment="marked"
    )
    told = book.write(
        "instruction.received", "4 07:10", dated=at("4 07:05"), text="test as it is", evidence="letter", **{"from": "engineer"}
    )
    book.check("4 07:30")
    book.test("F-2", "4 08:00", "4 08:10", although={"needs": ["thickness"], "why": "instructed", "instruction": told})
    standing = book.stand()
    assert last_test(standing, "F-2").word.value == "awaiting its end check"
    assert "on_instruction" in whats(standing, True)
