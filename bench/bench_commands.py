"""Cold starts of commands: a new process each time."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest
from timing import best_of, tell

PROGRAM = str(Path(sys.executable).parent / "wholefilm")


def cold(words: list[str], codes: tuple[int, ...] = (0,)) -> float:
    """Shortest of five runs of a command. [s]"""

    def run() -> None:
        done = subprocess.run([PROGRAM, *words], capture_output=True, text=True, stdin=subprocess.DEVNULL)
        assert done.returncode in codes, done.stderr

    return best_of(5, run)


@pytest.mark.parametrize(
    "words", [["--help"], ["rules"], ["rules", "show", "SP0274/um"], ["surface", "hemisphere", "diameter=2.4 m"]], ids=" ".join
)
def test_cold_start(words: list[str]) -> None:
    tell(f"wholefilm {' '.join(words)}, cold", cold(words), 0.3)


def test_the_tank(tmp_path: Path) -> None:
    """The demo tank: assessed from its job file, and its report set, each by a new process."""
    cold_demo = subprocess.run([PROGRAM, "demo", "--to", str(tmp_path / "demo")], capture_output=True, text=True)
    assert cold_demo.returncode == 0, cold_demo.stderr
    file = str(tmp_path / "demo" / "north-basin.jsonl")
    report = cold(["report", file, "-o", str(tmp_path / "r.pdf")])
    assess = cold(["assess", file, "--json"], codes=(1,))
    tell("the tank's report, cold", report, 1.5)
    tell("the tank assessed, cold", assess, 0.5)
