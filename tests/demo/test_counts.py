"""Counts and times of the story, typed by hand from it."""

from __future__ import annotations

from collections import Counter

import pytest

from wholefilm.base.times import utc_ms


def day(n: int) -> str:
    return f"2025-06-{n + 1:02d}"


def test_people_and_devices(story) -> None:
    assert len(story.of("person.joined")) + 1 == 7
    letters = [b["letter"] for b in (*story.bodies("job.opened"), *story.bodies("device.joined"))]
    assert letters == ["A", "B", "D", "E", "H"]


def test_33_panels_are_tested_and_12_of_them_twice(story) -> None:
    tested = [(b["happened"]["from"][:10], b["panel"]) for b in story.bodies("panel.tested")]
    assert Counter(at for at, _ in tested) == {day(1): 11, day(2): 22, day(3): 12}
    assert len({panel for _, panel in tested}) == 33
    twice = {panel for panel, n in Counter(panel for _, panel in tested).items() if n == 2}
    assert twice == {f"S{c}-{k}" for c in (3, 4) for k in range(1, 7)}
    assert len(story.of("panel.started")) == 45


def test_all_tests_but_those_of_the_column_carry_the_instruction(story) -> None:
    instruction = story.of("instruction.received")[0].id
    plain = [b["panel"] for b in story.bodies("panel.tested") if "although" not in b]
    assert plain == ["C"]
    assert {b["although"]["instruction"] for b in story.bodies("panel.tested") if "although" in b} == {instruction}
    assert len(story.bodies("instruction.received")[0]["allows"]["panels"]) == 32


def test_second_exposures_carry_the_coating_makers_answer(story) -> None:
    with_consent = [b for b in story.bodies("panel.tested") if "exposure_consent" in b]
    assert len(with_consent) == 12
    answers = {story.by_id[b["exposure_consent"]] for b in with_consent}
    assert len(answers) == 1
    answer = answers.pop()
    assert answer.body["dated"] == "2025-06-04T07:05:00.000+02:00"
    assert answer.body["allows"]["what"] == "second_exposure"
    assert len(answer.body["allows"]["panels"]) == 12
    assert all(b["happened"]["from"] > answer.body["dated"] for b in with_consent)


def test_indications_holidays_and_false(story) -> None:
    raised = story.bodies("indication.raised")
    assert len([b for b in raised if "retest" not in b]) == 45
    assert [b["number"] for b in raised if "retest" in b] == ["D17", "D18"]
    assert len({b["number"] for b in raised}) == 47
    numbers = {story.by_id[b["indication"]].body["number"] for b in story.bodies("holiday.confirmed")}
    assert len(story.bodies("holiday.confirmed")) == len(numbers) == 42
    false = [story.by_id[b["indication"]].body["number"] for b in story.bodies("indication.false")]
    assert false == ["B17", "B18", "D12", "D12"]
    assert numbers & set(false) == set()


def test_holidays_by_test_area_and_class(story) -> None:
    panels = [story.by_id[b["indication"]].body["panel"] for b in story.bodies("holiday.confirmed")]
    assert Counter(p.split("-")[0] for p in panels) == {"F": 7, "S1": 9, "S2": 11, "S3": 13, "S4": 2}
    assert Counter(b["class"] for b in story.bodies("holiday.confirmed")) == {"flat": 23, "weld": 13, "edge": 6}
    thin = [int(b["local_thickness"].removesuffix(" um")) for b in story.bodies("holiday.confirmed") if "local_thickness" in b]
    assert (len(thin), min(thin), max(thin)) == (6, 330, 410)


@pytest.mark.parametrize(("d", "confirmed"), [(1, 16), (2, 24), (3, 2), (4, 0)])
def test_holidays_by_day(story, d: int, confirmed: int) -> None:
    assert len([e for e in story.of("holiday.confirmed") if e.at[:10] == day(d)]) == confirmed


