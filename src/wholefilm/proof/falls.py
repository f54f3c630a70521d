"""What else falls with a failed or missing check: ground proofs, found voltages, readings of film.

What was found with an instrument since its last passed check is worth as much as that instrument. It stays in the record; it is
in doubt until it is found again. An instrument that is never checked in the field stands on its certificate.
"""

from __future__ import annotations

from collections.abc import Iterator

import msgspec

from wholefilm.base.findings import count_of
from wholefilm.base.times import clock
from wholefilm.instruments.ground import Proof
from wholefilm.job.facts import Fact, Job

from .checks import Testers
from .states import Bracket, Line, TestWord, Use

GROUND, VOLTAGE, FILM = "ground proof", "found voltage", "film reading"
_FAILED = ("low", "high", "failed_before", "failed_between")


class Fall(msgspec.Struct, frozen=True):
    """Something in doubt with the instrument that found it: what it is, for a reader, and the checks on either side."""

    fact: Fact
    what: str
    name: str
    bracket: Bracket


class Falls:
    """Everything of a job, apart from tests, that is in doubt with an instrument.

    Parameters
    ----------
    job : Job
    testers : Testers
    """

    def __init__(self, job: Job, testers: Testers) -> None:
        self.job, self.testers = job, testers
        self.all = [*ground_falls(job, testers), *self._voltages(), *self._thickness()]
        self._ids = {f.fact.id for f in self.all}

    def in_doubt(self, fact: Fact) -> bool:
        """Whether an entry is in doubt with its instrument."""
        return fact.id in self._ids

    def with_check(self, check: Fact) -> list[Fall]:
        """What a failed check puts in doubt."""
        return [f for f in self.all if check in (f.bracket.after, f.bracket.before) and f.bracket.cause in _FAILED]

    def _voltages(self) -> Iterator[Fall]:
        for fact in self.job.all("made_holiday.made"):
            body = fact.body
            found = _bracket(self.testers, fact, body.instrument, body.electrode, body.lead) if body.found_voltage else None
            if found is not None and (found.word is TestWord.IN_DOUBT or found.cause == "high"):
                yield Fall(fact, VOLTAGE, f"{body.found_voltage} on {body.number}", found)

    def _thickness(self) -> Iterator[Fall]:
        for fact in self.job.all("thickness.read"):
            found = _bracket(self.testers, fact, fact.body.gauge)
            if found is not None and found.cause in _FAILED:
                yield Fall(fact, FILM, f"{fact.body.gauge}, {clock(fact.when)}", found)

    def lines(self) -> list[Line]:
        """One line for each kind of thing in doubt and each reason; it bars until the same was found again."""
        groups: dict[tuple[str, str], list[Fall]] = {}
        for fall in self.all:
            groups.setdefault((fall.what, fall.bracket.why), []).append(fall)
        return [self._line(what, why, mine) for (what, why), mine in groups.items()]

    def _line(self, what: str, why: str, mine: list[Fall]) -> Line:
        names = ", ".join(f.name for f in mine[:8]) + (f" and {len(mine) - 8} more" if len(mine) > 8 else "")
        again = all(self._again(f.fact) for f in mine)
        detail = why + ("; found again since" if again else "; measure again, and withdraw these" if what == FILM else "")
        return Line(
            "ground_in_doubt" if what == GROUND else "found_voltage_in_doubt" if what == VOLTAGE else "thickness_in_doubt",
            f"{count_of(len(mine), what)} in doubt: {names}",
            detail,
            not again,
            [f.fact.id for f in mine],
        )

    def _again(self, fact: Fact) -> bool:
        """Whether the same was found again later, and stands: the same ground point, a made holiday of the same zone."""
        name = {"ground.checked": "point", "made_holiday.made": "zone"}.get(fact.kind)
        if name is None:
            return False
        return any(
            f.start > fact.start and getattr(f.body, name) == getattr(fact.body, name) and f.id not in self._ids and _says_it(f)
            for f in self.job.all(fact.kind)
        )


def _says_it(fact: Fact) -> bool:
    """Whether a later entry tells what the one in doubt told: continuity, or a voltage."""
    return bool(fact.body.found_voltage) if fact.kind == "made_holiday.made" else fact.body.found != "open"


def _bracket(testers: Testers, fact: Fact, instrument: str | None, electrode: str | None = None, lead: str | None = None) -> Bracket | None:
    if not instrument:
        return None
    found = testers.fall(Use(instrument, electrode or "", lead or "", "", fact.start, fact.end, fact.when[:10]))
    return found and msgspec.structs.replace(found, why=found.why.partition("; look for burns")[0])


def ground_falls(job: Job, testers: Testers) -> Iterator[Fall]:
    """The ground proofs that are in doubt with their instrument."""
    for fact in job.all("ground.checked"):
        found = _bracket(testers, fact, fact.body.instrument)
        if found is not None and found.word is TestWord.IN_DOUBT and fact.body.found != "open":
            yield Fall(fact, GROUND, f"{fact.body.point} to {fact.body.to}", found)


def failed_grounds(job: Job, testers: Testers) -> dict[str, tuple[int, str]]:
    """Ground proofs that fell with a failed check, by id of entry: from when that was known [ms UTC], and why."""
    found = {}
    for fall in ground_falls(job, testers):
        check = fall.bracket.after or fall.bracket.before
        if fall.bracket.cause in _FAILED and check is not None:
            found[fall.fact.id] = (max(check.start, fall.fact.start), fall.bracket.why)
    return found


def ground_proofs(job: Job, falls: Falls) -> list[Proof]:
    """Every ground proof of a job, those in doubt marked, as `instruments.ground` takes them."""
    return [
        Proof(
            f.body.point, f.body.to, f.start, f.body.found == "open", tuple(f.body.serves or ()), f.body.value or f.body.proof or "", f.id,
            falls.in_doubt(f),
        )
        for f in job.all("ground.checked")
    ]  # fmt: skip
