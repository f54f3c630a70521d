"""The plate under a map: where metres fall on the drawing, the frame, degrees, metres, the scale bar, the 0 deg mark."""

from __future__ import annotations

import math
from collections.abc import Iterator
from html import escape
from typing import Protocol

import msgspec

from wholefilm.base.signs import with_signs
from wholefilm.sheets.maps import PartMap

from .boxes import Box, Taken, text_box

SIZE = 12.0
TALLEST = 420.0
DISC = 400.0


def n(x: float) -> str:
    """A number on the drawing: one decimal, no negative zero."""
    return f"{round(x, 1) + 0.0:g}"


def text(x: float, y: float, words: str, kind: str = "text", anchor: str = "middle") -> str:
    """A text whose middle line lies at `y`."""
    return f'<text class="wf-{kind}" x="{n(x)}" y="{n(y + SIZE * 0.35)}" text-anchor="{anchor}">{escape(with_signs(words))}</text>'


def titled(words: str) -> str:
    """Words that a reader hears or sees on pointing at a sign; nothing for no words."""
    return f"<title>{escape(with_signs(words))}</title>" if words else ""


class _Say(Protocol):
    def __call__(self, x: float, y: float, words: str, anchor: str = ...) -> None: ...


class Window(msgspec.Struct, frozen=True):
    """A piece of the map at its place on the drawing. [m, px]"""

    u0: float
    u1: float
    v0: float
    v1: float
    x0: float
    y0: float
    scale: float

    def at(self, u: float, v: float) -> tuple[float, float]:
        """Where a point falls. [px]"""
        return self.x0 + (u - self.u0) * self.scale, self.y0 + (self.v1 - v) * self.scale

    @property
    def box(self) -> Box:
        """Its box. [px]"""
        return Box(self.x0, self.y0, self.x0 + (self.u1 - self.u0) * self.scale, self.y0 + (self.v1 - self.v0) * self.scale)


class Plate(msgspec.Struct, frozen=True):
    """Windows of a map, one a row, and the size of the drawing. [px]"""

    windows: list[Window]
    width: float
    height: float

    def window(self, u: float) -> Window:
        """The row in which a point falls."""
        return next((w for w in self.windows if u < w.u1), self.windows[-1])

    def at(self, u: float, v: float) -> tuple[float, float]:
        """Where a point falls. [px]"""
        return self.window(u).at(u, v)


def plate_of(part: PartMap, width: float, rows: int) -> Plate:
    """Lay a part out in a width, a strip in one or more rows. [px]"""
    u_span, v_span = max(part.u1 - part.u0, 1e-3), max(part.v1 - part.v0, 1e-3)
    if part.kind == "plan":
        scale = min((width - 62) / u_span, TALLEST / v_span)
        window = Window(part.u0, part.u0 + u_span, part.v0, part.v0 + v_span, 40.0, 30.0, scale)
        return Plate([window], max(u_span * scale + 62, 132.0), v_span * scale + 60)
    if part.kind == "disc":
        room = min(width, DISC)
        scale = (room - 84) / max(u_span, v_span)
        window = Window(part.u0, part.u0 + u_span, part.v0, part.v0 + v_span, 42.0, 44.0, scale)
        return Plate([window], u_span * scale + 84, v_span * scale + 88)
    left, right, top, foot = 40.0, 22.0, 30.0, 30.0
    if (width - left - right) / u_span >= TALLEST / v_span:
        rows = 1  # a narrow strip gains nothing from a split
    each = u_span / rows
    scale = min((width - left - right) / each, TALLEST / v_span)
    high = v_span * scale
    windows = [
        Window(part.u0 + k * each, part.u0 + (k + 1) * each, part.v0, part.v0 + v_span, left, top + k * (high + foot + 14), scale)
        for k in range(rows)
    ]
    return Plate(windows, max(each * scale + left + right, 132.0), windows[-1].y0 + high + foot)


def nice(most: float) -> float:
    """The largest 1, 2 or 5 times a power of ten that is not over `most`."""
    power = 10.0 ** math.floor(math.log10(most))
    return max(step * power for step in (1, 2, 5) if step * power <= most * (1 + 1e-9))