def test_marks_on_the_wall(story) -> None:
    closed = {b["date"]: b["marks_counted"] for b in story.bodies("day.closed")}
    assert closed == {day(1): 18, day(2): 43, day(3): 45, day(4): 3, day(9): 3, day(15): 3}


def test_the_slip_of_b14_is_withdrawn_by_its_writer_and_agreed_by_another(story) -> None:
    withdrawn, agreed = story.of("entry.withdrawn")[0], story.of("entry.agreed")[0]
    slip = story.by_id[withdrawn.body["of"]]
    assert story.by_id[slip.body["indication"]].body["number"] == "B14"
    assert (withdrawn.at, agreed.at) == ("2025-06-02T17:20:00.000+02:00", "2025-06-02T17:30:00.000+02:00")
    assert withdrawn.by == slip.by != agreed.by
    assert withdrawn.device != agreed.device


def test_repairs_cover_the_42_holidays_once(story) -> None:
    planned = story.bodies("repair.planned")
    assert [b["number"] for b in planned] == [f"R-{n:02d}" for n in range(1, 20)]
    covered = [h for b in planned for h in b["holidays"]]
    assert sorted(covered) == sorted(e.id for e in story.of("holiday.confirmed"))
    sizes = [len(b["holidays"]) for b in planned]
    assert sizes == [11, 7, 6, 2, 1, 1, 1, 1, 1, 2, 1, 1, 1, 1, 1, 1, 1, 1, 1]
    assert all(e.at < "2025-06-05T07:30" for e in story.of("repair.planned"))


def test_repairs_are_done_between_0830_and_1600_with_coats_5_hours_apart(story) -> None:
    first = [b for b in story.bodies("repair.done") if b["nth"] == 1]
    assert len(first) == 19
    assert min(b["happened"]["from"] for b in first) == "2025-06-05T08:30:00.000+02:00"
    assert max(b["coats"][1]["at"] for b in first) == "2025-06-05T16:00:00.000+02:00"
    assert max(b["coats"][0]["at"] for b in first) == "2025-06-05T11:00:00.000+02:00"
    for body in story.bodies("repair.done"):
        one, two = (utc_ms(coat["at"]) for coat in body["coats"])
        assert two - one >= 5 * 3_600_000
    second = [b for b in story.bodies("repair.done") if b["nth"] == 2]
    assert [b["coats"][1]["at"] for b in second] == ["2025-06-10T18:00:00.000+02:00"]


def test_retests(story) -> None:
    retests = story.bodies("retest.done")
    assert len(retests) == 20
    failed = [b for b in retests if b["indications"]]
    assert [(story.by_id[b["repair"]].body["number"], len(b["indications"]), b["local_thickness"]) for b in failed] == [
        ("R-01", 2, "430 um")
    ]
    times = [b["happened"] for b in retests if b["nth"] == 1]
    assert min(t["from"] for t in times) == "2025-06-10T08:00:00.000+02:00"
    assert max(t["to"] for t in times) <= "2025-06-10T11:30:00.000+02:00"
    films = {story.by_id[b["repair"]].body["number"]: b["local_thickness"] for b in retests if b["nth"] == 1}
    assert (films["R-02"], films["R-10"], films["R-19"]) == ("690 um", "802 um", "928 um")
    again = [b for b in retests if b["nth"] == 2]
    assert [(b["happened"]["from"], b["local_thickness"]) for b in again] == [("2025-06-16T08:40:00.000+02:00", "720 um")]


def test_repairs_are_retested_96_hours_after_their_last_coat_or_later(story) -> None:
    done = {(b["repair"], b["nth"]): utc_ms(b["coats"][-1]["at"]) for b in story.bodies("repair.done")}
    for body in story.bodies("retest.done"):
        assert utc_ms(body["happened"]["from"]) - done[body["repair"], body["nth"]] >= 96 * 3_600_000
    released = [b for b in story.bodies("cure.released") if b["table_row"] == "R10"]
    assert sorted(n for b in released for n in b["about"]) == sorted([*(f"R-{n:02d}" for n in range(1, 20)), "R-01"])


