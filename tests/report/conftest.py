"""The report of the demo job, made once."""

from __future__ import annotations

from collections.abc import Mapping

import made_report
import pytest

from wholefilm.report.book import ReportSheets


@pytest.fixture(scope="session")
def demo() -> tuple[ReportSheets, bytes, Mapping[str, bytes], list[bytes]]:
    """Sheets, job file, blobs and volumes of the demo job."""
    return made_report.demo_report()


@pytest.fixture(scope="session")
def sheets(demo: tuple[ReportSheets, bytes, Mapping[str, bytes], list[bytes]]) -> ReportSheets:
    return demo[0]


@pytest.fixture(scope="session")
def pdf(demo: tuple[ReportSheets, bytes, Mapping[str, bytes], list[bytes]]) -> bytes:
    """The one volume of the demo job."""
    assert len(demo[3]) == 1
    return demo[3][0]


@pytest.fixture(scope="session")
def text(pdf: bytes) -> str:
    return made_report.text_of(pdf)
