"""The assessment: areas, holidays, findings with their reasons, exceptions, what is missing. This is `assess --json`."""

from __future__ import annotations

import hashlib
from typing import Annotated

import msgspec

from wholefilm.base.findings import Assessment, Outcome
from wholefilm.job.facts import Fact, Job
from wholefilm.proof.clauses import conceded, concessions
from wholefilm.proof.states import HolidayWord, Standing

from .rows import Row, Table, head, m2, table

WORDS = {
    Assessment.MEETS: "Meets the limits entered",
    Assessment.DOES_NOT_MEET: "Does not meet the limits entered",
    Assessment.CANNOT_TELL: "Cannot tell yet whether it meets the limits entered",
}
FINDING_WORDS = {"met": "met", "not_met": "not met", "cannot_tell": "cannot tell"}


class AreaSums(msgspec.Struct, frozen=True):
    """Sums over all panels. [m2] tested = checked + awaiting + in doubt; on_instruction is a part of tested."""

    total_m2: float
    tested_m2: float
    checked_m2: float
    awaiting_m2: float
    in_doubt_m2: float
    on_instruction_m2: float
    not_reached_m2: float
    not_in_scope_m2: float
    not_yet_tested_m2: float


class OwnMarks(msgspec.Struct, frozen=True):
    """Made holidays or burns: how many, how many closed."""

    found: int
    closed: int


class HolidayCounts(msgspec.Struct, frozen=True):
    """confirmed = open + repaired + closed."""

    confirmed: int
    open: int
    repaired: int
    closed: int
    undecided: int
    false_indications: int
    made: OwnMarks
    burns: OwnMarks


class RepairCounts(msgspec.Struct, frozen=True):
    """Repair numbers, their footprint with overlaps once, and its share of all."""

    planned: int
    closed: int
    footprint_m2: float
    share_percent: float


class RuleRef(msgspec.Struct, frozen=True):
    """Document, edition, clause and grade of a rule."""

    document: str
    edition: str
    clause: str
    grade: str


class FindingRow(Row, frozen=True, kw_only=True):
    """One rule held against one thing."""

    about: Annotated[str, head("About")]
    rule: RuleRef
    clause: Annotated[str, head("Rule")]
    value: Annotated[str, head("Found")]
    limit: Annotated[str, head("Limit")]
    finding: str
    finding_says: Annotated[str, head("Finding")]
    because: Annotated[str, head("Because")]
    conceded: Annotated[str, head("Beside it")]
    inside_uncertainty: bool


class ReadingRow(Row, frozen=True, kw_only=True):
    """One way to read a clause."""

    about: Annotated[str, head("About")]
    clause: Annotated[str, head("Clause")]
    reading: Annotated[str, head("Read as")]
    value: Annotated[str, head("Found")]
    limit: Annotated[str, head("Limit")]
    finding: Annotated[str, head("Finding")]


class ExceptionRow(Row, frozen=True, kw_only=True):
    """One exception."""

    what: str
    says: Annotated[str, head("Exception")]
    detail: Annotated[str, head("Detail")]
    bars: Annotated[bool, head("Bars meets")]
    entries: list[str]


class AssessmentSheet(msgspec.Struct, frozen=True):
    """How the job stands, with every reason."""

    job: str
    title: str
    as_of: str
    heads: dict[str, list[int | str]]
    assessment: str
    says: str
    area: AreaSums
    holidays: HolidayCounts
    repairs: RepairCounts
    findings: list[FindingRow]
    readings: list[ReadingRow]
    exceptions: list[ExceptionRow]
    missing: list[str]

    def tables(self) -> list[Table]:
        """The sheet as tables."""
        return [
            table("Findings", FindingRow, self.findings, "no requirement is entered"),
            table("Readings of clauses", ReadingRow, self.readings, "no clause with limits is entered"),
            table("Exceptions", ExceptionRow, self.exceptions, "none"),
        ]


def _beside(job: Job, concession: Fact | None) -> str:
    """What stands beside a finding that is not met."""
    if concession is None:
        return ""
    return f"conceded by {' and '.join(job.roles(concession.body.from_))}, {concession.body.dated[:10]}"


def assessment_sheet(standing: Standing, as_of: str = "") -> AssessmentSheet:
    """The assessment of a standing.

    Parameters
    ----------
    standing : Standing
    as_of : str
        The time asked for; the last entry's time if empty.
    """
    job = standing.job
    words = [h.word for h in standing.holidays]
    sums = {n: m2(standing.sum_m2(n)) for n in AreaSums.__struct_fields__}
    footprint = sum(r.footprint_m2 for r in standing.repairs)
    given = concessions(job)
    findings = [
        FindingRow(
            about=f.about,
            rule=RuleRef(f.rule.document, f.rule.edition, f.rule.clause, f.rule.grade.value),
            clause=f"{f.rule.document} {f.rule.edition} {f.rule.clause}".strip(),
            value=f.value,
            limit=f.limit,
            finding=f.finding.value,
            finding_says=FINDING_WORDS[f.finding.value],
            because=f.because,
            conceded=_beside(job, None if f.finding is Outcome.MET else conceded(given, f.rule.clause, f.about)),
            inside_uncertainty=f.inside_uncertainty,
        )
        for f in standing.findings
    ]
    return AssessmentSheet(
        job=job.name,
        title=job.title,
        as_of=as_of or job.last_at,
        heads={d: [s, h] for d, (s, h) in sorted(job.heads.items())},
        assessment=standing.assessment.value,
        says=WORDS[standing.assessment],
        area=AreaSums(**sums),
        holidays=HolidayCounts(
            len(words),
            words.count(HolidayWord.OPEN),
            words.count(HolidayWord.REPAIRED),
            words.count(HolidayWord.CLOSED),
            sum(1 for i in standing.indications if i.decided == "undecided" and not i.retest_of),
            sum(1 for i in standing.indications if i.decided == "false" and not i.retest_of),
            OwnMarks(standing.made, standing.made_closed),
            OwnMarks(standing.burns, standing.burns_closed),
        ),
        repairs=RepairCounts(
            len(standing.repairs),
            sum(1 for r in standing.repairs if r.word is HolidayWord.CLOSED),
            round(footprint, 3),
            round(100 * footprint / sums["total_m2"], 2) if sums["total_m2"] else 0.0,
        ),
        findings=findings,
        readings=[
            ReadingRow(about=r.about, clause=r.clause, reading=r.reading, value=r.value, limit=r.limit, finding=FINDING_WORDS[r.finding])
            for r in standing.readings
        ],
        exceptions=[
            ExceptionRow(what=x.what, says=x.says, detail=x.detail, bars=x.bars, entries=[e for e in x.entries if e])
            for x in standing.lines
        ],
        missing=list(standing.missing),
    )


def digest(sheet: msgspec.Struct) -> str:
    """SHA-256 of a sheet's JSON, lower-case hex: the same for the same record."""
    return hashlib.sha256(msgspec.json.encode(sheet, order="deterministic")).hexdigest()
