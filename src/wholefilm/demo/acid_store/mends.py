"""Repairs and retests: 20 of holidays, three of the made ones; the strip along the saw cut fails and stays open."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from ..acts import Act, Ref, later
from ..cast import Typed, coat, cured, done, planned, raised
from ..scribe import Book
from .finds import FINDS, floor
from .tables import CAST, FRAME, MADE, NEW_LEAD

_PROCEDURE = "coating maker's repair procedure: grind, vacuum, prime bare concrete, two coats of flake lining at least 5 h apart"
_TOGETHER = {"10.38 m", "10.51 m"}
"""Two outgassing holes 0.2 m apart, mended as one."""
CRACKED = (("12.00", "3.36"), ("11.99", "4.94"), ("12.01", "6.11"))
"""Where the retest of the strip spoke: x, y. [m]"""


@dataclass(frozen=True)
class Mend:
    """A repair: number, class, what it covers, outline, bare spot."""

    number: str
    kind: str
    covers: tuple[str, ...]
    outline: tuple[Typed, ...]
    bare: Typed


def _mends() -> tuple[Mend, ...]:
    made: list[Mend] = []

    def add(kind: str, covers: tuple[str, ...], outline: tuple[Typed, ...], bare: Typed) -> None:
        made.append(Mend(f"R-{len(made) + 1:02d}", kind, covers, outline, bare))

    def disc(place: Typed, radius: str = "0.12 m") -> Typed:
        return {"shape": "disc", "at": place, "radius": radius}

    of = {p: [f for f in FINDS if f.pattern == p] for p in ("joint", "outgassing", "plinth edge", "sump corner")}
    strip = {"shape": "rect", "on": "floor", "x": ["11.85 m", "12.15 m"], "y": ["1.90 m", "6.92 m"]}
    add("joint strip", tuple(f.number for f in of["joint"]), (strip,), {"length": "4.80 m", "width": "0.10 m"})
    pair = [f for f in of["outgassing"] if f.place["x"] in _TOGETHER]
    for find in of["outgassing"]:
        if find is pair[0]:
            add("spot", (pair[0].number, pair[1].number), tuple(disc(f.place) for f in pair), {"area": "0.0100 m2"})
        elif find is not pair[1]:
            add("spot", (find.number,), (disc(find.place),), {"area": "0.0050 m2"})
    for plinth in ("PL1", "PL2", "PL3", "PL4"):
        mine = [f for f in of["plinth edge"] if f.panel == plinth]
        add("plinth edge", tuple(f.number for f in mine), tuple(disc(f.place) for f in mine), {"area": f"{0.002 * len(mine):.4f} m2"})
    high, low = of["sump corner"][:2], of["sump corner"][2:]
    for mine in (high, low):
        add("sump corner", tuple(f.number for f in mine), tuple(disc(f.place) for f in mine), {"area": f"{0.004 * len(mine):.4f} m2"})
    for number, _, panel, (x, y), _ in MADE:
        add("made holiday", (f"made {number}",), (disc(floor(x[:-2], y[:-2], panel)),), {"area": "0.0020 m2"})
    return tuple(made)


MENDS = _mends()
STRIP = MENDS[0]


def mends(_: Book) -> Iterator[Act]:
    """Acts of all repairs and retests."""
    for n, mend in enumerate(MENDS):
        at = later(FRAME.at(3, "17:30"), n)
        yield planned(mend.number, mend.covers, mend.kind, _PROCEDURE, mend.outline, at, device="G", by="inspector")
        begin = later(FRAME.at(4, "08:00"), 7 * n)
        coats = [coat("demo batch R1", t, Ref("climate 4 07:20")) for t in (later(begin, 20), later(begin, 320))]
        body = {
            "preparation": "ground to a sound edge, feathered, vacuumed, primed where bare", "bare": mend.bare, "feather": "30 mm",
            "applicator": CAST.title("foreman"),
        }  # fmt: skip
        yield done(mend.number, 1, begin, later(begin, 320), coats, device="H", by="inspector", more=body)
    last = later(FRAME.at(4, "08:00"), 7 * (len(MENDS) - 1) + 320)
    numbers = [m.number for m in MENDS]
    yield cured(numbers, "R20", last, "20 degC", FRAME.at(8, "07:50"), person=CAST.people["inspector"], device="J", by="recorder")
    for n, mend in enumerate(MENDS):
        begin = later(FRAME.at(8, "08:00"), 14 * n)
        heard: tuple[str, ...] = ()
        if mend is STRIP:
            heard = ("J10", "J11", "J12")
            for k, (x, y) in enumerate(CRACKED):
                more = {"retest": Ref(mend.number), "precision": "10 mm", "note": "hair crack through the patch"}
                panel = f"D{int(float(y) // 2.75) + 1}"
                yield raised(heard[k], panel, floor(x, y, panel), later(begin, 2 + 3 * k), device="J", by="recorder", more=more)
        more = {"operator": CAST.title("inspector"), "recorder": CAST.title("recorder")}
        film = f"{3.0 + 0.02 * n:.2f} mm"
        yield NEW_LEAD.retest(mend.number, 1, begin, later(begin, 11), film, mend.outline, heard, device="J", by="recorder", more=more)
