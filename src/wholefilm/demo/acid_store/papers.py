"""Letters, decisions and signatures of the job acid-store."""

from __future__ import annotations

from collections.abc import Iterator

from ..acts import Act, Ref
from ..answers import of_site
from ..scribe import Book
from .tables import A_TO_C, AREAS, BAYS, FRAME, HV_02, MADE, PLINTHS

_LETTER = (
    "Letter of the coating maker's adviser, 30 July 2025. Invented for the demo: no such letter exists.\n\n"
    "For our flake lining of 2.5 to 3.8 mm on concrete we name no voltage: find it on a made holiday in each ground zone, and agree\n"
    "the setting with the engineer. A second test of the same place needs our word in writing.\n"
)
INSTRUCTED = (*BAYS, "kerb", *PLINTHS)
"""What is tested as it stands."""


def before(book: Book) -> Iterator[Act]:
    """Film outside its limits, instruction; consent to made holidays; voltages found; the sheet."""
    finding = "Bays 2.35 to 3.92 mm, kerb from 2.10 mm, top edges of plinths 1.20 to 2.60 mm."
    yield FRAME.nonconforming(
        "NCR-01", "5.1", finding, "spots as listed in the readings of 2025-07-29", "no holiday test until the engineer has decided",
        "2025-07-29", "17:00",
    )  # fmt: skip
    ask = "The contract names no voltage. How is it fixed for 2.5 to 3.8 mm of flake lining on concrete?"
    yield FRAME.asked("Q-01", ("adviser", "engineer"), "6.1", ask, "2025-07-29", "17:20")
    yield FRAME.answered(
        "Q-01", "adviser", "Find it on a made holiday in each ground zone; no figure of ours.", "2025-07-30", "10:00", "11:00"
    )
    yield FRAME.lettered(book, "2025-07-30", "11:05", "letter-coating-maker-2025-07-30.txt", _LETTER, ["Q-01"])
    consent = "May three made holidays be drilled, one in each of the zones of tabs T1, T2 and T4?"
    yield FRAME.asked("Q-02", ("qa",), "G1 to G3", consent, "2025-07-30", "11:30")
    yield FRAME.answered("Q-02", "qa", "Yes, three; each repaired and retested like any holiday.", "2025-07-31", "09:00", "10:00")
    yield FRAME.instructed(
        "engineer", "Test as it stands; list thin and thick spots; build up plinth edges with their repairs.", "2025-07-31", "13:00",
        "14:00", {"what": "test_as_it_stands", "panels": list(INSTRUCTED)}, "letter on NCR-01",
    )  # fmt: skip
    found = ", ".join(f"{zone} {volts}" for _, zone, _, _, volts in MADE)
    text = f"Found {found}. 12.0 kV for all zones, over the highest of the three."
    yield FRAME.answered("Q-01", "engineer", text, "2025-08-01", "15:30", "16:00")
    source = {"document": "engineer's letter on Q-01", "edition": "2025-08-01", "grade": "entered", "clause": "the whole letter"}
    yield FRAME.act("2025-08-01", "16:30", "voltage.set", {
        "test_areas": list(AREAS), "system": Ref("system"), "stage": "final", "method": "spark, continuous DC", "setting": HV_02.setting,
        "basis": {"what": "range of the contract", "low": "2.5 mm", "high": "3.8 mm", "readings": Ref("readings")},
        "rule": {"form": "found on made holidays", "found": [f"{zone} {volts}" for _, zone, _, _, volts in MADE], "source": source},
        "reason": "found on a made holiday in each ground zone; the engineer set one voltage over the highest",
        "agreed_by": [Ref("answer Q-01 adviser"), Ref("answer Q-01 engineer")], "electrode": HV_02.electrode,
        "site": of_site("spark, continuous DC"), "surface": "dry",
        "found": [{"zone": zone, "voltage": volts, "made_holiday": Ref(f"made {number}")} for number, zone, _, _, volts in MADE],
        "valid_until": "the film, the tabs, the electrode or the tester changes",
    }, "voltage")  # fmt: skip


def during(book: Book) -> Iterator[Act]:
    """Holds, a witness, the word on the second exposure, pictures."""
    for point, day, at in (("before test", 1, "07:50"), ("before repair", 4, "07:30")):
        yield FRAME.released(point, day, at, device="K")
    yield FRAME.act(1, "07:55", "witness.noted", {
        "point": "first bay", "about": ["D1"], "notice_at": FRAME.at("2025-07-31", "09:00"), "came": "no_show",
        "person": FRAME.cast.people["qa"],
    }, device="H")  # fmt: skip
    ask = "The ground lead was open at the end check. May A1 to C4 be tested a second time at 12.0 kV?"
    yield FRAME.asked("Q-03", ("adviser",), "A1 to C4", ask, 2, "17:40")
    once = {"what": "second_exposure", "panels": list(A_TO_C)}
    yield FRAME.answered("Q-03", "adviser", "A1 to C4 once more at 12.0 kV.", 3, "07:05", "07:10", once)
    cut = [[(240.0, 20.0), (240.0, 290.0)]]
    yield FRAME.drawn(
        book, 1, "09:40", "H4", "saw cut x = 12.0 m, bay D2", cut, [(244, 60), (238, 130), (246, 205)], "to the north", device="H",
        by="inspector",
    )  # fmt: skip
    again = [(246, 90), (238, 150), (243, 220)]
    yield FRAME.drawn(book, 8, "09:20", "J12", "R-01, crack through the patch", cut, again, "to the north", device="J", by="recorder")


def closing(_: Book) -> Iterator[Act]:
    """The joint goes to the engineer; two concessions; assessment; signature."""
    yield FRAME.nonconforming(
        "NCR-02", "6.2", "R-01 along the saw cut failed its retest at three places: the crack of the slab goes through the patch",
        "saw cut x = 12.0 m from y 1.9 to 6.9 m, nine holidays", "no further patch: the movement joint has no detail", 8, "15:00",
    )  # fmt: skip
    yield from FRAME.conceded(
        "NCR-01", "5.1", ("floor", "kerb", "plinths"), "Spots stay as listed; edges of plinths were built up where they were repaired", 10,
        "09:00",
    )  # fmt: skip
    yield from FRAME.conceded(
        "NCR-02", "6.2", AREAS,
        "The saw cut stays open as it is until a movement joint is designed; the store is used dry until then. Cause is the design", 10,
        "09:30",
    )  # fmt: skip
    yield from FRAME.signed(
        10, "does_not_meet", "The holiday test, its repairs and retests were done and recorded as this record tells.",
        [
            "5.1 is not met: spots lie outside 2.5 to 3.8 mm; the engineer's concession of 2025-08-13 stands beside it.",
            "6.2 is not met: nine holidays along the saw cut are open; the engineer's concession of 2025-08-13 stands beside it.",
            "Bays, kerb and plinths were tested on the engineer's written instruction of 2025-07-31.",
        ],
    )  # fmt: skip
