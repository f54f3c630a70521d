"""The demo job, written once for all tests of this room."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import pytest

from wholefilm.demo import DEMOS, Demo
from wholefilm.ledger.entry import Entry


class Story:
    """A demo with the questions that tests ask of it."""

    def __init__(self, demo: Demo) -> None:
        self.demo, self.entries, self.blobs = demo, demo.entries, demo.blobs
        self.by_id = {e.id: e for e in demo.entries}
        self.withdrawn = {e.body["of"] for e in demo.entries if e.kind == "entry.withdrawn"}

    def of(self, kind: str) -> list[Entry]:
        """Entries of a kind, withdrawn ones left out."""
        return [e for e in self.entries if e.kind == kind and e.id not in self.withdrawn]

    def bodies(self, kind: str) -> list[Mapping[str, Any]]:
        return [e.body for e in self.of(kind)]

    def has(self, sha: str) -> bool:
        return sha in self.blobs

    def get(self, sha: str) -> bytes | None:
        return self.blobs.get(sha)


@pytest.fixture(scope="session")
def story() -> Story:
    return Story(DEMOS["north-basin"]())
