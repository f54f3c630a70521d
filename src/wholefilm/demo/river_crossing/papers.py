"""Letters, decisions and signatures of the job river-crossing."""

from __future__ import annotations

from collections.abc import Iterator

from ..acts import Act, Ref
from ..answers import of_site
from ..cast import Tester
from ..scribe import Book
from .tables import FRAME, JOINTS, P_1, P_2

_LETTER = (
    "Letter of the sleeve maker's adviser, 20 June 2025. Invented for the demo: no such letter exists.\n\n"
    "For our three-layer sleeves of 2.6 to 3.4 mm over primer we agree to a test at 20 kV, pulsed, with a ring all round, once.\n"
    "A second test of the same sleeve needs our word in writing.\n"
)
AGAIN = JOINTS[18:30]
"""Joints tested a second time after the failed end check."""


def _sheet(area: str, tester: Tester, method: str, low: str, high: str, day: str, clock: str) -> Act:
    number = {"SL": "Q-01", "BJ": "Q-02"}[area]
    source = {"document": "maker's letter", "edition": "2025-06-20", "grade": "entered", "clause": f"on {number}"}
    return FRAME.act(day, clock, "voltage.set", {
        "test_areas": [area], "system": Ref(f"system {area}"), "stage": "final", "method": method, "setting": tester.setting,
        "basis": {"what": "range in the maker's letter", "low": low, "high": high, "readings": Ref("readings")},
        "rule": {"form": "fixed", "setting": tester.setting, "range": [low, high], "source": source},
        "reason": "the maker's letter names it for this range; the engineer agrees",
        "agreed_by": [Ref(f"answer {number} adviser"), Ref(f"answer {number} engineer")], "electrode": tester.electrode,
        "site": of_site(method), "surface": "dry",
        "valid_until": "the film, the electrode or the tester changes",
    }, f"voltage {area}")  # fmt: skip


def before(book: Book) -> Iterator[Act]:
    """Two voltages asked and agreed, one for each system."""
    yield FRAME.asked("Q-01", ("adviser", "engineer"), "6.1", "Sleeves of 2.6 to 3.4 mm: at what voltage, and how?", "2025-06-18", "09:00")
    yield FRAME.asked(
        "Q-02", ("adviser", "engineer"), "6.2", "Bored joints of 700 to 1100 um: at what voltage, and how?", "2025-06-18", "09:10"
    )
    yield FRAME.answered("Q-01", "adviser", "20 kV, pulsed, full ring, for 2.6 to 3.4 mm.", "2025-06-20", "10:00", "11:00")
    yield FRAME.answered("Q-02", "adviser", "4.0 kV, continuous DC, for 700 to 1100 um.", "2025-06-20", "10:05", "11:05")
    yield FRAME.lettered(book, "2025-06-20", "11:10", "letter-sleeve-maker-2025-06-20.txt", _LETTER, ["Q-01"])
    for n, number in enumerate(("Q-01", "Q-02")):
        yield FRAME.answered(number, "engineer", "Agreed.", "2025-06-23", "09:00", f"09:3{n}")
    yield _sheet("SL", P_1, "spark, pulsed", "2.6 mm", "3.4 mm", "2025-07-04", "16:30")
    yield _sheet("BJ", P_2, "spark, continuous DC", "700 um", "1100 um", "2025-07-04", "16:40")


def during(book: Book) -> Iterator[Act]:
    """Holds, a witness, the word on the second exposure, the sleeve that is stripped, pictures."""
    for point, day, at in (("before test", 1, "07:45"), ("before repair", 4, "07:30"), ("after retest", 6, "11:00")):
        yield FRAME.released(point, day, at, device="E")
    yield FRAME.act(1, "07:55", "witness.noted", {
        "point": "first joint", "about": ["J-001"], "notice_at": FRAME.at("2025-07-03", "09:00"), "came": "waived",
        "person": FRAME.cast.people["qa"],
    }, device="B", by="inspector")  # fmt: skip
    ask = "The end check of P-1 as found failed low. May J-019 to J-030 be tested a second time at 20 kV?"
    yield FRAME.asked("Q-03", ("adviser",), "J-019 to J-030", ask, 2, "17:15")
    once = {"what": "second_exposure", "panels": list(AGAIN)}
    yield FRAME.answered("Q-03", "adviser", "J-019 to J-030 once more at 20 kV.", 3, "07:05", "07:10", once)
    yield FRAME.nonconforming(
        "NCR-01", "7.3", "J-019 has four holidays; more than two in a joint", "sleeve of J-019", "joint not to be backfilled", 3, "16:50"
    )
    yield FRAME.act(5, "12:10", "nonconformance.closed", {
        "nonconformance": Ref("NCR-01"), "disposition": "stripped and replaced; the new sleeve passed its test",
        "authorised_by": FRAME.cast.people["engineer"], "evidence": "retest of R-05",
    })  # fmt: skip
    ring = [[(240.0, 20.0), (240.0, 290.0)]]
    yield FRAME.drawn(
        book, 2, "13:00", "B9", "J-019, bottom, 06:20", ring, [(196, 150), (232, 184), (262, 216)], "from below", device="B", by="inspector"
    )
    yield FRAME.drawn(book, 3, "13:20", "D5", "J-036, sling nick, 09:00", ring, [(240, 150)], "from the left", device="D", by="recorder")


def closing(_: Book) -> Iterator[Act]:
    """Assessment and signature, by the manager, who tested nothing."""
    yield from FRAME.signed(
        6, "meets", "The holiday test of all 48 joints, its repairs and retests were done and recorded as this record tells.", [],
        sheet="14:00",
    )  # fmt: skip
