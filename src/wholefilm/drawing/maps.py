"""One part of an item as a developed map: state by hatch, shape and word, colour last."""

from __future__ import annotations

import re
import zlib
from collections.abc import Iterable
from html import escape

from wholefilm.base.errors import BadInput
from wholefilm.sheets.maps import MapFeature, MapPanel, PartMap

from .boxes import Taken
from .labels import MARK, Label, place_labels
from .papers import colours, file_style
from .plate import SIZE, Plate, furniture, n, plate_of, text, titled

LEGEND = {
    "checked": "fine hatch: tested, checked before and after",
    "awaiting": "dashed hatch: tested, awaiting its end check",
    "doubt": "waves: in doubt",
    "not_reached": "heavy outline: not reached, with its reason",
    "not_in_scope": "dotted outline: not in scope",
    "not_yet": "bare paper: not yet tested",
    "indication": "hollow triangle: indication, not yet decided",
    "holiday": "ring: holiday, open",
    "repaired": "half-filled ring: repaired, not yet retested",
    "closed": "filled disc: closed by a passed retest",
    "false": "cross: false indication",
    "retest": "filled triangle: indication of a retest; its repair was done again",
    "repair": "dashed outline: repair",
}
STATES = ("checked", "awaiting", "doubt", "not_reached", "not_in_scope", "not_yet")
MARKS = ("indication", "holiday", "repaired", "closed", "false", "retest")
SAID = {"retest": "indication of a retest, its repair was done again", "false": "false indication"}
_HATCHED = {
    "checked": '<pattern id="{0}" width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">'
    '<path class="wf-h" d="M0,0V6"/></pattern>',
    "awaiting": '<pattern id="{0}" width="12" height="9" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">'
    '<path class="wf-a" d="M6,0V9"/></pattern>',
    "doubt": '<pattern id="{0}" width="20" height="11" patternUnits="userSpaceOnUse">'
    '<path class="wf-w" d="M-5,5.5q5,-5 10,0t10,0t10,0"/></pattern>',
}


def draw_part(
    part: PartMap, *, paper: str = "book", standalone: bool = True, labels: bool = True, width: float = 1000.0, rows: int = 1
) -> str:
    """One part as SVG; the same text for the same data.

    Parameters
    ----------
    part : PartMap
    paper : str
        ``book``, ``sun`` or ``tank``; without meaning if not `standalone`.
    standalone : bool
        With its own style and colours, for a file or the report; else styled by the page.
    labels : bool
        Whether marks are numbered.
    width : float
        Width to fill. Text is 12 units high at any width. [px]
    rows : int
        Rows into which a strip is split, evenly by angle; 2 splits at 180 deg.

    Raises
    ------
    BadInput
        Unknown paper; width under 200 px; rows not 1 to 4.
    """
    taken = Taken()
    plate = part_plate(part, width, rows)
    frame = furniture(part, plate, taken)
    placed = place_labels(part, plate, taken, labels)
    return sheet_of(
        plate,
        part.title,
        describe(part),
        [
            *_panels(part, plate, _slug(part, width, rows)),
            *lines(part, plate),
            *frame,
            *marks(part, plate),
            *[x for p in placed for x in written(p)],
        ],
        paper=paper,
        standalone=standalone,
        patterns=[_HATCHED[s].format(f"{_slug(part, width, rows)}-{s}") for s in _HATCHED if any(p.state == s for p in part.panels)],
    )


def part_plate(part: PartMap, width: float, rows: int) -> Plate:
    """Where a part falls on its drawing; BadInput names what is allowed."""
    if not 200 <= width <= 5000:
        raise BadInput("width", width, "200 to 5000 px")
    if rows not in (1, 2, 3, 4):
        raise BadInput("rows", rows, "1 to 4")
    if part.kind == "wall" and part.u1 - part.u0 > 12 * (part.v1 - part.v0):
        rows = 4  # long and low: a kerb
    return plate_of(part, width, rows if part.kind in ("strip", "wall") else 1)


