"""Kinds of the contract side: job, people, requirements, questions, holds, non-conformances, signatures."""

from __future__ import annotations

from typing import Annotated, Literal

from msgspec import Meta

from .common import Allows, At, Body, Confirmed, Count, Day, Freeform, Id, Ids, Names, Place, Sha, Text

Letter = Annotated[str, Meta(pattern=r"^[A-HJ-NPR-Z]{1,2}$", description="A to Z without I, O and Q; after Z two letters")]


class JobOpened(Body, kw_only=True, frozen=True):
    """A job begins: the first entry, which names the first device, letter and person."""

    name: Annotated[str, Meta(pattern=r"^[a-z0-9][a-z0-9-]{0,62}$")]
    title: Text
    contract: Text
    units: Freeform
    language: Text
    time_zone: Text
    device: Id
    letter: Letter
    person: Id
    roles: Names
    card: Sha
    holiday_means: Text | None = None


class PersonJoined(Body, kw_only=True, frozen=True):
    """A person joins, by roles and the hash of a card that lies beside the ledger."""

    person: Id
    roles: Names
    card: Sha
    qualification: Text | None = None
    valid_until: Day | None = None
    authorised: Text | None = None


class DeviceJoined(Body, kw_only=True, frozen=True):
    """A device joins, with the letter of its wall numbers."""

    device: Id
    letter: Letter
    holder: Text


class DeviceLost(Body, kw_only=True, frozen=True):
    """A device will not come back; what it held was done again by whom."""

    device: Id
    last_seen: At
    redone_by: Text


class RequirementNoted(Body, kw_only=True, frozen=True):
    """What a document asks for, in own words, with its source and grade."""

    topic: Text
    document: Text
    edition: Text
    grade: Literal["seen", "restated", "memory", "derived", "entered"]
    says: Text
    clause: Text | None = None
    page: Text | None = None
    rule: Freeform | None = None
    applies_to: list[Text] | None = None
    stage: Text | None = None
    conflicts_with: list[Id] | None = None


class RequirementDecided(Body, kw_only=True, frozen=True):
    """A person whose role the contract names chooses how a requirement is read."""

    topic: Text
    noted: Id
    rule: Freeform
    decided_by: Id
    reason: Text
    evidence: Id | None = None
    counts_as_one: list[Ids] | None = None
    confirmed: Confirmed | None = None


class QuestionAnswered(Body, rename={"from_": "from"}, kw_only=True, frozen=True):
    """The dated answer to a question."""

    question: Id
    from_: Text
    dated: At
    text: Text
    evidence: Text
    allows: Allows | None = None


class InstructionReceived(Body, rename={"from_": "from"}, kw_only=True, frozen=True):
    """A dated written instruction."""

    from_: Text
    dated: At
    text: Text
    evidence: Text
    allows: Allows | None = None
    until: At | None = None


class HoldReleased(Body, kw_only=True, frozen=True):
    """A hold point released, by name."""

    point: Text
    about: Names
    by: Id


class WitnessNoted(Body, kw_only=True, frozen=True):
    """Notice of a witness point, and whether the witness came."""

    point: Text
    about: Names
    notice_at: At
    came: Literal["came", "waived", "no_show"]
    person: Id | None = None


class NonconformanceRaised(Body, kw_only=True, frozen=True):
    """A requirement is not met, to this extent, contained so."""

    number: Text
    requirement: Text
    finding: Text
    extent: Text
    containment: Text


class NonconformanceClosed(Body, kw_only=True, frozen=True):
    """How a non-conformance was disposed of, and by whose authority."""

    nonconformance: Id
    disposition: Text
    authorised_by: Id
    evidence: Text


class ConcessionGiven(Body, rename={"from_": "from"}, kw_only=True, frozen=True):
    """An engineer accepts what does not meet. It changes no finding and stands beside it."""

    from_: Id
    dated: At
    requirement: Text
    about: Names
    text: Text
    evidence: Text


class DelayNoted(Body, kw_only=True, frozen=True):
    """Time lost, and why."""

    reason: Text


class DayClosed(Body, kw_only=True, frozen=True):
    """The end of a day: what the inspector tells, and the marks counted on the wall."""

    date: Day
    narrative: Text
    marks_counted: Count


class AssessmentMade(Body, kw_only=True, frozen=True):
    """The assessment as printed at that time."""

    assessment: Literal["meets", "does_not_meet", "cannot_tell"]
    digest: Sha
    program: Text


class Signed(Body, kw_only=True, frozen=True):
    """A named role signs a scope with a statement and reservations."""

    scope: Names
    statement: Text
    reservations: list[Text]
    role: Text
    digest: Sha
    program: Text
    countersigns: Id | None = None


class PhotoTaken(Body, kw_only=True, frozen=True):
    """A photo, kept by the hash of its bytes, bound to what it shows."""

    blob: Sha
    about: Names
    direction: Text | None = None
    scale: Text | None = None


class FileAttached(Body, kw_only=True, frozen=True):
    """A file, kept by the hash of its bytes."""

    blob: Sha
    name: Text
    about: Names


class DuplicateSettled(Body, kw_only=True, frozen=True):
    """Two records of one thing, or two bodies under one id: which stands."""

    entries: Ids
    keep: Id
    reason: Text


class CauseWeighed(Body, kw_only=True, frozen=True):
    """What a person makes of a possible cause."""

    cause: Text
    weight: Text
    reason: Text


class ClockCompared(Body, kw_only=True, frozen=True):
    """This device's clock against another's: other minus own."""

    device: Id
    offset_ms: int
    round_trip_ms: Count


class EntryCorrected(Body, kw_only=True, frozen=True):
    """A whole new body for an entry, over what the person saw."""

    of: Id
    over: Id
    body: Freeform
    reason: Text


class EntryWithdrawn(Body, kw_only=True, frozen=True):
    """An entry is taken out of account; it stays in the book."""

    of: Id
    reason: Text


class EntryAgreed(Body, kw_only=True, frozen=True):
    """Another person agrees to a correction or withdrawal."""

    of: Id


class Withheld(Body, kw_only=True, frozen=True):
    """Bytes that are not handed over, and why."""

    hash: Sha
    reason: Text


class DefectNoted(Body, rename={"class_": "class"}, kw_only=True, frozen=True):
    """A defect of the surface before or during coating, at its place."""

    place: Place
    class_: Text
    text: Text
