"""Repairs of the demo job north-basin: 19 patches over 42 holidays, 2.40 m2. Invented."""

from __future__ import annotations

from dataclasses import dataclass

from .finds import Typed, floor, rim, shell, turned


@dataclass(frozen=True)
class Mend:
    """A repair: number, holidays by wall number, class, outline as typed, prepared bare spot, feather."""

    number: str
    holidays: tuple[str, ...]
    kind: str
    outline: tuple[Typed, ...]
    bare: Typed
    feather: str


def _numbers(letter: str, first: int, last: int) -> tuple[str, ...]:
    return tuple(f"{letter}{n}" for n in range(first, last + 1))


def _rect(place: Typed, width: str, height: str, turn: str = "") -> Typed:
    outline: Typed = {"shape": "rect", "at": place, "width": f"{width} m", "height": f"{height} m"}
    return {**outline, "turn": turn} if turn else outline


def _spot(length: str, width: str) -> Typed:
    return {"length": f"{length} m", "width": f"{width} m"}


_STRIP: Typed = {"shape": "rect", "on": "shell", "arc": ["17.08 m", "17.48 m"], "z": ["2.88 m", "4.50 m"]}
_S3 = (
    (("D15",), (("14.61", "6.46"),)), (("D1",), (("14.84", "4.79"),)), (("D2",), (("15.77", "4.85"),)), (("D3",), (("16.78", "5.07"),)),
    (("D4", "D5"), (("18.74", "4.77"), ("18.84", "4.82"))), (("D6",), (("19.37", "5.24"),)), (("D16",), (("20.45", "6.33"),)),
    (("D7",), (("21.40", "4.56"),)), (("D8",), (("22.15", "5.49"),)), (("D9",), (("22.71", "5.94"),)), (("D10",), (("23.06", "5.41"),)),
    (("D11",), (("23.42", "5.32"),)),
)  # fmt: skip
"""R-06 to R-17 by arc: holidays and centres of the discs of radius 0.175 m. [m]"""


def _mends() -> tuple[Mend, ...]:
    mends = [
        Mend("R-01", _numbers("B", 19, 29), "weld strip", (_STRIP,), _spot("1.42", "0.20"), "100 mm"),
        Mend(
            "R-02",
            _numbers("B", 1, 7),
            "scratch",
            (_rect(floor("2.35", "-1.165"), "0.92", "0.24", "-36.5 deg"),),
            _spot("0.66", "0.04"),
            "100 mm",
        ),
        Mend("R-03", _numbers("B", 8, 13), "thin edge", (_rect(rim("M2", "180"), "0.45", "0.20"),), _spot("0.35", "0.10"), "50 mm"),
        Mend("R-04", ("B14", "B15"), "pinhole", (_rect(rim("N2", "46", on_pad=True), "0.25", "0.20"),), _spot("0.15", "0.10"), "50 mm"),
        Mend("R-05", ("B16",), "pinhole", (_rect(rim("N2", "231", on_pad=True), "0.20", "0.20"),), _spot("0.10", "0.10"), "50 mm"),
    ]
    for n, (holidays, centres) in enumerate(_S3, 6):
        discs = tuple[Typed, ...]({"shape": "disc", "at": shell(*at), "radius": "0.175 m"} for at in centres)
        mends.append(Mend(f"R-{n:02d}", holidays, "pinhole", discs, {"area": "0.0525 m2" if len(discs) > 1 else "0.0314 m2"}, "75 mm"))
    for number, holiday, at in (("R-18", "D13", "71"), ("R-19", "D14", "288")):
        mends.append(Mend(number, (holiday,), "pinhole", (_rect(turned(at, "8.90"), "0.40", "0.20"),), _spot("0.30", "0.10"), "50 mm"))
    return tuple(mends)


MENDS = _mends()
WALK = ("R-02", "R-03", "R-04", "R-05", "R-01", *(f"R-{n:02d}" for n in range(6, 20)))
"""Walking order of the first retests: floor, then courses from below."""

FIRST_START, STEP_MIN, COAT_1_AFTER_MIN, BETWEEN_COATS_MIN = "08:30", 8, 6, 300
"""First repair begins; from one to the next; its coat 1 after its beginning; coat 2 after coat 1. [min]"""
RETEST_START, RETEST_STEP_MIN, RETEST_MIN = "08:00", 11, 9
SECOND_COATS = ("12:45", "18:00")
FILM_R01 = ("430 um", "720 um")
"""Local film of R-01 at its first and at its second retest."""


def film_um(number: str) -> int:
    """Local dry film at the first retest of R-02 to R-19: 690 + 14 k for k = 0 to 17. [um]"""
    return 690 + 14 * (int(number[2:]) - 2)
