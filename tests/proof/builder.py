"""A small invented job: a tank of 4 m with floor F and shell S1, one tester, and hands to record what happens to it.

Areas by hand: floor quadrants F-1 .. F-4 of pi m2 each (pi * 2^2 / 4); shell panels S1-1 .. S1-4 of 2 pi m2 each (pi * 4 * 2 / 4).
"""

from __future__ import annotations

import hashlib
from typing import Any

from wholefilm.base.times import utc_ms
from wholefilm.job.facts import Job
from wholefilm.job.fold import fold
from wholefilm.ledger.entry import Entry, make_entry, uuid7
from wholefilm.proof.assessment import assess
from wholefilm.proof.states import Standing, TestState

PI = 3.141592653589793
QUADRANT, STRAKE = PI, 2 * PI
ITEM: dict[str, Any] = {
    "item": "tank",
    "shape": "tank",
    "datum": "0 deg at the manway, clockwise seen from above",
    "dimensions": {
        "diameter": "4 m",
        "courses": [{"name": "S1", "height": "2 m", "first_seam": "0 deg", "seams": 4}],
        "floor": {"name": "F"},
    },
    "features": [],
    "test_areas": [{"name": "F", "on": "floor"}, {"name": "S1", "on": "shell", "course": "S1"}],
    "panels": {"rule": "seams, courses and quadrants"},
    "openings_deducted": False,
}
SOURCE = {"document": "maker's letter", "edition": "2025-03-01", "grade": "entered"}
PANELS = ("F-1", "F-2", "F-3", "F-4", "S1-1", "S1-2", "S1-3", "S1-4")
SPARK = "3.0 kV"


def named(name: str, at: str = "2025-03-03T06:00:00.000+01:00") -> str:
    """An id that is the same in every run."""
    return uuid7(utc_ms(at), hashlib.sha256(name.encode()).digest()[:10])


PEOPLE = {name: named(f"person {name}") for name in ("qc", "qa", "engineer", "applicator", "stranger")}
DEVICES = {letter: named(f"device {letter}") for letter in "ABXZ"}


def at(time: str) -> str:
    """``"3 07:30"`` or ``"07:30"`` (day 3) of March 2025 as written."""
    day, clock = time.split(" ") if " " in time else ("3", time)
    return f"2025-03-{int(day):02d}T{clock}:00.000+01:00"


