"""A small job told by commands alone: one course of a tank, one holiday, one repair. Invented.

Every act happened two days ago; times are typed as a person types them, in the job's time zone.
"""

from __future__ import annotations

import json
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from cli.desk import Desk, Done

NAME, INSPECTOR, FOREMAN, QA = "day-tank", "Ada Rooke", "Cor Veld", "Ben Tarn"
DAY = (datetime.now(ZoneInfo("Europe/Berlin")) - timedelta(days=2)).date()
TESTER = ("instrument=HV-1", "electrode=brush 0.3 m", "lead=10 m", "set=3.0 kV")
PANEL = "S1-1"
PLACE = {"on": "shell", "at": "100 deg", "z": "0.50 m"}
ITEM = {
    "item": "T9",
    "shape": "tank",
    "datum": "0 deg at the ladder; clockwise seen from above; z from the floor",
    "dimensions": {"diameter": "2.0 m", "courses": [{"name": "S1", "height": "1.0 m", "first_seam": "0 deg", "seams": 1}]},
    "features": [],
    "test_areas": [{"name": "S1", "on": "shell", "course": "S1"}],
    "panels": {"rule": "seams, courses and quadrants"},
    "openings_deducted": False,
}
SHEET = (
    "test_areas=S1", "system=last:system.set", "stage=final", "method=spark, continuous DC", "setting=3.0 kV",
    "basis.what=letter of the coating maker", "basis.low=300 um", "basis.high=500 um",
    "rule.form=fixed", "rule.setting=3.0 kV", "rule.source.document=letter", "rule.source.edition=2025", "rule.source.grade=entered",
    "reason=the letter names it", "electrode=brush 0.3 m", "valid_until=the film changes",
    "site.by=P. Sand, permit office", "site.ignition=permit of the day, work stops at the gas alarm", "site.operators=the two on list 4",
    "site.implants=each was asked in writing", "site.charge=procedure 7, a trained person with the bonded tool",
    "site.other_face=closed off", "site.company=never alone", "site.leads=looked over before each shift", "site.devices=the tester only",
)  # fmt: skip


def told(desk: Desk, kind: str, *words: str, by: str = INSPECTOR, at: str = "", day_back: int = 0) -> tuple[str, ...]:
    """The words of a `record` command; `at` is a time of day on the day of the test."""
    when = ("--at-site", f"{DAY - timedelta(days=day_back)} {at}") if at else ()
    return ("record", NAME, kind, *words, "--by", by, *when)


def tell(desk: Desk, kind: str, *words: str, by: str = INSPECTOR, at: str = "", day_back: int = 0) -> Done:
    """Record an act that must be taken."""
    return desk.good(*told(desk, kind, *words, by=by, at=at, day_back=day_back))


def refuse(desk: Desk, kind: str, *words: str, by: str = INSPECTOR, at: str = "", day_back: int = 0) -> Done:
    """Record an act that must be refused."""
    return desk.refused(*told(desk, kind, *words, by=by, at=at, day_back=day_back))


def disc(radius: str) -> str:
    """An outline round the place of the holiday."""
    return "outline=" + json.dumps({"shape": "disc", "at": PLACE, "radius": radius})


def open_job(desk: Desk) -> None:
    """The job, its people, what the contract asks, the item, its film."""
    desk.good(
        "job", "new", NAME, "--title", "Day tank", "--contract", "DT-1 rev A", "--person", INSPECTOR, "--role", "QC inspector",
        "--letter", "B", "--time-zone", "Europe/Berlin",
    )  # fmt: skip
    tell(desk, "person.joined", "roles=foreman", f"card.name={FOREMAN}")
    tell(desk, "person.joined", "roles=QA", "roles=owner's representative", f"card.name={QA}")
    paper = ("document=DT-1", "edition=rev A", "grade=entered")
    tell(desk, "requirement.noted", "topic=coverage", *paper, "clause=4.1", "says=all is tested", "rule.form=coverage", "rule.share=100 %",
         "stage=final")  # fmt: skip
    limits = json.dumps({"form": "limits", "limits": [{"form": "none_open"}], "follows": "repair and retest"})
    tell(desk, "requirement.noted", "topic=closure", *paper, "clause=4.2", "says=none stays open", f"rule={limits}")
    tell(desk, "requirement.noted", "topic=checks", *paper, "clause=4.3", "says=checked as found, at most 5 h apart",
         "rule.form=check_interval", "rule.longest=5 h", "rule.tolerance=5 %")  # fmt: skip
    tell(desk, "requirement.noted", "topic=cure", *paper, "clause=4.4", "says=cured by the maker's table", "rule.form=cure",
         "rule.by=maker's table")  # fmt: skip
    body = desk.folder / "item.json"
    body.write_text(json.dumps(ITEM), encoding="utf-8")
    tell(desk, "item.added", "--body", str(body))
    row = json.dumps([{"row": "20", "what": "holiday test", "steel": "20 degC", "wait": "1 h"}])
    tell(
        desk,
        "system.set",
        "test_areas=S1",
        'layers=[{"name":"coat 1","conductive":"no","nominal":"400 um"}]',
        f"cure_table={row}",
        "immersed=never",
    )
    tell(desk, "instrument.added", "instrument=HV-1", "what=spark tester, DC", "range=0.5 kV to 15 kV", "due=2099-01-31")


