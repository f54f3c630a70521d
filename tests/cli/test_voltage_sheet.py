"""The voltage sheet at the form: the site's answers, the tester's steps, found voltages, and a film that is another.

Common practice: a tester is set on a step of its own; the direction of rounding is the user's to state.
"""

from __future__ import annotations

import pytest

from cli import small_tank as tank
from cli.desk import Desk

SITE = tuple(word for word in tank.SHEET if word.startswith("site."))
BARE = tuple(word for word in tank.SHEET if word not in SITE)


def asked(desk: Desk) -> None:
    tank.agree(desk)


def sheet(desk: Desk, *words: str, drop: tuple[str, ...] = ()) -> str:
    """What is said when a sheet is refused; empty if it is stored."""
    kept = [w for w in tank.SHEET if not w.startswith(drop or ("\0",))]
    done = desk.run(*tank.told(desk, "voltage.set", *kept, *words, "agreed_by=Q-01", at="06:50"))
    assert done.code in (0, 2)
    return done.err if done.code else ""


def test_a_sheet_waits_for_the_sites_own_answers(opened: Desk) -> None:
    asked(opened)
    said = sheet(opened, drop=("site.",))
    assert "site: the site's own answers to the cautions are not entered: ignition, operators, implants, charge" in said
    assert "(no instruction lifts this)" in said
    assert "not entered: implants " in sheet(opened, drop=("site.implants",))
    assert "site.by" in sheet(opened, drop=("site.by",))
    ac = sheet(opened, "method=spark, high-frequency AC", "setting=6 mm", drop=("method", "setting"))
    assert "not entered: ozone " in ac
    assert sheet(opened) == ""


def test_a_wet_sponge_asks_the_site_for_less(opened: Desk) -> None:
    asked(opened)
    words = ("method=wet sponge, 67.5 V", "setting=80 kohm", "site.by=P. Sand", "site.ignition=allowed", "site.devices=this one")
    assert sheet(opened, *words, drop=("method", "setting", "site.")) == ""


@pytest.mark.parametrize(
    ("words", "setting", "said"),
    [
        (("chosen=3.04 kV", "steps.step=0.1 kV", "steps.rounded=down"), "3.0 kV", ""),
        (("chosen=2.97 kV", "steps.step=100 V", "steps.rounded=up"), "3.0 kV", ""),
        (("chosen=3.04 kV", "steps.step=0.1 kV", "steps.rounded=up"), "3.0 kV", "3100 V: 3.04 kV brought up onto a step of 0.1 kV"),
        (("steps.step=0.25 kV", "steps.rounded=down"), "3.1 kV", "3000 V: 3.1 kV brought down onto a step of 0.25 kV"),
        (("chosen=3.04 kV",), "3.0 kV", "3.04 kV as chosen, or steps.step and steps.rounded that lead to it"),
        (("steps.step=0.1 kV", "steps.rounded=down", "steps.low=5 kV"), "3.0 kV", "at least 5 kV, where the tester begins"),
        (("steps.step=0.1 kV", "steps.rounded=down", "steps.high=2 kV"), "3.0 kV", "at most 2 kV, where the tester ends"),
        (("steps.step=1 mm", "steps.rounded=down"), "3.0 kV", "steps.step: '1 mm'"),
        (("steps.step=0 kV", "steps.rounded=down"), "3.0 kV", "a voltage more than zero"),
        (("steps.step=100", "steps.rounded=down"), "3.0 kV", "steps.step: '100'"),
        (("steps.step=0.1 kV", "steps.rounded=near"), "3.0 kV", "steps.rounded: 'near'"),
        (("tolerance=5 %",), "3.0 kV", "tolerance_source"),
        (("pulses.rate=30 Hz", "pulses.contact=20 mm", "pulses.speed=3 m"), "3.0 kV", "pulses.speed: '3 m'"),
        (("surface=damp",), "3.0 kV", "surface: 'damp'"),
    ],
)
def test_a_setting_is_what_the_tester_can_be_brought_to(opened: Desk, words: tuple[str, ...], setting: str, said: str) -> None:
    asked(opened)
    got = sheet(opened, *words, f"setting={setting}", drop=("setting",))
    assert (said in got) if said else (got == "")


def test_readings_made_since_that_lie_outside_are_another_film(opened: Desk) -> None:
    tank.ready(opened)
    tank.tell(opened, "thickness.read", "place=shell, arc 1.00 m, 0.50 m", "class=flat", "values=620 um", "gauge=G1", at="06:55")
    said = tank.refuse(opened, "panel.started", f"panel={tank.PANEL}", "stage=final", *tank.TESTER, at="07:10").err
    assert "1 of 1 readings of S1 made since its voltage sheet lie outside 300 um to 500 um: a new sheet" in said
