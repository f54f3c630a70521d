"""Kinds of the voltage: the question to engineer and coating maker, and the sheet that their answer becomes."""

from __future__ import annotations

from typing import Annotated, Literal

from msgspec import Meta

from . import first, second
from .common import Frequency, Id, Length, Names, Part, Reading, Setting, Share, Speed, Text, Voltage


class Beside(Part, kw_only=True, frozen=True):
    """One cited rule as it was worked out for one thickness: a voltage, or why it gives none."""

    rule: Text
    edition: Text
    grade: Text
    basis: Text
    thickness: Length
    voltage: Voltage | None = None
    to: Voltage | None = None
    refused: Text | None = None


class FilmThickness(Part, kw_only=True, frozen=True):
    """One thickness of a film and what it means: minimum, nominal, mean, maximum, expected maximum."""

    basis: Text
    thickness: Length


class Asked(Part, kw_only=True, frozen=True):
    """What a question about a voltage asks for: test areas, stage, film, and the cited rules side by side."""

    test_areas: Names
    stage: Text
    film: list[FilmThickness]
    beside: list[Beside]


class QuestionRaised(first.QuestionRaised, kw_only=True, frozen=True):
    """A question in writing; `voltage` where it asks which voltage to set."""

    voltage: Asked | None = None


class Steps(Part, kw_only=True, frozen=True):
    """Range and step of the tester as entered, and which way the chosen value is brought onto a step."""

    step: Reading
    rounded: Literal["up", "down"]
    low: Reading | None = None
    high: Reading | None = None


class Pulses(Part, kw_only=True, frozen=True):
    """Pulse rate of the tester, contact length of the electrode along its travel, speed of travel."""

    rate: Frequency
    contact: Length
    speed: Speed


class FoundVoltage(Part, kw_only=True, frozen=True):
    """The voltage found on a made holiday in one ground zone."""

    zone: Text
    voltage: Voltage
    made_holiday: Id


class SiteAnswers(Part, kw_only=True, frozen=True):
    """What the site's own people answered to each caution, and who answered. Nothing of it is judged here."""

    by: Text
    ignition: Text | None = None
    operators: Text | None = None
    implants: Text | None = None
    charge: Text | None = None
    other_face: Text | None = None
    company: Text | None = None
    leads: Text | None = None
    devices: Text | None = None
    ozone: Text | None = None


class VoltageSet(second.VoltageSet, kw_only=True, frozen=True):
    """The sheet of some test areas: what was chosen and how the tester is set, for which film, system and surface, and who agreed."""

    chosen: Setting | None = None
    steps: Steps | None = None
    tolerance: Share | None = None
    tolerance_source: Text | None = None
    pulses: Pulses | None = None
    surface: Literal["dry", "wet"] | None = None
    found: Annotated[list[FoundVoltage], Meta(min_length=1)] | None = None
    site: SiteAnswers | None = None
    question: Id | None = None
    beside: list[Beside] | None = None