def furniture(part: PartMap, plate: Plate, taken: Taken) -> list[str]:
    """Frame, axes, scale bar, 0 deg mark; takes the boxes of their texts."""
    made: list[str] = []

    def say(x: float, y: float, words: str, anchor: str = "middle") -> None:
        taken.add(text_box(x, y, words, SIZE, anchor))
        made.append(text(x, y, words, anchor=anchor))

    if part.kind == "disc":
        _disc_axes(plate.windows[0], made, say)
    else:
        for window in plate.windows:
            _strip_axes(part, window, made, say)
    _scale_bar(plate, made, say)
    return made


def _strip_axes(part: PartMap, w: Window, made: list[str], say: _Say) -> None:
    b = w.box
    made.append(f'<rect class="wf-frame" x="{n(b.x0)}" y="{n(b.y0)}" width="{n(b.x1 - b.x0)}" height="{n(b.y1 - b.y0)}"/>')
    for x, zero, words in _degrees(part, w) if part.kind == "strip" else _lengths(w):
        made.append(f'<path class="wf-tick" d="M{n(x)},{n(b.y1)}v6"/>')
        if zero:
            made.append(f'<path class="wf-zero" d="M{n(x)},{n(b.y1 + 1)}l-5,8h10z"/>')
        say(x, b.y1 + 18, words)
    rise = nice((w.v1 - w.v0) / max(1.0, (b.y1 - b.y0) / 44) * 1.3) if w.v1 - w.v0 > 0 else 1.0
    for k in range(math.ceil(w.v0 / rise - 1e-9), math.floor(w.v1 / rise + 1e-9) + 1):
        y = b.y0 + (w.v1 - k * rise) * w.scale
        made.append(f'<path class="wf-tick" d="M{n(b.x0)},{n(y)}h-5"/>')
        say(b.x0 - 8, y, f"{round(k * rise, 6):g} m", "end")


def _degrees(part: PartMap, w: Window) -> Iterator[tuple[float, bool, str]]:
    """Where angles are written under a strip: place, whether it is 0, words. [px]"""
    to_px = w.scale * (part.period_m or 1.0) / 360
    step = next((s for s in (15, 30, 45, 90, 180) if s * to_px >= 56), 360)
    first, last = (360 * (u - part.u0) / (part.u1 - part.u0) for u in (w.u0, w.u1))
    for degree in range(0, 361, step):
        if first - 0.01 <= degree <= last + 0.01:
            yield w.box.x0 + (degree - first) * to_px, degree == 0, f"{degree}°"


def _lengths(w: Window) -> Iterator[tuple[float, bool, str]]:
    """Where lengths are written under a plan or the unrolled sides of something. [px]"""
    step = nice(max(w.u1 - w.u0, 1e-3) / max(1.0, (w.box.x1 - w.box.x0) / 56) * 2.5)
    for k in range(math.ceil(w.u0 / step - 1e-9), math.floor(w.u1 / step + 1e-9) + 1):
        yield w.at(k * step, 0.0)[0], k == 0, f"{round(k * step, 6):g} m"


def _disc_axes(w: Window, made: list[str], say: _Say) -> None:
    b = w.box
    cx, cy = w.at(0.0, 0.0)
    radius = max(b.x1 - cx, cx - b.x0, b.y1 - cy, cy - b.y0)
    made.append(f'<circle class="wf-frame" cx="{n(cx)}" cy="{n(cy)}" r="{n(radius)}"/>')
    for degree in range(0, 360, 45):
        sin, cos = math.sin(math.radians(degree)), math.cos(math.radians(degree))
        start, end = (f"{n(cx + sin * far)},{n(cy - cos * far)}" for far in (radius, radius + 6))
        made.append(f'<path class="wf-tick" d="M{start}L{end}"/>')
        if degree == 0:
            made.append(f'<path class="wf-zero" d="M{n(cx)},{n(cy - radius - 1)}l-5,-9h10z"/>')
        say(cx + sin * (radius + 21), cy - cos * (radius + 18), f"{degree}°")


def _scale_bar(plate: Plate, made: list[str], say: _Say) -> None:
    w, wide = plate.windows[0], plate.width
    length = nice(min(wide * 0.3, 140.0) / w.scale)
    disc = len(plate.windows) == 1 and w.x0 > 41
    x1 = wide - 6 if disc else max(w.box.x1, w.x0 + length * w.scale)
    x0, y = x1 - length * w.scale, plate.height - 8 if disc else w.y0 - 8
    made.append(f'<path class="wf-tick" d="M{n(x0)},{n(y - 4)}v4H{n(x1)}v-4"/>')
    say((x0 + x1) / 2, y - 11, f"{length:g} m")
