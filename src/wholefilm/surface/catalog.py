"""Shapes asked for on their own, from few numbers: area, parts, size of the map, and the formula with its source and grade."""

from __future__ import annotations

from collections.abc import Mapping

from ..base.errors import BadInput
from .asked import Asked, all_of, cans, floor, head, polygon, string, tank, vessel
from .sections import Sized, elbow, flange_face, hollow_section, i_section
from .shapes.pipe import read_pipe
from .shapes.sphere import read_sphere


def _pipe(body: Mapping[str, str]) -> list[Sized]:
    return all_of(read_pipe(body).parts)


_ROUND = ("pi D L", "school geometry; m2 per m of pipes agree with printed tables", "seen")
_DISHED = "crown 2 pi L^2 (1 - cos phi), knuckle 2 pi r [(D/2 - r)(pi/2 - phi) + r cos phi], sin phi = (D/2 - r)/(L - r)"
_PAPPUS = "Pappus and Guldin; agrees with the worked example in the documentation of the library fluids to 1e-12"
_FACE = "Drawings size this head by its outside diameter. Ask which face is meant: the inside differs by about 0.2 % at s/D = 0.01."
_D = {"diameter": "2.4 m"}

CATALOG: dict[str, Asked] = {
    "pipe": Asked(
        "pipe, outside",
        ("diameter", "length"),
        (),
        *_ROUND,
        _pipe,
        {"diameter": "610 mm", "length": "12.2 m"},
    ),
    "pipe_string": Asked(
        "bands over the field joints of a pipeline, outside",
        ("diameter", "band", "joints"),
        (),
        *_ROUND,
        string,
        {"diameter": "610 mm", "band": "0.5 m", "joints": "48"},
    ),
    "can": Asked(
        "cans of a penstock, inside",
        ("diameter", "length"),
        ("cans",),
        *_ROUND,
        cans,
        {"diameter": "2.0 m", "length": "2.5 m", "cans": "12"},
    ),
    "column": Asked(
        "round column, outside",
        ("diameter", "length"),
        (),
        *_ROUND,
        _pipe,
        {"diameter": "0.3 m", "length": "9 m"},
    ),
    "tank": Asked(
        "upright tank, inside: shell, floor, cone roof if its slope is given",
        ("diameter", "height"),
        ("roof",),
        "pi D H, pi D^2/4, roof pi D^2/4 sqrt(1 + slope^2)",
        "school geometry; the cone agrees with the documentation of the library fluids",
        "seen",
        tank,
        {"diameter": "12 m", "height": "9 m", "roof": "1:6"},
    ),
    "floor": Asked(
        "floor, rectangular or round, with the inner face of a kerb; what stands on it is not taken off",
        (),
        ("length", "width", "diameter", "kerb"),
        "length x width or pi D^2/4, kerb perimeter x height",
        "school geometry",
        "derived",
        floor,
        {"length": "18 m", "width": "11 m", "kerb": "0.45 m"},
    ),
    "polygon": Asked(
        "level polygon by its corners",
        ("corners",),
        (),
        "shoelace formula",
        "school geometry",
        "derived",
        polygon,
        {"corners": "0 m, 0 m; 4 m, 0 m; 4 m, 3 m"},
    ),
    "vessel": Asked(
        "upright vessel, inside: shell between tangent lines, two equal heads",
        ("diameter", "shell", "head"),
        ("crown", "knuckle", "straight_flange", "height", "slope"),
        *_ROUND,
        vessel,
        {**_D, "shell": "4.8 m", "head": "torispherical", "crown": "2.4 m", "knuckle": "0.24 m"},
    ),
    "torispherical": Asked(
        "dished head by crown and knuckle radius",
        ("diameter", "crown", "knuckle"),
        ("straight_flange",),
        _DISHED,
        _PAPPUS,
        "seen",
        head("torispherical"),
        {**_D, "crown": "2.4 m", "knuckle": "0.24 m"},
    ),
    "din28011": Asked(
        "dished head, crown = D, knuckle = 0.1 D",
        ("diameter",),
        ("straight_flange",),
        _DISHED,
        "DIN 28011, edition not read: ratios seen in an encyclopedia",
        "restated",
        head("din28011"),
        _D,
        _FACE,
    ),
    "din28013": Asked(
        "dished head, crown = 0.8 D, knuckle = 0.154 D",
        ("diameter",),
        ("straight_flange",),
        _DISHED,
        "DIN 28013, edition not read: ratios from memory",
        "memory",
        head("din28013"),
        _D,
        _FACE,
    ),
    "asme_fd": Asked(
        "flanged and dished head, crown = D, knuckle = 0.06 D",
        ("diameter",),
        ("straight_flange",),
        _DISHED,
        "ASME flanged and dished, edition not read: ratios seen in an encyclopedia",
        "restated",
        head("asme_fd"),
        _D,
        _FACE,
    ),
    "ellipsoidal": Asked(
        "2:1 ellipsoidal head",
        ("diameter",),
        ("straight_flange",),
        "pi a^2 (1 + (1 - e^2)/e atanh e), e^2 = 3/4: 1.0840 D^2",
        "handbooks; the library fluids agrees",
        "seen",
        head("ellipsoidal"),
        _D,
    ),
    "hemisphere": Asked(
        "half a ball",
        ("diameter",),
        ("straight_flange",),
        "pi D^2/2",
        "Archimedes, On the Sphere and Cylinder",
        "derived",
        head("hemisphere"),
        _D,
    ),
    "cone": Asked(
        "cone to its apex",
        ("diameter",),
        ("height", "slope"),
        "pi D/2 sqrt(H^2 + D^2/4)",
        "documentation of the library fluids, worked example",
        "seen",
        head("cone"),
        {**_D, "height": "1 m"},
    ),
    "sphere": Asked(
        "ball, in two halves",
        ("diameter",),
        (),
        "pi D^2",
        "Archimedes, On the Sphere and Cylinder",
        "derived",
        lambda b: all_of(read_sphere(b).parts),
        {"diameter": "10 m"},
    ),
    "elbow": Asked(
        "pipe bend; area only, since no flat map of it is true",
        ("diameter", "bend_radius", "angle"),
        (),
        "pi D R theta, R to the axis",
        "Pappus and Guldin",
        "derived",
        elbow,
        {"diameter": "323.8 mm", "bend_radius": "457 mm", "angle": "90 deg"},
    ),
    "flange_face": Asked(
        "face of a flange less its bolt holes",
        ("outside", "bore"),
        ("bolts", "bolt_hole"),
        "pi/4 (Do^2 - Di^2 - n d^2)",
        "school geometry",
        "derived",
        flange_face,
        {"outside": "485 mm", "bore": "323.8 mm", "bolts": "12", "bolt_hole": "26 mm"},
    ),
    "i_section": Asked(
        "I or H section, all round, without its ends",
        ("height", "width", "web", "root", "length"),
        (),
        "[2 h + 4 b - 2 tw - (8 - 2 pi) r] L",
        "EN 10365 section tables agree (figures of the tables from memory)",
        "memory",
        i_section,
        {"height": "300 mm", "width": "150 mm", "web": "7.1 mm", "root": "15 mm", "length": "6 m"},
    ),
    "hollow_section": Asked(
        "rectangular hollow section, outside, without its ends",
        ("height", "width", "corner", "length"),
        (),
        "[2 (h + b) - (8 - 2 pi) r] L, r the outside corner radius",
        "EN 10219 section table, outside radius taken as twice the wall",
        "seen",
        hollow_section,
        {"height": "60 mm", "width": "40 mm", "corner": "8 mm", "length": "6 m"},
    ),
}


def measure(shape: str, given: Mapping[str, str]) -> list[Sized]:
    """Parts of a shape with their areas.

    Parameters
    ----------
    shape : str
        A key of `CATALOG`.
    given : dict of str to str
        Its dimensions as typed, with units.

    Returns
    -------
    list of Sized

    Raises
    ------
    BadInput
        If the shape or a key is unknown, a key is missing, or a value is not accepted; it names the key.
    """
    if shape not in CATALOG:
        raise BadInput("SHAPE", shape, f"one of {', '.join(CATALOG)}")
    asked = CATALOG[shape]
    known = (*asked.needs, *asked.may)
    for key, value in given.items():
        if key not in known:
            raise BadInput(key, value, f"for {shape} one of {', '.join(known)}")
    for key in asked.needs:
        if key not in given:
            raise BadInput(
                key, "nothing", f"a value, such as {key}='{asked.example.get(key, '1 m')}': {shape} needs {', '.join(asked.needs)}"
            )
    try:
        return asked.make(given)
    except BadInput as error:
        field = error.field.removeprefix("dimensions.").removeprefix("top_head.").replace("kerb.height", "kerb")
        raise type(error)("head" if field == "kind" else field, error.value, error.allowed) from error
