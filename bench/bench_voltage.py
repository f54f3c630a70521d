"""Voltages of a million readings, against numpy's own square root in the same run; the rules of the shelf read from disk."""

from __future__ import annotations

import os
import subprocess
import sys

import numpy as np
from timing import best_of, tell

from wholefilm.electric import Strength
from wholefilm.plan.areas import allowed_by_model, allowed_by_rule, voltage_areas
from wholefilm.rules.loader import rule
from wholefilm.rules.rows import volts_of_row

COUNT = 1_000_000
UM = np.random.default_rng(1).normal(900, 120, COUNT).clip(300, 2500)  # invented: mean 900 um, s 120 um
PLACE = np.arange(COUNT) % 40
NAMES = [f"place {n}" for n in range(40)]


def test_a_million_readings_to_voltage_areas() -> None:
    shown = {}
    ways = {
        "by a rule": lambda: allowed_by_rule(rule("SP0274/um"), UM, 0.20),
        "by a rule, with the gauge's uncertainty": lambda: allowed_by_rule(rule("SP0274/um"), UM, 0.20, gauge_um=20),
        "by the model": lambda: allowed_by_model(UM, 1.0, Strength(20, 1, 0.2, 0.5, "invented")),
    }
    for name, way in ways.items():

        def run(name: str = name, way: object = way) -> None:
            low, high = way()
            shown[name] = voltage_areas(UM, PLACE, NAMES, low, high)

        took = best_of(3, run)
        found = shown[name]
        print(f"{name}: {len(found.settings)} settings, {found.unserved} readings allow none")
        tell(f"1,000,000 readings in 40 places to voltage areas, {name}", took, 2.0)


def test_a_rule_beside_numpys_square_root() -> None:
    """No budget of the design: 20 times the bare square root is the floor held here."""
    floor = best_of(9, lambda: np.sqrt(UM))
    for name in ("SP0274/um", "CHINA-PIPE"):
        took = best_of(9, lambda name=name: volts_of_row(rule(name), UM))
        print(f"{name}: {1000 * took:.1f} ms, numpy sqrt {1000 * floor:.1f} ms")
        tell(f"rule {name} on 1,000,000 thicknesses", took / floor, 20, "times a bare numpy sqrt")


def test_the_shelf_from_disk() -> None:
    """Every rule and limit read in a fresh program: under 50 ms."""
    code = "import time, wholefilm.rules as r; t = time.perf_counter(); r.load(); r.load_limits(); print(time.perf_counter() - t)"
    words, env = [sys.executable, "-c", code], {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"}
    runs = [subprocess.run(words, capture_output=True, text=True, check=True, env=env).stdout for _ in range(5)]
    tell("all rules and limits read from disk", min(float(run) for run in runs), 0.05)
