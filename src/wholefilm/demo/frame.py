"""What every demo job has around its tests: the contract, the papers, the days on site. Told once, in the words of each job."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from .acts import Act, Ref, happened, later
from .cast import Cast, Typed
from .digest import digest_of
from .drawn import picture
from .scribe import Book

PROGRAM = "wholefilm 0.1 demo"
Day = int | str
"""A site day by number, or a calendar day."""


@dataclass(frozen=True)
class Clause:
    """A clause of the contract: label, number, topic, own words, rule, test areas (all if none is named)."""

    label: str
    number: str
    topic: str
    says: str
    rule: dict[str, Any]
    areas: tuple[str, ...] = ()


@dataclass(frozen=True)
class Frame:
    """Days and papers of one job.

    Attributes
    ----------
    cast : Cast
    days : dict of int to str
        Site days by number.
    contract, revision, stage : str
    areas : tuple of str
        All test areas.
    """

    cast: Cast
    days: Mapping[int, str]
    contract: str
    revision: str
    stage: str
    areas: tuple[str, ...]

    def on(self, day: Day) -> str:
        """The calendar day."""
        return self.days[day] if isinstance(day, int) else day

    def at(self, day: Day, clock: str) -> str:
        """A time, as the book writes it."""
        return self.cast.at(self.on(day), clock)

    def act(self, day: Day, clock: str, kind: str, body: Typed, label: str = "", **more: Any) -> Act:
        """An act at a time; at the office by its holder unless told otherwise."""
        return self.cast.act(self.on(day), clock, kind, body, label, **more)

    # --- the contract and what goes with it

    def clauses(self, day: Day, clock: str, clauses: Sequence[Clause]) -> Iterator[Act]:
        """Clauses noted a minute apart; each ``requirement LABEL``."""
        for n, clause in enumerate(clauses):
            body = {
                "topic": clause.topic, "document": self.contract, "edition": self.revision, "grade": "entered", "clause": clause.number,
                "says": clause.says, "rule": clause.rule, "applies_to": list(clause.areas or self.areas), "stage": self.stage,
            }  # fmt: skip
            label = f"requirement {clause.label}"
            yield Act(later(self.at(day, clock), n), self.cast.office, self.cast.opener, "requirement.noted", body, label)

    def instruments(self, day: Day, clock: str, due: str, bodies: Sequence[Typed]) -> Iterator[Act]:
        """Instruments with a demo certificate each."""
        for n, body in enumerate(bodies):
            more = {"certificate": f"demo-{body['instrument']}, invented", "due": self.at(due, "00:00")}
            yield Act(later(self.at(day, clock), n), self.cast.office, self.cast.opener, "instrument.added", {**body, **more})

    def coated(self, coat: str, begin: tuple[Day, str], end: tuple[Day, str], areas: Sequence[str], **more: Any) -> Act:
        """A coat, entered ten minutes after its end."""
        first, last = self.at(*begin), self.at(*end)
        body = {
            "test_areas": list(areas), "coat": coat, "batch": f"demo batch {first[5:10]}", "applicator": self.cast.title("foreman"),
            "happened": happened(first, last), **more,
        }  # fmt: skip
        device = list(self.cast.holders)[1]
        return Act(later(last, 10), device, self.cast.holders[device], "coat.applied", body)

    # --- papers

    def asked(self, number: str, to: Sequence[str], about: str, text: str, day: Day, clock: str) -> Act:
        """A question in writing, labelled by its number."""
        body = {"number": number, "to": [self.cast.title(role) for role in to], "about": about, "text": text}
        return self.act(day, clock, "question.raised", body, number)

    def answered(
        self, number: str, role: str, text: str, day: Day, dated: str, clock: str, allows: Typed | None = None, evidence: str = ""
    ) -> Act:
        """A dated answer, labelled ``answer NUMBER ROLE``."""
        body = {
            "question": Ref(number), "from": self.cast.title(role), "dated": self.at(day, dated), "text": text,
            "evidence": evidence or f"letter on {number}", "told": "paper", **({"allows": allows} if allows else {}),
        }  # fmt: skip
        return self.act(day, clock, "question.answered", body, f"answer {number} {role}")

    def instructed(self, role: str, text: str, day: Day, dated: str, clock: str, allows: Typed, evidence: str) -> Act:
        """A dated written instruction, labelled ``instruction``."""
        body = {
            "from": self.cast.title(role), "dated": self.at(day, dated), "text": text, "evidence": evidence, "told": "paper",
            "allows": allows,
        }  # fmt: skip
        return self.act(day, clock, "instruction.received", body, "instruction")

    def nonconforming(self, number: str, requirement: str, finding: str, extent: str, containment: str, day: Day, clock: str) -> Act:
        """A non-conformance, labelled by its number."""
        body = {"number": number, "requirement": requirement, "finding": finding, "extent": extent, "containment": containment}
        return self.act(day, clock, "nonconformance.raised", body, number)

    def conceded(self, number: str, requirement: str, about: Sequence[str], text: str, day: Day, clock: str) -> Iterator[Act]:
        """The engineer's concession, and the non-conformance closed by it ten minutes later."""
        engineer, evidence = self.cast.people["engineer"], f"letter on {number}, closing"
        given = {
            "from": engineer, "dated": self.at(day, clock), "requirement": requirement, "about": list(about), "text": text,
            "evidence": evidence,
        }  # fmt: skip
        yield self.act(day, clock, "concession.given", given, f"concession {number}", by="engineer")
        closed = {
            "nonconformance": Ref(number), "disposition": "accepted by concession", "authorised_by": engineer, "evidence": evidence,
        }  # fmt: skip
        yield Act(later(self.at(day, clock), 10), self.cast.office, self.cast.opener, "nonconformance.closed", closed)

    def released(self, point: str, day: Day, clock: str, *, device: str, by: str = "qa", about: Sequence[str] = ()) -> Act:
        """A hold point released by name."""
        body = {"point": point, "about": list(about or self.areas), "by": self.cast.people[by]}
        return self.act(day, clock, "hold.released", body, f"hold {point}", device=device, by=by)

    def signed(self, day: Day, assessment: str, statement: str, reservations: Sequence[str], sheet: str = "10:00") -> Iterator[Act]:
        """The assessment as printed, and five minutes later the signature of who opened the job."""

        def digest(book: Book) -> str:
            return digest_of(book.seen_by(self.cast.office), book.blobs)

        made = self.at(day, sheet)
        yield Act(
            made, self.cast.office, self.cast.opener, "assessment.made",
            lambda book: {"assessment": assessment, "digest": digest(book), "program": PROGRAM}, f"assessment {day}", heads=True,
        )  # fmt: skip
        yield Act(
            later(made, 5), self.cast.office, self.cast.opener, "signed",
            lambda book: {
                "scope": list(self.areas), "role": self.cast.title(self.cast.opener), "digest": digest(book), "program": PROGRAM,
                "statement": statement, "reservations": list(reservations),
            }, f"signed {day}", heads=True,
        )  # fmt: skip

    # --- days on site

    def exchanges(self, rows: Sequence[tuple[str, Day, str]], offsets: Mapping[str, int]) -> Iterator[Act]:
        """Devices exchange with the office: letter, day, time; offsets in ms."""
        for letter, day, clock in rows:
            yield self.cast.compared(letter, self.on(day), clock, offsets[letter])

    def climate(
        self, day: Day, clock: str, air: str, rh: str, surface: str, place: str, *, device: str, by: str, instrument: str = "CL-01"
    ) -> Act:
        """A climate reading, labelled ``climate DAY TIME``. [degC, %, degC]"""
        body = {"place": place, "air": f"{air} degC", "rh": f"{rh} %", "surface": f"{surface} degC", "instrument": instrument}
        return self.act(day, clock, "climate.read", body, f"climate {day} {clock}", device=device, by=by)

    def permitted(self, day: Day, clock: str, topic: str, what: str, by_role: str, until: str, stops: str, *, device: str, by: str) -> Act:
        """A permission of the site as its own people wrote it."""
        body = {
            "what": what, "by": self.cast.title(by_role), "until": self.at(day, until), "told": "paper", "stops_when": stops,
            "topic": topic,
        }  # fmt: skip
        return self.act(day, clock, "permit.noted", body, device=device, by=by)

    def looked(self, day: Day, clock: str, panels: Sequence[str], *, device: str, by: str, **more: Any) -> Act:
        """The surface looked over before a test: dry, clean, no overspray, no old water, no solvent."""
        body = {"panels": list(panels), "dry": True, "clean": True, "overspray": False, "old_water": False, "solvent": False, **more}
        return self.act(day, clock, "surface.inspected", body, device=device, by=by)

    def grounded(self, day: Day, clock: str, point: str, to: str, *, device: str, by: str, instrument: str = "RM-01", **more: Any) -> Act:
        """A ground point proved."""
        body = {"point": point, "to": to, "instrument": instrument, **more}
        return self.act(day, clock, "ground.checked", body, f"ground {point} {day}", device=device, by=by)

    def closed(self, day: Day, narrative: str, marks: int, clock: str = "19:00") -> Act:
        """The end of a day, with the marks counted on the wall."""
        body = {"date": self.on(day), "narrative": narrative, "marks_counted": marks}
        return self.act(day, clock, "day.closed", body, heads=True)

    def drawn(
        self, book: Book, day: Day, clock: str, number: str, caption: str, lines: Sequence[Sequence[tuple[float, float]]],
        marks: Sequence[tuple[float, float]], direction: str, *, device: str, by: str,
    ) -> Act:  # fmt: skip
        """A picture of a mark, drawn and saying so."""
        blob = book.keep(picture(number, caption, lines, marks, "100 mm"))
        body = {
            "blob": blob, "about": [number], "direction": direction, "scale": "bar 100 mm", "note": "drawn for the demo, not a photograph",
        }  # fmt: skip
        return self.act(day, clock, "photo.taken", body, device=device, by=by)

    def lettered(self, book: Book, day: Day, clock: str, name: str, text: str, about: Sequence[str]) -> Act:
        """A letter as a small text file."""
        return self.act(day, clock, "file.attached", {"blob": book.keep(text.encode()), "name": name, "about": list(about)})

    def loaded(
        self, book: Book, day: Day, clock: str, data: bytes, columns: Typed, units: Typed, about: str, *, device: str, by: str
    ) -> Act:
        """A file of readings, labelled ``readings``; made since 08:00 of that day."""
        body = {
            "blob": book.keep(data), "columns": columns, "units": units, "rows": len(data.splitlines()) - 1, "about": about,
            "happened": happened(self.at(day, "08:00"), later(self.at(day, clock), -30)),
        }  # fmt: skip
        return self.act(day, clock, "readings.loaded", body, "readings", device=device, by=by)


def twice(wrong: Act, number: str, day_end: tuple[str, str], *, agreed_by: tuple[str, str]) -> Iterator[Act]:
    """A slip: an entry written a second time, withdrawn by its writer and agreed by another person.

    Parameters
    ----------
    wrong : Act
        The second entry, with a label of its own.
    number : str
        What was entered twice, for the reason.
    day_end : (str, str)
        Times of the withdrawal and of the agreement, as written.
    agreed_by : (str, str)
        Device and person who agrees.
    """
    yield wrong
    withdrawn = {"of": Ref(wrong.label), "reason": f"{number} confirmed twice by a slip; the first entry stands"}
    yield Act(day_end[0], wrong.device, wrong.by, "entry.withdrawn", withdrawn, "withdrawn")
    yield Act(day_end[1], agreed_by[0], agreed_by[1], "entry.agreed", {"of": Ref("withdrawn")})


def corrected(label: str, right: Typed, reason: str, at: str, *, device: str, by: str) -> Act:
    """An entry corrected by its writer: a whole new body."""
    return Act(at, device, by, "entry.corrected", {"of": Ref(label), "over": Ref(label), "body": right, "reason": reason})
