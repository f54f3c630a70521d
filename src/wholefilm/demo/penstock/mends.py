"""Repairs and retests: ten end strips, eight weld strips, seventeen spots; the weld strip of P-05 a second time."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from ..acts import Act, Ref, later
from ..cast import Typed, coat, cured, done, planned, raised
from ..scribe import Book
from .finds import FINDS, WELD_AT, Find, spot
from .tables import CANS, CAST, DOSE, FRAME, LIQUID, LV_01

KIND = {"end": "end strip", "weld": "weld strip", "scattered": "spot", "peak": "spot"}
_PROCEDURE = "coating maker's repair procedure: abrade, feather, clean, two coats by brush at least 5 h apart"
_PREPARATION = "abraded by hand to a sound edge, feathered, vacuumed, wiped"


@dataclass(frozen=True)
class Mend:
    """A repair: number, can, kind, holidays, outline, bare spot."""

    number: str
    can: str
    kind: str
    covers: tuple[str, ...]
    outline: tuple[Typed, ...]
    bare: Typed


def _rect(can: str, angles: tuple[float, float], along: tuple[float, float]) -> Typed:
    return {
        "shape": "rect", "on": can, "at": [f"{a:g} deg" for a in angles], "along": [f"{x:g} mm" for x in along],
    }  # fmt: skip


def _mends() -> tuple[Mend, ...]:
    found: list[Mend] = []

    def add(can: str, kind: str, mine: list[Find], outline: Typed, bare: Typed) -> None:
        found.append(Mend(f"R-{len(found) + 1:02d}", can, kind, tuple(f.number for f in mine), (outline,), bare))

    for can in CANS:
        holidays = [f for f in FINDS if f.can == can and not f.false]
        ends, welds = ([f for f in holidays if f.pattern == p] for p in ("end", "weld"))
        if ends:
            angles = (min(f.angle for f in ends) - 4, max(f.angle for f in ends) + 4)
            length = f"{round((angles[1] - angles[0]) / 360 * 6283) - 60} mm"
            add(can, "end strip", ends, _rect(can, angles, (0, 70)), {"length": length, "width": "30 mm"})
        if welds:
            along = (min(f.along for f in welds) - 60, max(f.along for f in welds) + 60)
            bare = {"length": f"{along[1] - along[0] - 80} mm", "width": "25 mm"}
            add(can, "weld strip", welds, _rect(can, (WELD_AT - 3, WELD_AT + 3), along), bare)
        for find in (f for f in holidays if f.pattern in ("scattered", "peak")):
            add(can, "spot", [find], {"shape": "disc", "at": find.place, "radius": "60 mm"}, {"area": "0.0007 m2"})
    return tuple(found)


MENDS = _mends()
STRIP = next(m for m in MENDS if (m.can, m.kind) == ("P-05", "weld strip"))
"""The weld strip of P-05, which fails its first retest."""
AGAIN = "D24"
"""Wall number of what its first retest raised, at 1260 mm and 45 deg."""


def film_um(mend: Mend) -> int:
    """Local dry film at the first retest. [um]"""
    return 232 + 4 * int(mend.number[2:])


def mends(_: Book) -> Iterator[Act]:
    """Acts of all repairs and retests."""
    for n, mend in enumerate(MENDS):
        at = later(FRAME.at(4, "17:00"), n)
        yield planned(mend.number, mend.covers, mend.kind, _PROCEDURE, mend.outline, at, device="A", by="inspector")
        first = later(FRAME.at(5, "08:00"), 4 * n)
        yield _done(mend, 1, first, later(first, 330), "climate 5 07:20", "demo batch R1")
    last = FRAME.at(5, "16:00")
    yield _cured([m.number for m in MENDS], last, FRAME.at(10, "07:50"))
    for n, mend in enumerate(MENDS):
        begin = later(FRAME.at(10, "08:00"), 12 * n)
        if mend is STRIP:
            more = {"retest": Ref(mend.number), "precision": "10 mm", "note": "one left in the strip"}
            yield raised(AGAIN, mend.can, spot("P-05", 1260, WELD_AT), later(begin, 4), device="D", by="recorder", more=more)
            yield _retest(mend, 1, begin, "228 um", (AGAIN,))
        else:
            yield _retest(mend, 1, begin, f"{film_um(mend)} um")
    yield _done(STRIP, 2, FRAME.at(10, "16:00"), FRAME.at(10, "18:00"), "climate 10 15:40", "demo batch R2", between=90)
    yield _cured([STRIP.number], FRAME.at(10, "18:00"), FRAME.at(16, "07:50"))
    yield _retest(STRIP, 2, FRAME.at(16, "08:40"), "271 um")


def _done(mend: Mend, nth: int, begin: str, end: str, climate: str, batch: str, between: int = 300) -> Act:
    coats = [coat(batch, at, Ref(climate)) for at in (later(end, -between), end)]
    body = {"preparation": _PREPARATION, "bare": mend.bare, "feather": "15 mm", "applicator": CAST.title("foreman")}
    return done(mend.number, nth, begin, end, coats, device="B", by="inspector", more=body)


def _cured(numbers: list[str], last: str, at: str) -> Act:
    return cured(numbers, "R10", last, "10 degC", at, person=CAST.people["inspector"], device="D", by="recorder")


def _retest(mend: Mend, nth: int, begin: str, film: str, numbers: tuple[str, ...] = ()) -> Act:
    more = {"liquid": LIQUID, "dose": DOSE, "operator": CAST.title("inspector"), "recorder": CAST.title("recorder")}
    return LV_01.retest(mend.number, nth, begin, later(begin, 9), film, mend.outline, numbers, device="D", by="recorder", more=more)
