"""Rates and unevenness: about the process, never about what was not found."""

from __future__ import annotations

from typing import Annotated

import msgspec

from wholefilm.base.findings import area_text
from wholefilm.proof.states import Standing
from wholefilm.proof.statistics import LEVEL, equal_pieces, rates

from .rows import Row, Table, head, table

FULL = (
    "All of it was tested: the number of holidays is a count of this surface, not an estimate. An interval is for comparing test areas; it "
    "tells of the process that made the film, not of holidays that were not found."
)
PART = (
    "Only a part was tested. The interval tells of the process that made the film; what was not tested is not yet tested, and no figure "
    "here stands for it."
)


class RateRow(Row, frozen=True, kw_only=True):
    """Rate of a test area."""

    test_area: Annotated[str, head("Test area")]
    tested_m2: Annotated[str, head("Tested m²", True)]
    holidays: Annotated[int, head("Holidays", True)]
    per_m2: Annotated[str, head("Per m²", True)]
    interval: Annotated[str, head("Interval of the process")]


class UnevenRow(Row, frozen=True, kw_only=True):
    """How uneven the counts on equal pieces are."""

    pieces: Annotated[str, head("Equal pieces")]
    each_m2: Annotated[str, head("Each m²", True)]
    holidays: Annotated[int, head("Holidays", True)]
    mean: Annotated[str, head("Mean", True)]
    index: Annotated[str, head("Variance over mean", True)]
    chi_square: Annotated[str, head("Chi-square")]
    p: Annotated[str, head("p", True)]
    says: Annotated[str, head("Says")]
    most: Annotated[str, head("Most on")]


class StatisticsSheet(msgspec.Struct, frozen=True):
    """Rates and unevenness."""

    says: str
    rates: list[RateRow]
    uneven: list[UnevenRow]

    def tables(self) -> list[Table]:
        """The sheet as tables."""
        return [
            table("Holidays per area", RateRow, self.rates, "no test area"),
            table("Equal pieces", UnevenRow, self.uneven, "no five equal pieces with a holiday"),
        ]


def statistics_sheet(standing: Standing) -> StatisticsSheet:
    """Statistics of a standing."""
    found = rates(standing)
    rows = [
        RateRow(
            test_area=r.test_area,
            tested_m2=area_text(r.tested_m2),
            holidays=r.holidays,
            per_m2=f"{r.holidays / r.tested_m2:.3f}" if r.tested_m2 > 0 else "",
            interval=f"{r.rate.low:.3f} to {r.rate.high:.3f} ({LEVEL:.0%}, exact)" if r.rate else "",
        )
        for r in found
    ]
    uneven = []
    for p in equal_pieces(standing):
        top = max(p.counts.values())
        d = p.dispersion
        uneven.append(
            UnevenRow(
                pieces=p.what,
                each_m2=f"{p.each_m2:.2f}",
                holidays=sum(p.counts.values()),
                mean=f"{sum(p.counts.values()) / len(p.counts):.3f}",
                index=f"{d.index:.2f}" if d else "",
                chi_square=f"{d.chi_square:.1f} on {d.degrees}" if d else "",
                p=_p(d.p) if d else "",
                says=_says(d.p) if d else "too few holidays to tell",
                most=", ".join(name for name, n in p.counts.items() if n == top)[:80] + f" ({top})",
            )
        )
    part = any(r.sample for r in found)
    return StatisticsSheet(PART if part else FULL, rows, uneven)


def _p(p: float) -> str:
    """Two significant digits, or ``under 0.0001``."""
    return "under 0.0001" if p < 0.0001 else f"{p:.2g}"


def _says(p: float) -> str:
    if p < 0.01:
        return "more uneven than chance: look for a common cause"
    return "as uneven as chance can give" if p > 0.05 else "near the border of what chance gives"
