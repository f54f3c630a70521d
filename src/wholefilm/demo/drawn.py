"""Pictures for a demo: drawn, and saying so on the picture. Line art of the same bytes in every build."""

from __future__ import annotations

import io
from collections.abc import Sequence
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from PIL import Image

SAYS = "drawn for the demo, not a photograph"
SIZE = (480, 360)
_INK, _FILM, _STEEL, _RED, _PAPER = 0, 1, 2, 3, 4
_COLOURS = [(30, 34, 40), (176, 196, 186), (120, 124, 128), (186, 52, 40), (246, 242, 230)]
_SCALE_PX = 100

Point = tuple[float, float]


def picture(number: str, caption: str, lines: Sequence[Sequence[Point]], marks: Sequence[Point], scale: str) -> bytes:
    """A small drawing of a mark on the wall.

    Parameters
    ----------
    number : str
        Wall number or repair number.
    caption : str
        What is drawn, in a few words.
    lines : list of list of (x, y)
        Seams, rims and outlines. [px, 480 x 360, y down]
    marks : list of (x, y)
        Where the tester spoke. [px]
    scale : str
        Length of the bar of 100 px, such as ``"100 mm"``.

    Returns
    -------
    bytes
        PNG of 16 colours, not compressed, so that every build gives the same bytes.
    """
    from PIL import Image, ImageDraw

    image = Image.new("P", SIZE, _FILM)
    image.putpalette([part for colour in _COLOURS for part in colour])
    draw = ImageDraw.Draw(image)
    for line in lines:
        draw.line([(round(x), round(y)) for x, y in line], fill=_STEEL, width=5)
    for x, y in marks:
        draw.ellipse((round(x) - 4, round(y) - 4, round(x) + 4, round(y) + 4), fill=_INK)
        draw.ellipse((round(x) - 16, round(y) - 16, round(x) + 16, round(y) + 16), outline=_RED, width=3)
    draw.rectangle((0, 300, SIZE[0], SIZE[1]), fill=_PAPER)
    draw.line([(360, 326), (360 + _SCALE_PX, 326)], fill=_INK, width=5)
    _text(image, (16, 308), number, 3)
    _text(image, (360, 334), scale, 1)
    _text(image, (110, 310), caption, 1)
    _text(image, (110, 334), SAYS, 1)
    out = io.BytesIO()
    image.save(out, "PNG", bits=4, compress_level=0)
    return out.getvalue()


def _text(image: Image.Image, at: tuple[int, int], text: str, times: int) -> None:
    """Text in a bitmap font, enlarged without smoothing."""
    from PIL import Image, ImageDraw, ImageFont

    font = ImageFont.load_default_imagefont()
    left, top, right, bottom = (round(edge) for edge in font.getbbox(text))
    mask = Image.new("1", (right - left, bottom - top), 0)
    ImageDraw.Draw(mask).text((-left, -top), text, fill=1, font=font)
    image.paste(_INK, at, mask.resize((mask.width * times, mask.height * times), Image.Resampling.NEAREST))
