"""Large records: read, verify, order and fold."""

from __future__ import annotations

import pytest
from book import large_job
from timing import best_of, tell

from wholefilm.job.fold import fold_ordered
from wholefilm.ledger.jobfile import examine, write_jobfile


class AllHere:
    """Every photo is said to be here, so that only the record is measured."""

    def has(self, sha: str) -> bool:
        return True

    def get(self, sha: str) -> bytes | None:
        return None


@pytest.mark.parametrize(("count", "budget", "times"), [(20_000, 0.4, 5), (200_000, 5.0, 2)])
def test_read_verify_order_fold(count: int, budget: float, times: int) -> None:
    data = write_jobfile(large_job(count))

    kept: list[object] = []  # a program that ends frees nothing, so freeing is not measured

    def act() -> None:
        found, _ = examine(data)
        job = fold_ordered(found.ordered, AllHere())
        kept[:] = [found, job]

    act()
    kept.clear()
    assert not examine(data)[1]
    assert fold_ordered(examine(data)[0].ordered, AllHere()).entries == count

    seconds = min(best_of(1, act) for _ in range(times) if kept.clear() is None)
    tell(f"{count:,} entries ({len(data) // count} bytes each) read, verified, ordered and folded", seconds, budget)
