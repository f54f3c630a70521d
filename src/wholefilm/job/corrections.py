"""Corrections and withdrawals: which are in force, which wait for another person's word."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from typing import Any

import msgspec

from wholefilm.base.errors import BadInput
from wholefilm.base.quantity import quantity
from wholefilm.instruments.field_check import Verdict, field_check

from .bodies import read_correction
from .facts import Change, Fact, Problem, span
from .kinds import in_words

FIXED = ("signed", "assessment.made", "job.opened")
"""Kinds that cannot be corrected or withdrawn, with all of `entry.*`."""


def is_fixed(kind: str) -> bool:
    """Whether entries of a kind can be neither corrected nor withdrawn."""
    return kind in FIXED or kind.startswith("entry.")


def removes_failure(fact: Fact, new: Any, tolerance: str = "") -> bool:
    """Whether taking `new` (None for a withdrawal) instead of the body removes something that speaks against the work.

    A failed check, an indication, a confirmed holiday, a failed retest, a ground point found open and what stopped a permission
    go only with another person's agreement. Moving one to another time removes it from where it speaks. `tolerance` is the
    contract's, if any.
    """
    old = fact.body
    moved = new is not None and new.happened != old.happened
    if fact.kind == "instrument.checked":
        return _failed(old, tolerance) and (new is None or moved or not _failed(new, tolerance) or _tester(old) != _tester(new))
    if fact.kind == "indication.raised":
        return new is None or new.retest != old.retest or new.number != old.number or (bool(old.retest) and moved)
    if fact.kind == "holiday.confirmed":
        return new is None or new.indication != old.indication
    if fact.kind == "retest.done":
        gone = new is None or moved or not set(old.indications) <= set(new.indications) or new.repair != old.repair
        return bool(old.indications) and gone
    if fact.kind == "permit.stopped":
        return new is None or moved or new.permit != old.permit
    if fact.kind == "ground.checked":
        return old.found == "open" and (new is None or moved or new.found != "open" or new.point != old.point)
    return False


def _failed(check: Any, tolerance: str) -> bool:
    try:
        allowed = [t for t in (check.tolerance, tolerance) if t]
        return any(field_check(check.set, check.read, t).verdict is not Verdict.PASSED for t in allowed)
    except BadInput:
        return True


def _contract_tolerance(of: Mapping[str, list[Fact]]) -> str:
    """The strictest tolerance of a check that any requirement of the job names; empty if none does."""
    rules = [f.body.rule for kind in ("requirement.noted", "requirement.decided") for f in of.get(kind, ()) if f.body.rule]
    found: list[str] = []
    for rule in rules:
        text = rule.get("tolerance") if rule.get("form") == "check_interval" else None
        try:
            if isinstance(text, str):
                quantity(text, "share")
                found.append(text)
        except BadInput:
            continue  # proof says that this requirement cannot be read
    return min(found, key=lambda t: quantity(t, "share").si, default="")


def _tester(check: Any) -> tuple[str, ...]:
    return (check.instrument, check.electrode, check.lead, check.set, str(check.as_found))


class Corrector:
    """Applies corrections and withdrawals to facts, in the one order.

    Parameters
    ----------
    facts : dict of str to Fact
        By entry id.
    of : mapping of str to list of Fact
        The same by kind, in the one order.
    versions : dict of str to (str, int)
        Kind and version of every present entry, readable or not.
    alone : bool
        Whether only one person ever joined.
    """

    def __init__(self, facts: dict[str, Fact], of: Mapping[str, list[Fact]], versions: dict[str, tuple[str, int]], alone: bool) -> None:
        self.facts, self.of, self.versions, self.alone = facts, of, versions, alone
        self.problems: list[Problem] = []
        self.changes: list[Change] = []
        self.lifted: set[str] = set()
        self.withdrawn_of: set[str] = set()
        self._agreed: dict[str, list[Fact]] = defaultdict(list)
        self._tolerance = _contract_tolerance(of)

    def run(self) -> None:
        """Apply all; fills `problems`, `changes`, `lifted` (entries whose unreadable body no longer bars) and `withdrawn_of` (kinds)."""
        for fact in self.of.get("entry.agreed", ()):
            self._agreed[fact.body.of].append(fact)
        self._correct()
        self._withdraw()

    def _agreement(self, change: Fact) -> str:
        return next((f.by for f in self._agreed[change.id] if f.by != change.by), "")

    def _note(self, change: Fact, kind_of: str, failure: bool, says: str) -> bool:
        agreed = self._agreement(change)
        in_force = not failure or bool(agreed) or self.alone
        body = change.body
        self.changes.append(
            Change(
                body.of,
                kind_of,
                change.id,
                body.reason,
                change.kind == "entry.withdrawn",
                failure,
                in_force,
                agreed,
                self.alone and failure and not agreed,
                says,
            )
        )
        if not in_force:
            self.problems.append(Problem("waits_for_agreement", f"{says}: waits for another person's agreement", True, change.id))
        return in_force

    def _allowed(self, change: Fact) -> bool:
        of = change.body.of
        if of not in self.versions:
            self.problems.append(
                Problem("refers_to_absent", f"{change.kind} {change.id} is about an entry that is not here", True, change.id)
            )
            return False
        if is_fixed(self.versions[of][0]):
            self.problems.append(
                Problem(
                    "cannot_be_changed",
                    f"{self.versions[of][0]} {of} cannot be corrected or withdrawn; the attempt counts for nothing",
                    False,
                    change.id,
                )
            )
            return False
        return True

    def _correct(self) -> None:
        by_target: dict[str, list[Fact]] = defaultdict(list)
        for change in self.of.get("entry.corrected", ()):
            if self._allowed(change):
                by_target[change.body.of].append(change)
        for of, changes in by_target.items():
            kind, version = self.versions[of]
            original = self.facts.get(of)
            first_body = original.body if original else None
            in_force: list[Fact] = []
            for change in changes:
                try:
                    new = read_correction(kind, version, change.body.body)
                except BadInput as error:
                    self.problems.append(Problem("unreadable_correction", f"correction {change.id} of {kind}: {error}", True, change.id))
                    continue
                failure = original is not None and (
                    removes_failure(original, new, self._tolerance)
                    or removes_failure(msgspec.structs.replace(original, body=first_body), new, self._tolerance)
                )
                if self._note(change, kind, failure, f"{in_words(kind)} corrected: {change.body.reason}"):
                    in_force.append(change)
                    if original is None:
                        continue
                    _put(original, new)
                    original.corrected_by = (*original.corrected_by, change.id)
            self._conflicts(of, changes, in_force)

    def _conflicts(self, of: str, changes: list[Fact], in_force: list[Fact]) -> None:
        """Two over the same entry stand until a third, in force and over one of them, settles it."""
        by_over: dict[str, list[str]] = defaultdict(list)
        for change in changes:
            by_over[change.body.over].append(change.id)
        for ids in by_over.values():
            if len(ids) > 1 and not any(c.body.over in ids and c.id not in ids for c in in_force):
                self.problems.append(
                    Problem(
                        "corrections_conflict",
                        f"{len(ids)} corrections of {self.versions[of][0]} {of} stand over the same entry; a further one must settle it",
                        True,
                        of,
                    )
                )

    def _withdraw(self) -> None:
        for change in self.of.get("entry.withdrawn", ()):
            if not self._allowed(change):
                continue
            of, kind = change.body.of, self.versions[change.body.of][0]
            fact = self.facts.get(of)
            says = f"{in_words(kind)} withdrawn: {change.body.reason}"
            if fact is None:
                if self._note(change, kind, True, says):
                    self.lifted.add(of)
            elif self._note(change, kind, removes_failure(fact, None, self._tolerance), says):
                del self.facts[of]
                self.withdrawn_of.add(kind)


def _put(fact: Fact, body: Any) -> None:
    fact.body = body
    fact.start, fact.end = span(body, fact.ms)
