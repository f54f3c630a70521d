"""Kinds of what stands around a test: instruments and their checks, climate, cure, ground, made holidays, permissions."""

from __future__ import annotations

from typing import Literal

from . import first
from .common import At, Body, Id, Names, Share, Temperature, TemperatureDifference, Text

Topic = Literal[
    "ignition_source",
    "gas",
    "oxygen",
    "toxics",
    "entry",
    "other_face_clear",
    "cathodic_protection_off",
    "instruments_disconnected",
    "device_allowed",
    "isolation",
    "other",
]


class InstrumentAdded(first.InstrumentAdded, kw_only=True, frozen=True):
    """An instrument, or a device that verifies one: what it is, range, certificate, its date and the due date."""

    serial: Text | None = None
    uncertainty: Text | None = None
    certified: At | None = None


class InstrumentChanged(Body, kw_only=True, frozen=True):
    """Something was changed on an instrument, which asks for a check."""

    instrument: Text
    what: Literal["electrode", "extension", "lead", "battery", "charged", "adjusted", "repaired", "dropped"]


class InstrumentChecked(first.InstrumentChecked, kw_only=True, frozen=True):
    """One reading of a field check, as found or as left; with which verification device, and where."""

    verified_with: Text | None = None
    place: Text | None = None


class ClimateRead(first.ClimateRead, kw_only=True, frozen=True):
    """Air, humidity and surface at one place and time; uncertainties as stated for the instruments, and how the wet bulb was read."""

    air_uncertainty: TemperatureDifference | None = None
    rh_uncertainty: Share | None = None
    wet_bulb_uncertainty: TemperatureDifference | None = None
    surface_uncertainty: TemperatureDifference | None = None
    psychrometer: Literal["wmo", "ams"] | None = None
    psychrometer_class: Literal["aspirated", "aspirated_fine", "sling"] | None = None
    wick: Literal["water", "ice"] | None = None


class CureReleased(Body, kw_only=True, frozen=True):
    """A named person releases areas or repairs for test by a row of the maker's table."""

    about: Names
    table_row: Text
    last_coat_at: At
    steel: Temperature
    by: Id


class GroundChecked(first.GroundChecked, kw_only=True, frozen=True):
    """A ground point proved to another place, or found open; which test areas, panels or bays hang on it."""

    serves: Names | None = None
    found: Literal["continuous", "open"] | None = None


class MadeHolidayMade(first.MadeHolidayMade, kw_only=True, frozen=True):
    """A holiday made on purpose, with consent, ours to repair and retest; with what the found voltage was found."""

    instrument: Text | None = None
    electrode: Text | None = None
    lead: Text | None = None
    ground: Text | None = None
    sparked_every_time: bool | None = None


class PermitNoted(first.PermitNoted, kw_only=True, frozen=True):
    """A permission or reading of the site, as its own people wrote it; what it covers (the whole job where nothing is named)."""

    topic: Topic
    covers: Names | None = None
    device: Text | None = None


class PermitStopped(Body, kw_only=True, frozen=True):
    """What stops a permission happened: there is none until the site notes a new one."""

    permit: Id
    why: Text
    by: Text
