"""Letters, decisions and signatures of the job penstock."""

from __future__ import annotations

from collections.abc import Iterator

from ..acts import Act, Ref
from ..answers import of_site
from ..scribe import Book
from .tables import CANS, FRAME, LIQUID, LV_01

_LETTER = (
    "Letter of the coating maker's adviser, 1 October 2025. Invented for the demo: no such letter exists.\n\n"
    "For the two-coat epoxy of the penstock cans, 200 to 375 um, we agree to the wet sponge that contract PS-12 asks for,\n"
    "with water and a wetting agent of 5 ml in a litre, rinsed and dried before any further coat.\n"
)
_PROVED = "Spots over 375 um in the body; under 200 um at welds (least 150) and at the machined ends (least 110)."


def before(book: Book) -> Iterator[Act]:
    """Method asked and agreed; film outside its limits; instruction; the sheet."""
    ask = (
        "Film of 200 to 375 um: PS-12 asks for the wet sponge. ASTM D5162 (2021) also lets film of 0.25 to 0.5 mm be spark tested with the "
        "coating maker's consent. Which of the two, and with which liquid?"
    )
    yield FRAME.asked("Q-01", ("adviser", "engineer"), "7.1", ask, "2025-09-30", "10:00")
    yield FRAME.answered("Q-01", "adviser", "Wet sponge, water with a wetting agent, 5 ml in a litre.", "2025-10-01", "09:30", "10:00")
    yield FRAME.lettered(book, "2025-10-01", "10:05", "letter-coating-maker-2025-10-01.txt", _LETTER, ["Q-01"])
    yield FRAME.answered("Q-01", "engineer", "Wet sponge, as the contract says.", "2025-10-01", "13:10", "13:30")
    yield FRAME.nonconforming(
        "NCR-01", "6.1", _PROVED, "spots as listed in the readings of 2025-10-02", "no holiday test until the engineer has decided",
        "2025-10-02", "17:00",
    )  # fmt: skip
    yield FRAME.instructed(
        "engineer", "Test as it stands by the wet sponge, list the thin ends, build them up with the repairs.", "2025-10-03", "10:20",
        "11:00", {"what": "test_as_it_stands", "panels": list(CANS)}, "letter on NCR-01",
    )  # fmt: skip
    source = {"document": "contract PS-12", "edition": "rev 2", "grade": "entered", "clause": "7.1"}
    yield FRAME.act("2025-10-03", "14:00", "voltage.set", {
        "test_areas": list(CANS), "system": Ref("system"), "stage": "final", "method": "wet sponge, 67.5 V", "setting": LV_01.setting,
        "basis": {"what": "range of the contract", "low": "200 um", "high": "375 um", "readings": Ref("readings")},
        "rule": {"form": "fixed", "setting": "67.5 V, alarm at 80 kohm", "range": ["200 um", "375 um"], "source": source},
        "reason": "the contract names the wet sponge; the coating maker and the engineer agree",
        "agreed_by": [Ref("answer Q-01 adviser"), Ref("answer Q-01 engineer")], "electrode": LV_01.electrode, "liquid": LIQUID,
        "site": of_site("wet sponge, 67.5 V"), "surface": "dry",
        "valid_until": "the film, the liquid or the tester changes",
    }, "voltage")  # fmt: skip


def during(book: Book) -> Iterator[Act]:
    """Holds, a witness, pictures."""
    for point, day, at in (("before test", 1, "07:50"), ("before repair", 5, "07:30"), ("after retest", 16, "11:15")):
        yield FRAME.released(point, day, at, device="E")
    yield FRAME.act(1, "07:55", "witness.noted", {
        "point": "first can", "about": ["P-01"], "notice_at": FRAME.at("2025-10-02", "09:00"), "came": "came",
        "person": FRAME.cast.people["qa"],
    }, device="B")  # fmt: skip
    seam = [[(240.0, 20.0), (240.0, 290.0)]]
    yield FRAME.drawn(
        book, 2, "09:10", "B13", "P-05, long seam at 45 deg", seam, [(240, 60), (243, 118), (238, 190), (241, 240)], "downstream",
        device="B", by="inspector",
    )  # fmt: skip
    end = [[(20.0, 250.0), (460.0, 250.0)]]
    yield FRAME.drawn(book, 4, "11:00", "D20", "P-10, machined end", end, [(120, 236), (250, 232)], "crown up", device="D", by="recorder")


def closing(_: Book) -> Iterator[Act]:
    """Concession, non-conformance closed, assessment, signature."""
    text = "Thick and thin spots stay as listed in the readings of 2025-10-02; the ends were built up where they were repaired"
    yield from FRAME.conceded("NCR-01", "6.1", CANS, text, 17, "09:00")
    yield from FRAME.signed(
        17, "does_not_meet", "The holiday test by wet sponge, its repairs and retests were done and recorded as this record tells.",
        [
            "6.1 is not met: spots lie outside 200 to 375 um; the engineer's concession of 2025-10-22 stands beside it.",
            "All cans were tested on the engineer's written instruction of 2025-10-03.",
        ],
    )  # fmt: skip
