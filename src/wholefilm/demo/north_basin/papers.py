"""Letters, decisions and signatures: questions, instruction, voltage sheet, non-conformance, holds, concession, assessment."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from ..acts import Act, Ref, stamp
from ..answers import of_site
from ..digest import digest_of
from ..drawn import picture
from ..scribe import Book
from .contract import CLAUSES
from .opening import agreed
from .tables import AREAS, BRUSH, DAYS, LAST_COAT, ON_INSTRUCTION, PEOPLE, SECOND_EXPOSURE, SETTING, TITLES
from .words import DRAWINGS

PROGRAM = "wholefilm 0.1 demo"
LETTER = (
    "Letter of the coating maker's adviser, 28 May 2025. Invented for the demo: no such letter exists.\n\n"
    "For the two-coat solvent-free epoxy of the north basin tank, dry film 600 to 1000 um, we agree to a test with\n"
    "continuous direct current at 3.0 kV, once. A second test of the same place needs our word in writing.\n"
)
_LETTER = "letter on NCR-01, closing"
_THIN_AND_THICK = "Single spots over 1000 um in F, S1, S2, S3, S4 and R; under 600 um in S2, S4, R and at welds; edges 330 to 780 um."


def _a(day: str, at: str, kind: str, body: dict[str, Any], label: str = "", by: str = "inspector") -> Act:
    return Act(stamp(day, at), "A", by, kind, body, label)


def _answer(day: str, at: str, dated: str, number: str, role: str, text: str, allows: dict[str, Any] | None = None) -> Act:
    body: dict[str, Any] = {
        "question": Ref(number),
        "from": TITLES[role],
        "dated": stamp(day, dated),
        "text": text,
        "evidence": f"letter on {number}",
        "told": "paper",
    }
    label = f"answer {number} {role}" if number == "Q-01" else f"answer {number}"
    return _a(day, at, "question.answered", {**body, "allows": allows} if allows else body, label)


def before(book: Book) -> Iterator[Act]:
    """Acts before the test: voltage asked and agreed, film found outside its limits, the engineer's instruction, the voltage sheet."""
    ask = "At what voltage is the lining tested at 600 to 1000 um? The contract names none."
    yield _a(
        "2025-05-27",
        "10:00",
        "question.raised",
        {"number": "Q-01", "to": [TITLES["adviser"], TITLES["engineer"]], "about": "6.2", "text": ask},
        "Q-01",
    )
    yield _answer("2025-05-28", "14:00", "13:10", "Q-01", "adviser", "3.0 kV, continuous DC, for 600 to 1000 um of this lining.")
    yield _a(
        "2025-05-28",
        "14:05",
        "file.attached",
        {"blob": book.keep(LETTER.encode()), "name": "letter-coating-maker-2025-05-28.txt", "about": ["Q-01"]},
        "letter",
    )
    yield _answer("2025-05-28", "15:00", "14:40", "Q-01", "engineer", "Agreed: 3.0 kV.")
    yield _a("2025-05-29", "09:00", "nonconformance.raised", {
        "number": "NCR-01", "requirement": "6.2", "finding": _THIN_AND_THICK, "extent": "spots as listed in the readings of 2025-05-28",
        "containment": "no build-up and no holiday test until the engineer has decided",
    }, "NCR-01")  # fmt: skip
    yield _a("2025-05-30", "11:00", "instruction.received", {
        "from": TITLES["engineer"], "dated": stamp("2025-05-30", "10:20"), "evidence": "letter on NCR-01", "told": "paper",
        "text": "Test as it stands at 3.0 kV, list the thin places, build up afterwards.",
        "allows": {"what": "test_as_it_stands", "panels": list(ON_INSTRUCTION)},
    }, "instruction")  # fmt: skip
    source = {"document": "coating maker's letter", "edition": "2025-05-28", "grade": "entered", "clause": "the whole letter"}
    yield _a("2025-05-30", "14:00", "voltage.set", {
        "test_areas": list(AREAS), "system": Ref("system"), "stage": "final", "method": "spark, continuous DC", "setting": SETTING,
        "basis": {"what": "range in the coating maker's letter", "low": "600 um", "high": "1000 um", "readings": Ref("readings")},
        "rule": {"form": "fixed", "setting": "3.0 kV", "range": ["600 um", "1000 um"], "source": source},
        "reason": "the coating maker's letter names it for this range; the engineer agrees",
        "agreed_by": list(agreed()), "electrode": BRUSH, "site": of_site("spark, continuous DC"), "surface": "dry",
        "valid_until": "the film or the tester's electrode changes",
    }, "voltage")  # fmt: skip


