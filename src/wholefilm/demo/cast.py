"""Who is on a demo's site and with what: people, devices, testers; and the acts that every job has, told once for all demos."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from wholefilm.ledger.entry import canonical

from .acts import Act, Ref, happened, later, stamp
from .scribe import OPENED, Book

Typed = dict[str, Any]


@dataclass(frozen=True)
class Cast:
    """People and devices of a demo. All invented.

    Attributes
    ----------
    name, tag : str
        Name of the job; four hex digits that its ids bear.
    offset, zone : str
        Offset of its times, such as ``+02:00``, and its time zone.
    roles : dict of str to tuple of str
        Short name of a person to the roles as the record tells them; the first opens the job.
    cards : dict of str to (name, certificate)
    holders : dict of str to str
        Letter of a device to the short name of its holder; the first is the office.
    """

    name: str
    tag: str
    offset: str
    zone: str
    roles: Mapping[str, tuple[str, ...]]
    cards: Mapping[str, tuple[str, str]]
    holders: Mapping[str, str]

    @property
    def people(self) -> dict[str, str]:
        """Short name to id."""
        return {role: f"{n}0000000-{self.tag}-4000-8000-{n + 10:012d}" for n, role in enumerate(self.roles, 1)}

    @property
    def devices(self) -> dict[str, str]:
        """Letter to id."""
        hexes = {letter: letter.lower() if letter in "ABCDEF" else "8" for letter in self.holders}
        return {letter: f"{hexes[letter]}0000000-{self.tag}-4000-8000-{n:012d}" for n, letter in enumerate(self.holders, 1)}

    @property
    def office(self) -> str:
        """Letter of the device through which the others exchange."""
        return next(iter(self.holders))

    @property
    def opener(self) -> str:
        """Who opens the job and writes at the office."""
        return next(iter(self.roles))

    def title(self, role: str) -> str:
        """How a person is named where the book takes a text."""
        return self.roles[role][0]

    def at(self, day: str, clock: str) -> str:
        """A time of the site, as the book writes it."""
        return stamp(day, clock, self.offset)

    def book(self) -> Book:
        """An empty book for this cast."""
        return Book(self.name, self.devices, self.people, self.office)

    def act(
        self, day: str, clock: str, kind: str, body: Typed, label: str = "", *, device: str = "", by: str = "", heads: bool = False
    ) -> Act:
        """An act at a time of the site; at the office by its holder unless told otherwise."""
        return Act(self.at(day, clock), device or self.office, by or self.opener, kind, body, label, heads)

    def card(self, book: Book, role: str) -> str:
        """Lay a person's card beside the book; its SHA-256."""
        name, certificate = self.cards[role]
        salt = hashlib.sha256(f"{self.name}/card/{role}".encode()).hexdigest()[:32]
        contact = f"{name.split()[0].lower()}@{self.name}.example"
        return book.keep(canonical({"name": name, "certificate": certificate, "contact": contact, "salt": salt}))

    def opened(self, book: Book, day: str, about: Typed) -> Iterator[Act]:
        """Acts that open the job at 08:00: the job itself (`about`: title, contract, units, language, holiday_means), people, devices."""
        first = self.opener
        yield self.act(day, "08:00", "job.opened", {
            "name": self.name, "time_zone": self.zone, "device": self.devices[self.office], "letter": self.office,
            "person": self.people[first], "roles": list(self.roles[first]), "card": self.card(book, first), **about,
        }, OPENED)  # fmt: skip
        for n, role in enumerate(r for r in self.roles if r != first):
            body = {"person": self.people[role], "roles": list(self.roles[role]), "card": self.card(book, role)}
            yield self.act(day, f"08:{11 + n}", "person.joined", body)
        for n, (letter, holder) in enumerate(h for h in self.holders.items() if h[0] != self.office):
            yield self.act(day, f"08:{20 + n}", "device.joined", {
                "device": self.devices[letter], "letter": letter, "holder": self.title(holder),
            })  # fmt: skip

    def compared(self, letter: str, day: str, clock: str, offset_ms: int) -> Act:
        """A device exchanges with the office and compares clocks. [office clock minus own, ms]"""
        body = {"device": self.devices[self.office], "offset_ms": offset_ms, "round_trip_ms": 40}
        return Act(self.at(day, clock), letter, self.holders[letter], "clock.compared", body, sync=True)


