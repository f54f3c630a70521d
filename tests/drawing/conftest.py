"""The demo job at three times, and one small part in every state."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from itertools import pairwise

import pytest

from wholefilm.demo import north_basin
from wholefilm.job.fold import fold
from wholefilm.ledger.blobs import MemoryBlobs
from wholefilm.ledger.order import as_of
from wholefilm.proof.assessment import assess
from wholefilm.proof.states import Standing
from wholefilm.sheets.maps import MapFeature, MapLine, MapMark, MapPanel, MapRepair, PartMap


@pytest.fixture(scope="session")
def standing_at() -> Callable[[str], Standing]:
    """How the demo stood at a time on site; at its end if the time is empty."""
    demo, blobs = north_basin.build(), MemoryBlobs()
    for content in demo.blobs.values():
        blobs.put(content)

    @cache
    def at(time: str) -> Standing:
        entries = as_of(demo.entries, time=f"{time}:00.000+02:00") if time else demo.entries
        return assess(fold(entries, blobs))

    return at


@pytest.fixture
def every_state() -> PartMap:
    """A pipe's outside of 20 m by 4 m: six panels in the six states, one of them through 0 deg, and the six marks."""
    words = ["checked before and after", "awaiting its end check", "in doubt", "not reached", "not in scope", "not yet tested"]
    keys = ["checked", "awaiting", "doubt", "not_reached", "not_in_scope", "not_yet"]
    edges = [1.0, 4.0, 8.0, 11.0, 14.0, 17.0]
    panels = [
        MapPanel(f"P-{k + 1}", keys[k], words[k], "no <scaffold> & rope" if k == 3 else "", [[(a, 0.0), (b, 0.0), (b, 4.0), (a, 4.0)]])
        for k, (a, b) in enumerate(pairwise(edges))
    ]
    last = [[(17.0, 0.0), (20.0, 0.0), (20.0, 4.0), (17.0, 4.0)], [(0.0, 0.0), (1.0, 0.0), (1.0, 4.0), (0.0, 4.0)]]
    panels.append(MapPanel("P-6", keys[5], words[5], "", last))  # type: ignore[arg-type]
    kinds = ["indication", "holiday", "repaired", "closed", "false", "retest"]
    return PartMap(
        "I1", "outside", "strip", "Outside, <developed>", 20.0, 0.0, 20.0, 0.0, 4.0, panels,
        [MapLine("G1", "girth", [(0.0, 2.0), (20.0, 2.0)])],
        [MapFeature("M1", "manway", 9.5, 2.0, 0.3), MapFeature("ladder", "ladder", 15.0, None, None)],
        [MapMark(kind, f"A{k + 1}", 2.0 + 3 * k, 1.0) for k, kind in enumerate(kinds)],
        [MapRepair("R-1", "open", [[(7.6, 0.6), (8.4, 0.6), (8.4, 1.4), (7.6, 1.4)]])],
    )  # fmt: skip
