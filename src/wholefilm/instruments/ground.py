"""Ground points: what hangs on each, which are proved, and what a point found open leaves untestable.

Film that hangs on no proved ground reads clean whatever its holes: a bay behind a cut in the conductive underlayment is not
grounded (common practice). A point found open makes all that it serves untestable until a point is proved that serves it.
"""

from __future__ import annotations

import enum
from collections.abc import Sequence

import msgspec


class PointWord(enum.StrEnum):
    """How a ground point stands."""

    PROVED = "proved"
    OPEN = "open"
    DOUBT = "in doubt"


class Proof(msgspec.Struct, frozen=True):
    """One look at a ground point, as recorded.

    Attributes
    ----------
    point, to : str
        The point, and the place that it was proved to.
    at : int
        When. [ms UTC]
    open : bool
        Whether no continuity was found.
    serves : tuple of str
        Test areas, panels, bays or items that hang on the point; empty if the record does not say.
    says : str
        The value or the way of proof, as typed.
    entry : str
        Id of the entry.
    in_doubt : bool
        Whether it fell with a failed or missing check of its instrument.
    """

    point: str
    to: str
    at: int
    open: bool = False
    serves: tuple[str, ...] = ()
    says: str = ""
    entry: str = ""
    in_doubt: bool = False


class Point(msgspec.Struct, frozen=True):
    """A ground point at a time: what hangs on it, how it stands, and the proof that says so."""

    name: str
    serves: tuple[str, ...]
    word: PointWord
    last: Proof


class Grounded(msgspec.Struct, frozen=True):
    """Whether an area hangs on a proved point: the points, the one that proves it, and a sentence."""

    met: bool
    points: tuple[Point, ...]
    by: Point | None
    says: str


def points_at(proofs: Sequence[Proof], at: int) -> list[Point]:
    """Every ground point as it stands at a time, in the order of their first proof.

    Parameters
    ----------
    proofs : sequence of Proof
        In any order.
    at : int
        Later proofs do not count. [ms UTC]

    Notes
    -----
    What a point serves is what its last proof that says so named. A later proof that names nothing keeps it.
    """
    by_name: dict[str, list[Proof]] = {}
    for proof in sorted(proofs, key=lambda p: p.at):
        if proof.at <= at:
            by_name.setdefault(proof.point, []).append(proof)
    found = []
    for name, mine in by_name.items():
        last = mine[-1]
        serves = next((p.serves for p in reversed(mine) if p.serves), ())
        word = PointWord.OPEN if last.open else PointWord.DOUBT if last.in_doubt else PointWord.PROVED
        found.append(Point(name, serves, word, last))
    return found


def serving(points: Sequence[Point], *area: str) -> list[Point]:
    """The points that an area hangs on.

    Parameters
    ----------
    points : sequence of Point
        Of `points_at`.
    *area : str
        The names that the area goes by: its panel, its test area, its item.

    Returns
    -------
    list of Point
        Those that name it, or were proved to it; where none does, those of which nobody said what hangs on them.
    """
    named = [p for p in points if set(area) & {*p.serves} or (p.last.to in area and not p.last.open)]
    return named or [p for p in points if not p.serves]


def grounded(proofs: Sequence[Proof], at: int, *area: str, since: int = 0) -> Grounded:
    """Whether an area hangs on a ground that is proved at a time.

    Parameters
    ----------
    proofs : sequence of Proof
    at : int
        Start of the test. [ms UTC]
    *area : str
        The names that the area goes by: its panel, its test area, its item.
    since : int
        Proofs of continuity older than this do not count; points found open always do. [ms UTC]

    Returns
    -------
    Grounded
        Not met if a point that serves it was found open and no point that serves it was proved since, or if none is proved.
    """
    name = area[0] if area else "it"
    points = serving(points_at(proofs, at), *area)
    broken = [p for p in points if p.word is PointWord.OPEN]
    last_open = max((p.last.at for p in broken), default=None)
    proved = [p for p in points if p.word is PointWord.PROVED and p.last.at >= since and (last_open is None or p.last.at > last_open)]
    if proved:
        by = max(proved, key=lambda p: p.last.at)
        return Grounded(True, tuple(points), by, f"{name} hangs on {by.name}, proved to {by.last.to}{_how(by.last)}")
    if broken:
        names = ", ".join(p.name for p in broken)
        says = f"{names}, which {name} hangs on, was found open: not testable until another point that serves it is proved"
        return Grounded(False, tuple(points), None, says)
    doubt = [p.name for p in points if p.word is PointWord.DOUBT]
    if doubt:
        return Grounded(False, tuple(points), None, f"the proof of {', '.join(doubt)} is in doubt with the instrument that made it")
    old = [p.name for p in points]
    return Grounded(False, tuple(points), None, f"no proof of {', '.join(old)} today" if old else f"no ground point is proved for {name}")


def _how(proof: Proof) -> str:
    return f" ({proof.says})" if proof.says else ""
