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


def tell(what: str, seconds: float, budget: float) -> None:
    """Print a line, and fail if it is over its budget. [s]"""
    word = "within" if seconds <= budget else "OVER"
    print(f"{what}: {seconds:.3f} s, {word} the budget of {budget} s ({seconds / budget:.0%})")
    assert seconds <= budget, f"{what}: {seconds:.3f} s of {budget} s"