def test_checks_of_the_tester(story) -> None:
    read = [(b["happened"]["from"][8:16], b["read"], b["as_found"]) for b in story.bodies("instrument.checked")]
    assert read == [
        ("02T07:30", "3.02 kV", True), ("02T12:10", "2.98 kV", True), ("02T16:50", "2.99 kV", True),
        ("03T07:30", "3.01 kV", True), ("03T12:05", "2.97 kV", True), ("03T16:55", "2.46 kV", True), ("03T17:10", "3.01 kV", False),
        ("04T07:25", "3.00 kV", True), ("04T11:55", "3.00 kV", True), ("10T07:30", "3.01 kV", True), ("10T11:50", "2.99 kV", True),
        ("16T07:30", "3.00 kV", True), ("16T10:00", "2.98 kV", True),
    ]  # fmt: skip
    entered = {e.body["happened"]["from"][8:16]: e.at[8:16] for e in story.of("instrument.checked")}
    assert (entered["03T16:55"], entered["04T07:25"]) == ("03T16:56", "04T07:26")


def test_climate_is_read_nine_times_and_one_slip_corrected_the_same_evening(story) -> None:
    assert len(story.of("climate.read")) == 9
    fix = story.of("entry.corrected")[0]
    wrong = story.by_id[fix.body["of"]]
    assert (wrong.body["surface"], fix.body["body"]["surface"]) == ("19.5 degC", "15.9 degC")
    assert wrong.at[:10] == fix.at[:10] == day(2)


def test_site_entries_of_each_test_day(story) -> None:
    first = {d: min(b["happened"]["from"] for b in story.bodies("panel.tested") if b["happened"]["from"][:10] == day(d)) for d in (1, 2, 3)}
    first |= {d: min(b["happened"]["from"] for b in story.bodies("retest.done") if b["happened"]["from"][:10] == day(d)) for d in (9, 15)}
    for kind in ("ground.checked", "permit.noted"):
        at = {e.at[:10]: e.at for e in story.of(kind)}
        assert set(at) == {day(d) for d in first}
        assert all(at[day(d)] < begin for d, begin in first.items())
    assert all(b["until"] == f"{e.at[:10]}T18:00:00.000+02:00" for e in story.of("permit.noted") for b in [e.body])
    looked = [(e.ms, p) for e in story.of("surface.inspected") for p in e.body["panels"]]
    for body in story.bodies("panel.tested"):
        begin = utc_ms(body["happened"]["from"])
        assert any(p == body["panel"] and 0 < begin - ms < 6 * 3_600_000 for ms, p in looked)


def test_papers(story) -> None:
    questions = {e.id: e.body["number"] for e in story.of("question.raised")}
    assert sorted(questions.values()) == ["Q-01", "Q-02", "Q-03"]
    assert Counter(questions[b["question"]] for b in story.bodies("question.answered")) == {"Q-01": 2, "Q-02": 1, "Q-03": 1}
    assert [(b["point"], e.at[5:16]) for e in story.of("hold.released") for b in [e.body]] == [
        ("before test", "06-02T07:40"), ("before repair", "06-05T07:30"), ("after retest", "06-16T11:15"),
    ]  # fmt: skip
    assert len(story.bodies("voltage.set")[0]["test_areas"]) == 7
    assert len(story.bodies("requirement.noted")) == 8
    decided = story.bodies("requirement.decided")[0]
    assert [len(group) for group in decided["counts_as_one"]] == [7]
    assert decided["rule"]["limits"][1] == {"form": "per_area", "at_most": 1, "per": "200 m2", "pro_rata": False}
    assert story.bodies("assessment.made")[0]["assessment"] == "does_not_meet"
    assert story.bodies("concession.given")[0]["about"] == ["F", "S1", "S2", "S3", "S4", "R"]


def test_some_entries_are_told_by_radio_or_slate(story) -> None:
    told = Counter(b["told"] for kind in ("panel.tested", "indication.raised") for b in story.bodies(kind) if "told" in b)
    assert told["slate"] == 1
    assert told["radio"] >= 24
