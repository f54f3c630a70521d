"""What a demo tells, act by act: who writes what on which device, and when. Order of telling is free; time orders the book."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from .scribe import Book

Told = Mapping[str, Any]


@dataclass(frozen=True)
class Ref:
    """The id of an entry that bears a label; looked up when the act is written."""

    label: str


@dataclass(frozen=True)
class Act:
    """One entry to be.

    Attributes
    ----------
    at : str
        When it is written, with offset.
    device : str
        Letter of the device.
    by : str
        Role of the person in the demo's own table.
    kind : str
    body : dict or callable
        May hold `Ref` at any depth; a callable gets the book as it stands.
    label : str
        Name by which other acts refer to it; empty if none does.
    heads : bool
        Whether it states all that its device has seen.
    sync : bool
        Whether the device exchanges with the office before it writes.
    """

    at: str
    device: str
    by: str
    kind: str
    body: Told | Callable[[Book], Told]
    label: str = ""
    heads: bool = False
    sync: bool = False


def stamp(day: str, clock: str, offset: str = "+02:00") -> str:
    """Time as the book writes it, from ``2025-06-02`` and ``07:30`` or ``07:30:20``."""
    return f"{day}T{clock if len(clock) > 5 else clock + ':00'}.000{offset}"


def later(at: str, minutes: float) -> str:
    """A written time some minutes later, in the same offset. [min]"""
    return (datetime.fromisoformat(at) + timedelta(minutes=minutes)).isoformat(timespec="milliseconds")


def happened(begin: str, end: str = "") -> dict[str, str]:
    """When it happened: from, and to where it took time."""
    return {"from": begin, "to": end} if end else {"from": begin}
