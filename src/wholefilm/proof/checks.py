"""What a check closes and what it opens.

A test is *awaiting its end check* until a passed as-found reading of the same tester, electrode, lead and setting, made
before any charge, battery change, adjustment or repair and within the contract's interval. A failed or missing end check
puts in doubt everything since the last passed one. As found closes backward; as left opens forward; the first reading of
a day opens and closes nothing.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections import defaultdict
from functools import lru_cache

from wholefilm.base.errors import BadInput
from wholefilm.base.quantity import quantity, units_of
from wholefilm.base.times import clock
from wholefilm.instruments.field_check import CheckResult, Verdict, field_check, read_setting
from wholefilm.job.facts import Fact, Job

from .states import Bracket, CheckState, TestWord, Use

SPOILS_AS_FOUND = ("charged", "battery", "adjusted", "repaired")
SHIFT_MS = 12 * 3600 * 1000
"""Where the contract names no interval, no reading of another day opens a shift for longer; our own bound, not a standard's."""


SPONGE_BELOW_V = 100.0
"""A tester set lower is a wet sponge, which is checked by the resistance at which it alarms (common practice). [V]"""


@lru_cache(maxsize=4096)
def _setting(text: str) -> str:
    """A setting whatever the unit typed; the text itself where it cannot be read."""
    try:
        read = read_setting(text)
    except BadInput:
        return text
    return f"{read.dimension} {read.exact(units_of(read.dimension)[0])}"


@lru_cache(maxsize=4096)
def _checks_setting(check: str, use: str) -> bool:
    """Whether a check at one setting speaks for a use at another: the same, or the threshold of a wet sponge used below 100 V."""
    if not use or _setting(check) == _setting(use):
        return True
    try:
        given, wanted = read_setting(check), read_setting(use)
    except BadInput:
        return False
    return given.dimension == "resistance" and wanted.dimension == "voltage" and 0 < wanted.si < SPONGE_BELOW_V


def _start(check: CheckState) -> int:
    return check.fact.start


