"""Columns of a printed table: what stands the same in every row said once, widths shared out, upright or lying page."""

from __future__ import annotations

import re

import msgspec
import numpy as np

from wholefilm.sheets.rows import Column, Table, lifted, weighty

from .glyphs import BREAK, breakable, legible, width_mm

UPRIGHT_MM, LYING_MM = 172.0, 259.0
SIZE_PT = 9.0
GUTTER_MM = 3.0
LONGEST_WORD_MM = 34.0
TALL_LINES = 36
MANY_LINES, LONG_TABLE, TOO_MANY_LINES = 2.9, 12, 6.0
STEP_MM = 1.5
SHORT_LINES = 16
# Widths are found from the first rows of a long table.
MOST_SAMPLED = 200
FEW_ROWS = 3
# A moment is never broken between its day and its minute (the template keeps to the same); a figure wants its unit beside it.
WORD = re.compile(r"\d{4}-\d\d-\d\d \d\d:\d\d\S*|[-+]?\d[\d.]* (?:µm|mm|m²|°C|kV|V|%)\S*|not met|\S+")
FROM, SAME_DAY = "From", ("To", "Before, as found", "After, as found")


class PrintColumn(msgspec.Struct, frozen=True):
    """A column as printed. [mm]"""

    title: str
    number: bool
    width: float


class PrintRow(msgspec.Struct, frozen=True):
    """A row as printed; `tall` rows may run over a page end, `strong` says which cells are set heavier."""

    cells: list[str]
    strong: list[bool]
    tall: bool
    lines: int


class PrintTable(msgspec.Struct, frozen=True):
    """A table with everything that the page needs; a `whole` one is not cut by a page end, `sum_row` sets the last row off."""

    title: str
    note: str
    columns: list[PrintColumn]
    rows: list[PrintRow]
    empty: str
    lying: bool
    sum_row: bool = False
    whole: bool = False


def printed(given: Table, lift: bool = True, sum_row: bool = False, lying: bool | None = None, room_mm: float = UPRIGHT_MM) -> PrintTable:
    """A table ready for the page.

    Parameters
    ----------
    given : Table
    lift : bool
        Whether columns that say the same in each of three rows or more are said once above the table, and columns
        without a word left out by name.
    sum_row : bool
        Whether the last row is a sum.
    lying : bool, optional
        Whether the page lies; found from the content if not given.
    room_mm : float
        Width of an upright page. [mm]
    """
    titles = [legible(c.title) for c in given.columns]
    numbers = [c.number for c in given.columns]
    cells = [[legible(c).strip() for c in row] for row in given.cells]
    note = ""
    if FROM in titles and any(t in titles for t in SAME_DAY):
        note = "A time without its day is of the day under From."
        cells = [_same_day(titles, row) for row in cells]
    if lift:
        said, kept = lifted(msgspec.structs.replace(given, columns=[Column("", t, False) for t in titles], cells=cells))
        note = f"{said} {note}".strip()
        titles, numbers = [titles[n] for n in kept], [numbers[n] for n in kept]
        cells = [[row[n] for n in kept] for row in cells]
    widths, lies = _shared(titles, numbers, cells, lying, room_mm)
    if lies and lying is None and 0 < len(cells) <= FEW_ROWS:
        titles, numbers, cells = _turned(titles, cells)
        widths, lies = _shared(titles, numbers, cells, False, room_mm)
    rows = [_row(row, widths) for row in cells]
    columns = [PrintColumn(t, n, round(w, 2)) for t, n, w in zip(titles, numbers, widths, strict=True)]
    return PrintTable(
        legible(given.title), note, columns, rows, _sentence(given.empty), lies, sum_row, sum(r.lines for r in rows) <= SHORT_LINES
    )


def _same_day(titles: list[str], row: list[str]) -> list[str]:
    day = row[titles.index(FROM)][:11]
    return [c.replace(day, "") if t in SAME_DAY and len(day) == 11 else c for t, c in zip(titles, row, strict=True)]


def _sentence(text: str) -> str:
    said = legible(text.strip()) or "nothing recorded"
    return said[0].upper() + said[1:] + "."


