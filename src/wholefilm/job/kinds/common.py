"""What the bodies of all kinds share: the fields any of them may carry, and the types of measured text."""

from __future__ import annotations

from typing import Annotated, Any, Literal

import msgspec
from msgspec import Meta


def _measured(dimension: str) -> Meta:
    return Meta(extra={"dimension": dimension}, description=f"{dimension.replace('_', ' ')}, text with a unit")


Length = Annotated[str, _measured("length")]
Voltage = Annotated[str, _measured("voltage")]
Temperature = Annotated[str, _measured("temperature")]
TemperatureDifference = Annotated[str, _measured("temperature_difference")]
Share = Annotated[str, _measured("share")]
Area = Annotated[str, _measured("area")]
Duration = Annotated[str, _measured("time")]
Pressure = Annotated[str, _measured("pressure")]
Resistance = Annotated[str, _measured("resistance")]
Frequency = Annotated[str, _measured("frequency")]
Speed = Annotated[str, _measured("speed")]
At = Annotated[str, Meta(extra={"time": True}, description="time with offset, YYYY-MM-DDThh:mm:ss.sss+hh:mm")]
Day = Annotated[str, Meta(pattern=r"^\d{4}-\d\d-\d\d$", description="calendar day, YYYY-MM-DD")]
Sha = Annotated[str, Meta(pattern=r"^[0-9a-f]{64}$", description="SHA-256, lower-case hex")]
Id = Annotated[
    str, Meta(pattern=r"^[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}$", description="id of an entry, a person or a device")
]
Text = Annotated[str, Meta(min_length=1)]
Count = Annotated[int, Meta(ge=0)]
Nth = Annotated[int, Meta(ge=1)]
Names = Annotated[list[Text], Meta(min_length=1)]
Ids = Annotated[list[Id], Meta(min_length=1)]
Freeform = dict[str, Any]
PATTERNS = {str(m.pattern): str(m.description) for m in (Day.__metadata__[0], Sha.__metadata__[0], Id.__metadata__[0])}  # type: ignore[attr-defined]
"""Pattern of a text to what it means in words."""
Reading = Annotated[str, Meta(min_length=1, description="a voltage or a resistance with its unit, or 'no alarm'")]
Setting = Annotated[str, Meta(min_length=1, description="a voltage, a spark length or a resistance with its unit")]
SurfaceClass = Literal["flat", "weld", "edge", "corner", "pit"]


class Part(msgspec.Struct, frozen=True, forbid_unknown_fields=True, omit_defaults=True, kw_only=True, gc=False):
    """A part of a body: strict, frozen, optional fields left out."""


class Happened(Part, rename={"from_": "from"}, kw_only=True, frozen=True):
    """When it happened on site; `at` of the entry is when it was written."""

    from_: At
    to: At | None = None


class Although(Part, kw_only=True, frozen=True):
    """Recorded in spite of unmet needs: which, why, and on whose word."""

    needs: Names
    why: Text
    instruction: Id | None = None
    told: Text | None = None


class Body(Part, kw_only=True, frozen=True):
    """Fields that every kind may carry."""

    happened: Happened | None = None
    told: Text | None = None
    operator: Text | None = None
    recorder: Text | None = None
    witness: Text | None = None
    note: Text | None = None
    files: list[Id] | None = None
    although: Although | None = None


class Place(Part, kw_only=True, frozen=True):
    """A place on an item: a part and two coordinates, or from something near.

    ``on`` with two of ``arc at z x y from_apex from_centre along clock``, or ``near`` with
    ``right`` or ``left`` and ``above`` or ``below`` (``near_level`` names the girth that the height counts from), or ``near``
    with ``clock`` on a rim (``on_pad``: at the toe of the pad). ``course`` and ``panel`` settle a place on a boundary.
    """

    item: Text | None = None
    on: Text | None = None
    arc: Length | None = None
    at: Annotated[str, _measured("angle")] | None = None
    z: Length | None = None
    x: Length | None = None
    y: Length | None = None
    from_apex: Length | None = None
    from_centre: Length | None = None
    along: Length | None = None
    clock: Text | None = None
    near: Text | None = None
    right: Length | None = None
    left: Length | None = None
    near_level: Text | None = None
    above: Length | None = None
    below: Length | None = None
    on_pad: bool | None = None
    course: Text | None = None
    panel: Text | None = None


class Piece(Part, kw_only=True, frozen=True):
    """A piece of a panel: how a reader finds it, and how large it is."""

    says: Text
    area: Area


class Allows(Part, kw_only=True, frozen=True):
    """What an answer or an instruction allows, and for which panels."""

    what: Text
    panels: list[Text] | None = None


class Confirmed(Part, kw_only=True, frozen=True):
    """A figure confirmed by the user from an own copy."""

    page: Text
    who: Text
    when: Day
