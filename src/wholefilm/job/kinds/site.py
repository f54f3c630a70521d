"""Kinds of the site: item, coating, tests, holidays, repairs, retests."""

from __future__ import annotations

from typing import Annotated, Literal

from msgspec import Meta

from . import first
from .common import (
    Area,
    At,
    Body,
    Count,
    Duration,
    Freeform,
    Id,
    Ids,
    Length,
    Names,
    Nth,
    Part,
    Piece,
    Place,
    Sha,
    SurfaceClass,
    Temperature,
    Text,
    Voltage,
)


class ItemAdded(Body, kw_only=True, frozen=True):
    """The item: shape, datum, dimensions, features, test areas, panels."""

    item: Text
    shape: Text
    datum: Text
    dimensions: Freeform
    features: list[Freeform]
    test_areas: list[Freeform]
    panels: Freeform | list[Freeform]
    openings_deducted: bool
    as_built: Text | None = None


class AreaNotInScope(Body, kw_only=True, frozen=True):
    """A panel, or a piece of it, that the contract leaves out."""

    panel: Text
    clause: Text
    reason: Text
    piece: Piece | None = None


class CureRow(first.CureRow, rename={"for_": "for"}, kw_only=True, frozen=True):
    """One row of the coating maker's table, as entered: the shortest wait, the longest, and before what."""

    longest: Duration | None = None
    for_: Literal["test", "retest", "recoat", "service"] | None = None


class SystemSet(first.SystemSet, kw_only=True, frozen=True):
    """The coating system of some test areas, what its maker wrote, and whether it was ever immersed."""

    cure_table: list[CureRow] | None = None  # type: ignore[assignment]
    immersed: Literal["never", "once", "unknown"] | None = None


class CoatApplied(first.CoatApplied, kw_only=True, frozen=True):
    """A coat: batch, areas, applicator, thinner, steel; `climate` where it was read."""

    steel: Temperature | None = None
    thinner: Text | None = None


class SurfaceInspected(first.SurfaceInspected, kw_only=True, frozen=True):
    """The surface as seen before a test: dry, clean, solvent, how it was dried."""

    solvent: bool | None = None
    rinsed: bool | None = None
    dried: Text | None = None


class ThicknessRead(first.ThicknessRead, rename={"class_": "class"}, kw_only=True, frozen=True):
    """Gauge readings of one spot. `base_metal` or `correction` is taken off them, never both."""

    base_metal: Length | None = None
    uncertainty: Length | None = None


class ReadingsLoaded(Body, kw_only=True, frozen=True):
    """A file of readings, kept as it came; `columns` maps our names to the file's."""

    blob: Sha
    columns: Freeform
    units: Freeform
    rows: Count
    about: Text


class RowsSetAside(Body, kw_only=True, frozen=True):
    """Rows of a loaded file that do not count, and why."""

    of: Id
    rows: Annotated[list[int], Meta(min_length=1)]
    reason: Text


class PanelStarted(first.PanelStarted, kw_only=True, frozen=True):
    """The electrode is set on a panel; for a wet sponge, with which liquid."""

    liquid: Text | None = None
    dose: Text | None = None


class PanelTested(Body, kw_only=True, frozen=True):
    """A panel was tested: all of it, or all but some pieces."""

    panel: Text
    started: Id
    all: bool | None = None
    but: list[Piece] | None = None
    exposure_consent: Id | None = None


class LogLoaded(Body, kw_only=True, frozen=True):
    """A rig's own log, kept as it came."""

    blob: Sha
    columns: Freeform
    units: Freeform
    rows: Count
    panels: Names


class AreaNotReached(Body, kw_only=True, frozen=True):
    """A piece of a panel that could not be reached, and why."""

    panel: Text
    piece: Piece
    reason: Text


class AreaDisturbed(Body, kw_only=True, frozen=True):
    """A tested panel, or a piece of it, was disturbed after its test."""

    panel: Text
    by_what: Text
    piece: Piece | None = None


class IndicationRaised(Body, kw_only=True, frozen=True):
    """The tester spoke. `retest` names the repair whose retest raised it."""

    number: Text
    panel: Text
    place: Place | None = None
    precision: Length | None = None
    read_voltage: Voltage | None = None
    retest: Id | None = None


class IndicationFalse(Body, kw_only=True, frozen=True):
    """An indication decided false: why, and what was tried."""

    indication: Id
    reason: Text
    tried: Text


class HolidayConfirmed(Body, rename={"class_": "class"}, kw_only=True, frozen=True):
    """An indication is a holiday, at its place."""

    indication: Id
    place: Place
    class_: SurfaceClass
    local_thickness: Length | None = None
    size: Text | None = None


class RepairPlanned(Body, rename={"class_": "class"}, kw_only=True, frozen=True):
    """A repair: the holidays it covers, its class, procedure and outline."""

    number: Text
    holidays: Ids
    class_: Text
    procedure: Text
    outline: Annotated[list[Freeform], Meta(min_length=1)]


class Extent(Part, kw_only=True, frozen=True):
    """The size of a prepared spot: length by width, or an area."""

    length: Length | None = None
    width: Length | None = None
    area: Area | None = None


class RepairCoat(Part, kw_only=True, frozen=True):
    """One coat of a repair."""

    batch: Text
    at: At
    climate: Id | None = None


class RepairDone(Body, kw_only=True, frozen=True):
    """A repair as done, the nth time."""

    repair: Id
    nth: Nth
    preparation: Text
    bare: Extent
    feather: Length
    coats: Annotated[list[RepairCoat], Meta(min_length=1)]
    applicator: Text
    mark_removed: bool


class RetestDone(first.RetestDone, kw_only=True, frozen=True):
    """Retest 1, 2 ... of a repair; `indications` empty means none raised."""

    liquid: Text | None = None
    dose: Text | None = None


class Burn(Part, kw_only=True, frozen=True):
    """A burn found: its wall number and place."""

    number: Text
    place: Place


class BurnInspected(Body, kw_only=True, frozen=True):
    """Panels looked over for burns after a check read high."""

    panels: Names
    found: list[Burn]
