"""A large site judged: 5,000 panels and 10,000 holidays, a fifth of them repaired."""

from __future__ import annotations

from site_of_joints import large_site
from timing import best_of, tell

from wholefilm.job.fold import fold
from wholefilm.proof.assessment import assess


class Bytes:
    """Nothing lies beside the record."""

    def has(self, sha: str) -> bool:
        return True

    def get(self, sha: str) -> bytes | None:
        return None


def test_assess_10000_holidays_on_5000_panels() -> None:
    job = fold(large_site(5000, 2, 1000).entries, Bytes())
    standing = assess(job)
    assert (len(standing.panels), len(standing.holidays), len(standing.repairs)) == (5000, 10_000, 1000)
    assert sum(p.checked_m2 for p in standing.panels) > 0.99 * sum(p.total_m2 for p in standing.panels)
    tell("10,000 holidays on 5,000 panels assessed", best_of(2, lambda: assess(job)), 2.0)