def agree(desk: Desk) -> None:
    """The voltage, asked and answered in writing, and its sheet."""
    tell(desk, "question.raised", "to=coating maker's adviser", "about=4.1", "text=at what voltage?", at="06:00")
    tell(desk, "question.answered", "question=Q-01", "from=coating maker's adviser", f"dated={DAY} 06:20", "text=3.0 kV",
         "evidence=letter", at="06:30")  # fmt: skip
    tell(desk, "voltage.set", *SHEET, "agreed_by=Q-01", at="06:40")


def permit(desk: Desk) -> None:
    """The site's permission for the day."""
    tell(desk, "permit.noted", "topic=ignition_source", "what=ignition source inside the tank",
         "by=permit office", f"until={DAY} 20:00", "stops_when=gas alarm",
         at="06:50")  # fmt: skip


def cure(desk: Desk, about: str = "S1", last_coat: str = "05:00", at: str = "06:45") -> None:
    """Release an area or a repair for test."""
    tell(desk, "cure.released", f"about={about}", "table_row=20", f"last_coat_at={DAY} {last_coat}", "steel=20 degC", f"by={INSPECTOR}",
         at=at)  # fmt: skip


def ground(desk: Desk) -> None:
    """The ground proof of the day."""
    tell(desk, "ground.checked", "point=clamp at the manway", "to=shell, far side", "instrument=HV-1", "value=10 ohm", at="06:55")


def check(desk: Desk, at: str, occasion: str, read: str = "3.0 kV", as_found: str = "yes") -> None:
    """One reading of the field check."""
    tell(desk, "instrument.checked", *TESTER, "means=reference voltmeter", f"read={read}", "tolerance=5 %", "tolerance_source=DT-1 4.3",
         f"occasion={occasion}", f"as_found={as_found}", at=at)  # fmt: skip


def ready(desk: Desk) -> None:
    """All that a test needs."""
    agree(desk)
    cure(desk)
    permit(desk)
    ground(desk)
    check(desk, "07:00", "before")


def run_test(desk: Desk) -> None:
    """Test the one panel: it raises one indication, which is a holiday."""
    tell(desk, "panel.started", f"panel={PANEL}", "stage=final", *TESTER, at="07:10")
    tell(desk, "indication.raised", f"panel={PANEL}", at="07:15")
    tell(desk, "holiday.confirmed", "indication=B1", *[f"place.{k}={v}" for k, v in PLACE.items()], "class=flat", at="07:16")
    tell(desk, "panel.tested", f"panel={PANEL}", f"started={PANEL}", "all=yes", at="07:30")


def repair(desk: Desk, nth: int = 1, at: str = "08:00") -> None:
    """Plan (the first time) and do the repair."""
    if nth == 1:
        tell(desk, "repair.planned", "holidays=B1", "class=spot", "procedure=abrade, two coats", disc("0.1 m"), at="07:40")
    coat = json.dumps([{"batch": "K7", "at": f"{DAY} {at}"}])
    tell(desk, "repair.done", "repair=R-01", f"nth={nth}", "preparation=abraded to bright steel", "bare.length=40 mm", "bare.width=30 mm",
         "feather=25 mm", f"coats={coat}", f"applicator={FOREMAN}", "mark_removed=yes", by="foreman", at=at)  # fmt: skip


def retest_words(nth: int = 1, indications: str = "[]") -> tuple[str, ...]:
    """The words of a retest."""
    return ("repair=R-01", f"nth={nth}", "stage=final", *TESTER, "local_thickness=420 um", disc("0.2 m"), f"indications={indications}")


def whole_job(desk: Desk) -> None:
    """The whole job, to `meets`."""
    open_job(desk)
    ready(desk)
    run_test(desk)
    repair(desk)
    cure(desk, "R-01", last_coat="08:00", at="09:05")
    tell(desk, "retest.done", *retest_words(), at="09:10")
    check(desk, "10:00", "after", read="2.95 kV")
