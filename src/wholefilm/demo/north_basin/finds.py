"""What the tester spoke on in the demo job north-basin: 45 indications, 42 holidays, 3 false. Invented."""

from __future__ import annotations

from dataclasses import dataclass, field

Typed = dict[str, object]


@dataclass(frozen=True)
class Find:
    """An indication: wall number, panel, place, the day, class of the surface, local film where it was read."""

    number: str
    day: int
    panel: str
    place: Typed
    surface: str = "flat"
    film: str = ""
    false: bool = False
    extra: Typed = field(default_factory=dict)


def shell(arc: str, z: str) -> Typed:
    """A place on the shell by arc and height. [m]"""
    return {"item": "T1", "on": "shell", "arc": f"{arc} m", "z": f"{z} m"}


def turned(degrees: str, z: str) -> Typed:
    """A place on the shell by angle and height. [deg, m]"""
    return {"item": "T1", "on": "shell", "at": f"{degrees} deg", "z": f"{z} m"}


def floor(x: str, y: str) -> Typed:
    """A place on the floor. [m]"""
    return {"item": "T1", "on": "floor", "x": f"{x} m", "y": f"{y} m"}


def rim(name: str, clock: str, on_pad: bool = False) -> Typed:
    """A place on the rim or the pad toe of an opening. [deg from the top, clockwise seen from inside]"""
    place: Typed = {"item": "T1", "near": name, "clock": f"{clock} deg"}
    return {**place, "on_pad": True} if on_pad else place


SCRATCH = (
    ("2.10", "-1.35"),
    ("2.18", "-1.29"),
    ("2.27", "-1.23"),
    ("2.35", "-1.16"),
    ("2.43", "-1.10"),
    ("2.51", "-1.04"),
    ("2.60", "-0.98"),
)
M2_RIM = (("153", "410 um"), ("163", "390 um"), ("181", "330 um"), ("189", "345 um"), ("204", "360 um"), ("218", "405 um"))
N2_TOE = ("40", "52", "231")
V2_4_LEFT = (("17.27", "3.06"), ("17.25", "3.81"), ("17.26", "3.97"))
V2_4_RIGHT = (
    ("17.29", "3.14"),
    ("17.30", "3.31"),
    ("17.33", "3.47"),
    ("17.30", "3.60"),
    ("17.31", "3.69"),
    ("17.32", "4.16"),
    ("17.30", "4.24"),
    ("17.31", "4.44"),
)
S3_3 = (("14.84", "4.79"), ("15.77", "4.85"), ("16.78", "5.07"), ("18.74", "4.77"), ("18.84", "4.82"), ("19.37", "5.24"))
S3_4 = (("21.40", "4.56"), ("22.15", "5.49"), ("22.71", "5.94"), ("23.06", "5.41"), ("23.42", "5.32"))


def _finds() -> tuple[Find, ...]:
    found = [Find(f"B{n}", 1, "F-2", floor(x, y)) for n, (x, y) in enumerate(SCRATCH, 1)]
    found += [Find(f"B{n}", 1, "S1-3", rim("M2", clock), "edge", film) for n, (clock, film) in enumerate(M2_RIM, 8)]
    found += [Find(f"B{n}", 1, "S1-4", rim("N2", clock, on_pad=True)) for n, clock in enumerate(N2_TOE, 14)]
    found += [Find(f"B{n}", 1, "S1-5", turned(at, "0.02"), false=True) for n, at in ((17, "301"), (18, "303"))]
    found += [Find(f"B{n}", 2, "S2-3", shell(*at), "weld") for n, at in enumerate(V2_4_LEFT, 19)]
    found += [Find(f"B{n}", 2, "S2-4", shell(*at), "weld") for n, at in enumerate(V2_4_RIGHT, 22)]
    found += [Find(f"D{n}", 2, "S3-3", shell(*at)) for n, at in enumerate(S3_3, 1)]
    found += [Find(f"D{n}", 2, "S3-4", shell(*at)) for n, at in enumerate(S3_4, 7)]
    found.append(Find("D12", 2, "S4-1", turned("20", "7.40"), false=True))
    found += [Find("D13", 2, "S4-2", turned("71", "8.98"), "weld"), Find("D14", 2, "S4-6", turned("288", "8.98"), "weld")]
    found += [Find("D15", 3, "S3-3", shell("14.61", "6.46")), Find("D16", 3, "S3-4", shell("20.45", "6.33"))]
    return tuple(found)


FINDS = _finds()
DECIDED_FALSE = (
    ("B17", 1, "15:42", "damp corner between floor and shell: the tester spoke along the wet film", "dried, swept again, silent"),
    ("B18", 1, "15:44", "damp corner between floor and shell: the tester spoke along the wet film", "dried, swept again, silent"),
    ("D12", 2, "15:20", "flash to the bare cleat of the ladder", "brush led past the cleat at 0.10 m, silent"),
    ("D12", 3, "10:02", "flash to the bare cleat of the ladder; decided again after the failed end check",
     "cleat covered by an insulating mat, swept again, silent"),
)  # fmt: skip
"""Number, day, time, reason, what was tried."""

ON_FEATHER = (("D17", "S2-3", shell("17.10", "3.42")), ("D18", "S2-4", shell("17.46", "3.95")))
"""Raised by the first retest of R-01: number, panel, place on the feather edge."""
