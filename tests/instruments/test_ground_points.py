"""Which ground points serve an area: bays on a floor with a cut in its conductive underlayment (common practice; the bays are invented)."""

from __future__ import annotations

from wholefilm.instruments.ground import PointWord, Proof, grounded, points_at, serving

BAYS = ("E3", "E4", "F3", "F4")
T1 = Proof("T1", "T2", 10, serves=("A1", "B1"), says="0.4 ohm")
T3_OPEN = Proof("T3", "T4", 20, open=True, serves=BAYS)
T3B = Proof("T3b", "T4", 30, serves=BAYS, says="0.6 ohm")
OF_ALL = Proof("lug", "flange", 12)


def test_a_point_found_open_leaves_what_it_serves_untestable_until_a_new_one_is_proved() -> None:
    proofs = [T1, T3_OPEN, T3B, OF_ALL]
    assert not grounded(proofs, 25, "E3", "floor").met
    assert "T3" in grounded(proofs, 25, "E3", "floor").says
    assert grounded(proofs, 25, "A1", "floor").met
    after = grounded(proofs, 31, "E3", "floor")
    assert after.met
    assert after.by is not None
    assert after.by.name == "T3b"


def test_a_proof_older_than_the_break_or_of_another_point_does_not_lift_it() -> None:
    older = Proof("T3b", "T4", 15, serves=BAYS)
    assert not grounded([older, T3_OPEN], 40, "E3").met
    assert not grounded([T3_OPEN, Proof("lug", "flange", 30)], 40, "E3").met
    assert not grounded([T3_OPEN, Proof("T1", "T2", 30, serves=("A1",))], 40, "E3").met
    assert grounded([T3_OPEN, Proof("T3", "T4", 30)], 40, "E3").met, "the same point, mended and proved"


def test_a_proof_to_the_bay_itself_counts_and_one_of_nothing_named_serves_what_no_other_names() -> None:
    assert grounded([T3_OPEN, Proof("T1", "E3", 30, serves=("A1",))], 40, "E3").met
    assert [p.name for p in serving(points_at([T1, OF_ALL], 20), "A1")] == ["T1"]
    assert [p.name for p in serving(points_at([T1, OF_ALL], 20), "Z9")] == ["lug"]
    assert not grounded([T1], 20, "Z9").met
    assert not grounded([], 20, "Z9").met


def test_a_later_proof_that_names_nothing_keeps_what_hangs_on_the_point() -> None:
    points = points_at([T1, Proof("T1", "T2", 15)], 20)
    assert (points[0].serves, points[0].word) == (("A1", "B1"), PointWord.PROVED)


def test_old_proofs_and_proofs_in_doubt_do_not_ground() -> None:
    assert grounded([T1], 20, "A1", since=10).met
    assert not grounded([T1], 20, "A1", since=11).met
    doubt = Proof("T1", "T2", 10, serves=("A1",), in_doubt=True)
    assert not grounded([doubt], 20, "A1").met
    assert "in doubt" in grounded([doubt], 20, "A1").says
