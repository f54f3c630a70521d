"""Requirements with sources, who decided, questions and answers, hold and witness points, instructions, concessions, non-conformances."""

from __future__ import annotations

from typing import Annotated

import msgspec

from wholefilm.base.times import clock
from wholefilm.job.facts import Job
from wholefilm.proof.states import Requirement, Standing

from .people import who
from .points import PointRow, points
from .rows import Row, Table, head, joined, table


class RequirementRow(Row, frozen=True, kw_only=True):
    """One requirement."""

    clause: Annotated[str, head("Clause")]
    topic: Annotated[str, head("Topic")]
    says: Annotated[str, head("What it asks")]
    applies_to: Annotated[str, head("For")]
    document: Annotated[str, head("Document")]
    grade: Annotated[str, head("Grade")]
    decided: Annotated[str, head("Read as, decided by")]
    entry: str


class QuestionRow(Row, frozen=True, kw_only=True):
    """A question and its answers."""

    number: Annotated[str, head("No.")]
    to: Annotated[str, head("To")]
    text: Annotated[str, head("Question")]
    answers: Annotated[str, head("Answered")]
    entry: str


class WordRow(Row, frozen=True, kw_only=True):
    """A dated word that matters: an instruction, a concession, a delay."""

    when: Annotated[str, head("Dated")]
    what: Annotated[str, head("What")]
    about: Annotated[str, head("About")]
    text: Annotated[str, head("Text")]
    by: Annotated[str, head("By")]
    evidence: Annotated[str, head("Evidence")]
    entry: str


class NonconformanceRow(Row, frozen=True, kw_only=True):
    """A non-conformance and how it was disposed of."""

    number: Annotated[str, head("No.")]
    requirement: Annotated[str, head("Requirement")]
    finding: Annotated[str, head("Finding")]
    extent: Annotated[str, head("Extent")]
    containment: Annotated[str, head("Contained by")]
    state: Annotated[str, head("State")]
    disposition: Annotated[str, head("Disposition")]
    by: Annotated[str, head("Authorised by")]
    evidence: Annotated[str, head("Evidence of closing")]
    entry: str


class RequirementsSheet(msgspec.Struct, frozen=True):
    """The contract side of the job."""

    contract: str
    requirements: list[RequirementRow]
    questions: list[QuestionRow]
    points: list[PointRow]
    words: list[WordRow]
    nonconformances: list[NonconformanceRow]

    def tables(self) -> list[Table]:
        """The sheet as tables."""
        return [
            table("Requirements", RequirementRow, self.requirements, "none entered: nothing can be assessed"),
            table("Questions and answers", QuestionRow, self.questions, "none"),
            table("Hold and witness points", PointRow, self.points, "none"),
            table("Instructions, concessions, delays", WordRow, self.words, "none"),
            table("Non-conformances", NonconformanceRow, self.nonconformances, "none"),
        ]


def requirements_sheet(standing: Standing) -> RequirementsSheet:
    """Requirements of a standing."""
    job = standing.job
    return RequirementsSheet(
        contract=job.opened.body.contract if job.opened else "",
        requirements=[_requirement(job, r) for r in standing.requirements],
        questions=_questions(job),
        points=points(standing),
        words=_words(job),
        nonconformances=_nonconformances(job),
    )


def _requirement(job: Job, r: Requirement) -> RequirementRow:
    decided = ""
    if r.decided:
        body = r.decided.body
        decided = joined([body.reason, f"{who(job, body.decided_by)}, {clock(r.decided.when)}"])
    elif r.why_not:
        decided = f"not held against the job: {r.why_not}"
    return RequirementRow(
        clause=r.clause,
        topic=r.topic,
        says=r.says,
        applies_to=", ".join(r.applies_to) or "all",
        document=f"{r.source.document} {r.source.edition}",
        grade=r.source.grade.value,
        decided=decided,
        entry=r.fact.id,
    )


def _questions(job: Job) -> list[QuestionRow]:
    rows = []
    for q in job.all("question.raised"):
        answers = [a for a in job.all("question.answered") if a.body.question == q.id]
        said = "\n".join(f"{a.body.from_}, {clock(a.body.dated)}: {a.body.text}" for a in answers)
        rows.append(
            QuestionRow(number=q.body.number, to=", ".join(q.body.to), text=q.body.text, answers=said or "not answered", entry=q.id)
        )
    return rows


def _words(job: Job) -> list[WordRow]:
    rows = []
    for f in job.all("instruction.received", "concession.given", "delay.noted"):
        b = f.body
        if f.kind == "instruction.received":
            panels = ", ".join(b.allows.panels or []) if b.allows else ""
            row = WordRow(when=clock(b.dated), what="instruction", about=panels, text=b.text, by=b.from_, evidence=b.evidence, entry=f.id)
        elif f.kind == "concession.given":
            what, about, by = f"concession on {b.requirement}", ", ".join(b.about), who(job, b.from_)
            row = WordRow(when=clock(b.dated), what=what, about=about, text=b.text, by=by, evidence=b.evidence, entry=f.id)
        else:
            row = WordRow(when=clock(f.when), what="delay", about="", text=b.reason, by=who(job, f.by), evidence="", entry=f.id)
        rows.append(row)
    return sorted(rows, key=lambda r: r.when)


def _nonconformances(job: Job) -> list[NonconformanceRow]:
    rows = []
    for f in job.all("nonconformance.raised"):
        closed = next((c for c in job.all("nonconformance.closed") if c.body.nonconformance == f.id), None)
        rows.append(
            NonconformanceRow(
                number=f.body.number,
                requirement=f.body.requirement,
                finding=f.body.finding,
                extent=f.body.extent,
                containment=f.body.containment,
                state=f"closed {clock(closed.when)}" if closed else "open",
                disposition=closed.body.disposition if closed else "",
                by=who(job, closed.body.authorised_by) if closed else "",
                evidence=closed.body.evidence if closed else "",
                entry=f.id,
            )
        )
    return rows
