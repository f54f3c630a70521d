"""Version 1 of the bodies that grew a version 2: as first written, and the base of the newer ones. Never changed."""

from __future__ import annotations

from typing import Annotated, Literal

from msgspec import Meta

from .common import (
    At,
    Body,
    Duration,
    Freeform,
    Id,
    Ids,
    Length,
    Names,
    Nth,
    Part,
    Place,
    Pressure,
    Reading,
    Resistance,
    Share,
    SurfaceClass,
    Temperature,
    Text,
    Voltage,
)


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


class QuestionRaised(Body, kw_only=True, frozen=True):
    """A question in writing."""

    number: Text
    to: Names
    about: Text
    text: Text
