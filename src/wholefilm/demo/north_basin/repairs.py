"""Repairs and retests: planned, done, cured, retested; R-01 a second time."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ..acts import Act, Ref, later, stamp
from ..cast import coat, cured, done, planned, raised
from ..scribe import Book
from .finds import ON_FEATHER
from .mends import (
    BETWEEN_COATS_MIN,
    COAT_1_AFTER_MIN,
    FILM_R01,
    FIRST_START,
    MENDS,
    RETEST_MIN,
    RETEST_START,
    RETEST_STEP_MIN,
    SECOND_COATS,
    STEP_MIN,
    WALK,
    Mend,
    film_um,
)
from .site import climate_label
from .tables import DAYS, HV_01, PEOPLE, TITLES

_BY_NUMBER = {m.number: m for m in MENDS}
_PROCEDURE = "coating maker's repair procedure: abrade, feather, clean, stripe by brush, two coats at least 5 h apart"
_PREPARATION = "abraded by hand machine to a sound edge, feathered, vacuumed, wiped"


def repairs(_: Book) -> Iterator[Act]:
    """Acts of all repairs and retests."""
    for n, mend in enumerate(MENDS):
        plan = later(stamp(DAYS[3], "18:30"), n)
        yield planned(mend.number, mend.holidays, mend.kind, _PROCEDURE, mend.outline, plan, device="A", by="inspector")
        begin = later(stamp(DAYS[4], FIRST_START), n * STEP_MIN)
        coat_1 = later(begin, COAT_1_AFTER_MIN)
        yield _done(mend, 1, begin, coat_1, later(coat_1, BETWEEN_COATS_MIN), (climate_label(4, "08:00"),) * 2, "demo batch R1")
    others = [m.number for m in MENDS if m.number != "R-01"]
    coated = {n: later(stamp(DAYS[4], FIRST_START), k * STEP_MIN + COAT_1_AFTER_MIN + BETWEEN_COATS_MIN) for k, n in enumerate(_BY_NUMBER)}
    yield _released(others, coated[others[-1]], stamp(DAYS[9], "07:40"))
    yield _released(["R-01"], coated["R-01"], stamp(DAYS[9], "07:41"))
    for n, number in enumerate(WALK):
        begin = later(stamp(DAYS[9], RETEST_START), n * RETEST_STEP_MIN)
        yield from _first_retest(_BY_NUMBER[number], begin)
    yield from _again()


def _done(mend: Mend, nth: int, begin: str, coat_1: str, coat_2: str, climates: tuple[str, str], batch: str) -> Act:
    coats = [coat(batch, at, Ref(climate)) for at, climate in zip((coat_1, coat_2), climates, strict=True)]
    body = {"preparation": _PREPARATION, "bare": mend.bare, "feather": mend.feather, "applicator": TITLES["foreman"]}
    return done(mend.number, nth, begin, coat_2, coats, device="B", by="inspector", more=body)


def _released(numbers: list[str], last_coat: str, at: str) -> Act:
    return cured(numbers, "R10", last_coat, "10 degC", at, person=PEOPLE["inspector"], device="D", by="inspector")


def _retest(mend: Mend, nth: int, begin: str, end: str, film: str, numbers: Sequence[str] = ()) -> Act:
    return HV_01.retest(mend.number, nth, begin, end, film, mend.outline, numbers, device="D", by="inspector")


def _first_retest(mend: Mend, begin: str) -> Iterator[Act]:
    end = later(begin, RETEST_MIN)
    if mend.number != "R-01":
        yield _retest(mend, 1, begin, end, f"{film_um(mend.number)} um")
        return
    more = {"precision": "10 mm", "retest": Ref(mend.number), "note": "on the feather edge, one coat only"}
    for n, (number, panel, place) in enumerate(ON_FEATHER, start=1):
        yield raised(number, panel, place, later(begin, 3 * n), device="D", by="inspector", more=more)
    yield _retest(mend, 1, begin, end, FILM_R01[0], [number for number, _, _ in ON_FEATHER])


def _again() -> Iterator[Act]:
    """R-01 a second time: two coats, cure by row R10, retest 2."""
    mend = _BY_NUMBER["R-01"]
    coats = [stamp(DAYS[9], at) for at in SECOND_COATS]
    climate = climate_label(9, "12:40")
    yield _done(mend, 2, stamp(DAYS[9], "12:05"), coats[0], coats[1], (climate, climate), "demo batch R2")
    yield _released(["R-01"], coats[1], stamp(DAYS[15], "08:30"))
    yield _retest(mend, 2, stamp(DAYS[15], "08:40"), stamp(DAYS[15], "08:50"), FILM_R01[1])