def sheet_of(plate: Plate, title: str, desc: str, body: list[str], *, paper: str, standalone: bool, patterns: Iterable[str] = ()) -> str:
    """A drawing round its body: size, name, description, style."""
    colours(paper)
    size = f'width="{n(plate.width)}" height="{n(plate.height)}" viewBox="0 0 {n(plate.width)} {n(plate.height)}"'
    name = f'role="img" aria-label="{escape(f"{title}. {desc}")}"'
    style = f"<style>{file_style(paper)}</style>" if standalone else ""
    defs = "".join(patterns)
    back = f'<rect class="wf-back" width="{n(plate.width)}" height="{n(plate.height)}"/>' if standalone else ""
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="wf-map" {size} {name}><title>{escape(title)}</title><desc>{escape(desc)}</desc>'
        + style
        + (f"<defs>{defs}</defs>" if defs else "")
        + back
        + "".join(body)
        + "</svg>"
    )


def describe(part: PartMap) -> str:
    """What a map shows, in words."""
    words: dict[str, int] = {}
    for p in part.panels:
        words[p.word] = words.get(p.word, 0) + 1
    said = [f"{count} panel{'' if count == 1 else 's'} {word}" for word, count in words.items()]
    names = {
        "indication": "undecided indication", "holiday": "open holiday", "repaired": "repaired holiday", "closed": "closed holiday",
        "false": "false indication", "retest": "retest indication",
    }  # fmt: skip
    for kind in MARKS:
        count = sum(1 for m in part.marks if m.kind == kind)
        if count:
            said.append(f"{count} {names[kind]}{'' if count == 1 else 's'}")
    return ", ".join(said) or "nothing recorded"


def legend(maps: Iterable[PartMap]) -> list[tuple[str, str]]:
    """Keys and words for what occurs on maps, states first."""
    seen: set[str] = set()
    for part in maps:
        seen |= {p.state for p in part.panels} | {m.kind for m in part.marks} | ({"repair"} if part.repairs else set())
    return [(key, words) for key, words in LEGEND.items() if key in seen]


def swatch(key: str, *, paper: str = "book", standalone: bool = False) -> str:
    """A small sign for one line of the legend; decorative, the words stand beside it."""
    style = f"<style>{file_style(paper)}</style>" if standalone else ""
    body, defs = "", ""
    if key in STATES:
        defs = f"<defs>{_HATCHED[key].format('wf-key-' + key)}</defs>" if key in _HATCHED else ""
        fill = f' fill="url(#wf-key-{key})"' if key in _HATCHED else ""
        body = f'<path class="wf-panel wf-{key}"{fill} d="M2,2H32V18H2z"/>'
    elif key in MARKS:
        body = _mark(key, 17.0, 10.0)
    elif key == "repair":
        body = '<path class="wf-repair" d="M4,3H30V17H4z"/>'
    else:
        raise BadInput("key", key, ", ".join(LEGEND))
    size = 'class="wf-key" width="34" height="20" viewBox="0 0 34 20" aria-hidden="true"'
    return f'<svg xmlns="http://www.w3.org/2000/svg" {size}>{style}{defs}{body}</svg>'


def _slug(part: PartMap, width: float, rows: int) -> str:
    name = f"{part.item}/{part.part}/{width:g}/{rows}"
    return f"wf-{re.sub('[^a-z0-9]+', '-', part.part.lower())[:24]}-{zlib.crc32(name.encode()):08x}"


def outline(ring: list[tuple[float, float]], plate: Plate) -> list[str]:
    """A ring as path data, once for each row that it meets, cut at the row's ends. [px]"""
    found = []
    low, high = min(u for u, _ in ring), max(u for u, _ in ring)
    for w in plate.windows:
        if (low < w.u1 - 1e-6 and high > w.u0 + 1e-6) or len(plate.windows) == 1:
            points = ring if len(plate.windows) == 1 else [(min(max(u, w.u0), w.u1), v) for u, v in ring]
            px = [w.at(u, v) for u, v in points]
            found.append("M" + "L".join(f"{n(x)},{n(y)}" for x, y in px) + "z")
    return found


def _panels(part: PartMap, plate: Plate, slug: str) -> list[str]:
    def one(p: MapPanel) -> str:
        paths = "".join(d for ring in p.rings if ring for d in outline(ring, plate))
        fill = f' fill="url(#{slug}-{p.state})"' if p.state in _HATCHED else ""
        reason = f": {p.reason}" if p.reason else ""
        return f'<path class="wf-panel wf-{p.state}"{fill} d="{paths}">{titled(f"{p.name}, {p.word}{reason}")}</path>'

    order = {"not_in_scope": 1, "not_reached": 2}
    return [one(p) for p in sorted(part.panels, key=lambda p: order.get(p.state, 0))]


