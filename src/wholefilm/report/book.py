"""What a report prints: every sheet of a standing, made once, with the digest of each."""

from __future__ import annotations

import hashlib

import msgspec

from wholefilm.drawing.thickness import SpotRange, spot_ranges
from wholefilm.proof.states import Standing
from wholefilm.sheets.assessment import AssessmentSheet, assessment_sheet, digest
from wholefilm.sheets.checks import ChecksSheet, checks_sheet
from wholefilm.sheets.climate import ClimateSheet, climate_sheet
from wholefilm.sheets.cure import CureSheet, cure_sheet
from wholefilm.sheets.days import DaysSheet, days_sheet
from wholefilm.sheets.doubt import DoubtSheet, doubt_sheet
from wholefilm.sheets.holidays import HolidaysSheet, holidays_sheet
from wholefilm.sheets.job import JobSheet, job_sheet
from wholefilm.sheets.maps import MapsSheet, maps_sheet
from wholefilm.sheets.panels import PanelsSheet, panels_sheet
from wholefilm.sheets.people import PeopleSheet, people_sheet
from wholefilm.sheets.readings import ReadingsSheet, readings_sheet
from wholefilm.sheets.repairs import RepairsSheet, repairs_sheet
from wholefilm.sheets.requirements import RequirementsSheet, requirements_sheet
from wholefilm.sheets.voltage import VoltageSheet, voltage_sheet

# Fields that are no sheet.
BESIDE = {"spot_ranges"}


class ReportSheets(msgspec.Struct, frozen=True):
    """Every sheet that a report prints, of one standing; `spot_ranges` are no sheet, they say which spots lie outside. [um]"""

    job: JobSheet
    requirements: RequirementsSheet
    voltage: VoltageSheet
    checks: ChecksSheet
    doubt: DoubtSheet
    panels: PanelsSheet
    holidays: HolidaysSheet
    repairs: RepairsSheet
    assessment: AssessmentSheet
    readings: ReadingsSheet
    climate: ClimateSheet
    cure: CureSheet
    people: PeopleSheet
    days: DaysSheet
    maps: MapsSheet
    spot_ranges: list[SpotRange]

    def digests(self) -> dict[str, str]:
        """SHA-256 of each sheet's JSON by the sheet's name, lower-case hex."""
        return {name: digest(getattr(self, name)) for name in self.__struct_fields__ if name not in BESIDE}

    def head_digest(self) -> str:
        """SHA-256 of the heads of all devices, lower-case hex: one word for the record as it stood."""
        return hashlib.sha256(msgspec.json.encode(self.assessment.heads, order="deterministic")).hexdigest()


def report_sheets(standing: Standing, as_of: str = "") -> ReportSheets:
    """Every sheet of a standing.

    Parameters
    ----------
    standing : Standing
    as_of : str
        The time asked for; the last entry's time if empty.
    """
    assessed = assessment_sheet(standing, as_of)
    return ReportSheets(
        job=job_sheet(standing, as_of, assessed),
        requirements=requirements_sheet(standing),
        voltage=voltage_sheet(standing),
        checks=checks_sheet(standing),
        doubt=doubt_sheet(standing),
        panels=panels_sheet(standing),
        holidays=holidays_sheet(standing),
        repairs=repairs_sheet(standing),
        assessment=assessed,
        readings=readings_sheet(standing),
        climate=climate_sheet(standing),
        cure=cure_sheet(standing),
        people=people_sheet(standing),
        days=days_sheet(standing),
        maps=maps_sheet(standing),
        spot_ranges=spot_ranges(standing.requirements),
    )