class Testers:
    """All readings and changes of all testers, and what they say of a use.

    Parameters
    ----------
    job : Job
    longest_ms : int or None
        Longest time between two as-found readings that the contract allows. [ms]
    tolerance : str or None
        The contract's tolerance; the stricter of it and the entry's counts.
    """

    def __init__(self, job: Job, longest_ms: int | None, tolerance: str | None) -> None:
        self.longest_ms, self.tolerance = longest_ms, tolerance
        self.checks: list[CheckState] = []
        self._checks: dict[str, list[CheckState]] = defaultdict(list)
        self._changes: dict[str, list[Fact]] = defaultdict(list)
        self._alike: dict[tuple[str, str, str, str], list[CheckState]] = {}
        seen: set[tuple[str, ...]] = set()
        for fact in sorted(job.all("instrument.checked"), key=lambda f: (f.start, f.rank)):
            key = (fact.body.instrument, fact.body.electrode, fact.body.lead, _setting(fact.body.set), fact.when[:10])
            tolerance_text, result = self._result(fact)
            state = CheckState(fact, result, tolerance_text, key not in seen)
            seen.add(key)
            self._checks[fact.body.instrument].append(state)
            self.checks.append(state)
        for fact in sorted(job.all("instrument.changed"), key=lambda f: (f.start, f.rank)):
            self._changes[fact.body.instrument].append(fact)

    def _result(self, fact: Fact) -> tuple[str, CheckResult]:
        body = fact.body
        try:
            tolerance = body.tolerance
            if self.tolerance and quantity(self.tolerance, "share").si < quantity(tolerance, "share").si:
                tolerance = self.tolerance
            return tolerance, field_check(body.set, body.read, tolerance)
        except BadInput:
            return body.tolerance, CheckResult(Verdict.LOW, None)

    def _of(self, use: Use) -> list[CheckState]:
        """Checks of the same tester, electrode, lead and setting; what a use leaves empty matches any."""
        key = (use.instrument, use.electrode, use.lead, use.set)
        if key not in self._alike:
            self._alike[key] = [
                c
                for c in self._checks.get(use.instrument, ())
                if use.electrode in ("", c.fact.body.electrode)
                and use.lead in ("", c.fact.body.lead)
                and _checks_setting(c.fact.body.set, use.set)
            ]
        return self._alike[key]

    def _changed(self, instrument: str, after: int, before: int, only: tuple[str, ...] = ()) -> Fact | None:
        return next((f for f in self._changes[instrument] if after <= f.start < before and (not only or f.body.what in only)), None)

    def before(self, use: Use) -> tuple[CheckState | None, str, str]:
        """The last check before a use, and what is wrong with it: (check, cause, sentence)."""
        mine = self._of(use)
        earlier = bisect_right(mine, use.start, key=_start)
        if not earlier:
            return None, "missing_before", f"no check of {use.instrument} with this electrode, lead and setting on {use.day}"
        last = mine[earlier - 1]
        if last.result.verdict is not Verdict.PASSED:
            return last, "failed_before", f"the check before, {clock(last.fact.when)}, did not pass ({last.result.says})"
        if last.fact.when[:10] != use.day and (last.fact.body.occasion == "after" or use.start - last.fact.start > SHIFT_MS):
            return last, "missing_before", f"no check of {use.instrument} since {clock(last.fact.when)}, which was another shift"
        changed = self._changed(use.instrument, last.fact.start, use.start)
        if changed is not None:
            return last, "changed_before", f"{changed.body.what} of {use.instrument} at {clock(changed.when)} and no check since"
        return last, "", ""

    def fall(self, use: Use) -> Bracket | None:
        """How something stands that was found with an instrument: a ground proof, a found voltage, a reading of film.

        Parameters
        ----------
        use : Use
            `electrode`, `lead` and `set` may be empty: a check at any then counts.

        Returns
        -------
        Bracket or None
            None if the instrument is never checked in the field: then its certificate alone speaks for it. A first check of the
            day may come after: only a failed check before, or a failed or missing one after, puts it in doubt.
        """
        mine = self._of(use)
        if not mine:
            return None
        found = self.bracket(use)
        if found.cause != "missing_before":
            return found
        later = [c for c in mine if c.fact.start >= use.end]
        first = later[0] if later and later[0].fact.when[:10] == use.day else None
        if first is not None and first.fact.body.as_found and first.result.verdict is Verdict.PASSED:
            return Bracket(TestWord.CHECKED, None, first.fact, "", "")
        return self._after(use, None, None, later)

    def bracket(self, use: Use) -> Bracket:
        """Which checks stand on either side of a use, and what they close.

        Parameters
        ----------
        use : Use

        Returns
        -------
        Bracket
        """
        first, cause, why = self.before(use)
        before = first.fact if first else None
        mine = self._of(use)
        end = bisect_left(mine, use.end, key=_start)
        between, later = mine[bisect_right(mine, use.start, key=_start) : end], mine[end:]
        if cause:
            return Bracket(TestWord.IN_DOUBT, before, later[0].fact if later else None, cause, why)
        for check in between:
            if check.result.verdict is not Verdict.PASSED:
                return Bracket(
                    TestWord.IN_DOUBT,
                    before,
                    check.fact,
                    "failed_between",
                    f"the check at {clock(check.fact.when)}, during it, did not pass ({check.result.says})",
                )
        midway = self._changed(use.instrument, use.start, use.end)
        if midway is not None:
            return Bracket(
                TestWord.IN_DOUBT,
                before,
                None,
                "changed_before",
                f"{midway.body.what} of {use.instrument} at {clock(midway.when)}, during it",
            )
        doubt = self._spanned(first, between, before)
        return doubt or self._after(use, (between[-1] if between else first), before, later)

    def _spanned(self, first: CheckState | None, between: list[CheckState], before: Fact | None) -> Bracket | None:
        """What is wrong with the passed readings made during a use: each closes what lies before it."""
        if between and not between[0].fact.body.as_found:
            why = f"the check at {clock(between[0].fact.when)}, during it, is as left: it closes nothing before it"
            return Bracket(TestWord.IN_DOUBT, before, between[0].fact, "missing_after", why)
        for one, other in zip([first, *between], between, strict=False):
            if one is not None and self._too_long(one, other):
                return Bracket(TestWord.IN_DOUBT, before, other.fact, "interval", self._interval_says(one, other))
        return None

    def _too_long(self, one: CheckState, other: CheckState) -> bool:
        return self.longest_ms is not None and other.fact.start - one.fact.start > self.longest_ms

    @staticmethod
    def _interval_says(one: CheckState, other: CheckState) -> str:
        hours = (other.fact.start - one.fact.start) / 3600000
        return f"{hours:.1f} h between the readings of {clock(one.fact.when)} and {clock(other.fact.when)}"

    def _after(self, use: Use, last: CheckState | None, before: Fact | None, later: list[CheckState]) -> Bracket:
        nxt = later[0] if later else None
        spoilt = self._changed(use.instrument, use.end, nxt.fact.start if nxt else 1 << 62, SPOILS_AS_FOUND)
        if spoilt is not None:
            return Bracket(
                TestWord.IN_DOUBT,
                before,
                nxt.fact if nxt else None,
                "missing_after",
                f"{spoilt.body.what} of {use.instrument} at {clock(spoilt.when)} before any end check as found",
            )
        if nxt is None:
            return Bracket(TestWord.AWAITING, before, None, "none_yet", f"no end check of {use.instrument} yet")
        body = nxt.fact.body
        read = f"end check {clock(nxt.fact.when)} as found {body.read} on {body.set} set"
        if not body.as_found:
            return Bracket(
                TestWord.IN_DOUBT,
                before,
                nxt.fact,
                "missing_after",
                f"no end check as found: the next reading, {clock(nxt.fact.when)}, is as left",
            )
        if nxt.result.verdict is Verdict.LOW:
            return Bracket(TestWord.IN_DOUBT, before, nxt.fact, "low", f"{read}: {nxt.result.says}, low")
        if (nxt.first_of_day and nxt.fact.when[:10] != use.day and body.occasion != "after") or body.occasion == "before":
            return Bracket(
                TestWord.IN_DOUBT,
                before,
                nxt.fact,
                "missing_after",
                f"no end check: the next reading, {clock(nxt.fact.when)}, opens a shift and closes nothing",
            )
        if last is not None and self._too_long(last, nxt):
            return Bracket(TestWord.IN_DOUBT, before, nxt.fact, "interval", self._interval_says(last, nxt))
        if nxt.result.verdict is Verdict.HIGH and not nxt.result.spark:
            why = f"{read}: {nxt.result.says}, over-sensitive; it missed nothing, indications may be false"
            return Bracket(TestWord.CHECKED, before, nxt.fact, "over_sensitive", why)
        if nxt.result.verdict is Verdict.HIGH:
            return Bracket(TestWord.AWAITING, before, nxt.fact, "high", f"{read}: {nxt.result.says}, high; look for burns")
        return Bracket(TestWord.CHECKED, before, nxt.fact, "", "")
