"""A library in memory over the demo job, a client without a network, and the site on a loopback port."""

from __future__ import annotations

import socket
import threading
import time
from collections.abc import Iterator
from types import SimpleNamespace
from typing import Any

import msgspec
import pytest
import uvicorn
from fastapi.testclient import TestClient

from wholefilm.base.errors import BadInput, NotFound
from wholefilm.demo import north_basin
from wholefilm.job.fold import fold
from wholefilm.ledger.blobs import MemoryBlobs
from wholefilm.ledger.order import as_of as cut
from wholefilm.proof.assessment import assess
from wholefilm.proof.states import Standing
from wholefilm.sheets.assessment import assessment_sheet, digest
from wholefilm.sheets.jobs import JobLine
from wholefilm.web.app import create_app

NAME = "north-basin"
HOSTILE = '<script>alert("x")</script> & "co"'


def view_of(standing: Standing, shown: str = "") -> Any:
    sheet = assessment_sheet(standing, shown)
    return SimpleNamespace(standing=standing, assessment=sheet, digest=digest(sheet))


class MemoryLibrary:
    """The demo job, a job with hostile words, and a job in which nothing is recorded."""

    def __init__(self) -> None:
        self._demo, self._blobs, self._views = north_basin.build(), MemoryBlobs(), {}  # type: ignore[var-annotated]
        for content in self._demo.blobs.values():
            self._blobs.put(content)
        self.asked: list[str] = []

    def names(self) -> list[JobLine]:
        sheet = self.view(NAME).assessment
        lines = [JobLine(NAME, sheet.title, len(self._demo.entries), sheet.assessment, sheet.as_of)]
        return [*lines, JobLine("hostile", HOSTILE, 0, "cannot_tell", "")]

    def version(self, name: str) -> str:
        if name not in (NAME, "hostile", "empty"):
            raise NotFound("job", name, NAME)
        return f"{name}:{len(self._demo.entries)}"

    def view(self, name: str, as_of: str | None = None) -> Any:
        self.version(name)
        if as_of is not None and (len(as_of) != 16 or as_of[10] != "T"):
            raise BadInput("as of", as_of, "YYYY-MM-DDThh:mm")
        key = (name, as_of)
        if key not in self._views:
            shown = f"{as_of}:00.000+02:00" if as_of else ""
            entries = [] if name == "empty" else cut(self._demo.entries, time=shown) if as_of else self._demo.entries
            job = fold(entries, self._blobs)
            if name == "hostile":
                assert job.opened is not None
                job.opened = msgspec.structs.replace(job.opened, body=msgspec.structs.replace(job.opened.body, title=HOSTILE))
            self._views[key] = view_of(assess(job), shown)
        return self._views[key]

    def blob(self, name: str, sha: str) -> bytes | None:
        return self._blobs.get(sha)

    def report(self, name: str, as_of: str | None = None) -> bytes:
        self.asked.append(f"report {name} {as_of}")
        return b"%PDF-1.7 report"

    def export(self, name: str) -> bytes:
        return b'{"format":1}\n'


@pytest.fixture(scope="session")
def library() -> MemoryLibrary:
    return MemoryLibrary()


@pytest.fixture
def client(library: MemoryLibrary) -> TestClient:
    return TestClient(create_app(library), follow_redirects=False)


@pytest.fixture(scope="session")
def site(library: MemoryLibrary) -> Iterator[str]:
    """Address of the site on this machine."""
    with socket.socket() as found:
        found.bind(("127.0.0.1", 0))
        port = found.getsockname()[1]
    server = uvicorn.Server(uvicorn.Config(create_app(library), host="127.0.0.1", port=port, log_level="error"))
    thread = threading.Thread(target=server.run, daemon=True)
    thread.start()
    until = time.monotonic() + 20
    while not server.started:
        assert time.monotonic() < until, "the site did not start in 20 s"
        time.sleep(0.02)
    yield f"http://127.0.0.1:{port}"
    server.should_exit = True
    thread.join(10)
