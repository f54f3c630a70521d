"""A demo job as it stood at a time, for the tests of its figures."""

from __future__ import annotations

from collections import Counter
from functools import cache

import pytest

from wholefilm.demo import DEMOS, Demo
from wholefilm.job.fold import fold
from wholefilm.ledger.order import as_of
from wholefilm.proof.assessment import assess
from wholefilm.proof.states import Standing


class Kept:
    """The bytes beside a demo."""

    def __init__(self, demo: Demo) -> None:
        self._blobs = demo.blobs

    def has(self, sha: str) -> bool:
        return sha in self._blobs

    def get(self, sha: str) -> bytes | None:
        return self._blobs.get(sha)


@cache
def demo(name: str) -> Demo:
    """A demo, written once for all tests."""
    return DEMOS[name]()


@cache
def stand(name: str, time: str = "", offset: str = "+02:00") -> Standing:
    """How a demo stands at a time of its site, such as ``2025-10-08T20:00``; at its end if none is named."""
    one = demo(name)
    entries = as_of(one.entries, time=f"{time}:00.000{offset}") if time else one.entries
    return assess(fold(entries, Kept(one)))


def holds(standing: Standing, areas: tuple[float, float, float, float, float], holidays: tuple[int, int, int, int, int]) -> None:
    """Tested, checked, awaiting, in doubt, not yet tested [m2, to 0.05]; confirmed, open, repaired, closed, false."""
    names = ("tested_m2", "checked_m2", "awaiting_m2", "in_doubt_m2", "not_yet_tested_m2")
    assert [standing.sum_m2(n) for n in names] == pytest.approx(list(areas), abs=0.05)
    words = Counter(h.word.value for h in standing.holidays)
    false = sum(1 for i in standing.indications if i.false is not None)
    assert (len(standing.holidays), words["open"], words["repaired"], words["closed"], false) == holidays


def in_doubt(standing: Standing) -> list[str]:
    """Names of panels in doubt."""
    return [p.name for p in standing.panels if p.word.value == "in doubt"]


def unmet(standing: Standing) -> set[str]:
    """Clauses that are not met or cannot be told."""
    return {f.rule.clause for f in standing.findings if f.finding.value != "met"}


def barring(standing: Standing) -> set[str]:
    """Short names of the exceptions that bar."""
    return {line.what for line in standing.lines if line.bars}
