"""Pages of a large job under ten readers at once: the time that 95 of 100 requests stay under."""

from __future__ import annotations

import socket
import subprocess
import sys
import time
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import httpx
import pytest
from book import large_job
from timing import tell

from wholefilm.ledger.jobfile import write_jobfile

PROGRAM = str(Path(sys.executable).parent / "wholefilm")
CLIENTS, EACH = 10, 20
PAGES = ("", "/test", "/holidays", "/checks", "/assessment")


@pytest.fixture(scope="module")
def pages(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """Address of a job with 10,000 holidays (25,000 entries), read once."""
    folder = tmp_path_factory.mktemp("pages")
    (folder / "large.jsonl").write_bytes(write_jobfile(large_job(25_300)))
    database = str(folder / "large.db")
    subprocess.run([PROGRAM, "load", str(folder / "large.jsonl"), "--database", database], check=True, stdout=subprocess.DEVNULL)
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    server = subprocess.Popen([PROGRAM, "serve", "--port", str(port), "--database", database], stdout=subprocess.DEVNULL)
    address = f"http://127.0.0.1:{port}/jobs/north-basin"
    try:
        until = time.monotonic() + 60
        while time.monotonic() < until:
            try:
                if httpx.get(address, timeout=60).status_code == 200:
                    break
            except httpx.TransportError:
                time.sleep(0.2)
        yield address
    finally:
        server.terminate()
        server.wait(10)


@pytest.mark.parametrize("page", PAGES, ids=lambda p: p.strip("/") or "job")
def test_page_p95(pages: str, page: str) -> None:
    """Ten readers ask for one page again and again."""

    def read(_: int) -> list[float]:
        times = []
        with httpx.Client(timeout=60) as client:
            for _ in range(EACH):
                started = time.perf_counter()
                found = client.get(pages + page)
                times.append(time.perf_counter() - started)
                assert found.status_code == 200
        return times

    read(0)
    with ThreadPoolExecutor(CLIENTS) as pool:
        times = sorted(t for some in pool.map(read, range(CLIENTS)) for t in some)
    tell(f"page {page or '/'} of a job with 10,000 holidays, {CLIENTS} readers, p95", times[int(len(times) * 0.95)], 0.1)
