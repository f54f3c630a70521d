"""Which holidays a limit counts, and what follows where nobody can say how many they are."""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from wholefilm.base.errors import BadInput
from wholefilm.base.findings import Outcome
from wholefilm.base.quantity import quantity
from wholefilm.rules.limits import Counting

from ..states import HolidayState


class One(msgspec.Struct, frozen=True):
    """One limit in one reading."""

    reading: str
    value: str
    limit: str
    finding: Outcome


class Counted(msgspec.Struct, frozen=True):
    """Holidays that a limit counts for sure, and those of which it cannot be said (size not recorded)."""

    sure: list[HolidayState]
    unsure: list[HolidayState]

    @property
    def all(self) -> list[HolidayState]:
        """Both."""
        return [*self.sure, *self.unsure]


def counted(limit: Counting, holidays: Sequence[HolidayState]) -> Counted:
    """The holidays that a limit counts."""
    chosen = [h for h in holidays if limit.classes is None or h.class_ in limit.classes]
    if limit.larger_than is None:
        return Counted(chosen, [])
    over = quantity(limit.larger_than, "length").si
    sizes = [(h, _size_m(h)) for h in chosen]
    return Counted([h for h, size in sizes if size is not None and size > over], [h for h, size in sizes if size is None])


def _size_m(holiday: HolidayState) -> float | None:
    """Recorded size; None if none is, or it is no length. [m]"""
    text = holiday.fact.body.size
    if not text:
        return None
    try:
        return quantity(text, "length").si
    except BadInput:
        return None


def meets(limit: Counting, number: float) -> bool:
    """Whether a number keeps a limit."""
    return number < limit.below if limit.below is not None else number <= (limit.at_most or 0)


def told(limit: Counting, least: int, most: int) -> Outcome:
    """What a number between two ends gives."""
    ends = {meets(limit, least), meets(limit, most)}
    return Outcome.CANNOT_TELL if len(ends) == 2 else of(ends.pop())


def of(met: bool) -> Outcome:
    """Met or not met."""
    return Outcome.MET if met else Outcome.NOT_MET


def bound(limit: Counting) -> str:
    """The bound in words."""
    return f"below {limit.below}" if limit.below is not None else f"at most {limit.at_most}"


def scope(limit: Counting) -> str:
    """Which holidays it counts, in words that go behind the bound; empty if all."""
    words = [f"on {' and '.join(limit.classes)}"] if limit.classes else []
    words += [f"larger than {limit.larger_than}"] if limit.larger_than else []
    return f" {', '.join(words)}" if words else ""


def number_of(found: Counted) -> str:
    """How many, and how many more if the sizes that are not recorded were over."""
    least, most = len(found.sure), len(found.all)
    return str(least) if least == most else f"{least} to {most}, sizes not all recorded"
