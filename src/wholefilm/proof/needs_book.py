"""The needs of a test as they are shipped: data for the simple ones, a line for those that a function answers."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Any, Literal

import msgspec

from wholefilm.base.findings import Outcome
from wholefilm.base.sources import Grade, Source

from .states import Unmet

PRACTICE = Source("common practice", "", Grade.RESTATED)
SITE = Source("permission of the site", "", Grade.ENTERED)
_RULES = {"common practice": PRACTICE, "permission of the site": SITE}
_FILE = Path(__file__).parent / "needs_data" / "needs.json"
Lifts = Literal["instruction", "two_answers", "none"]


class Need(msgspec.Struct, frozen=True, rename={"for_": "for", "is_": "is"}, forbid_unknown_fields=True):
    """One need as shipped; see docs/reference/needs.md for what each key means."""

    need: str
    title: str
    for_: Literal["any", "spark", "sponge"]
    asked: Literal["always", "named"]
    rule: str
    lifts: Lifts
    supply: str
    allows: str = ""
    function: bool = False
    kind: str = ""
    where: dict[str, str] = {}
    where_is: dict[str, str] = {}
    match: dict[str, str] = {}
    about: str = ""
    named_first: bool = False
    pick: Literal["any", "last"] = "any"
    is_: dict[str, list[str | bool | None]] = {}
    stated: list[str] = []
    if_none: Literal["met", "not_met", "cannot_tell"] = "not_met"
    not_older_than: str = ""
    if_older: Literal["not_met", "cannot_tell"] = "not_met"
    unsaid: Literal["", "cannot_tell"] = ""
    until: str = ""
    stopped_by: dict[str, str] = {}
    words: dict[str, str] = {}
    say: dict[str, str] = {}


class Answer(msgspec.Struct, frozen=True):
    """What the record says of one need.

    Attributes
    ----------
    need, title : str
    outcome : Outcome
    says : str
        One sentence; for a need that is met, what meets it.
    rule : Source
    liftable : bool
        Whether `although` may carry an entry into the book in spite of it, as the record is.
    lifts : str
        What may lift it: ``instruction``, ``two_answers`` (coating maker and engineer) or ``none``.
    supply : str
        The command that supplies what is missing.
    until : int or None
        When it ends by itself. [ms UTC]
    """

    need: str
    title: str
    outcome: Outcome
    says: str
    rule: Source
    liftable: bool
    lifts: Lifts
    supply: str
    until: int | None = None

    @property
    def unmet(self) -> Unmet:
        """The same as a need that is not met."""
        return Unmet(self.need, self.says, self.rule, self.liftable, self.lifts, self.supply)


@cache
def needs() -> tuple[tuple[Need, dict[str, Any]], ...]:
    """All needs, typed and as plain maps, in the order of the file. Read once."""
    plain: list[dict[str, Any]] = msgspec.json.decode(_FILE.read_bytes())
    return tuple((msgspec.convert(p, Need), p) for p in plain)


@cache
def need_of(name: str, spark: bool = True) -> Need:
    """A need by name, for the method of test."""
    mine = [n for n, _ in needs() if n.need == name]
    return next((n for n in mine if n.for_ in ("any", "spark" if spark else "sponge")), mine[0])


def rule_of(need: Need) -> Source:
    """Source behind a need where no requirement names it."""
    return _RULES[need.rule]


def answer(
    name: str,
    outcome: Outcome,
    says: str,
    rule: Source | None = None,
    *,
    spark: bool = True,
    until: int | None = None,
    liftable: bool | None = None,
) -> Answer:
    """An answer to a need by name, with what the shipped data say of it."""
    need = need_of(name, spark)
    may = need.lifts == "instruction" if liftable is None else liftable
    return Answer(need.need, need.title, outcome, says, rule or rule_of(need), may, need.lifts, need.supply, until)
