"""Time budgets of commands, cold: a new process each time, the best of five counts. Budgets are for a machine with 2 cores."""

from __future__ import annotations

import subprocess
import sys
import time
from pathlib import Path

import pytest

PROGRAM = str(Path(sys.executable).parent / "wholefilm")
BUDGET_S = 0.3


@pytest.mark.parametrize(
    "words", [["--help"], ["rules"], ["climate", "--help"], ["voltage", "--help"], ["surface", "--help"]], ids=" ".join
)
def test_cold_start(words: list[str]) -> None:
    best = float("inf")
    for _ in range(5):
        started = time.perf_counter()
        done = subprocess.run([PROGRAM, *words], capture_output=True, text=True, stdin=subprocess.DEVNULL)
        best = min(best, time.perf_counter() - started)
        assert done.returncode == 0, done.stderr
    print(f"wholefilm {' '.join(words)}: {best:.3f} s of {BUDGET_S} s")
    assert best < BUDGET_S