def _turned(titles: list[str], cells: list[list[str]]) -> tuple[list[str], list[bool], list[list[str]]]:
    """A few wide rows as columns, so that they stand on an upright page; fields without a word are left out."""
    rows = [[title, *(row[n] for row in cells)] for n, title in enumerate(titles) if n and any(row[n] for row in cells)]
    return [titles[0], *(row[0] for row in cells)], [False] * (1 + len(cells)), rows


def _needs(titles: list[str], numbers: list[bool], cells: list[list[str]]) -> tuple[list[float], list[float]]:
    """Least and preferred width of each column. [mm]"""
    least, preferred = [], []
    for n, title in enumerate(titles):
        texts = [title, *dict.fromkeys(row[n] for row in cells)]
        words = {w for t in texts for w in WORD.findall(t)} | (set(texts[1:]) if numbers[n] else set())
        least.append(min(LONGEST_WORD_MM, max((width_mm(w, SIZE_PT) for w in words), default=0.0)) + GUTTER_MM + 0.4)
        cell_mm = max((width_mm(t, SIZE_PT) for t in texts[1:]), default=0.0)
        preferred.append(max(least[-1], min(cell_mm, 150.0) + GUTTER_MM + 0.4))
    return least, preferred


def _share(least: list[float], preferred: list[float], cells: list[list[float]], room: float) -> list[float]:
    """Widths that fill the room, each at least `least`: what is left goes step by step where it saves most lines. [mm]"""
    if sum(least) >= room:
        return [w * room / sum(least) for w in least]
    if sum(preferred) <= room:
        spare = min(6.0, (room - sum(preferred)) / max(1, len(preferred)))
        return [w + spare for w in preferred]
    wide = np.array(cells[:MOST_SAMPLED])
    widths = list(least)

    def cost(n: int, width: float) -> float:
        return float(np.sum(np.maximum(1.0, 1.08 * wide[:, n] / max(5.0, width - GUTTER_MM)) ** 3))

    costs = [cost(n, w) for n, w in enumerate(widths)]
    nexts = [cost(n, w + STEP_MM) for n, w in enumerate(widths)]
    for _ in range(int((room - sum(least)) / STEP_MM)):
        n = max(range(len(widths)), key=lambda i: costs[i] - nexts[i])
        widths[n] += STEP_MM
        costs[n], nexts[n] = nexts[n], cost(n, widths[n] + STEP_MM)
    return widths


def _shared(titles: list[str], numbers: list[bool], cells: list[list[str]], lying: bool | None, room: float) -> tuple[list[float], bool]:
    least, preferred = _needs(titles, numbers, cells)
    wide = [[width_mm(c, SIZE_PT) for c in row] for row in cells[:MOST_SAMPLED]]
    upright = _share(least, preferred, wide, room)
    if lying is None:
        lines = _mean_lines(cells[:MOST_SAMPLED], upright)
        lying = sum(least) > room or lines > (MANY_LINES if len(cells) > LONG_TABLE else TOO_MANY_LINES)
    return (_share(least, preferred, wide, LYING_MM), True) if lying else (upright, False)


def _lines(text: str, width: float) -> int:
    """Lines of a cell, words filled in one after the other."""
    room = max(5.0, width - GUTTER_MM)
    return sum(_filled(part, room) for part in text.split("\n"))


def _filled(text: str, room: float) -> int:
    if width_mm(text, SIZE_PT) <= room:
        return 1
    lines, used, space = 1, 0.0, width_mm(" ", SIZE_PT)
    for word in WORD.findall(text.replace(BREAK, " ")):
        wide = width_mm(word, SIZE_PT)
        if used and used + space + wide > room:
            lines, used = lines + 1, 0.0
        used += wide + (space if used else 0.0)
    return lines


def _mean_lines(cells: list[list[str]], widths: list[float]) -> float:
    heights = [max((_lines(c, w) for c, w in zip(row, widths, strict=True)), default=1) for row in cells]
    return sum(heights) / len(heights) if heights else 0.0


def _row(row: list[str], widths: list[float]) -> PrintRow:
    cells = [breakable(c, w - GUTTER_MM - 0.2, SIZE_PT) for c, w in zip(row, widths, strict=True)]
    lines = max((_lines(c, w) for c, w in zip(cells, widths, strict=True)), default=1)
    return PrintRow(cells, [weighty(c) for c in row], lines > TALL_LINES, lines)
