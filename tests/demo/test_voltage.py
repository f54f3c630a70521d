"""Voltage sheets of the demo jobs: the setting of the wrong tester, a found voltage a ground zone, uncured and cured apart."""

from __future__ import annotations

import pytest

from wholefilm.demo import acid_store, leach_vessel, penstock, river_crossing
from wholefilm.job.fold import fold
from wholefilm.ledger.blobs import MemoryBlobs
from wholefilm.proof.assessment import Ground, assess
from wholefilm.proof.states import Standing, Use
from wholefilm.sheets.voltage import voltage_sheet


def standing(demo: object) -> Standing:
    made, blobs = demo.build(), MemoryBlobs()  # type: ignore[attr-defined]
    for content in made.blobs.values():
        blobs.put(content)
    return assess(fold(made.entries, blobs))


@pytest.mark.parametrize(
    ("panel", "offered", "says"),
    [
        ("J-012", "4.0 kV", "set 4.0 kV; the voltage sheet of SL says 20.0 kV: under it, holidays can be missed"),
        ("J-044", "20.0 kV", "set 20.0 kV; the voltage sheet of BJ says 4.0 kV: over it, sound film can be burnt"),
    ],
)
def test_the_setting_of_the_other_section_is_refused(panel: str, offered: str, says: str) -> None:
    job = standing(river_crossing).job
    last = max(f.start for f in job.facts)
    found = Ground(job).needs.of_test(panel, "final", Use("P-1", "ring", "5 m", offered, last, last, "2025-07-10"), last)
    assert says in [u.says for u in found if u.need == "voltage"]


def test_one_found_voltage_for_each_ground_zone() -> None:
    sheet = voltage_sheet(standing(acid_store))
    assert "found on made holidays: T1 9.5 kV, T2 10.0 kV, T4 11.5 kV" in sheet.sheets[0].further
    assert sheet.sheets[0].setting == "12.0 kV"


def test_uncured_and_cured_are_two_sheets_in_spark_lengths() -> None:
    sheet = voltage_sheet(standing(leach_vessel))
    assert [(s.stage, s.setting, s.state) for s in sheet.sheets] == [
        ("before_cure", "6 mm", "in force"),
        ("after_cure", "9 mm", "in force"),
    ]
    assert {s.caution for s in sheet.site} >= {"ventilation against ozone", "pacemakers and other implants"}


def test_a_wet_sponge_asks_the_site_for_less() -> None:
    sheet = voltage_sheet(standing(penstock))
    assert len(sheet.site) == 2
    assert {s.by for s in sheet.site} == {"J. Osei, permit office"}
