"""The page of one entry: reached from the exceptions, shows the line as it was written, leads to what it names."""

from __future__ import annotations

import hashlib
import html
import re

import pytest
from fastapi.testclient import TestClient

JOB = "/jobs/north-basin"


def test_every_exception_leads_to_its_entries(client: TestClient) -> None:
    sheet = client.get(f"{JOB}/assessment.json").json()
    page = client.get(f"{JOB}/assessment").text
    behind = page[page.index("Entries behind the exceptions") :]
    assert sheet["exceptions"]
    for line in sheet["exceptions"]:
        for entry in line["entries"][:20]:
            assert f'href="{JOB}/entries/{entry}"' in behind


def test_an_entry_is_shown_as_written_with_its_hash(client: TestClient) -> None:
    """SHA-256 of the line shown is the hash shown: worked out here with hashlib, and the page shows the same line."""
    first = re.search(rf'href="({JOB}/entries/[0-9a-f-]+)"', client.get(f"{JOB}/assessment").text)
    assert first
    entry = client.get(f"{first[1]}.json").json()
    assert hashlib.sha256(entry["line"].encode()).hexdigest() == entry["hash"]
    shown = html.unescape(client.get(first[1]).text)
    assert f'<pre class="line">{entry["line"]}</pre>' in shown
    for words in (f"Entry {entry['number']}", entry["by"], entry["hash"]):
        assert words in shown
    assert entry["fields"][0]["field"] in shown


def test_what_an_entry_names_names_it_back(client: TestClient) -> None:
    """A repair names its holidays; each of their pages lists the repair."""
    seen = 0
    for found in re.findall(rf'href="({JOB}/entries/[0-9a-f-]+)"', client.get(f"{JOB}/assessment").text)[:6]:
        entry = client.get(f"{found}.json").json()
        for named in entry["names"]:
            back = client.get(f"{JOB}/entries/{named['entry']}.json").json()
            assert entry["id"] in [e["entry"] for e in back["named_by"]]
            seen += 1
    assert seen


def test_a_corrected_entry_says_so(client: TestClient) -> None:
    sheet = client.get(f"{JOB}/assessment.json").json()
    said = {p for line in sheet["exceptions"] for e in line["entries"] for p in client.get(f"{JOB}/entries/{e}.json").json()["counts"]}
    assert "counts as written" in said


@pytest.mark.parametrize("tail", ["", ".json"])
def test_an_entry_that_is_not_there_is_refused_by_name(client: TestClient, tail: str) -> None:
    answer = client.get(f"{JOB}/entries/nobody{tail}")
    assert answer.status_code == 404
    assert "nobody" in answer.text
    assert "entries of this job" in answer.text
