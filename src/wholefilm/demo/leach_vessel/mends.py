"""Repairs: one overlay before the cure, seven patches after it; the flare of N4 fails its retest and gets a new collar."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from ..acts import Act, Ref, later
from ..cast import Typed, coat, cured, done, planned, raised
from ..scribe import Book
from .tables import AC_9, AGAIN, BURN, CAST, FINDS, FRAME

_PATCH = "skive, buff, adhesive, patch of sheet cold-bonded and rolled"
_OVERLAY = "overlay of uncured sheet, skived edges, rolled; cured with the lining"


@dataclass(frozen=True)
class Mend:
    """A repair after the cure: number, class, what it covers, outline."""

    number: str
    kind: str
    covers: tuple[str, ...]
    outline: tuple[Typed, ...]


def _disc(place: Typed, radius: str = "0.06 m") -> Typed:
    return {"shape": "disc", "at": place, "radius": radius}


def _mends() -> tuple[Mend, ...]:
    after = [f for f in FINDS if f.day == 8]
    laps = sorted((f for f in after if f.pattern == "lap"), key=lambda f: str(f.place["z"]))
    made: list[Mend] = []

    def add(kind: str, covers: list[str], *outline: Typed) -> None:
        made.append(Mend(f"R-{len(made) + 2:02d}", kind, tuple(covers), outline))

    for first, last in ((0, 0), (1, 2), (3, 4)):
        mine = laps[first : last + 1]
        ends = [float(str(f.place["z"])[:-2]) for f in mine]
        rect = {"shape": "rect", "on": "shell", "at": ["266 deg", "274 deg"], "z": [f"{ends[0] - 0.10:.2f} m", f"{ends[-1] + 0.10:.2f} m"]}
        add("lap patch", [f.number for f in mine], rect)
    add("flare", [f.number for f in after if f.panel == "N4"], {"shape": "panel", "panel": "N4"})
    for pattern in ("knuckle", "void"):
        mine = [f for f in after if f.pattern == pattern]
        add("patch", [f.number for f in mine], *(_disc(f.place, "0.08 m") for f in mine))
    add("burn", ["burn E10"], _disc(BURN[1]))
    return tuple(made)


MENDS = _mends()
FLARE = next(m for m in MENDS if m.kind == "flare")


def mends(_: Book) -> Iterator[Act]:
    """Acts of all repairs and retests."""
    yield from _overlay()
    for n, mend in enumerate(MENDS):
        at = later(FRAME.at(9, "15:00"), n)
        yield planned(mend.number, mend.covers, mend.kind, _PATCH, mend.outline, at, device="A", by="manager")
        begin = later(FRAME.at(10, "08:00"), 45 * n)
        yield _done(mend.number, 1, begin, later(begin, 60), "climate 10 07:20", "20 mm")
    yield _cured([m.number for m in MENDS], later(FRAME.at(10, "08:00"), 45 * 6 + 60), FRAME.at(12, "07:50"))
    for n, mend in enumerate(MENDS):
        begin = later(FRAME.at(12, "08:00"), 20 * n)
        heard: tuple[str, ...] = ()
        if mend is FLARE:
            heard = (AGAIN[0],)
            more = {"retest": Ref(mend.number), "precision": "10 mm", "note": "edge of the patch open"}
            yield raised(AGAIN[0], "N4", AGAIN[1], later(begin, 5), device="E", by="recorder", more=more)
        yield _retest(mend, 1, begin, heard)
    yield _done(FLARE.number, 2, FRAME.at(12, "13:15"), FRAME.at(12, "15:00"), "climate 12 13:10", "20 mm", "collar cut out, new collar")
    yield _cured([FLARE.number], FRAME.at(12, "15:00"), FRAME.at(15, "07:50"))
    yield _retest(FLARE, 2, FRAME.at(15, "08:20"), ())


def _overlay() -> Iterator[Act]:
    """What was found before the cure: overlaid the next day, no retest at that stage."""
    mine = [f for f in FINDS if f.day == 1]
    outline = [_disc(f.place) for f in mine]
    at = FRAME.at(1, "17:00")
    yield planned("R-01", [f.number for f in mine], "overlay", _OVERLAY, outline, at, device="A", by="manager")
    yield _done("R-01", 1, FRAME.at(2, "08:00"), FRAME.at(2, "15:00"), "climate 2 07:20", "20 mm", "wiped with the sheet's solvent, dried")


def _done(number: str, nth: int, begin: str, end: str, climate: str, feather: str, how: str = "skived and buffed") -> Act:
    body = {"preparation": how, "bare": {"length": "40 mm", "width": "30 mm"}, "feather": feather, "applicator": CAST.title("foreman")}
    return done(number, nth, begin, end, [coat("demo batch S3", end, Ref(climate))], device="D", by="inspector", more=body)


def _cured(numbers: list[str], last: str, at: str) -> Act:
    return cured(numbers, "CB", last, "20 degC", at, person=CAST.people["inspector"], device="E", by="recorder")


def _retest(mend: Mend, nth: int, begin: str, heard: tuple[str, ...]) -> Act:
    film = "5.2 mm" if mend is FLARE else "7.1 mm"
    more = {"operator": CAST.title("inspector"), "recorder": CAST.title("recorder")}
    return AC_9.retest(mend.number, nth, begin, later(begin, 12), film, mend.outline, heard, device="E", by="recorder", more=more)
