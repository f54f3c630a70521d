"""Kinds of the site: item, coating, instruments, tests, holidays, repairs, retests."""

from __future__ import annotations

from typing import Annotated, Literal

from msgspec import Meta

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
    Pressure,
    Resistance,
    Sha,
    Share,
    Temperature,
    Text,
    Voltage,
)

Reading = Annotated[str, Meta(min_length=1, description="a voltage or a resistance with its unit, or 'no alarm'")]
SurfaceClass = Literal["flat", "weld", "edge", "corner", "pit"]


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


class Layer(Part, kw_only=True, frozen=True):
    """One layer of a coating system."""

    name: Text
    conductive: Literal["yes", "no", "unknown"]
    nominal: Length | None = None
    min: Length | None = None
    max: Length | None = None


class CureRow(Part, kw_only=True, frozen=True):
    """One row of the coating maker's table, as entered."""

    row: Text
    what: Text
    steel: Temperature
    wait: Duration


class SystemSet(Body, kw_only=True, frozen=True):
    """The coating system of some test areas, and what its maker wrote."""

    test_areas: Names
    layers: list[Layer]
    cure_table: list[CureRow] | None = None
    maker_limits: Text | None = None
    recoat: Text | None = None


class CoatApplied(Body, kw_only=True, frozen=True):
    """A coat: batch, areas, applicator; `climate` where it was read."""

    test_areas: Names
    coat: Text
    batch: Text
    applicator: Text
    climate: Id | None = None


class SurfaceInspected(Body, kw_only=True, frozen=True):
    """The surface as seen before a test."""

    panels: Names
    dry: bool
    clean: bool
    overspray: bool
    old_water: bool


class InstrumentAdded(Body, kw_only=True, frozen=True):
    """An instrument: what it is, range, certificate and due date."""

    instrument: Text
    what: Text
    range: Text
    certificate: Text | None = None
    due: At | None = None
    electrodes: list[Text] | None = None
    leads: list[Text] | None = None
    step: Text | None = None


class InstrumentChanged(Body, kw_only=True, frozen=True):
    """Something was changed on an instrument, which asks for a check."""

    instrument: Text
    what: Literal["electrode", "extension", "lead", "battery", "charged", "adjusted", "repaired", "dropped"]


class InstrumentChecked(Body, kw_only=True, frozen=True):
    """One reading of a field check, as found or as left."""

    instrument: Text
    electrode: Text
    lead: Text
    means: Text
    set: Reading
    read: Reading
    tolerance: Share
    tolerance_source: Text
    occasion: Literal["before", "mid", "after", "change"]
    as_found: bool


class ClimateRead(Body, kw_only=True, frozen=True):
    """Air, humidity and surface at one place and time."""

    place: Text
    air: Temperature
    surface: Temperature
    instrument: Text
    rh: Share | None = None
    wet_bulb: Temperature | None = None
    pressure: Pressure | None = None


class ThicknessRead(Body, rename={"class_": "class"}, kw_only=True, frozen=True):
    """Gauge readings of one spot."""

    place: Place
    class_: SurfaceClass
    values: Annotated[list[Length], Meta(min_length=1)]
    gauge: Text
    correction: Length | None = None


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


class CureReleased(Body, kw_only=True, frozen=True):
    """A named person releases areas or repairs for test by a row of the maker's table."""

    about: Names
    table_row: Text
    last_coat_at: At
    steel: Temperature
    by: Id


class GroundChecked(Body, kw_only=True, frozen=True):
    """A ground point proved to another place, by resistance or by a spark."""

    point: Text
    to: Text
    instrument: Text
    value: Resistance | None = None
    proof: Text | None = None


class MadeHolidayMade(Body, kw_only=True, frozen=True):
    """A holiday made on purpose, with consent, ours to repair and retest."""

    number: Text
    place: Place
    zone: Text
    consent: Id
    found_voltage: Voltage | None = None


class PermitNoted(Body, kw_only=True, frozen=True):
    """A permission or reading of the site, as its own people wrote it."""

    what: Text
    by: Text
    until: At
    stops_when: Text
    value: Text | None = None


class Basis(Part, kw_only=True, frozen=True):
    """Which film thickness a voltage was chosen for."""

    what: Text
    low: Length | None = None
    high: Length | None = None
    readings: Id | None = None


class VoltageSet(Body, kw_only=True, frozen=True):
    """The voltage sheet of some test areas: rule, basis, setting, who agreed."""

    test_areas: Names
    system: Id
    stage: Text
    method: Text
    setting: Voltage
    basis: Basis
    rule: Freeform
    reason: Text
    agreed_by: Ids
    electrode: Text
    valid_until: Text
    liquid: Text | None = None


class PanelStarted(Body, kw_only=True, frozen=True):
    """The electrode is set on a panel."""

    panel: Text
    stage: Text
    instrument: Text
    electrode: Text
    lead: Text
    set: Reading


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


class RetestDone(Body, kw_only=True, frozen=True):
    """Retest 1, 2 ... of a repair; `indications` empty means none raised."""

    repair: Id
    nth: Nth
    stage: Text
    instrument: Text
    electrode: Text
    lead: Text
    set: Reading
    local_thickness: Length
    outline: Annotated[list[Freeform], Meta(min_length=1)]
    indications: list[Id]


class Burn(Part, kw_only=True, frozen=True):
    """A burn found: its wall number and place."""

    number: Text
    place: Place


class BurnInspected(Body, kw_only=True, frozen=True):
    """Panels looked over for burns after a check read high."""

    panels: Names
    found: list[Burn]
