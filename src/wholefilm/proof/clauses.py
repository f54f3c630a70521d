"""A line for each clause that is not met, where no other exception tells of it already."""

from __future__ import annotations

from collections import defaultdict

from wholefilm.base.findings import Finding, Outcome
from wholefilm.job.facts import Fact, Job
from wholefilm.rules.limits import LimitsRule, NoneOpen

from .requirements import CheckInterval, Coverage
from .states import Line, Requirement


def unmet_clauses(job: Job, found: list[Requirement], findings: list[Finding]) -> list[Line]:
    """Lines for clauses that are not met.

    Parameters
    ----------
    job : Job
    found : list of Requirement
    findings : list of Finding

    Returns
    -------
    list of Line
        Coverage, checks and open holidays have lines of their own and are left out.
    """
    told = {r.source for r in found if _told_elsewhere(r.rule)}
    unmet: dict[str, list[Finding]] = defaultdict(list)
    for finding in findings:
        if finding.finding is Outcome.NOT_MET and finding.rule not in told:
            unmet[finding.rule.clause or finding.rule.document].append(finding)
    given = concessions(job)
    lines = []
    for clause, mine in unmet.items():
        abouts = list(dict.fromkeys(f.about for f in mine))
        first = f"{mine[0].about}: {mine[0].because}"
        beside = [conceded(given, clause, about) for about in abouts]
        if all(beside):
            first += " · a concession stands beside it"
        sources = {f.rule for f in mine}
        entries = [r.fact.id for r in found if r.source in sources] + [f.id for f in beside if f]
        says = f"Clause {clause} is not met: {', '.join(abouts)}"
        lines.append(Line("clause_not_met", says, first, True, list(dict.fromkeys(entries))))
    return lines


def _told_elsewhere(rule: object) -> bool:
    if isinstance(rule, LimitsRule):
        return any(isinstance(limit, NoneOpen) for limit in rule.limits)
    return isinstance(rule, Coverage | CheckInterval)


def concessions(job: Job) -> dict[tuple[str, str], Fact]:
    """Concessions by clause and what they are about, the last of each."""
    return {(f.body.requirement, about): f for f in job.all("concession.given") for about in f.body.about}


def conceded(given: dict[tuple[str, str], Fact], clause: str, about: str) -> Fact | None:
    """The concession that stands beside a finding: about the same, or about each of several test areas that the finding names."""
    parts = [about] if (clause, about) in given else about.split(", ")
    found = [given.get((clause, part)) for part in parts]
    return found[-1] if all(found) else None
