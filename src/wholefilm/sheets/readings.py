"""Readings: film thickness by test area and class, and the climate in three lines each."""

from __future__ import annotations

from typing import Annotated

import msgspec

from wholefilm.base.errors import OutOfRange
from wholefilm.base.quantity import quantity
from wholefilm.base.times import clock
from wholefilm.climate.dew_point import dew_point_wmo_c
from wholefilm.film.readings import SpotReading
from wholefilm.film.statistics import thickness_statistics
from wholefilm.proof.requirements import requirements
from wholefilm.proof.site import Site
from wholefilm.proof.states import Standing
from wholefilm.proof.thickness import Thickness

from .rows import Row, Table, head, table


class ThicknessRow(Row, frozen=True, kw_only=True):
    """Spots of one class in one test area."""

    test_area: Annotated[str, head("Test area")]
    class_: Annotated[str, head("On")]
    spots: Annotated[int, head("Spots", True)]
    mean_um: Annotated[str, head("Mean µm", True)]
    sd_um: Annotated[str, head("s µm", True)]
    min_um: Annotated[str, head("Min µm", True)]
    max_um: Annotated[str, head("Max µm", True)]


class ClimateRow(Row, frozen=True, kw_only=True):
    """One reading of the climate."""

    when: Annotated[str, head("When")]
    place: Annotated[str, head("Where")]
    air: Annotated[str, head("Air")]
    humidity: Annotated[str, head("RH or wet bulb")]
    surface: Annotated[str, head("Surface")]
    dew_point: Annotated[str, head("Dew point")]
    spread: Annotated[str, head("Spread")]
    corrected: Annotated[bool, head("Corrected")]


class SpotDot(msgspec.Struct, frozen=True):
    """A spot at its place, for drawing. [m, um]"""

    on: str
    u: float
    v: float
    um: float
    class_: str
    test_area: str


class ReadingsSheet(msgspec.Struct, frozen=True):
    """Thickness and climate."""

    thickness: list[ThicknessRow]
    climate: list[ClimateRow]
    spots: list[SpotDot]
    dew_point_source: str = "dew point: Magnus formula, WMO-No. 8 Annex 4.B, over water [restated]"

    def tables(self) -> list[Table]:
        """The sheet as tables."""
        return [
            table("Film thickness", ThicknessRow, self.thickness, "no reading"),
            table("Climate", ClimateRow, self.climate, "no reading"),
        ]


def readings_sheet(standing: Standing) -> ReadingsSheet:
    """Readings of a standing."""
    job = standing.job
    thickness = Thickness(job, Site(job), requirements(job))
    groups: dict[tuple[str, str], list[SpotReading]] = {}
    for _, spot in thickness.spots:
        groups.setdefault((spot.test_area, spot.class_), []).append(spot)
    order = {name: n for n, name in enumerate(dict.fromkeys(p.test_area for p in standing.panels))}
    rows = []
    for (area, class_), spots in sorted(
        groups.items(), key=lambda x: (order.get(x[0][0], 999), x[0][0], ("flat", "weld", "edge", "corner", "pit").index(x[0][1]))
    ):
        s = thickness_statistics([x.thickness.to("um") for x in spots])
        rows.append(
            ThicknessRow(
                test_area=area,
                class_=class_,
                spots=s.n,
                mean_um=f"{s.mean_um:.0f}",
                sd_um=f"{s.sd_um:.0f}",
                min_um=f"{s.min_um:.0f}",
                max_um=f"{s.max_um:.0f}",
            )
        )
    dots = [
        SpotDot(x.on, round(x.first, 3), round(x.second, 3), round(x.thickness.to("um"), 1), x.class_, x.test_area)
        for _, x in thickness.spots
        if x.first is not None and x.second is not None
    ]
    return ReadingsSheet(rows, _climate(standing), dots)


def _climate(standing: Standing) -> list[ClimateRow]:
    rows = []
    for f in sorted(standing.job.all("climate.read"), key=lambda f: (f.start, f.rank)):
        b = f.body
        dew = spread = ""
        if b.rh is not None:
            try:
                td = dew_point_wmo_c(quantity(b.air, "temperature").to("degC"), quantity(b.rh, "share").to("%"))
                dew, spread = f"{td:.1f} degC", f"{quantity(b.surface, 'temperature').to('degC') - td:.1f} K"
            except OutOfRange as error:
                dew = f"outside {error.allowed}"
        rows.append(
            ClimateRow(
                when=clock(f.when),
                place=b.place,
                air=b.air,
                humidity=b.rh or (f"wet bulb {b.wet_bulb}" if b.wet_bulb else ""),
                surface=b.surface,
                dew_point=dew,
                spread=spread,
                corrected=bool(f.corrected_by),
            )
        )
    return rows