@dataclass(frozen=True)
class Tester:
    """A tester as it is used: what stands in every check, test and retest made with it."""

    instrument: str
    electrode: str
    lead: str
    setting: str
    stage: str
    means: str
    tolerance: str
    tolerance_source: str
    extra: Typed = field(default_factory=dict)
    """What else a check tells, such as the gap of a spark or the resistor box."""

    @property
    def hands(self) -> Typed:
        """Instrument, electrode, lead, setting."""
        return {"instrument": self.instrument, "electrode": self.electrode, "lead": self.lead, "set": self.setting}

    def check(self, when: str, read: str, occasion: str, *, device: str, by: str, label: str = "", as_found: bool = True) -> Act:
        """A reading of the tester, entered a minute later."""
        body = {
            **self.hands, "means": self.means, "read": read, "tolerance": self.tolerance, "tolerance_source": self.tolerance_source,
            "occasion": occasion, "as_found": as_found, "happened": happened(when), **self.extra,
        }  # fmt: skip
        return Act(later(when, 1), device, by, "instrument.checked", body, label)

    def sweep(
        self, panel: str, begin: str, end: str, label: str, *, device: str, by: str, told: Typed | None = None, more: Typed | None = None
    ) -> Iterator[Act]:
        """A test of a panel, all of it: ``started LABEL`` and ``tested LABEL``; `more` goes into the second."""
        began = {"panel": panel, "stage": self.stage, **self.hands, **(told or {}), "happened": happened(begin)}
        yield Act(begin, device, by, "panel.started", began, f"started {label}")
        ended = {
            "panel": panel, "started": Ref(f"started {label}"), "all": True, "happened": happened(begin, end),
            **(told or {}), **(more or {}),
        }  # fmt: skip
        yield Act(later(end, 1), device, by, "panel.tested", ended, f"tested {label}")

    def retest(
        self, repair: str, nth: int, begin: str, end: str, film: str, outline: Sequence[Typed], raised: Sequence[str] = (), *,
        device: str, by: str, more: Typed | None = None,
    ) -> Act:  # fmt: skip
        """A retest of a repair; `raised` are the numbers of what it raised."""
        body = {
            "repair": Ref(repair), "nth": nth, "stage": self.stage, **self.hands, "local_thickness": film, "outline": list(outline),
            "indications": [Ref(number) for number in raised], "happened": happened(begin, end), **(more or {}),
        }  # fmt: skip
        return Act(later(end, 1), device, by, "retest.done", body, f"retest {repair} {nth}")


def raised(number: str, panel: str, place: Typed, at: str, *, device: str, by: str, more: Typed | None = None) -> Act:
    """An indication at its place."""
    return Act(at, device, by, "indication.raised", {"number": number, "panel": panel, "place": place, **(more or {})}, number)


def confirmed(number: str, place: Typed, surface: str, at: str, *, device: str, by: str, more: Typed | None = None) -> Act:
    """An indication confirmed as a holiday, labelled ``holiday NUMBER``; `surface` is its class."""
    body = {"indication": Ref(number), "place": place, "class": surface, **(more or {})}
    return Act(at, device, by, "holiday.confirmed", body, f"holiday {number}")


def decided_false(number: str, reason: str, tried: str, at: str, *, device: str, by: str) -> Act:
    """An indication decided false."""
    return Act(at, device, by, "indication.false", {"indication": Ref(number), "reason": reason, "tried": tried}, f"false {number}")


def planned(
    number: str, covers: Sequence[str], kind: str, procedure: str, outline: Sequence[Typed], at: str, *, device: str, by: str
) -> Act:
    """A repair planned; `covers` are wall numbers of confirmed holidays, or whole labels such as ``made G1``."""
    labels = [c if " " in c else f"holiday {c}" for c in covers]
    body = {"number": number, "holidays": [Ref(c) for c in labels], "class": kind, "procedure": procedure, "outline": list(outline)}
    return Act(at, device, by, "repair.planned", body, number)


def coat(batch: str, at: str, climate: Ref) -> Typed:
    """A coat of a repair."""
    return {"batch": batch, "at": at, "climate": climate}


def done(number: str, nth: int, begin: str, end: str, coats: Sequence[Typed], *, device: str, by: str, more: Typed) -> Act:
    """A repair done, its mark taken off; `more`: preparation, bare, feather, applicator. Labelled ``done NUMBER NTH``."""
    body = {
        "repair": Ref(number), "nth": nth, "coats": list(coats), "mark_removed": True, "happened": happened(begin, end), **more,
    }  # fmt: skip
    return Act(later(end, 1), device, by, "repair.done", body, f"done {number} {nth}")


def cured(about: Sequence[str], row: str, last_coat: str, steel: str, at: str, *, person: str, device: str, by: str) -> Act:
    """A film released by a row of the maker's table."""
    body = {"about": list(about), "table_row": row, "last_coat_at": last_coat, "steel": steel, "by": person}
    return Act(at, device, by, "cure.released", body)
