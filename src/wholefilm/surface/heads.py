r"""Ends of vessels: meridians from the pole outward, in the sizes that drawings state.

Torispherical: crown radius :math:`L`, knuckle radius :math:`r`, diameter :math:`D`; the crown ends at
:math:`\phi = \arcsin\frac{D/2 - r}{L - r}`. Area of the crown :math:`2 \pi L^2 (1 - \cos\phi)`, of the knuckle
:math:`2 \pi r [(D/2 - r)(\pi/2 - \phi) + r \cos\phi]`, depth :math:`L - \sqrt{(L - r)^2 - (D/2 - r)^2}`.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

from ..base.errors import BadInput
from . import fields
from .disc import Disc
from .meridian import Arc, Ellipse, Line, Piece
from .parts import Part
from .revolved import Revolved

KINDS = {
    "torispherical": "crown and knuckle radius as typed",
    "din28011": "crown = D, knuckle = 0.1 D (DIN 28011; ratios seen in an encyclopedia)",
    "din28013": "crown = 0.8 D, knuckle = 0.154 D (DIN 28013; ratios from memory)",
    "asme_fd": "crown = D, knuckle = 0.06 D (ASME flanged and dished, least knuckle)",
    "ellipsoidal": "2:1 ellipsoid",
    "hemisphere": "half a ball",
    "cone": "a cone without knuckle, `height` or `slope`",
}
_RATIOS = {"din28011": (1.0, 0.1), "din28013": (0.8, 0.154), "asme_fd": (1.0, 0.06)}


def torispherical(diameter: float, crown: float, knuckle: float) -> tuple[Piece, ...]:
    """Crown and knuckle. [m]"""
    a = diameter / 2 - knuckle
    phi = math.asin(a / (crown - knuckle))
    centre = crown - (crown - knuckle) * math.cos(phi)
    return Arc(0.0, crown, crown, 0.0, phi), Arc(a, centre, knuckle, phi, math.pi / 2)


FIELDS = ("kind", "crown", "knuckle", "straight_flange", "height", "slope")


def read_end(name: str, body: Mapping[str, Any], diameter: float, edge_z: float, upward: bool, where: str) -> Part:
    """A head as a part, its rim at a height; a cone on its plan, where distances are exact, all others on a map of equal areas. [m]

    Raises
    ------
    BadInput
        As `read_head`; also for a cone with a straight flange, which belongs to the shell.
    """
    if body.get("kind") != "cone":
        pieces = read_head(body, diameter, where)
        depth = pieces[-1].at(pieces[-1].length).d
        return Revolved(name, pieces, edge_z + depth if upward else edge_z - depth, upward)
    for key in ("crown", "knuckle", "straight_flange"):
        if key in body:
            raise BadInput(_dot(where, key), body[key], "not for a cone; add a straight flange to the shell")
    if ("height" in body) == ("slope" in body):
        raise BadInput(_dot(where, "height"), dict(body), "one of 'height' and 'slope' of the cone")
    slope = fields.size(body, "height", where) / (diameter / 2) if "height" in body else fields.slope(body, "slope", where)
    return Disc(name, diameter / 2, slope if upward else -slope, edge_z)


def _dot(where: str, key: str) -> str:
    return f"{where}.{key}" if where else key


def read_head(body: Mapping[str, Any], diameter: float, where: str) -> tuple[Piece, ...]:
    """Meridian of a head, its straight flange included.

    Parameters
    ----------
    body : dict
        `kind`, one of `KINDS`; `crown` and `knuckle` of a torispherical one; `straight_flange`, optional.
    diameter : float
        Of the face that is coated. [m]
    where : str
        What stands before the name of a field in a message.

    Raises
    ------
    BadInput
        If the kind is unknown, or a size is missing or does not fit.
    """
    kind = fields.text(body, "kind", where)
    if kind not in KINDS:
        raise BadInput(_dot(where, "kind"), kind, f"one of {', '.join(KINDS)}")
    for key in ("crown", "knuckle"):
        if key in body and kind != "torispherical":
            raise BadInput(_dot(where, key), body[key], "only for a torispherical head; the others have fixed ratios")
    for key in ("height", "slope"):
        if key in body and kind != "cone":
            raise BadInput(_dot(where, key), body[key], "only for a cone")
    if kind == "torispherical":
        pieces = _typed(body, diameter, where)
    elif kind in _RATIOS:
        crown, knuckle = _RATIOS[kind]
        pieces = torispherical(diameter, crown * diameter, knuckle * diameter)
    elif kind == "ellipsoidal":
        pieces = (Ellipse(diameter / 2, diameter / 4),)
    elif kind == "hemisphere":
        pieces = (Arc(0.0, diameter / 2, diameter / 2, 0.0, math.pi / 2),)
    else:
        raise BadInput(_dot(where, "kind"), kind, "another kind: a cone is made by `read_end`")
    flange = fields.length(body, "straight_flange", where) if "straight_flange" in body else 0.0
    if flange < 0:
        raise BadInput(_dot(where, "straight_flange"), body["straight_flange"], "0 or more")
    if flange > 1e-6:
        end = pieces[-1].at(pieces[-1].length)
        pieces = (*pieces, Line(end.r, end.d, end.r, end.d + flange))
    return pieces


def _typed(body: Mapping[str, Any], diameter: float, where: str) -> tuple[Piece, ...]:
    crown, knuckle = fields.size(body, "crown", where), fields.size(body, "knuckle", where)
    if not knuckle < diameter / 2:
        raise BadInput(_dot(where, "knuckle"), body["knuckle"], f"less than half the diameter, {diameter / 2:.3f} m")
    if not crown > diameter / 2:
        raise BadInput(_dot(where, "crown"), body["crown"], f"more than half the diameter, {diameter / 2:.3f} m")
    return torispherical(diameter, crown, knuckle)
