"""Climate rules as documents have them: limits of spread and humidity, how often to read, what they were written for."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import cache
from types import MappingProxyType
from typing import Annotated, Any, Literal

import msgspec
from msgspec import Meta

from wholefilm.base.errors import BadInput, UnknownEdition
from wholefilm.base.misfit import misfit
from wholefilm.base.quantity import quantity
from wholefilm.base.sources import Grade, Source

from .forms import Part, Text
from .loader import DATA, by_id, read_folder
from .reading import strict

What = Literal["spread", "rh", "surface_rh", "air", "surface", "rising"]
DIMENSIONS = {
    "spread": "temperature_difference",
    "rh": "share",
    "surface_rh": "share",
    "air": "temperature",
    "surface": "temperature",
}
BOUNDS = ("at_least", "over", "at_most", "below")


class ClimateLimit(Part, frozen=True, kw_only=True):
    """One bound, in the unit of the document.

    Attributes
    ----------
    of : str
        ``spread`` (surface less dew point or frost point), ``rh``, ``surface_rh`` (of the air at the temperature of the
        surface), ``air``, ``surface``, or ``rising``, which has no figure and asks for an earlier reading.
    at_least, over, at_most, below : str
        One of them, a quantity with its unit.
    range_to : str
        Other end of a range that the document prints without saying whether what lies beyond still does.
    """

    of: What
    at_least: Text | None = None
    over: Text | None = None
    at_most: Text | None = None
    below: Text | None = None
    range_to: Text | None = None

    @property
    def bound(self) -> tuple[str, str]:
        """Name of the bound that is given, and its text; both empty for ``rising``."""
        return next(((name, text) for name in BOUNDS if (text := getattr(self, name)) is not None), ("", ""))


class ClimateRule(Part, frozen=True, kw_only=True):
    """What one document says of the climate.

    Attributes
    ----------
    id, title, document : str
    editions : tuple of str
        Those of which the figure was read or is remembered.
    grade : Grade
        Of every figure of the rule.
    written_for : str
        Application, cure, ...; never a holiday test unless the document says so.
    says : str
        In our words.
    limits : tuple of ClimateLimit
        All to be kept, unless `any_of`.
    any_of : bool
        Whether one of the limits is enough.
    every : str
        Longest time from one reading to the next. Empty if the document does not say.
    """

    id: Annotated[str, Meta(pattern=r"^[A-Za-z0-9][A-Za-z0-9._/-]{0,79}$")]
    title: Text
    document: Text
    editions: Annotated[tuple[Text, ...], Meta(min_length=1)]
    grade: Grade
    written_for: Text
    says: Text
    limits: tuple[ClimateLimit, ...] = ()
    any_of: bool = False
    every: str = ""
    clause: str = ""
    doubts: tuple[Text, ...] = ()
    note: str = ""

    @property
    def choosable(self) -> bool:
        """Whether it may be chosen without the user's own confirmation."""
        return self.grade.choosable and not self.doubts

    @property
    def all_editions(self) -> Source:
        """Document with every edition that says the same, clause and grade: for showing it beside others."""
        return Source(self.document, "; ".join(self.editions), self.grade, self.clause)

    def source(self, edition: str) -> Source:
        """Document, edition, clause and grade.

        Raises
        ------
        UnknownEdition
        """
        if edition not in self.editions:
            raise UnknownEdition("edition", edition or "nothing", f"for {self.id}: {'; '.join(self.editions)}")
        return Source(self.document, edition, self.grade, self.clause)

    def describe(self) -> list[tuple[str, str]]:
        """Rows of label and text, for printing one rule."""
        rows = [("id", self.id), ("document", self.document), ("editions", "; ".join(self.editions)), ("clause", self.clause)]
        rows += [("written for", self.written_for), ("says", self.says), ("grade", self.grade.value)]
        rows.append(("limit", limits_say(self.limits, self.any_of) + f" [{self.grade.value}]" if self.limits else ""))
        rows.append(("read again", f"every {self.every} [{self.grade.value}]" if self.every else ""))
        rows += [("doubt", doubt) for doubt in self.doubts]
        rows.append(("note", self.note))
        return [(label, text) for label, text in rows if text]


NAMES = {
    "spread": "surface over dew point",
    "rh": "relative humidity",
    "surface_rh": "relative humidity at the surface",
    "air": "air",
    "surface": "surface",
}


