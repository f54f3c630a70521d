"""Repairs and retests: thirteen patches and one new sleeve; the patch of J-031 at 06:20 a second time."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from ..acts import Act, Ref, later
from ..cast import Typed, coat, cured, done, planned, raised
from ..scribe import Book
from .tables import BORED, CAST, FINDS, FRAME, P_1, P_2, spot

_PATCH = "maker's patch procedure: abrade, wipe, warm, patch of filler and backing at least 50 mm past the spot"
_SLEEVE = "strip to bare steel, blast, warm, primer, new sleeve"


@dataclass(frozen=True)
class Mend:
    """A repair: number, joint, class, holidays by wall number, outline."""

    number: str
    joint: str
    kind: str
    covers: tuple[str, ...]
    outline: Typed


def _mends() -> tuple[Mend, ...]:
    made: list[Mend] = []
    for find in FINDS:
        number = f"R-{len(made) + 1:02d}"
        if find.false or (find.joint == "J-019" and any(m.joint == "J-019" for m in made)):
            continue
        if find.joint == "J-019":
            four = tuple(f.number for f in FINDS if f.joint == "J-019")
            made.append(Mend(number, "J-019", "new sleeve", four, {"shape": "panel", "panel": "J-019"}))
        else:
            made.append(Mend(number, find.joint, "patch", (find.number,), {"shape": "disc", "at": find.place, "radius": "60 mm"}))
    return tuple(made)


MENDS = _mends()
TWICE = next(m for m in MENDS if m.covers == ("D2",))
"""The patch of J-031 at 06:20, which fails its first retest."""
AGAIN = "D9"
"""Wall number of what its first retest raised."""


def mends(_: Book) -> Iterator[Act]:
    """Acts of all repairs and retests."""
    for n, mend in enumerate(MENDS):
        procedure = _SLEEVE if mend.kind == "new sleeve" else _PATCH
        at = later(FRAME.at(3, "17:00"), n)
        yield planned(mend.number, mend.covers, mend.kind, procedure, [mend.outline], at, device="A", by="manager")
        begin = later(FRAME.at(4, "08:30"), 25 * n)
        yield _done(mend, 1, begin, later(begin, 60 if mend.kind == "new sleeve" else 20), "climate 4 08:10")
    yield _cured([m.number for m in MENDS], FRAME.at(4, "14:30"), FRAME.at(5, "07:50"))
    for n, mend in enumerate(MENDS):
        begin = later(FRAME.at(5, "08:00"), 15 * n)
        if mend is not TWICE:
            yield _retest(mend, 1, begin, ())
            continue
        more = {"retest": Ref(mend.number), "precision": "10 mm", "note": "edge of the patch lifted"}
        yield raised(AGAIN, mend.joint, spot("J-031", -30, "06:20"), later(begin, 3), device="D", by="recorder", more=more)
        yield _retest(mend, 1, begin, (AGAIN,))
    yield _done(TWICE, 2, FRAME.at(5, "12:10"), FRAME.at(5, "12:40"), "climate 5 12:05")
    yield _cured([TWICE.number], FRAME.at(5, "12:40"), FRAME.at(6, "07:50"))
    yield _retest(TWICE, 2, FRAME.at(6, "08:30"), ())


def _done(mend: Mend, nth: int, begin: str, end: str, climate: str) -> Act:
    whole = mend.kind == "new sleeve"
    body = {
        "preparation": "blasted to bare steel, wiped" if whole else "abraded to a sound edge, wiped, warmed",
        "bare": {"area": "0.9582 m2"} if whole else {"length": "30 mm", "width": "30 mm"},
        "feather": "0 mm" if whole else "20 mm", "applicator": CAST.title("foreman"),
    }  # fmt: skip
    return done(mend.number, nth, begin, end, [coat("demo batch R1", end, Ref(climate))], device="B", by="inspector", more=body)


def _cured(numbers: list[str], last: str, at: str) -> Act:
    return cured(numbers, "P15", last, "15 degC", at, person=CAST.people["inspector"], device="D", by="recorder")


def _retest(mend: Mend, nth: int, begin: str, numbers: tuple[str, ...]) -> Act:
    bored = mend.joint in BORED
    film = "980 um" if bored else "3.1 mm" if mend.kind == "new sleeve" else "3.3 mm"
    more = {"operator": CAST.title("inspector"), "recorder": CAST.title("recorder")}
    tester = P_2 if bored else P_1
    return tester.retest(mend.number, nth, begin, later(begin, 8), film, [mend.outline], numbers, device="D", by="recorder", more=more)
