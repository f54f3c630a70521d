"""A day told by commands: read the draft, close the day, sign it, and see what changed since."""

from __future__ import annotations

from cli import small_tank as tank
from cli.desk import Desk


def test_a_day_is_read_closed_signed_and_told_when_it_changed(opened: Desk) -> None:
    date = str(tank.DAY)
    day = ("day", tank.NAME, date)
    sign = (f"scope=day {date}", "statement=as told", "reservations=[]", "role=QA")
    tank.tell(opened, "delay.noted", "reason=waited for light", at="09:00")
    draft = opened.good(*day).out
    assert "Marks that should stand on the wall: 0; not counted yet." in draft
    assert "waited for light" in draft
    assert f"day.closed date={date}" in draft
    refused = tank.refuse(opened, "signed", *sign, by=tank.QA)
    assert f"day {date} is not closed yet" in refused.err
    tank.tell(opened, "day.closed", f"date={date}", "narrative=No work: too dark.", "marks_counted=0", at="18:00")
    assert "The inspector tells: No work: too dark." in opened.good(*day).out
    tank.tell(opened, "signed", *sign, by=tank.QA)
    assert [s["since"] for s in opened.good(*day, "--json").json["signed"]] == ["unchanged"]
    verified = opened.good("verify", tank.NAME).out
    assert ": the daily report as it stood then; no entries since [SHA-256 " in verified
    assert opened.good(*day, "--json").json["digest"] in verified
    tank.tell(opened, "delay.noted", "reason=lamp broken", at="10:00")
    assert [s["since"] for s in opened.good(*day, "--json").json["signed"]] == ["changed: delay noted"]


def test_a_day_that_is_none_or_on_which_nothing_happened_is_refused(opened: Desk) -> None:
    assert "YYYY-MM-DD" in opened.refused("day", tank.NAME, "yesterday").err
    assert "a day on which something happened" in opened.refused("day", tank.NAME, "1999-01-01").err
