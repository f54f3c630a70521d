"""A large invented site for the benches: a string of field joints, all tested, with holidays, repairs and retests."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

from wholefilm.demo.acts import Act, Ref, later
from wholefilm.demo.cast import confirmed, cured, done, planned, raised
from wholefilm.demo.river_crossing.opening import ITEM, SYSTEMS
from wholefilm.demo.river_crossing.tables import CAST, CLAUSES, FRAME, P_1
from wholefilm.demo.scribe import Demo

A_DAY = 100
"""Joints tested on one day."""


def large_site(joints: int, per_joint: int, mended: int) -> Demo:
    """Joints J-00001 ..., each with so many holidays; the first `mended` of them repaired and retested."""
    book = CAST.book()
    return book.play(_acts(book, joints, per_joint, mended))


def _acts(book: object, joints: int, per_joint: int, mended: int) -> Iterator[Act]:
    opening = {"title": "Large site", "contract": "RC-31 rev C", "units": {"area": "m2"}, "language": "en", "holiday_means": "a spark"}
    yield from CAST.opened(book, "2025-01-06", opening)  # type: ignore[arg-type]
    wanted = [c for c in CLAUSES if c.number in ("7.1", "7.2", "7.3", "8.1", "8.2")]
    yield from FRAME.clauses("2025-01-06", "08:30", wanted)
    names = [f"J-{n:05d}" for n in range(1, joints + 1)]
    groups = [{"name": "open cut", "first": names[0], "last": names[-2]}, {"name": "bored", "first": names[-1], "last": names[-1]}]
    yield FRAME.act("2025-01-06", "09:00", "item.added", {**ITEM, "dimensions": {**ITEM["dimensions"], "groups": groups}})
    for n, (label, body) in enumerate(SYSTEMS):
        yield FRAME.act("2025-01-06", f"09:1{n}", "system.set", body, label)
    tool = {"instrument": "P-1", "what": "spark tester, pulsed", "range": "5 kV to 35 kV", "due": FRAME.at("2026-12-31", "00:00")}
    yield FRAME.act("2025-01-06", "09:20", "instrument.added", tool)
    yield FRAME.asked("Q-01", ("adviser",), "6.1", "At what voltage?", "2025-01-06", "09:30")
    yield FRAME.answered("Q-01", "adviser", "20 kV.", "2025-01-06", "09:40", "09:50")
    source = {"document": "maker's letter", "edition": "2025", "grade": "entered"}
    for n, area in enumerate(("SL", "BJ")):
        yield FRAME.act("2025-01-06", f"10:0{n}", "voltage.set", {
            "test_areas": [area], "system": Ref(f"system {area}"), "stage": "final", "method": "spark", "setting": P_1.setting,
            "basis": {"what": "range", "low": "2.6 mm", "high": "3.4 mm"}, "rule": {"form": "fixed", "source": source}, "reason": "letter",
            "agreed_by": [Ref("answer Q-01 adviser")], "electrode": P_1.electrode, "valid_until": "change",
        })  # fmt: skip
    last = FRAME.at("2025-01-05", "16:00")
    for area, row in (("SL", "S15"), ("BJ", "B15")):
        yield cured([area], row, last, "15 degC", FRAME.at("2025-01-09", "08:00"), person=CAST.people["manager"], device="A", by="manager")
    for first in range(0, joints, A_DAY):
        yield from _day(str(date(2025, 1, 10) + timedelta(days=first // A_DAY)), names[first : first + A_DAY], first, per_joint, mended)


def _day(day: str, names: list[str], first: int, per_joint: int, mended: int) -> Iterator[Act]:
    yield FRAME.permitted(day, "06:10", "ignition_source", "spark", "gas_tester", "20:00", "gas alarm", device="D", by="recorder")
    yield FRAME.grounded(day, "06:20", "clamp", "post", device="D", by="recorder", value="0.5 ohm")
    yield FRAME.looked(day, "06:25", names, device="D", by="recorder")
    yield P_1.check(FRAME.at(day, "06:30"), "20.0 kV", "before", device="D", by="recorder")
    for n, name in enumerate(names):
        begin = later(FRAME.at(day, "07:00"), 6 * n)
        yield from P_1.sweep(name, begin, later(begin, 5), name, device="D", by="recorder")
        for k in range(per_joint):
            number = f"D{(first + n) * per_joint + k + 1}"
            place = {"item": "RX", "on": name, "along": f"{20 * k - 40} mm", "clock": f"{1 + k % 11:02d}:00"}
            at = later(begin, 1 + k * 0.5)
            yield raised(number, name, place, at, device="D", by="recorder")
            yield confirmed(number, place, "flat", later(at, 0.2), device="D", by="recorder")
    yield P_1.check(FRAME.at(day, "18:00"), "20.0 kV", "after", device="D", by="recorder")
    mine = [n for n in range(first, first + len(names)) if n < mended]
    for n in mine:
        name, number = names[n - first], f"R-{n + 1:05d}"
        covers = [f"D{n * per_joint + k + 1}" for k in range(per_joint)]
        outline = [{"shape": "panel", "panel": name}]
        yield planned(
            number, covers, "patch", "procedure", outline, later(FRAME.at(day, "18:10"), n % A_DAY * 0.1), device="A", by="manager"
        )
        begin = later(FRAME.at(day, "18:30"), n % A_DAY * 0.1)
        body = {"preparation": "ground", "bare": {"area": "0.01 m2"}, "feather": "20 mm", "applicator": "foreman"}
        yield done(number, 1, begin, later(begin, 1), [{"batch": "b", "at": later(begin, 1)}], device="D", by="recorder", more=body)
        yield cured([number], "P15", later(begin, 1), "15 degC", later(begin, 2), person=CAST.people["manager"], device="D", by="recorder")


__all__ = ["A_DAY", "large_site"]
