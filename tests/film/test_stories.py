"""Thickness of the five demo stories: each sample, read from a file, has the mean, s, least and largest that its story prints.

The stories and their figures are inventions for data; they are typed by hand here. Samples are whole steps: 1 um for the
tank and the cans, 10 um for the thick linings. Two places of the stories print no ends and no number, so nothing is made for them.
"""

from __future__ import annotations

import pytest

from wholefilm.demo.spread import sample
from wholefilm.film.readings import read_columns
from wholefilm.film.statistics import thickness_statistics

TABLE = [
    # story and place, unit of the file, mean, s, least, largest, number
    ("river crossing, sleeves", "mm", 2, 3.02, 0.16, 2.60, 3.40, 80),
    ("river crossing, bored joints", "um", 0, 905, 88, 710, 1090, 16),
    ("acid store, bays", "mm", 2, 3.05, 0.34, 2.35, 3.92, 60),
    ("acid store, kerb", "mm", 2, 2.88, 0.41, 2.10, 3.70, 20),
    ("acid store, plinth edges", "mm", 2, 1.92, 0.37, 1.20, 2.60, 16),
    ("leach vessel, sheet", "mm", 2, 6.10, 0.35, 5.20, 7.00, 30),
    ("penstock, body", "um", 0, 285, 38, 205, 392, 96),
    ("penstock, weld", "um", 0, 240, 40, 150, 330, 48),
    ("penstock, ends", "um", 0, 205, 35, 110, 280, 48),
    ("tank, column", "um", 0, 790, 70, 640, 930, 10),
]


@pytest.mark.parametrize(("story", "unit", "digits", "mean", "sd", "low", "high", "count"), TABLE, ids=lambda x: str(x))
def test_each_story(story: str, unit: str, digits: int, mean: float, sd: float, low: float, high: float, count: int) -> None:
    steps = 10**digits
    made = sample(mean * steps, sd * steps, round(low * steps), round(high * steps), count)
    lines = "".join(f"A,flat,{value / steps:.{digits}f}\n" for value in made)
    data = f"test_area,class,value\n{lines}".encode()
    spots = read_columns(data, {n: n for n in ("test_area", "class", "value")}, {"value": unit})
    found = thickness_statistics(spots.values_um)
    um = 1000 if unit == "mm" else 1
    assert found.n == count
    assert (found.min_um, found.max_um) == pytest.approx((low * um, high * um))
    assert found.mean_um / um == pytest.approx(mean, abs=0.5 / steps)
    assert found.sd_um / um == pytest.approx(sd, abs=0.5 / steps)
