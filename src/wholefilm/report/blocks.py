"""What stands on a page, one after the other, as data. Nothing in it is markup."""

from __future__ import annotations

import msgspec

from .columns import PrintTable


class Heading(msgspec.Struct, frozen=True, tag="heading"):
    """Heading of a chapter."""

    text: str
    new_page: bool = False


class Para(msgspec.Struct, frozen=True, tag="para"):
    """A paragraph; `lead` is set larger."""

    text: str
    lead: bool = False


class Bullets(msgspec.Struct, frozen=True, tag="bullets"):
    """A list, each line a sentence or more."""

    items: list[str]


class TableBlock(msgspec.Struct, frozen=True, tag="table"):
    """A table."""

    table: PrintTable


class MapBlock(msgspec.Struct, frozen=True, tag="map"):
    """A map: the drawing, what it shows in words, for who cannot see it and under it, and how wide it is set. [mm]"""

    title: str
    alt: str
    says: str
    svg: str
    width: float


class Key(msgspec.Struct, frozen=True, tag="key"):
    """What the hatches and signs of the maps mean."""


class Photo(msgspec.Struct, frozen=True, tag="photo"):
    """A photo by the SHA-256 of its bytes, with the words that were recorded with it."""

    sha: str
    about: str
    words: str
    when: str


Block = Heading | Para | Bullets | TableBlock | MapBlock | Key | Photo


class Cover(msgspec.Struct, frozen=True):
    """The first page."""

    title: str
    contract: str
    sentence: str
    sub: str
    margin: list[tuple[str, str]]
    notes: list[tuple[str, str]]
    more: int
    areas: PrintTable
    sum_text: str
    reservations: list[str]
    signed: list[str]
    missing: list[str]
    cautions: list[str]
    is_not: list[str]


def lies(block: Block) -> bool | None:
    """Whether a block asks for a lying page; None where it follows the next one."""
    if isinstance(block, TableBlock):
        return block.table.lying
    return None if isinstance(block, Heading | Key | Para) else False


def weight(block: Block) -> int:
    """How much of a page a block takes, in lines, for sharing out volumes."""
    if isinstance(block, TableBlock):
        return 4 + sum(r.lines + 1 for r in block.table.rows)
    if isinstance(block, MapBlock):
        return 50
    return 9 if isinstance(block, Photo) else 3
