"""A whole small job from nothing, by commands alone."""

from __future__ import annotations

from cli import small_tank as tank
from cli.desk import Desk


def test_a_whole_small_job_meets(desk: Desk) -> None:
    tank.whole_job(desk)
    done = desk.run("assess", tank.NAME, "--json")
    assert done.code == 0, desk.run("assess", tank.NAME).out
    sheet = done.json
    assert sheet["assessment"] == "meets"
    # The lateral surface of a cylinder is pi d h: pi x 2.0 m x 1.0 m = 6.2832 m2 (any handbook of geometry).
    assert sheet["area"]["total_m2"] == 6.283
    assert sheet["area"]["checked_m2"] == 6.283
    assert sheet["area"]["on_instruction_m2"] == 0
    assert {k: sheet["holidays"][k] for k in ("confirmed", "open", "repaired", "closed", "undecided", "false_indications")} == {
        "confirmed": 1, "open": 0, "repaired": 0, "closed": 1, "undecided": 0, "false_indications": 0,
    }  # fmt: skip
    # A disc of radius 0.1 m on a surface that unrolls flat: pi x 0.1^2 = 0.0314 m2, printed with three decimals.
    assert sheet["repairs"]["footprint_m2"] == 0.031
    assert {f["finding"] for f in sheet["findings"]} == {"met"}
    assert sheet["missing"] == []
    text = desk.run("assess", tank.NAME).out
    assert "Meets the limits entered" in text
    assert "acceptance is a signed act of a named person" in text


def test_each_stage_says_what_is_missing(desk: Desk) -> None:
    """Not yet, awaiting and retest due are `cannot tell`; open is `does not meet`."""
    tank.open_job(desk)
    assert desk.run("assess", tank.NAME).code == 3
    tank.ready(desk)
    done = desk.run("assess", tank.NAME)
    assert done.code == 3
    assert "test: S1-1" in done.out
    tank.run_test(desk)
    done = desk.run("assess", tank.NAME)
    assert done.code == 1
    assert "plan repairs: B1" in done.out
    assert "awaiting its end check 6.28" in done.out
    tank.repair(desk)
    done = desk.run("assess", tank.NAME)
    assert done.code == 3
    assert "retest: R-01" in done.out
    tank.cure(desk, "R-01", last_coat="08:00", at="09:05")
    tank.tell(desk, "retest.done", *tank.retest_words(), at="09:10")
    done = desk.run("assess", tank.NAME)
    assert done.code == 3
    assert "check the tester as found after: S1-1" in done.out


def test_a_low_end_check_puts_everything_in_doubt(desk: Desk) -> None:
    """2.4 kV read at 3.0 kV set is (2.4 - 3.0) / 3.0 = -20 %, outside 5 %."""
    tank.open_job(desk)
    tank.ready(desk)
    tank.run_test(desk)
    tank.check(desk, "10:00", "after", read="2.4 kV")
    done = desk.run("assess", tank.NAME)
    assert done.code == 1
    assert "-20.0 %" in done.out
    assert "in doubt 6.28" in done.out
    assert "holidays   1" in done.out  # what was found stays found


def test_a_late_end_check_puts_the_test_in_doubt(desk: Desk) -> None:
    """Clause 4.3 says at most 5 h apart; 07:00 to 12:30 is 5.5 h."""
    tank.open_job(desk)
    tank.ready(desk)
    tank.run_test(desk)
    tank.check(desk, "12:30", "after")
    done = desk.run("assess", tank.NAME)
    assert done.code == 1
    assert "5.5 h between the readings" in done.out


def test_a_failed_retest_stays_and_a_second_closes(desk: Desk) -> None:
    tank.open_job(desk)
    tank.ready(desk)
    tank.run_test(desk)
    tank.repair(desk)
    tank.cure(desk, "R-01", last_coat="08:00", at="09:05")
    tank.tell(desk, "indication.raised", f"panel={tank.PANEL}", "retest=R-01", at="09:10")
    tank.tell(desk, "retest.done", *tank.retest_words(indications="B2"), at="09:10")
    assert desk.run("assess", tank.NAME).code == 1
    tank.repair(desk, nth=2, at="09:30")
    tank.cure(desk, "R-01", last_coat="09:30", at="10:35")
    tank.tell(desk, "retest.done", *tank.retest_words(nth=2), at="10:40")
    tank.check(desk, "11:00", "after")
    done = desk.run("assess", tank.NAME)
    assert done.code == 0, done.out
    assert "R-01 failed retest 1: 1 indication: B2" in done.out.replace("\n", " ")
    repairs = desk.run("job", "show", tank.NAME, "--sheet", "repairs")
    assert "R-01" in repairs.out


def test_what_the_commands_print_is_for_a_site(desk: Desk) -> None:
    """No word of a program's maker, and never the word that nobody may promise."""
    tank.whole_job(desk)
    sheets = ("job", "checks", "holidays", "test", "repairs", "requirements", "voltage", "days", "people")
    texts = [desk.run("assess", tank.NAME), *[desk.run("job", "show", tank.NAME, "--sheet", s) for s in sheets]]
    texts += [desk.run("job", "list"), desk.run("verify", tank.NAME), desk.run("rules"), desk.run("--help")]
    for done in texts:
        for word in ("safe", "fold", "blob", "receipt", "None", "Traceback"):
            assert word not in done.out, word
