"""Shares the blocks of a report out to volumes that stay under a number of pages and of photos."""

from __future__ import annotations

import msgspec

from .blocks import Block, Heading, Key, Photo, TableBlock, weight

# Lines, with one for the space under each row, that a lying page holds; an upright one holds more.
LINES_A_PAGE = 60


class Limits(msgspec.Struct, frozen=True):
    """Most pages and most photos of one volume."""

    pages: int = 150
    photos: int = 150


def by_photos(blocks: list[Block], most: int) -> list[list[Block]]:
    """Blocks in volumes of at most so many photos, in order."""
    volumes: list[list[Block]] = [[]]
    photos = 0
    for block in blocks:
        if isinstance(block, Photo):
            photos += 1
            if photos > most:
                volumes.append([Heading("Photos, continued")])
                photos = 1
        volumes[-1].append(block)
    return volumes


def by_length(volumes: list[list[Block]], pages: int) -> list[list[Block]]:
    """Volumes cut until each is likely to stay under so many pages; only setting them tells for certain."""
    out: list[list[Block]] = []
    waiting = list(volumes)
    while waiting:
        blocks = waiting.pop(0)
        cut = halves(blocks) if sum(weight(b) for b in blocks) > pages * LINES_A_PAGE else None
        if cut:
            waiting[:0] = cut
        else:
            out.append(blocks)
    return out


def halves(blocks: list[Block]) -> tuple[list[Block], list[Block]] | None:
    """A volume cut in two of about the same length; None if there is nothing left to cut."""
    total, taken = sum(weight(b) for b in blocks), 0
    for n, block in enumerate(blocks):
        mine = weight(block)
        if taken + mine <= total / 2:
            taken += mine
            continue
        if isinstance(block, TableBlock) and len(block.table.rows) > 1:
            first, second = _cut(block, total / 2 - taken)
            return [*blocks[:n], first], [second, *blocks[n + 1 :]]
        head = blocks[:n] if n else blocks[:1]
        rest = blocks[len(head) :]
        if not rest:
            return None
        return (head[:-1], [head[-1], *rest]) if len(head) > 1 and isinstance(head[-1], Heading | Key) else (head, rest)
    return None


def _cut(block: TableBlock, lines: float) -> tuple[TableBlock, TableBlock]:
    rows, used, n = block.table.rows, 4.0, 0
    while n < len(rows) - 1 and (n == 0 or used + rows[n].lines + 1 <= lines):
        used += rows[n].lines + 1
        n += 1
    title = f"{block.table.title.removesuffix(', continued')}, continued" if block.table.title else "Continued"
    replace = msgspec.structs.replace
    return (
        TableBlock(replace(block.table, rows=rows[:n], sum_row=False, whole=False)),
        TableBlock(replace(block.table, rows=rows[n:], title=title, whole=False)),
    )
