"""Letters, decisions and signatures of the job leach-vessel."""

from __future__ import annotations

from collections.abc import Iterator

from ..acts import Act, Ref
from ..answers import of_site
from ..cast import Tester
from ..scribe import Book
from .tables import AC_6, AC_9, AREAS, FRAME

_LETTER = (
    "Letter of the compound maker's adviser, 20 August 2025. Invented for the demo: no such letter exists.\n\n"
    "The compound is rich in carbon black. Uncured sheet of 6 mm: spark of 6 mm. Cured: spark of 9 mm, 1.5 mm for each mm of lining.\n"
    "The 5 kV for each mm of ordinary rubber would burn it. Keep the probe moving; look for burn tracks if the spark was too long.\n"
)


def _sheet(tester: Tester, number: str, day: str, clock: str, reason: str) -> Act:
    source = {"document": "compound maker's letter", "edition": "2025-08-20", "grade": "entered", "clause": "the whole letter"}
    return FRAME.act(day, clock, "voltage.set", {
        "test_areas": list(AREAS), "system": Ref("system"), "stage": tester.stage, "method": "high-frequency AC spark",
        "setting": tester.setting,
        "basis": {"what": "range of the contract, flares included", "low": "3.5 mm", "high": "7.5 mm", "readings": Ref("readings")},
        "rule": {"form": "spark length", "setting": tester.setting, "range": ["3.5 mm", "7.5 mm"], "source": source}, "reason": reason,
        "agreed_by": [Ref(f"answer {number} adviser"), Ref(f"answer {number} engineer")], "electrode": tester.electrode,
        "site": of_site("high-frequency AC spark"), "surface": "dry",
        "valid_until": "the lining is cured" if tester is AC_6 else "the lining, the probe or the tester changes",
    }, f"voltage {tester.stage}")  # fmt: skip


def before(book: Book) -> Iterator[Act]:
    """Is the compound rich in carbon; two spark lengths asked and agreed, one for each stage."""
    ask = "Two sheets of 3 mm. Is the compound rich in carbon black, and how long may the spark be before and after the cure?"
    yield FRAME.asked("Q-01", ("adviser", "engineer"), "6.1", ask, "2025-08-18", "09:00")
    text = "Rich in carbon. Spark of 6 mm before the cure, 9 mm after it. The uncured sheet may be tested so."
    yield FRAME.answered("Q-01", "adviser", text, "2025-08-20", "10:00", "11:00")
    yield FRAME.lettered(book, "2025-08-20", "11:05", "letter-compound-maker-2025-08-20.txt", _LETTER, ["Q-01"])
    yield FRAME.answered("Q-01", "engineer", "Agreed, both. Set and checked by spark length, not by kV.", "2025-08-21", "09:00", "09:30")
    yield _sheet(AC_6, "Q-01", "2025-08-29", "16:30", "the compound maker's letter for uncured sheet; the engineer agrees")
    yield _sheet(AC_9, "Q-01", "2025-09-05", "18:40", "the compound maker's letter for cured sheet; the engineer agrees")


def during(book: Book) -> Iterator[Act]:
    """Holds, a witness, pictures."""
    for point, day, at in (("before test", 1, "07:50"), ("before repair", 10, "07:30"), ("after retest", 15, "11:00")):
        yield FRAME.released(point, day, at, device="K")
    yield FRAME.act(8, "07:55", "witness.noted", {
        "point": "first panel after the cure", "about": ["BH"], "notice_at": FRAME.at("2025-09-04", "09:00"), "came": "came",
        "person": FRAME.cast.people["qa"],
    }, device="D", by="inspector")  # fmt: skip
    lap = [[(240.0, 20.0), (240.0, 290.0)]]
    yield FRAME.drawn(book, 8, "12:20", "E3", "lap at 270 deg", lap, [(240, 80), (240, 190)], "from inside", device="E", by="recorder")
    track = [[(150.0, 150.0), (220.0, 166.0), (330.0, 158.0)]]
    yield FRAME.drawn(book, 9, "10:10", "E10", "burn track, 140 deg, 3.60 m", track, [(240, 163)], "from inside", device="E", by="recorder")


def closing(_: Book) -> Iterator[Act]:
    """Signed before and after the hydro test, by the manager, who tested nothing."""
    done = "The spark test after the cure, its repairs and retests were done and recorded as this record tells"
    kept = ["The end check of 2025-09-08 was high; what was tested since the mid check was looked over for burns, and one was mended."]
    yield from FRAME.signed(15, "meets", f"{done}. Signed before the hydro test.", kept, "14:00")
    yield from FRAME.signed(
        17, "meets", f"{done}. Signed after the hydro test; the lining was looked over, nothing changed.", kept, "14:00"
    )
