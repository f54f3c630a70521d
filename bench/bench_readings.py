"""A million readings: loaded from a file by the program, and read again and judged, each in a process of its own with its memory."""

from __future__ import annotations

import json
import random
import subprocess
import sys
import time
from pathlib import Path

import pytest
from timing import tell

from cli import small_tank
from cli.desk import PROGRAM, Desk

COUNT = 1_000_000
GIB = 1 << 30
HEADER = "spot,test_area,class,on,first,second,dft_um\n"
AGAIN = """
import gc, json, sys, time
from pathlib import Path
gc.set_threshold(200_000, 20, 20)
from wholefilm.film.acceptance import ThicknessRange, accept_range
from wholefilm.film.readings import read_columns
from wholefilm.film.result import Readings
from wholefilm.film.statistics import thickness_statistics
data, body = Path(sys.argv[1]).read_bytes(), json.loads(sys.argv[2])
RULE = ThicknessRange(classes=["flat", "weld", "edge"], min="600 um", max="1000 um")
best = 99
for _ in range(5):
    started = time.perf_counter()
    spots = read_columns(data, body["columns"], body["units"])
    out = 0
    for values in spots.groups().values():
        thickness_statistics(values)
        got = accept_range(RULE, Readings(values))
        out += got.under + got.over
    best = min(best, time.perf_counter() - started)
status = Path("/proc/self/status").read_text().splitlines()
peak = next(int(line.split()[1]) * 1024 for line in status if line.startswith("VmHWM"))
print(json.dumps([best, len(spots), out, peak]))
"""


@pytest.fixture(scope="module")
def readings(tmp_path_factory: pytest.TempPathFactory) -> tuple[Desk, Path, int]:
    """A job, and a file of a million invented readings: normal, mean 800 um, s 60 um; how many lie outside 600 to 1000 um."""
    desk = Desk(tmp_path_factory.mktemp("readings"))
    small_tank.open_job(desk)
    path, chance, out = desk.folder / "readings.csv", random.Random(1), 0
    with path.open("w") as file:
        file.write(HEADER)
        for n in range(COUNT):
            um = f"{chance.gauss(800, 60):.1f}"
            out += not 600 <= float(um) <= 1000
            class_ = ("flat", "weld", "edge")[n % 3]
            file.write(f"{n // 3 + 1},S{n % 8 + 1},{class_},shell,{chance.uniform(0, 30):.3f},{chance.uniform(0, 10):.3f},{um}\n")
    return desk, path, out


def highest(pid: int) -> int:
    """Most memory that a running process has held. [B]"""
    try:
        lines = Path(f"/proc/{pid}/status").read_text().splitlines()
    except OSError:
        return 0
    return next((int(line.split()[1]) * 1024 for line in lines if line.startswith("VmHWM")), 0)


def test_a_million_readings(readings: tuple[Desk, Path, int]) -> None:
    desk, path, out = readings
    words = [str(PROGRAM), "readings", small_tank.NAME, str(path), "--about", "bench", "--by", small_tank.INSPECTOR, "--database", desk.url]
    started = time.perf_counter()
    child = subprocess.Popen(words, stdout=subprocess.PIPE, text=True)
    peak = 0
    while child.poll() is None:  # what the kernel tells of an ended child counts the memory of the process that began it
        peak = max(peak, highest(child.pid))
        time.sleep(0.01)
    seconds = time.perf_counter() - started
    assert child.stdout is not None
    said = child.stdout.read()
    assert child.returncode == 0, said
    assert peak > 0
    assert said.startswith("loaded: 1000000 spots")
    tell(f"{COUNT:,} readings with their places loaded ({path.stat().st_size / 1e6:.0f} MB, peak {peak / 1e6:.0f} MB)", seconds, 10.0)
    assert peak < GIB

    body = next(json.loads(line)["body"] for line in exported(desk) if '"kind":"readings.loaded"' in line)
    done = subprocess.run([sys.executable, "-c", AGAIN, str(path), json.dumps(body)], capture_output=True, text=True, check=True)
    again, count, found, memory = json.loads(done.stdout)
    assert (count, found) == (COUNT, out)
    tell(f"{COUNT:,} readings read again, summed up and held against a range (peak {memory / 1e6:.0f} MB)", again, 1.0)
    assert memory < GIB


def exported(desk: Desk) -> list[str]:
    """Lines of the job file."""
    desk.good("export", small_tank.NAME, "-o", str(desk.folder / "out.jsonl"))
    return (desk.folder / "out.jsonl").read_text(encoding="utf-8").splitlines()