def lines(part: PartMap, plate: Plate) -> list[str]:
    """Seams, features and repairs."""
    made = []
    for s in part.seams:
        for w in plate.windows:
            inside = [(min(max(u, w.u0), w.u1), v) for u, v in s.line]
            if any(w.u0 - 1e-6 <= u <= w.u1 + 1e-6 for u, _ in s.line) or (
                min(u for u, _ in s.line) < w.u0 and max(u for u, _ in s.line) > w.u1
            ):
                px = [w.at(u, v) for u, v in inside]
                made.append(
                    f'<path class="wf-{"girth" if s.kind == "girth" else "seam"}" d="M{"L".join(f"{n(x)},{n(y)}" for x, y in px)}"/>'
                )
    for f in part.features:
        made.append(_feature(f, plate))
    for r in part.repairs:
        paths = "".join(d for ring in r.rings if ring for d in outline(ring, plate))
        made.append(f'<path class="wf-repair" d="{paths}">{titled(f"{r.number}, {r.state}")}</path>')
    return made


def _feature(f: MapFeature, plate: Plate) -> str:
    w = plate.window(f.u)
    title = titled(f"{f.name}, {f.what}")
    if f.v is None:
        x = w.at(f.u, w.v0)[0]
        return f'<path class="wf-ladder" d="M{n(x - 3)},{n(w.box.y0)}V{n(w.box.y1)}M{n(x + 3)},{n(w.box.y0)}V{n(w.box.y1)}">{title}</path>'
    x, y = w.at(f.u, f.v)
    return f'<circle class="wf-feature" cx="{n(x)}" cy="{n(y)}" r="{n(max((f.radius or 0.0) * w.scale, 3.0))}">{title}</circle>'


def marks(part: PartMap, plate: Plate) -> list[str]:
    """Marks, false ones first so that none covers a holiday."""
    ordered = sorted(part.marks, key=lambda m: ("retest", "false", "closed", "repaired", "indication", "holiday").index(m.kind))
    return [_mark(m.kind, *plate.at(m.u, m.v), f"{m.number}, {SAID.get(m.kind, m.kind)}") for m in ordered]


def _mark(kind: str, x: float, y: float, title: str = "") -> str:
    r = MARK - 0.5
    at = f'<g class="wf-mark wf-mark-{kind}">{titled(title)}'
    ring = f'<circle class="wf-ring" cx="{n(x)}" cy="{n(y)}" r="{n(r - 0.5)}"/>'
    if kind == "holiday":
        return f"{at}{ring}</g>"
    if kind == "repaired":
        return f'{at}{ring}<path class="wf-half" d="M{n(x - r + 0.5)},{n(y)}a{n(r - 0.5)},{n(r - 0.5)} 0 0 0 {n(2 * r - 1)},0z"/></g>'
    if kind == "closed":
        return f'{at}<circle class="wf-disc" cx="{n(x)}" cy="{n(y)}" r="{n(r)}"/></g>'
    if kind == "false":
        return f'{at}<path class="wf-cross" d="M{n(x - 4)},{n(y - 4)}l8,8m0,-8l-8,8"/></g>'
    shape = "wf-disc" if kind == "retest" else "wf-ring"
    return f'{at}<path class="{shape}" d="M{n(x)},{n(y - 6)}l5.8,10.5h-11.6z"/></g>'


def written(label: Label) -> list[str]:
    """A label on its piece of paper, with its leader."""
    b = label.box
    made = []
    if label.leader is not None:
        x0, y0, x1, y1 = label.leader
        made.append(f'<path class="wf-lead" d="M{n(x0)},{n(y0)}L{n(x1)},{n(y1)}"/>')
    made.append(f'<rect class="wf-tag" x="{n(b.x0)}" y="{n(b.y0 + 1)}" width="{n(b.x1 - b.x0)}" height="{n(SIZE * 1.24 - 2)}" rx="2"/>')
    made.append(text((b.x0 + b.x1) / 2, (b.y0 + b.y1) / 2, label.words, label.kind))
    return made
