"""Thickness readings of the demo job penstock: 192 spots in one file. Invented."""

from __future__ import annotations

from ..spread import mixed, sample
from .tables import CANS, TABLE

COLUMNS = {"test_area": "can", "class": "class", "on": "can", "first": "arc_m", "second": "along_m", "value": "dft_um"}
UNITS = {"first": "m", "second": "m", "value": "um"}
_ROUND = 6.283185307179586
_ARC_OF_SEAM = _ROUND * 45 / 360


def readings_csv() -> bytes:
    """The file: spots of body, weld and ends of every can, places in map coordinates. [m, um]"""
    rows = ["spot,can,class,arc_m,along_m,dft_um"]
    for class_, mean, sd, low, high, count in TABLE:
        values = sample(mean, sd, low, high, count)
        if class_ != "edge":  # each can gets its share of thin and thick ends; the rest is mixed
            values = mixed(values, f"penstock/{class_}")
        each = count // len(CANS)
        for n, value in enumerate(values):
            can, k = CANS[n % len(CANS)], n // len(CANS)
            share = (k + 0.5) / each
            if class_ == "weld":
                arc, along = _ARC_OF_SEAM, 2.5 * share
            elif class_ == "edge":
                arc, along = _ROUND * share, 0.02 if k % 2 else 2.48
            else:
                arc, along = _ROUND * ((0.31 + 0.618 * k) % 1), 0.25 + 2.0 * share
            rows.append(f"{len(rows)},{can},{class_},{arc:.3f},{along:.3f},{value}")
    return ("\n".join(rows) + "\n").encode()
