"""`wholefilm ready`: exit codes, words, the commands that supply what is missing; and refusals that name them."""

from __future__ import annotations

import pytest

from cli import small_tank as tank
from cli.desk import Desk

AT = ("--at", f"{tank.DAY} 07:10")


def test_from_not_ready_to_ready(opened: Desk) -> None:
    done = opened.run("ready", tank.NAME, "S1", *AT)
    assert done.code == 1
    assert f"S1: not ready at {tank.DAY} 07:10: " in done.out
    assert "wholefilm record day-tank permit.noted topic=ignition_source" in " ".join(done.out.split())
    tank.ready(opened)
    done = opened.run("ready", tank.NAME, "S1", *AT)
    assert (done.code, "S1: cannot tell" in done.out) == (3, True)  # nobody looked at the surface
    tank.tell(opened, "surface.inspected", "panels=S1", "dry=yes", "clean=yes", "overspray=no", "old_water=no", "solvent=no", at="06:58")
    done = opened.run("ready", tank.NAME, "S1-1", *AT)
    assert done.code == 0, done.out
    # checked at 07:00 and at most 5 h apart: 12:00, before the permission ends at 20:00
    assert f"S1-1: ready by the record at {tank.DAY} 07:10, until {tank.DAY} 12:00 (check of the tester before)" in done.out
    assert "pacemaker" in done.out
    assert "safe" not in done.out.lower()


def test_as_data(opened: Desk) -> None:
    tank.ready(opened)
    sheet = opened.run("ready", tank.NAME, "S1", *AT, "--tester", "HV-1", "--json").json
    assert (sheet["finding"], sheet["tester"], sheet["setting"], sheet["panels"]) == ("cannot_tell", "HV-1", "3.0 kV", ["S1-1"])
    assert [r["need"] for r in sheet["needs"] if r["state"] not in ("met", "not asked")] == ["surface", "wet", "solvent"]
    assert len(sheet["cautions"]) == 4


def test_now_is_days_after_the_permission_ended(opened: Desk) -> None:
    tank.ready(opened)
    done = opened.run("ready", tank.NAME, "S1")
    assert done.code == 1
    assert "the last ends" in " ".join(done.out.split())


def test_what_is_not_there_is_named(opened: Desk) -> None:
    asked = ((("roof",), "AREA: 'roof'"), (("S1", "--tester", "HV-9"), "--tester: 'HV-9'"), (("S1", "--as-of", "noon"), "'noon'"),
             (("S1", "--at", "noon"), "--at: 'noon'"))  # fmt: skip
    for words, says in asked:
        done = opened.run("ready", tank.NAME, *words)
        assert (done.code, done.out) == (2, "")
        assert says in done.err


def test_a_refusal_names_the_command_that_supplies_the_need(opened: Desk) -> None:
    tank.agree(opened)
    tank.cure(opened)
    tank.permit(opened)
    tank.check(opened, "07:00", "before")
    done = tank.refuse(opened, "panel.started", f"panel={tank.PANEL}", "stage=final", *tank.TESTER, at="07:10")
    assert "To supply it: wholefilm record day-tank ground.checked point=" in done.err
    assert "serves=S1-1" in done.err


def test_a_permission_is_stopped_by_name(opened: Desk) -> None:
    tank.ready(opened)
    tank.refuse(opened, "permit.stopped", "permit=last:ground.checked", "why=alarm", "by=gas tester", at="07:05")
    tank.tell(opened, "permit.stopped", "permit=last:permit.noted", "why=solvent wiping beside", "by=QA", at="07:05")
    done = tank.refuse(opened, "panel.started", f"panel={tank.PANEL}", "stage=final", *tank.TESTER, at="07:10")
    assert "it was stopped" in done.err
    assert "(solvent wiping beside) (no instruction lifts this)" in done.err


def test_base_metal_and_correction_are_never_both_taken_off(opened: Desk) -> None:
    place = ("place.on=shell", "place.at=100 deg", "place.z=0.50 m")
    words = (*place, "class=flat", "values=400 um", "gauge=G1", "base_metal=20 um", "correction=25 um")
    assert "base_metal: '20 um'" in tank.refuse(opened, "thickness.read", *words, at="06:00").err


@pytest.mark.parametrize(
    ("kind", "words", "field"),
    [
        ("ground.checked", ("point=lug", "to=shell", "instrument=RM-1", "value=0.8 ohm", "serves=S9"), "serves"),
        ("surface.inspected", ("panels=S9", "dry=yes", "clean=yes", "overspray=no", "old_water=no"), "panels"),
        (
            "permit.noted",
            ("topic=ignition_source", "what=x", "by=site", "until=2030-01-01 20:00", "stops_when=alarm", "covers=S9"),
            "covers",
        ),
    ],
)
def test_places_that_the_job_does_not_have_are_refused(opened: Desk, kind: str, words: tuple[str, ...], field: str) -> None:
    done = tank.refuse(opened, kind, *words, at="06:40")
    assert done.err == f"{field}: 'S9' is not accepted. Allowed: a test area, panel, item or repair of this job: S1, S1-1, T9\n"


def test_a_time_before_the_job_was_opened_is_refused(opened: Desk) -> None:
    for words in (("ready", tank.NAME, "S1"), ("job", "show", tank.NAME), ("assess", tank.NAME)):
        done = opened.run(*words, "--as-of", "2020-01-01")
        assert (done.code, done.out) == (2, "")
        assert "--as-of: '2020-01-01' is not accepted. Allowed: a time after " in done.err


def test_a_start_that_nobody_recorded_is_named(opened: Desk) -> None:
    done = tank.refuse(opened, "panel.tested", f"panel={tank.PANEL}", f"started={tank.PANEL}", "all=yes", at="07:10")
    assert "started: 'S1-1' is not accepted. Allowed: a panel that was started (none yet)" in done.err


def test_a_refusal_lists_what_cannot_be_told_too(opened: Desk) -> None:
    done = tank.refuse(opened, "panel.started", f"panel={tank.PANEL}", "stage=final", *tank.TESTER, at="07:10")
    _, _, untold = done.err.partition("What the record does not tell")
    assert "solvent=yes|no" in untold
    assert "  solvent: nobody noted whether solvent is in use beside S1-1" in untold
