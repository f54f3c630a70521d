"""One developed map as an SVG file."""

from __future__ import annotations

from pathlib import Path

from wholefilm.base.errors import BadInput, NotFound
from wholefilm.drawing.maps import draw_part
from wholefilm.ledger.files import write_whole
from wholefilm.sheets.maps import maps_sheet

from .view import View


def items_of(view: View) -> list[tuple[str, list[str]]]:
    """Items of a job that can be drawn, each with its parts, in the order in which they were entered."""
    found: dict[str, list[str]] = {}
    for m in maps_sheet(view.standing).maps:
        found.setdefault(m.item, []).append(m.part)
    return list(found.items())


def write_map(view: View, item: str, path: Path, part: str | None = None, paper: str = "book") -> list[Path]:
    """Write the map of an item: the part named, or the largest part alone, or every part with its name in the file name.

    Parameters
    ----------
    view : View
    item : str
        Name of an item of the job, or ITEM/PART.
    path : Path
        Ends in .svg.
    part : str, optional
        Name of a part; all parts if left out.
    paper : str
        book, sun or tank.

    Raises
    ------
    BadInput
        If the name does not end in .svg, or there is no such item, part or paper.
    """
    if path.suffix != ".svg":
        raise BadInput("-o", str(path), "a name that ends in .svg")
    if paper not in ("book", "sun", "tank"):
        raise BadInput("--paper", paper, "book, sun or tank")
    maps = maps_sheet(view.standing).maps
    item, _, inner = item.partition("/")
    part = part or inner or None
    mine = [m for m in maps if m.item == item]
    if not mine:
        raise NotFound("ITEM", item, ", ".join(sorted({m.item for m in maps})) or "an item; none is entered")
    chosen = [m for m in mine if part in (None, m.part)]
    if not chosen:
        raise NotFound("PART", part, ", ".join(m.part for m in mine))
    written = []
    for n, one in enumerate(chosen):
        target = path if n == 0 else path.with_name(f"{path.stem}-{one.part.replace(' ', '-')}.svg")
        write_whole(target, draw_part(one, paper=paper).encode())
        written.append(target)
    return written
