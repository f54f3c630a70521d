"""Voltage areas of a job: the fewest settings that serve its readings, by places that an inspector can find."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Annotated

import msgspec

from wholefilm.base.errors import BadInput
from wholefilm.plan.areas import PlaceServed, Stretch, voltage_areas
from wholefilm.plan.side import kilovolts
from wholefilm.proof.site import Site
from wholefilm.proof.states import Standing
from wholefilm.proof.thickness import Thickness
from wholefilm.surface.cylinder import Cylinder

from .rows import Row, Table, head, table

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

_BANDS = {"flat": "flat", "weld": "weld band", "edge": "edges", "corner": "corners", "pit": "pits"}


class SettingRow(Row, frozen=True, kw_only=True):
    """One setting: a stretch of voltages, none of which is preferred."""

    name: Annotated[str, head("Setting")]
    stretch: Annotated[str, head("Any voltage from, to")]
    places: Annotated[int, head("Places", True)]
    readings: Annotated[int, head("Readings", True)]


class PlaceRow(Row, frozen=True, kw_only=True):
    """One place and what serves it."""

    place: Annotated[str, head("Place")]
    readings: Annotated[int, head("Readings", True)]
    film: Annotated[str, head("Film µm", True)]
    allows: Annotated[str, head("All its readings allow")]
    settings: Annotated[str, head("Served by")]
    unserved: Annotated[str, head("Allow none", True)]


class AreasSheet(msgspec.Struct, frozen=True):
    """Voltage areas.

    Attributes
    ----------
    says : list of str
    settings : list of Stretch
    places : list of PlaceServed
    unserved, fewest : int
        Readings that allow no voltage; settings that would do if readings could be told apart wherever they lie.
    """

    says: list[str]
    settings: list[Stretch]
    places: list[PlaceServed]
    unserved: int
    fewest: int

    def tables(self) -> list[Table]:
        """The sheet as tables."""
        rows = [
            SettingRow(name=s.name, stretch=f"{kilovolts(s.low_v)} to {kilovolts(s.high_v)}", places=s.places, readings=s.readings)
            for s in self.settings
        ]
        return [
            table("Settings", SettingRow, rows, "no reading allows a voltage"),
            table("Places", PlaceRow, [_place(p) for p in self.places], "no reading"),
        ]


def areas_sheet(standing: Standing, allowed: Callable[[Floats], tuple[Floats, Floats]], how: str) -> AreasSheet:
    """Voltage areas of the readings of a job.

    Parameters
    ----------
    standing : Standing
    allowed : function
        Thicknesses, shape (n,) [um], to the voltages that each allows, low and high [V].
    how : str
        What was asked, for a reader.

    Returns
    -------
    AreasSheet

    Raises
    ------
    BadInput
        If the job has no reading.
    """
    import numpy as np

    found = _by_place(standing)
    if not found:
        raise BadInput("JOB", "no reading", "a job with readings of film thickness")
    names = list(found)
    um = np.concatenate([np.asarray(values, dtype=np.float64) for values in found.values()])
    place = np.repeat(np.arange(len(names)), [len(v) for v in found.values()])
    low, high = allowed(um)
    areas = voltage_areas(um, place, names, low, high)
    says = [f"{um.size} readings in {len(names)} places; {how}."]
    says.append(f"{len(areas.settings)} settings serve them, place by place; {areas.fewest} if readings could be told apart anywhere.")
    if areas.unserved:
        says.append(f"{areas.unserved} readings allow no voltage at all: the rule gives none there, or floor lies over ceiling.")
    says.append("A proposal for the people who decide, and no setting; none inside a stretch is preferred.")
    return AreasSheet(says, areas.settings, areas.places, areas.unserved, areas.fewest)


def _by_place(standing: Standing) -> dict[str, list[float]]:
    """Readings by test area, part or course, and class. [um]"""
    site = Site(standing.job)
    thickness = Thickness(standing.job, site, standing.requirements)
    walls = {p.name: p for s in site.surfaces.values() for p in s.parts.values() if isinstance(p, Cylinder) and p.courses}
    found: dict[str, list[float]] = {}
    for dot in thickness.dots():
        where = dot.on if dot.on and dot.on != dot.test_area else ""
        course = walls[dot.on].course_at(dot.second) if dot.on in walls and dot.second is not None else None
        if course is not None:
            where = f"course {walls[dot.on].courses.index(course) + 1}"
        name = ", ".join(x for x in (dot.test_area, where, _BANDS.get(dot.class_, dot.class_)) if x)
        found.setdefault(name, []).append(dot.um)
    return found


def _place(p: PlaceServed) -> PlaceRow:
    both = f"{kilovolts(p.low_v)} to {kilovolts(p.high_v)}" if p.low_v is not None else "no one voltage: divide it, or decide"
    return PlaceRow(
        place=p.place,
        readings=p.readings,
        film=f"{p.least_um:.0f} to {p.greatest_um:.0f}",
        allows=both,
        settings=", ".join(p.settings) or "none",
        unserved=str(p.unserved) if p.unserved else "",
    )