def during(book: Book) -> Iterator[Act]:
    """Acts during the test: holds, the witness, questions on spots and on the second exposure, pictures."""
    for point, day, at in (("before test", 1, "07:40"), ("before repair", 4, "07:30"), ("after retest", 15, "11:15")):
        yield Act(
            stamp(DAYS[day], at), "E", "qa", "hold.released", {"point": point, "about": list(AREAS), "by": PEOPLE["qa"]}, f"hold {point}"
        )
    witness = {"point": "first panel", "about": ["F-1"], "notice_at": stamp("2025-05-30", "09:00"), "came": "came", "person": PEOPLE["qa"]}
    yield Act(stamp(DAYS[1], "07:44"), "B", "inspector", "witness.noted", witness)
    spots = (
        "Clause 7.3, floor: are the seven holidays of the scratch on F-2 seven spots or one, and is the number counted pro rata to 113 m2?"
    )
    yield _a(DAYS[1], "18:40", "question.raised", {"number": "Q-02", "to": [TITLES["engineer"]], "about": "7.3", "text": spots}, "Q-02")
    second = "The end check as found failed low. May S3 and S4 be swept a second time at 3.0 kV?"
    yield _a(DAYS[2], "17:30", "question.raised", {"number": "Q-03", "to": [TITLES["adviser"]], "about": "S3, S4", "text": second}, "Q-03")
    once = {"what": "second_exposure", "panels": list(SECOND_EXPOSURE)}
    yield _answer(DAYS[3], "07:06", "07:05", "Q-03", "adviser", "S3 and S4 once more at 3.0 kV.", once)
    yield _answer(DAYS[4], "07:30", "07:20", "Q-02", "engineer", "One continuous scratch is one spot. The number is not pro rata.")
    noted = next(c for c in CLAUSES if c.label == "7.3 floor")
    share, per_area = noted.rule["limits"]
    yield _a(DAYS[4], "07:31", "requirement.decided", {
        "topic": noted.topic, "noted": Ref("requirement 7.3 floor"),
        "rule": {**noted.rule, "limits": [share, {**per_area, "pro_rata": False}]},
        "decided_by": PEOPLE["engineer"], "reason": "one continuous scratch is one spot, not pro rata", "evidence": Ref("answer Q-02"),
        "counts_as_one": [[Ref(f"holiday B{n}") for n in range(1, 8)]],
    }, "decided 7.3", by="engineer")  # fmt: skip
    yield from _pictures(book)


def _pictures(book: Book) -> Iterator[Act]:
    for one in DRAWINGS:
        blob = book.keep(picture(one.number, one.caption, one.lines, one.marks, "100 mm"))
        body = {
            "blob": blob,
            "about": [one.number],
            "direction": one.direction,
            "scale": "bar 100 mm",
            "note": "drawn for the demo, not a photograph",
        }
        yield Act(stamp(DAYS[one.day], one.at), one.device, "inspector", "photo.taken", body)


def closing(_: Book) -> Iterator[Act]:
    """Acts of the last day: concession, non-conformance closed, assessment, signature."""
    day, about = DAYS[16], [a for a in AREAS if a != "C"]
    accepts = "Thin and thick places stay as listed in the readings of 2025-05-28; the rim of M2 is built up by R-03"
    yield _a(day, "09:00", "concession.given", {
        "from": PEOPLE["engineer"], "dated": stamp(day, "08:30"), "requirement": "6.2", "about": about,
        "text": accepts, "evidence": _LETTER,
    }, "concession", by="engineer")  # fmt: skip
    yield _a(day, "09:10", "nonconformance.closed", {
        "nonconformance": Ref("NCR-01"), "disposition": "accepted by concession", "authorised_by": PEOPLE["engineer"],
        "evidence": _LETTER,
    })  # fmt: skip
    yield Act(
        stamp(day, "10:00"),
        "A",
        "inspector",
        "assessment.made",
        lambda b: {"assessment": "does_not_meet", "digest": _digest(b), "program": PROGRAM},
        "assessment",
        heads=True,
    )
    yield Act(stamp(day, "10:05"), "A", "inspector", "signed", _signed, "signed", heads=True)


def _digest(book: Book) -> str:
    return digest_of(book.seen_by("A"), book.blobs)


def _signed(book: Book) -> dict[str, Any]:
    return {
        "scope": list(AREAS), "role": "QC inspector", "digest": _digest(book), "program": PROGRAM,
        "statement": "The holiday test, its repairs and retests were done and recorded as this record tells.",
        "reservations": [
            "6.2 is not met: single spots lie outside 600 to 1000 um; the engineer's concession of 2025-06-17 stands beside it.",
            f"All panels but the column's were tested on the engineer's written instruction of 2025-05-30; last coat {LAST_COAT[:10]}.",
        ],
    }  # fmt: skip
