"""Write which characters the fonts of the report have, and how wide their Latin letters run: `python tools/font_coverage.py`.

Reads the tables `cmap`, `head`, `hhea` and `hmtx` as ISO/IEC 14496-22 (Open Font Format) lays them out.
"""

from __future__ import annotations

import hashlib
import json
import struct
from pathlib import Path

FONTS = Path(__file__).resolve().parent.parent / "src" / "wholefilm" / "report" / "fonts"
TARGET = FONTS / "coverage.json"
# In the order in which the report asks for them. A family has what every face of it has.
FAMILIES = {
    "Atkinson Hyperlegible Next": [f"AtkinsonHyperlegibleNext-{style}.ttf" for style in ("Regular", "Italic", "SemiBold", "Bold")],
    "DejaVu Sans": ["DejaVuSans.ttf", "DejaVuSans-Bold.ttf"],
    "Droid Sans Fallback": ["DroidSansFallback.ttf"],
}
WIDTHS = "AtkinsonHyperlegibleNext-SemiBold.ttf"
FIRST, LAST = 0x20, 0x17F


def tables(data: bytes) -> dict[str, bytes]:
    """Tables of a font by tag."""
    found = {}
    for n in range(struct.unpack_from(">H", data, 4)[0]):
        tag, _, offset, length = struct.unpack_from(">4sLLL", data, 12 + 16 * n)
        found[tag.decode("ascii")] = data[offset : offset + length]
    return found


def characters(cmap: bytes) -> dict[int, int]:
    """Glyph of every character that has one; subtables of format 4 and 12."""
    found: dict[int, int] = {}
    for n in range(struct.unpack_from(">H", cmap, 2)[0]):
        platform, encoding, offset = struct.unpack_from(">HHL", cmap, 4 + 8 * n)
        if platform != 0 and (platform, encoding) not in ((3, 1), (3, 10)):
            continue
        kind = struct.unpack_from(">H", cmap, offset)[0]
        if kind == 4:
            found.update(_format_4(cmap, offset))
        elif kind == 12:
            for g in range(struct.unpack_from(">L", cmap, offset + 12)[0]):
                start, end, glyph = struct.unpack_from(">LLL", cmap, offset + 16 + 12 * g)
                found.update({c: glyph + c - start for c in range(start, end + 1)})
    return {c: glyph for c, glyph in found.items() if glyph}


def _format_4(cmap: bytes, offset: int) -> dict[int, int]:
    count = struct.unpack_from(">H", cmap, offset + 6)[0] // 2
    ends = struct.unpack_from(f">{count}H", cmap, offset + 14)
    starts = struct.unpack_from(f">{count}H", cmap, offset + 16 + 2 * count)
    deltas = struct.unpack_from(f">{count}H", cmap, offset + 16 + 4 * count)
    place = offset + 16 + 6 * count
    found = {}
    for n, (start, end, delta) in enumerate(zip(starts, ends, deltas, strict=True)):
        step = struct.unpack_from(">H", cmap, place + 2 * n)[0]
        for c in range(start, end + 1):
            if c == 0xFFFF:
                continue
            if not step:
                found[c] = (c + delta) & 0xFFFF
                continue
            glyph = struct.unpack_from(">H", cmap, place + 2 * n + step + 2 * (c - start))[0]
            found[c] = (glyph + delta) & 0xFFFF if glyph else 0
    return found


def widths(data: bytes) -> list[int]:
    """Advance of the characters from FIRST to LAST, 0 where there is none. [1/1000 em]"""
    parts = tables(data)
    em = struct.unpack_from(">H", parts["head"], 18)[0]
    long = struct.unpack_from(">H", parts["hhea"], 34)[0]
    glyphs = characters(parts["cmap"])

    def advance(c: int) -> int:
        if c not in glyphs:
            return 0
        return round(1000 * struct.unpack_from(">H", parts["hmtx"], 4 * min(glyphs[c], long - 1))[0] / em)

    return [advance(c) for c in range(FIRST, LAST + 1)]


def ranges(found: set[int]) -> list[list[int]]:
    """Characters as pairs of first and last."""
    pairs: list[list[int]] = []
    for c in sorted(found):
        if pairs and pairs[-1][1] == c - 1:
            pairs[-1][1] = c
        else:
            pairs.append([c, c])
    return pairs


def coverage(folder: Path = FONTS) -> str:
    """The text of `coverage.json` for the fonts of a folder."""
    families = {}
    for family, names in FAMILIES.items():
        faces = [set(characters(tables((folder / name).read_bytes())["cmap"])) for name in names]
        families[family] = ranges(set.intersection(*faces))
    said = {
        "families": families,
        "files": {path.name: hashlib.sha256(path.read_bytes()).hexdigest() for path in sorted(folder.glob("*.ttf"))},
        "widths": {"first": FIRST, "per_mille": widths((folder / WIDTHS).read_bytes())},
    }
    return json.dumps(said, separators=(",", ":")) + "\n"


if __name__ == "__main__":
    TARGET.write_text(coverage(), encoding="utf-8")
