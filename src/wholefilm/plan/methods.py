"""Which method: what each document says for this film, and what is to be asked. A question to people, never an answer."""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from wholefilm.rules.document import Rule, worst_grade
from wholefilm.rules.ranges import inside, worded

from .film import Film

WORDS = {
    "wet_sponge": "wet sponge, under 100 V",
    "spark": "spark, continuous or pulsed",
    "ac_spark": "high-frequency AC spark",
    "found_voltage": "spark at a voltage found on a made holiday",
    "not_testable": "no test until it is answered",
}
ALLOWS = {"yes": "written for it", "with consent": "only with consent", "no": "not written for it", "no range": "names no thickness"}
"""What a document says of a method for a film, in words for a reader."""
COMMON = "Where no document is cited: wet sponge for films under 500 um and spark above is common practice, without a source, and no rule."


class MethodSays(msgspec.Struct, frozen=True):
    """What one document says: `allows` is ``yes``, ``with consent``, ``no`` or ``no range`` (it names no thickness)."""

    rule: str
    document: str
    edition: str
    grade: str
    allows: str
    says: str


class MethodRow(msgspec.Struct, frozen=True):
    """A method: what documents say, whether they differ, and what to ask before it is chosen."""

    method: str
    word: str
    documents: list[MethodSays]
    differ: bool
    asks: list[str]


def methods(film: Film, cited: Sequence[tuple[Rule, str]]) -> list[MethodRow]:
    """What documents allow for a film, method by method.

    Parameters
    ----------
    film : Film
    cited : sequence of (Rule, str)
        Rule and edition; those that are only for one kind of item are left out unless it is the only rule cited.

    Returns
    -------
    list of MethodRow
        Methods of which no cited document speaks are left out; `not_testable` stands where something must be answered first.
    """
    rows = []
    for method in ("wet_sponge", "spark", "ac_spark", "found_voltage"):
        mine = [(rule, edition) for rule, edition in cited if rule.method == method and (not rule.only_for or len(cited) == 1)]
        said = _merged([_says(rule, edition, film) for rule, edition in mine])
        if said:
            words = {s.allows for s in said}
            differ = "no" in words and bool(words & {"yes", "with consent"})
            rows.append(MethodRow(method, WORDS[method], said, differ, _asks(method, film, said, differ)))
    first = _first(film)
    if first:
        rows.append(MethodRow("not_testable", WORDS["not_testable"], [], False, first))
    return rows


def _says(rule: Rule, edition: str, film: Film) -> MethodSays:
    normal, further = rule.thickness_range, rule.extended_range
    ends = (film.least, film.greatest)
    if normal is None:
        allows, says, grade = "no range", "names no thickness", None
    else:
        grade = normal.grade
        if all(inside(normal, t) for t in ends):
            allows, says = "yes", worded(normal)
        elif further is not None and all(inside(normal, t) or inside(further, t) for t in ends):
            allows, says = ("with consent" if further.needs else "yes"), f"{worded(further)}: {further.says}"
            grade = worst_grade([normal.grade, further.grade])
        else:
            allows, says = "no", f"written for {worded(normal)}" + (f", or {worded(further)}: {further.says}" if further else "")
    names = edition or ", ".join(rule.editions) or "none read"
    return MethodSays(rule.id, rule.document, names, grade.value if grade else "", allows, says)


def _merged(said: list[MethodSays]) -> list[MethodSays]:
    """Forms of one document that say the same stand once."""
    seen: dict[tuple[str, str, str], MethodSays] = {}
    for one in said:
        seen.setdefault((one.document, one.edition, one.allows), one)
    return list(seen.values())


def _asks(method: str, film: Film, said: list[MethodSays], differ: bool) -> list[str]:
    asks = []
    if differ:
        asks.append("the documents differ on this film: the coating maker's consent in writing, and the engineer's decision")
    elif any(s.allows == "with consent" for s in said):
        asks.append("the coating maker's consent in writing")
    if method == "ac_spark":
        asks.append("whether the compound is rich in carbon black: only its maker's word in writing tells")
    if method == "found_voltage" and film.substrate != "metal":
        asks.append("the owner's consent to a made holiday in each ground zone; they are repaired and counted apart")
    if method in ("spark", "ac_spark") and film.substrate == "concrete":
        asks.append("on concrete the return is proved, and the voltage found, on a made holiday in each ground zone")
    return asks


def _first(film: Film) -> list[str]:
    """What must be answered before any method is chosen."""
    both = "the coating maker and the engineer answer in writing before any spark test"
    first = []
    if film.conductive and film.conductive != "no":
        first.append(f"conductive film ({film.conductive}): the current goes through sound film; {both}")
    if film.immersed == "yes":
        first.append(f"film once immersed or in service: moisture in the film gives false indications and damage; {both}")
    if film.immersed == "not known":
        first.append("was the film ever immersed or in service? not told")
    if not film.conductive:
        first.append("does a layer hold zinc, aluminium, graphite or carbon black? not told")
    if not film.substrate:
        first.append("metal or concrete below the film? not told")
    return first