def limit_says(limit: ClimateLimit) -> str:
    """A limit in words: ``surface over dew point at least 3 K``."""
    if limit.of == "rising":
        return "and rising"
    name, text = limit.bound
    until = f" (printed as a range to {limit.range_to})" if limit.range_to else ""
    return f"{NAMES[limit.of]} {name.replace('_', ' ')} {text}{until}"


def limits_say(limits: Iterable[ClimateLimit], any_of: bool) -> str:
    """Several limits in words."""
    return (" or " if any_of else ", ").join(limit_says(x) for x in limits)


def read_climate_limits(given: object, field: str = "limits") -> tuple[ClimateLimit, ...]:
    """Read limits strictly.

    Parameters
    ----------
    given : object
        A list such as ``[{"of": "spread", "at_least": "3 K"}, {"of": "rh", "at_most": "85 %"}]``.
    field : str
        Where it stands, for the message.

    Returns
    -------
    tuple of ClimateLimit

    Raises
    ------
    BadInput
        If it is no list of limits, a key is unknown, a limit has no or several bounds, or a quantity cannot be read.
    """
    if not isinstance(given, list | tuple) or not given:
        raise BadInput(field, "nothing" if given is None else given, 'a list such as [{"of": "spread", "at_least": "3 K"}]')
    return tuple(_limit(one, f"{field}[{n}]") for n, one in enumerate(given))


def _limit(given: object, field: str) -> ClimateLimit:
    try:
        limit = msgspec.convert(given, ClimateLimit)
    except msgspec.ValidationError as error:
        raise misfit(error, given, field, page="docs/reference/requirements.md") from error
    bounds = [name for name in BOUNDS if getattr(limit, name) is not None]
    if limit.of == "rising":
        if bounds or limit.range_to:
            raise BadInput(f"{field}.{(bounds or ['range_to'])[0]}", given, "nothing: rising has no figure")
        return limit
    if len(bounds) != 1:
        raise BadInput(field, " and ".join(bounds) or "no bound", f"one of {', '.join(BOUNDS)}")
    first = _number(limit, bounds[0], field)
    if limit.range_to:
        other = _number(limit, "range_to", field)
        if (other <= first) if bounds[0] in ("at_least", "over") else (other >= first):
            raise BadInput(f"{field}.range_to", limit.range_to, f"a value on the far side of {bounds[0]} {getattr(limit, bounds[0])}")
    return limit


def _number(limit: ClimateLimit, name: str, field: str) -> float:
    dimension = DIMENSIONS[limit.of]
    read = quantity(str(getattr(limit, name)), dimension, f"{field}.{name}")
    if dimension == "share" and not 0 <= read.exact("1") <= 1:
        raise BadInput(f"{field}.{name}", read.text, "from 0 % to 100 %")
    return read.si


def read_every(text: str, field: str = "every") -> int:
    """A time between readings. [ms]

    Raises
    ------
    BadInput
        If it is no time or not more than zero.
    """
    read = quantity(text, "time", field)
    if not 0 < read.exact("d") <= 366:
        raise BadInput(field, text, "more than zero and at most 366 d, a time with its unit, such as '4 h'")
    return int(read.exact("ms"))


def read_climate_rule(given: Mapping[str, Any]) -> ClimateRule:
    """Read one rule strictly.

    Raises
    ------
    BadInput
        On an unknown or missing key, as `read_climate_limits` and `read_every`, and on a rule that asks for nothing.
    """
    named = str(given.get("id") or "rule")
    rule = strict(given, ClimateRule, named)
    if rule.limits:
        try:
            read_climate_limits(given["limits"])
        except BadInput as error:
            raise BadInput(f"{named}: {error.field}", error.value, error.allowed) from error
    elif not rule.every:
        raise BadInput(f"{named}: limits", "nothing", "limits, or every")
    if rule.every:
        read_every(rule.every, f"{named}: every")
    if len(set(rule.editions)) != len(rule.editions):
        raise BadInput(f"{named}: editions", ", ".join(rule.editions), "each edition once")
    return rule


@cache
def load_climate() -> Mapping[str, ClimateRule]:
    """All climate rules by id, in order of their documents' file names. Read once.

    Raises
    ------
    BadInput
        If a file cannot be read as a rule document, or an id stands twice.
    """
    return MappingProxyType({found["id"]: found["read"] for found in read_folder(DATA / "climate", "rule", read_climate_rule)})


def climate_rule(id_: str) -> ClimateRule:
    """The climate rule of that id.

    Raises
    ------
    NotFound
        Names the nearest ids.
    """
    return by_id(load_climate(), id_, "climate rule")
