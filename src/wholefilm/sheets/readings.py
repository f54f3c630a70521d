"""Readings: film thickness by test area and class."""

from __future__ import annotations

from typing import Annotated

import msgspec

from wholefilm.base.findings import count_of
from wholefilm.film.readings import CLASSES
from wholefilm.film.result import Number, ThicknessResult
from wholefilm.film.statistics import thickness_statistics
from wholefilm.proof.site import Site
from wholefilm.proof.states import Requirement, Standing
from wholefilm.proof.thickness import Thickness

from .rows import Row, Table, head, table

END = 1 << 62


class ThicknessRow(Row, frozen=True, kw_only=True):
    """Spots of one class in one test area."""

    test_area: Annotated[str, head("Test area")]
    class_: Annotated[str, head("On")]
    spots: Annotated[int, head("Spots", True)]
    mean_um: Annotated[str, head("Mean µm", True)]
    sd_um: Annotated[str, head("s µm", True)]
    min_um: Annotated[str, head("Min µm", True)]
    max_um: Annotated[str, head("Max µm", True)]
    due: Annotated[str, head("Due in the area")]
    rule: Annotated[str, head("Rule")]
    finding: Annotated[str, head("Finding")]
    because: str


class SpotDot(msgspec.Struct, frozen=True):
    """A spot at its place, for drawing. [m, um]"""

    on: str
    u: float
    v: float
    um: float
    class_: str
    test_area: str


class ReadingsSheet(msgspec.Struct, frozen=True):
    """Film thickness."""

    thickness: list[ThicknessRow]
    spots: list[SpotDot]

    def tables(self) -> list[Table]:
        """The sheet as tables."""
        return [
            table("Film thickness", ThicknessRow, self.thickness, "no reading"),
        ]


def readings_sheet(standing: Standing) -> ReadingsSheet:
    """Readings of a standing."""
    job = standing.job
    thickness = Thickness(job, Site(job), standing.requirements)
    order = {name: n for n, name in enumerate(dict.fromkeys(p.test_area for p in standing.panels))}
    rows = []
    groups = thickness.groups()
    for (area, class_), values in sorted(groups.items(), key=lambda x: (order.get(x[0][0], 999), x[0][0], CLASSES.index(x[0][1]))):
        s = thickness_statistics(values)
        held = thickness.results(area, class_, END)
        said = [_said(thickness, r, x, area, class_, {c for a, c in groups if a == area}) for r, x in held]
        rows.append(
            ThicknessRow(
                test_area=area,
                class_=class_,
                spots=s.n,
                mean_um=f"{s.mean_um:.0f}",
                sd_um=f"{s.sd_um:.0f}",
                min_um=f"{s.min_um:.0f}",
                max_um=f"{s.max_um:.0f}",
                due="; ".join(dict.fromkeys(_due(x.due) for _, x in held if _due(x.due))),
                rule="; ".join(f"{r.source.document} {r.source.clause}".strip() for r, _ in held),
                finding="; ".join(finding for finding, _ in said),
                because="; ".join(because for _, because in said),
            )
        )
    dots = [
        SpotDot(x.on, round(x.first, 3), round(x.second, 3), round(x.um, 1), x.class_, x.test_area)
        for x in thickness.dots()
        if x.first is not None and x.second is not None
    ]
    return ReadingsSheet(rows, dots)


def _said(thickness: Thickness, rule: Requirement, result: ThicknessResult, area: str, class_: str, there: set[str]) -> tuple[str, str]:
    """Finding and reason for one class: by itself where the rule judges several classes of the area together, then what they give."""
    together = [c for c in rule.rule.classes if c in there]
    whole = result.outcome.value.replace("_", " ")
    if len(together) < 2:
        return whole, result.because
    alone, names = thickness.alone(rule, area, class_, END), f"{', '.join(together[:-1])} and {together[-1]}"
    return (
        f"{alone.outcome.value.replace('_', ' ')} on {class_}; {whole} on {names} together",
        f"{class_}: {alone.because}; {names} together: {result.because}",
    )


def _due(due: Number) -> str:
    """How many a rule asks for in the test area, its classes together."""
    return ", ".join(count_of(n, what) for n, what in ((due.areas, "area"), (due.spots, "spot"), (due.readings, "reading")) if n)
