"""Tests of the panels, and what the tester spoke on: indications, holidays, false indications."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from wholefilm.base.times import utc_ms

from ..acts import Act, Ref, happened, later, stamp
from ..scribe import Book
from .finds import DECIDED_FALSE, FINDS, Find
from .tables import BRUSH, COURSES, DAYS, LEAD, ON_INSTRUCTION, ON_SLATE, SETTING, SWEEPS, TESTER, TITLES

ALTHOUGH = {
    "needs": ["thickness"],
    "why": "film over 1000 um or under 600 um in places (NCR-01); tested as it stands by the engineer's written instruction",
    "instruction": Ref("instruction"),
}
_BY_RADIO = (*COURSES[3], *COURSES[4])
_HANDS: dict[str, Any] = {"operator": TITLES["inspector"], "recorder": TITLES["recorder"]}


def _device(panel: str) -> tuple[str, str, dict[str, Any]]:
    """Device, writer, and what is told of the hands, for a panel."""
    return ("D", "recorder", {**_HANDS, "told": "radio"}) if panel in _BY_RADIO else ("B", "inspector", {})


def tests() -> Iterator[tuple[int, str, str, str]]:
    """Day, panel, begin and end of every test, as written times."""
    for day, panels, first, minutes, step in SWEEPS:
        for n, panel in enumerate(panels):
            begin = later(stamp(DAYS[day], first), n * step)
            yield day, panel, begin, later(begin, minutes)


def sweeps(_: Book) -> Iterator[Act]:
    """Acts of all panel tests, indications and decisions."""
    spans = {}
    for day, panel, begin, end in tests():
        spans[day, panel] = (begin, end)
        yield from _test(day, panel, begin, end)
    for key in dict.fromkeys((f.day, f.panel) for f in FINDS):
        here = [f for f in FINDS if (f.day, f.panel) == key]
        begin, end = spans[key]
        step = (utc_ms(end) - utc_ms(begin)) // 60_000 / (len(here) + 1)
        for n, find in enumerate(here, start=1):
            yield from _find(find, later(begin, round(n * step * 6) / 6))
    for number, day, at, reason, tried in DECIDED_FALSE:
        device = number[0]
        yield Act(
            stamp(DAYS[day], at),
            device,
            "inspector",
            "indication.false",
            {"indication": Ref(number), "reason": reason, "tried": tried},
            f"false {number} d{day}",
        )
    yield from _twice()


def _test(day: int, panel: str, begin: str, end: str) -> Iterator[Act]:
    device, by, told = _device(panel)
    label = f"started {panel} d{day}"
    started: dict[str, Any] = {
        "panel": panel,
        "stage": "final",
        "instrument": TESTER,
        "electrode": BRUSH,
        "lead": LEAD,
        "set": SETTING,
        **told,
    }
    tested: dict[str, Any] = {"panel": panel, "started": Ref(label), "all": True, "happened": happened(begin, end), **told}
    if panel in ON_INSTRUCTION:
        tested["although"] = ALTHOUGH
    if day == 3:
        tested["exposure_consent"] = Ref("answer Q-03")
    if panel in ON_SLATE:
        slate = {**_HANDS, "told": "slate"}
        entered = later(end, ON_SLATE[panel])
        yield Act(entered, device, "recorder", "panel.started", {**started, **slate, "happened": happened(begin)}, label)
        yield Act(later(entered, 1), device, "recorder", "panel.tested", {**tested, **slate}, f"tested {panel} d{day}")
        return
    yield Act(begin, device, by, "panel.started", {**started, "happened": happened(begin)}, label)
    yield Act(later(end, 1), device, by, "panel.tested", tested, f"tested {panel} d{day}")


def _find(find: Find, at: str) -> Iterator[Act]:
    device, by, told = _device(find.panel)
    yield Act(
        at,
        device,
        by,
        "indication.raised",
        {"number": find.number, "panel": find.panel, "place": find.place, "precision": "10 mm", **told},
        find.number,
    )
    if not find.false:
        yield Act(later(at, 1), device, by, "holiday.confirmed", {**confirmed(find), **told}, f"holiday {find.number}")


def confirmed(find: Find) -> dict[str, Any]:
    """Body of `holiday.confirmed`."""
    body = {"indication": Ref(find.number), "place": find.place, "class": find.surface}
    return {**body, "local_thickness": find.film} if find.film else body


def _twice() -> Iterator[Act]:
    """B14 confirmed a second time by a slip, withdrawn by its writer, agreed by the owner's QA."""
    find = next(f for f in FINDS if f.number == "B14")
    day = DAYS[1]
    yield Act(stamp(day, "14:46:30"), "B", "inspector", "holiday.confirmed", confirmed(find), "holiday B14 again")
    withdrawn = {"of": Ref("holiday B14 again"), "reason": "B14 confirmed twice by a slip; the first entry stands"}
    yield Act(stamp(day, "17:20"), "B", "inspector", "entry.withdrawn", withdrawn, "withdrawn")
    yield Act(stamp(day, "17:30"), "E", "qa", "entry.agreed", {"of": Ref("withdrawn")})
