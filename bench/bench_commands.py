"""Cold starts of commands: a new process each time."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest
from timing import best_of, tell

PROGRAM = str(Path(sys.executable).parent / "wholefilm")
# An installed program finds its code compiled; a shell that forbids Python to keep it would measure the compiler.
ENVIRONMENT = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}


def cold(words: list[str], codes: tuple[int, ...] = (0,)) -> float:
    """Shortest of five runs of a command. [s]"""

    def run() -> None:
        done = subprocess.run([PROGRAM, *words], capture_output=True, text=True, stdin=subprocess.DEVNULL, env=ENVIRONMENT)
        assert done.returncode in codes, done.stderr

    return best_of(5, run)


@pytest.mark.parametrize(
    "words",
    [
        ["--help"],
        ["rules"],
        ["rules", "show", "SP0274/um"],
        ["surface", "hemisphere", "diameter=2.4 m"],
        ["voltage", "--thickness", "500 um"],
        ["climate", "--air", "16 degC", "--rh", "71 %", "--surface", "13 degC"],
    ],
    ids=" ".join,
)
def test_cold_start(words: list[str]) -> None:
    tell(f"wholefilm {' '.join(words)}, cold", cold(words), 0.3)


def test_thickness(tmp_path: Path) -> None:
    """Not in the budgets of the design; held to the same."""
    (tmp_path / "dft.csv").write_text("value\n640\n660\n680\n700\n720\n")
    words = ["thickness", str(tmp_path / "dft.csv"), "--rule", "SSPC-PA2/um", "--edition", "2012", "--min", "600 um", "--max", "800 um"]
    tell("wholefilm thickness FILE, cold", cold(words, codes=(0, 1, 3)), 0.3)


def test_the_tank(tmp_path: Path) -> None:
    """The demo tank: assessed from its job file, and its report set, each by a new process."""
    cold_demo = subprocess.run([PROGRAM, "demo", "--to", str(tmp_path / "demo")], capture_output=True, text=True)
    assert cold_demo.returncode == 0, cold_demo.stderr
    file = str(tmp_path / "demo" / "north-basin.jsonl")
    report = cold(["report", file, "-o", str(tmp_path / "r.pdf")])
    assess = cold(["assess", file, "--json"], codes=(1,))
    tell("the tank's report, cold", report, 1.5)
    tell("the tank assessed, cold", assess, 0.5)
