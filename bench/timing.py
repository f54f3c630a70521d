"""How the benches measure and print: the best of some runs against its budget. Budgets are for a machine with 2 cores."""

from __future__ import annotations

import gc
import time
from collections.abc import Callable

gc.set_threshold(200_000, 20, 20)  # as the program sets it at its start


def best_of(times: int, act: Callable[[], object]) -> float:
    """Shortest of some runs. [s]"""
    best = float("inf")
    for _ in range(times):
        started = time.perf_counter()
        act()
        best = min(best, time.perf_counter() - started)
    return best


def tell(what: str, value: float, budget: float, unit: str = "s") -> None:
    """Print a line, and fail if it is over its budget. [s, or the unit named]"""
    word = "within" if value <= budget else "OVER"
    print(f"{what}: {value:.3f} {unit}, {word} the budget of {budget} {unit} ({value / budget:.0%})")
    assert value <= budget, f"{what}: {value:.3f} {unit} of {budget} {unit}"
