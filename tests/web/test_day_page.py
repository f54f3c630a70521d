"""The page of a day: a draft to read, what happened, marks by number; linked from the daily reports."""

from __future__ import annotations

import pytest
from fastapi.testclient import TestClient

DAY = "/jobs/north-basin/days/2025-06-03"


def test_the_second_day_of_the_tank(client: TestClient) -> None:
    """The story: 22 panels, 369.1 m², 43 marks raised and counted."""
    answer = client.get(DAY)
    assert answer.status_code == 200
    assert answer.text.count("<h1>") == answer.text.count("</h1>") == 1
    for words in ("Daily report 2025-06-03", "22 panels tested", "369.1 m²", "43; 43 counted", "panel tested", "not signed"):
        assert words in answer.text


def test_a_day_is_reached_from_the_daily_reports_and_leads_back(client: TestClient) -> None:
    listed = client.get("/jobs/north-basin/days?as_of=2025-06-03T20:00").text
    assert f'href="{DAY}?as_of=2025-06-03T20%3A00"' in listed
    assert 'href="/jobs/north-basin/days"' in client.get(DAY).text


def test_a_day_as_data(client: TestClient) -> None:
    day = client.get(f"{DAY}.json").json()
    assert (day["date"], day["marks_expected"], day["marks_counted"]) == ("2025-06-03", 43, 43)


@pytest.mark.parametrize("tail", ["", ".json"])
def test_a_day_on_which_nothing_happened_is_refused_by_name(client: TestClient, tail: str) -> None:
    answer = client.get(f"/jobs/north-basin/days/2024-01-01{tail}")
    assert answer.status_code == 404
    assert "2024-01-01" in answer.text