class Book:
    """Writes entries; `at` of the next entry never lies before the last one of its device unless told."""

    def __init__(
        self, *, people: tuple[str, ...] = ("qa", "engineer", "applicator"), ready: bool = True, item: dict[str, Any] = ITEM
    ) -> None:
        self.entries: list[Entry] = []
        self.blobs: dict[str, bytes] = {}
        self._last: dict[str, tuple[int, str]] = {}
        self._n = 0
        self.grounded: set[int] = set()
        self.job = named("job")
        self.opening = self.write(
            "job.opened", "1 07:00", name="small", title="Small tank", contract="SM-1 rev A", units={"length": "um"}, language="en",
            time_zone="Europe/Berlin", device=DEVICES["A"], letter="A", person=PEOPLE["qc"], roles=["QC"],
            card=self.keep(b'{"certificate":"certificate 1, invented","name":"Ada Example"}'),
        )  # fmt: skip
        for name in people:
            self.write("person.joined", "1 07:01", person=PEOPLE[name], roles=[name], card="1" * 64)
        self.write("item.added", "1 07:02", **item)
        if ready:
            self.get_ready()

    def get_ready(self) -> None:
        """Everything that a spark test of all panels needs, apart from checks of the tester."""
        self.write("instrument.added", "1 07:03", instrument="T1", what="spark tester, DC", range="0.5 kV to 15 kV", due=at("28 12:00"))
        rows = [{"row": "10", "what": "repair", "steel": "10 degC", "wait": "48 h"}]
        self.system = self.write(
            "system.set",
            "1 07:04",
            version=2,
            immersed="never",
            test_areas=["F", "S1"],
            layers=[{"name": "coat 1", "conductive": "no"}],
            cure_table=rows,
        )
        question = self.write("question.raised", "1 07:05", number="Q-01", to=["maker"], about="voltage", text="Which voltage?")
        self.agreed = self.write(
            "question.answered", "1 07:06", question=question, dated=at("1 07:05"), text="3.0 kV", evidence="letter", **{"from": "maker"}
        )
        self.sheet()
        self.write("permit.noted", "1 07:08", what="ignition source", by="site", until=at("20 23:59"), stops_when="gas alarm")

    def ground(self, when: str) -> None:
        """A ground proof on the day of a test, once a day."""
        day = int(when.split(" ")[0]) if " " in when else 3
        if day in self.grounded:
            return
        self.grounded.add(day)
        self.write("ground.checked", f"{day} 00:05", point="lug", to="flange", instrument="M1", value="0.5 ohm")

    def look(self, when: str) -> str:
        """The film as it should be before a test, seen all over."""
        seen = {"panels": ["F", "S1"], "dry": True, "clean": True, "overspray": False, "old_water": False, "solvent": False}
        return self.write("surface.inspected", when, version=2, **seen)

    def sheet(self, **other: Any) -> str:
        """A voltage sheet for F and S1."""
        body = {
            "test_areas": ["F", "S1"], "system": self.system, "stage": "final", "method": "spark, DC", "setting": SPARK,
            "basis": {"what": "measured range", "low": "600 um", "high": "1000 um"},
            "rule": {"form": "user_enters", "volt": "3.0 kV", "source": SOURCE}, "reason": "maker's letter",
            "agreed_by": [self.agreed], "electrode": "brush 0.3", "valid_until": "coating changes",
        }  # fmt: skip
        return self.write("voltage.set", "1 07:07", **{**body, **other})

    def write(
        self, kind: str, when: str, *, who: str = "qc", on: str = "A", ident: str = "", version: int = 1, heads: bool = False,
        seq: int = 0, prev: str | None = None, job: str = "", **body: Any,
    ) -> str:  # fmt: skip
        """Write an entry as it comes, without any form in between; its id."""
        self._n += 1
        last_seq, last_hash = self._last.get(on, (0, self.entries[0].hash if self.entries else ""))
        happened = body.get("happened")
        if isinstance(happened, str):
            first, _, last = happened.partition("..")
            body["happened"] = {"from": at(first)} | ({"to": at(last)} if last else {})
        written = at(when) if " " in when or len(when) == 5 else when
        entry = make_entry(
            at=written, body=body, by=PEOPLE.get(who, who), device=DEVICES[on],
            id=ident or (self.job if kind == "job.opened" else named(f"entry {self._n}")), job=job or self.job, kind=kind,
            prev=last_hash if prev is None else prev, seq=seq or last_seq + 1, session=named("session"), tick=self._n, version=version,
            heads={DEVICES[x]: head for x, head in self._last.items()} if heads else None,
        )  # fmt: skip
        self.entries.append(entry)
        self._last[on] = (entry.seq, entry.hash)
        return entry.id

    def unwrite(self) -> None:
        """Take back the last entry, as if it had never been written."""
        gone = self.entries.pop()
        before = [e for e in self.entries if e.device == gone.device]
        letter = next(letter for letter, device in DEVICES.items() if device == gone.device)
        self._last[letter] = (before[-1].seq, before[-1].hash)

    def require(self, clause: str, rule: dict[str, Any], *, grade: str = "seen", **more: Any) -> str:
        """A requirement of the contract."""
        return self.write(
            "requirement.noted", "1 07:10", topic=clause, document="SM-1", edition="rev A", clause=clause, grade=grade, says=clause,
            rule=rule, **more,
        )  # fmt: skip

    def usual(self, longest: str = "", holds: tuple[str, ...] = ()) -> Book:
        """Coverage, none open and the check rule."""
        self.require("7.1", {"form": "coverage", "share": "100 %"}, stage="final")
        self.require("7.2", {"form": "limits", "limits": [{"form": "none_open"}]})
        self.require("8.1", {"form": "check_interval", "tolerance": "5 %"} | ({"longest": longest} if longest else {}))
        if holds:
            self.require("9.1", {"form": "holds", "points": list(holds)})
        return self

    def check(self, when: str, read: str = "3.00 kV", occasion: str = "before", as_found: bool = True, **more: Any) -> str:
        body = {
            "instrument": "T1", "electrode": "brush 0.3", "lead": "5 m", "means": "crest meter", "set": SPARK, "read": read,
            "tolerance": "5 %", "tolerance_source": "contract 8.1", "occasion": occasion, "as_found": as_found,
        }  # fmt: skip
        return self.write("instrument.checked", when, **{**body, **more})

    def change(self, when: str, what: str) -> str:
        return self.write("instrument.changed", when, instrument="T1", what=what)

    def start(self, panel: str, when: str, **more: Any) -> str:
        body = {"panel": panel, "stage": "final", "instrument": "T1", "electrode": "brush 0.3", "lead": "5 m", "set": SPARK}
        return self.write("panel.started", when, **{**body, **more})

    def test(self, panel: str, begin: str, end: str, *, setup: dict[str, Any] | None = None, **more: Any) -> str:
        """A panel started and tested; all of it unless told otherwise."""
        self.ground(begin)
        started = self.start(panel, begin, **(setup or {}))
        body: dict[str, Any] = {"panel": panel, "started": started, "happened": f"{begin}..{end}"}
        if "but" not in more:
            body["all"] = True
        return self.write("panel.tested", end, **{**body, **more})

    def test_all(self, day: int = 3, start: int = 8, panels: tuple[str, ...] = PANELS) -> None:
        """Every panel, ten minutes each, from `start` o'clock."""
        for n, panel in enumerate(panels):
            self.test(panel, f"{day} {start + n // 6:02d}:{n % 6 * 10:02d}", f"{day} {start + n // 6:02d}:{n % 6 * 10 + 8:02d}")

    def holiday(self, number: str, when: str, panel: str = "F-1", place: dict[str, Any] | None = None, confirm: bool = True) -> str:
        """An indication and, unless told otherwise, its confirmation; id of the confirmation (or of the indication)."""
        where = place or {"on": "floor", "x": "0.5 m", "y": "0.5 m"}
        raised = self.write("indication.raised", when, number=number, panel=panel, place=where)
        if not confirm:
            return raised
        return self.write("holiday.confirmed", when, indication=raised, place=where, **{"class": "flat"})

    def plan(self, number: str, holidays: list[str], when: str = "4 08:00", outline: list[dict[str, Any]] | None = None) -> str:
        outline = outline or [{"shape": "disc", "at": {"on": "floor", "x": "0.5 m", "y": "0.5 m"}, "radius": "0.1 m"}]
        return self.write("repair.planned", when, number=number, holidays=holidays, procedure="P1", outline=outline, **{"class": "spot"})

    def mend(self, repair: str, when: str = "4 09:00", nth: int = 1, release: str = "", bare: dict[str, str] | None = None) -> str:
        """A repair done at a time, and its cure released 48 h after (by the table) unless told otherwise."""
        done = self.write(
            "repair.done", when, repair=repair, nth=nth, preparation="ground", bare=bare or {"length": "30 mm", "width": "30 mm"},
            feather="50 mm", coats=[{"batch": "b1", "at": at(when)}], applicator="foreman", mark_removed=True,
        )  # fmt: skip
        if release != "none":
            self.write(
                "cure.released", release or when, about=[repair], table_row="10", last_coat_at=at(when), steel="10 degC", by=PEOPLE["qa"]
            )
        return done

    def retest(self, repair: str, begin: str, end: str, nth: int = 1, indications: list[str] | None = None, **more: Any) -> str:
        self.ground(begin)
        body = {
            "repair": repair, "nth": nth, "stage": "final", "instrument": "T1", "electrode": "brush 0.3", "lead": "5 m", "set": SPARK,
            "local_thickness": "700 um", "outline": [{"shape": "panel", "panel": "F-1"}], "indications": indications or [],
        }  # fmt: skip
        return self.write("retest.done", end, happened=f"{begin}..{end}", **{**body, **more})

    def closed(self) -> Book:
        """The whole job done well: tested, one holiday found on F-1, repaired, retested, closed on day 6."""
        self.look("3 07:20")
        self.check("3 07:30")
        self.test_all()
        self.found = self.holiday("A1", "3 08:05")
        self.check("3 12:00", occasion="after")
        self.repair = self.plan("R-01", [self.found])
        self.mend(self.repair)
        self.check("6 09:30")
        self.retested = self.retest(self.repair, "6 10:00", "6 10:05")
        self.check("6 10:30", occasion="after")
        return self

    def keep(self, data: bytes) -> str:
        sha = hashlib.sha256(data).hexdigest()
        self.blobs[sha] = data
        return sha

    def has(self, sha: str) -> bool:
        return sha in self.blobs

    def get(self, sha: str) -> bytes | None:
        return self.blobs.get(sha)

    def fold(self) -> Job:
        return fold(self.entries, self)

    def stand(self) -> Standing:
        return assess(self.fold())


def last_test(standing: Standing, panel: str) -> TestState:
    """The latest test of a panel."""
    return next(p for p in standing.panels if p.name == panel).tests[-1]


def whats(standing: Standing, bars: bool | None = None) -> set[str]:
    """Short names of the exception lines."""
    return {x.what for x in standing.lines if bars is None or x.bars is bars}


def findings(standing: Standing, clause: str) -> list[str]:
    """Outcomes of the findings of a clause, in order."""
    return [f.finding.value for f in standing.findings if f.rule.clause == clause]


def good() -> Book:
    return Book().usual().closed()


def not_good(standing: Standing) -> None:
    """Never `meets`, and never in silence."""
    assert standing.assessment.value != "meets"
    assert any(f.finding.value == "not_met" for f in standing.findings) or standing.lines
