"""Photos made small enough for a page."""

from __future__ import annotations

import io
import warnings
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from PIL import Image

LONGEST_PX = 640
QUALITY = 82


def small(data: bytes) -> bytes | None:
    """A photo as JPEG of at most 640 px, or None if the bytes are no picture that can be read.

    Parameters
    ----------
    data : bytes
        Any picture. What it says of place, time and camera is left out.
    """
    from PIL import Image, ImageOps

    try:
        with warnings.catch_warnings():
            warnings.simplefilter("error", Image.DecompressionBombWarning)
            with Image.open(io.BytesIO(data)) as opened:
                opened.draft("RGB", (LONGEST_PX, LONGEST_PX))
                picture = ImageOps.exif_transpose(opened)
                flat = _flat(picture)
                flat.thumbnail((LONGEST_PX, LONGEST_PX))
                out = io.BytesIO()
                flat.save(out, "JPEG", quality=QUALITY)
                return out.getvalue()
    except (OSError, ValueError, SyntaxError, MemoryError, Image.DecompressionBombError, Image.DecompressionBombWarning):
        return None


def _flat(picture: Image.Image) -> Image.Image:
    """Colours without transparency; what was clear becomes white."""
    from PIL import Image

    if picture.mode in ("RGBA", "LA", "PA") or "transparency" in picture.info:
        clear = picture.convert("RGBA")
        paper = Image.new("RGBA", clear.size, "white")
        return Image.alpha_composite(paper, clear).convert("RGB")
    return picture.convert("RGB")
