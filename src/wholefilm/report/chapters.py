"""The chapters of a report in their order, as blocks."""

from __future__ import annotations

import re

import msgspec

from wholefilm.drawing.maps import draw_part
from wholefilm.drawing.papers import PAPERS
from wholefilm.drawing.thickness import draw_thickness, thickness_legend
from wholefilm.sheets.cure import WORDS as CURE_WORDS
from wholefilm.sheets.maps import PartMap
from wholefilm.sheets.rows import Table

from .blocks import Block, Bullets, Heading, Key, MapBlock, Para, Photo, TableBlock
from .book import ReportSheets
from .columns import UPRIGHT_MM, printed
from .glyphs import legible_all
from .sums import area_sums, grade_table, mark_sums, outside_words, record_table, source_table
from .words import ASSESSMENT_WORDS, CAUTIONS, CLIMATE_WORDS, IS_NOT

# A strip longer than this many heights is drawn in two rows, which shows it larger on an upright page.
LONG = 2.6
# Labels are 12 units high: 8.5 pt at the full width of an upright page.
WIDTH_PX = 690.0
MM_PER_UNIT = 0.25
# The chapter of coats and cure has them with batch, thinner and steel.
COATS_ELSEWHERE = "Coats applied"
SIGNS = {
    "indication": "indications not decided",
    "holiday": "holidays open",
    "repaired": "holidays repaired, retest due",
    "closed": "holidays closed",
    "false": "false indications",
    "retest": "indications of a retest, repaired again",
}


def chapters(sheets: ReportSheets, program: str) -> list[Block]:
    """Everything after the cover.

    Parameters
    ----------
    sheets : ReportSheets
    program : str
        Name and version of the program, for the digests' heading.
    """
    checks = {t.title: t for t in sheets.checks.tables()}
    days = {t.title: t for t in sheets.days.tables()}
    readings = {t.title: t for t in sheets.readings.tables()}
    around = [t for title, t in checks.items() if title != "Instruments"]
    return [
        *_chapter("Requirements and who decided", sheets.requirements.tables()),
        *_chapter("Voltage sheets", [t for t in sheets.voltage.tables() if t.title != COATS_ELSEWHERE]),
        *_chapter("Checks", around),
        *(_chapter("In doubt", sheets.doubt.tables(), f"{sheets.doubt.says}.") if sheets.doubt.doubt else []),
        *_maps(sheets),
        *_chapter("Holidays and false indications", sheets.holidays.tables(), outside_words(sheets, holidays=True)),
        *_chapter("Repairs and retests", sheets.repairs.tables(), outside_words(sheets, holidays=False)),
        *_assessment(sheets),
        *_chapter("Film thickness", [readings["Film thickness"]]),
        *_spots(sheets),
        *_chapter("Climate", sheets.climate.printed(), f"{CLIMATE_WORDS}{sheets.climate.dew_point_source}."),
        *_chapter("Coats and cure", sheets.cure.tables(), CURE_WORDS),
        *_chapter("People and devices", sheets.people.tables()),
        *_chapter("Instruments", [checks["Instruments"]]),
        *_chapter("Daily reports and signatures", [days["Daily reports"], days["Signatures"]]),
        *_photos(sheets, days["Photos and files"]),
        Heading("Cautions"),
        Bullets(list(CAUTIONS)),
        Heading("What this report is not"),
        Bullets(list(IS_NOT)),
        *_chapter("Sources", [source_table(sheets), grade_table(), record_table(sheets, program)]),
    ]


def _chapter(title: str, tables: list[Table], says: str = "") -> list[Block]:
    said = [Para(says)] if says else []
    named = [msgspec.structs.replace(t, title="") if t.title == title else t for t in tables]
    return [Heading(title), *said, *(TableBlock(printed(t)) for t in named)]


