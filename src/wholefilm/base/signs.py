"""Units as a reader sees them: typed ``um``, ``m2``, ``degC`` and the like with the sign of print.

Typed input, JSON and job files keep what was typed; only pages and print are for reading.
"""

from __future__ import annotations

import re

SIGNS = {
    "um": "µm",
    "mm2": "mm²",
    "cm2": "cm²",
    "m2": "m²",
    "ft2": "ft²",
    "in2": "in²",
    "m3": "m³",
    "degC": "°C",
    "degF": "°F",
    "ohm": "Ω",
    "kohm": "kΩ",
    "Mohm": "MΩ",
}
_UNIT = "|".join(sorted(SIGNS, key=len, reverse=True))
_TYPED = re.compile(rf"(?<=[0-9])(\s?)({_UNIT})(?![\w])|(?<=[0-9])\s?deg(?![\w])|(?<=per )({_UNIT})(?![\w])")


def with_signs(text: str) -> str:
    """A text in which units behind a number stand as in print.

    Parameters
    ----------
    text : str
        Such as ``"600 to 1000 um, 2.4 m2, at 165 deg"``.

    Returns
    -------
    str
        ``"600 to 1000 µm, 2.4 m², at 165°"``; nothing else is changed, and a second pass changes nothing.

    Notes
    -----
    Signs as in ISO 80000-1:2022 and the SI brochure, 9th ed. (from memory): the degree of an angle stands without a space
    behind its number, other signs with the space that was typed.
    """
    return _TYPED.sub(_sign, text)


def _sign(found: re.Match[str]) -> str:
    unit = found[2] or found[3]
    return f"{found[1] or ''}{SIGNS[unit]}" if unit else "°"