def _maps(sheets: ReportSheets) -> list[Block]:
    panels, tests = sheets.panels.tables()
    maps = [_map(m) for m in sheets.maps.maps]
    drawn: list[Block] = [Key(), *maps] if maps else []
    return [Heading("Panels and maps"), TableBlock(printed(panels)), *drawn, TableBlock(printed(tests))]


def _map(given: PartMap) -> MapBlock:
    part = _readable(given)
    drawn = draw_part(part, paper="book", standalone=True, width=WIDTH_PX, rows=_rows(part))
    return _drawn(part.title, _alt(part), drawn)


def _readable(part: PartMap) -> PartMap:
    return msgspec.convert(legible_all(msgspec.to_builtins(part)), PartMap)


def _rows(part: PartMap) -> int:
    return 2 if part.kind == "strip" and (part.u1 - part.u0) > LONG * max(part.v1 - part.v0, 1e-9) else 1


def _drawn(title: str, says: str, svg: str) -> MapBlock:
    """A drawing on white paper, at the scale at which its labels are as large as the type of a table."""
    box = re.search(r'viewBox="[-\d.]+ [-\d.]+ ([\d.]+) [\d.]+"', svg)
    wide = float(box[1]) * MM_PER_UNIT if box else UPRIGHT_MM
    return MapBlock(title, f"{title}. {says}", says, svg.replace(PAPERS["book"]["paper"], "#ffffff"), round(min(wide, UPRIGHT_MM), 2))


def _spots(sheets: ReportSheets) -> list[Block]:
    """Film thickness drawn at its places, part by part."""
    spots, ranges = sheets.readings.spots, sheets.spot_ranges
    found: list[Block] = []
    for given in sheets.maps.maps:
        mine = [s for s in spots if s.on == given.part]
        if mine:
            part = _readable(given)
            drawn = draw_thickness(part, mine, ranges, paper="book", standalone=True, width=WIDTH_PX, rows=_rows(part))
            low, high = min(s.um for s in mine), max(s.um for s in mine)
            says = f"Film thickness at its places. {len(mine)} spots, {low:.0f} to {high:.0f} µm."
            found.append(_drawn(f"Film thickness: {part.title}", says, drawn))
    legend = [words for _, words in thickness_legend(spots, ranges)] if found else []
    return [*found, *([Bullets(legend)] if legend else [])]


def _alt(part: PartMap) -> str:
    words: dict[str, int] = {}
    for p in part.panels:
        words[p.word] = words.get(p.word, 0) + 1
    kinds: dict[str, int] = {}
    for m in part.marks:
        kinds[m.kind] = kinds.get(m.kind, 0) + 1
    panels = ", ".join(f"{n} {w}" for w, n in words.items()) or "none"
    marks = ", ".join(f"{n} {SIGNS.get(k, k)}" for k, n in kinds.items()) or "no marks"
    return f"Panels: {panels}. Marks: {marks}. Repairs outlined: {len(part.repairs)}."


def _assessment(sheets: ReportSheets) -> list[Block]:
    sheet = sheets.assessment
    findings, readings, exceptions = sheet.tables()
    missing: list[Block] = (
        [Para("What is missing before the assessment can be told:"), Bullets(list(sheet.missing))] if sheet.missing else []
    )
    return [
        Heading("Assessment"),
        Para(f"{sheet.says}.", lead=True),
        Para(ASSESSMENT_WORDS),
        *missing,
        TableBlock(printed(area_sums(sheet), lift=False, sum_row=True)),
        TableBlock(printed(mark_sums(sheet), lift=False)),
        *(TableBlock(printed(t)) for t in (findings, readings, exceptions)),
    ]


def _photos(sheets: ReportSheets, listed: Table) -> list[Block]:
    rows = [p for p in sheets.days.photos if p.what == "photo" or p.what.startswith("photo,")]
    photos = [Photo(sha=p.sha, about=p.about, words=p.what, when=p.when) for p in rows]
    return [Heading("Photos"), TableBlock(printed(listed)), *photos]
