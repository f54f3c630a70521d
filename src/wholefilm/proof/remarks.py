"""Remarks: what bars nothing and a reader should know: rates, operators, tolerances, readings as left, words of other roles."""

from __future__ import annotations

from wholefilm.base.errors import BadInput
from wholefilm.base.quantity import quantity
from wholefilm.base.times import clock
from wholefilm.job.facts import Fact, Job

from .asked import People, Rate, Roles
from .checks import Testers
from .needs_film import film_conducts
from .people import person_called, qualification
from .requirements import CheckInterval, of_form
from .site import Site
from .states import Line, PanelState, Requirement, TestState, TestWord
from .zones import zone_lines

_MOST = 12


def remarks(job: Job, found: list[Requirement], testers: Testers, panels: list[PanelState], site: Site) -> list[Line]:
    """Every remark of a job; none bars `meets`.

    Parameters
    ----------
    job : Job
    found : list of Requirement
    testers : Testers
    panels : list of PanelState
    site : Site

    Returns
    -------
    list of Line
    """
    return [
        *_rates(found, panels),
        *_operators(job, found, panels),
        *_tolerances(found, testers),
        *_as_left(testers),
        *_roles(job, found),
        *_film(job),
        *zone_lines(job, site),
    ]


def _some(names: list[str]) -> str:
    unique = list(dict.fromkeys(names))
    return ", ".join(unique[:_MOST]) + (f" and {len(unique) - _MOST} more" if len(unique) > _MOST else "")


def _rates(found: list[Requirement], panels: list[PanelState]) -> list[Line]:
    """Tests that took more area in their time than a requirement allows; where none is entered, nothing is compared."""
    lines = []
    for r in of_form(found, Rate):
        most = quantity(r.rule.most, "area_rate").si
        over, untold = [], []
        for test in (t for p in panels for t in p.tests if t.word is not TestWord.NOT_VALID):
            if (r.applies_to and _area_of(panels, test) not in r.applies_to) or (r.stage and test.stage != r.stage) or test.started is None:
                continue
            seconds = (test.fact.end - min(test.started.start, test.fact.start)) / 1000
            if seconds <= 0:
                untold.append(test)
            elif test.area_m2 / seconds > most * (1 + 1e-9):
                over.append((test, test.area_m2 / seconds * 3600))
        if over:
            detail = _some([f"{t.panel} {rate:.0f} m2/h" for t, rate in over])
            says = f"Tested faster than clause {r.clause} allows ({r.rule.most})"
            lines.append(Line("rate_over", says, detail, False, [t.fact.id for t, _ in over]))
        if untold:
            says = f"Clause {r.clause} limits the rate ({r.rule.most}), and these tests tell no time that they took"
            lines.append(Line("rate_untold", says, _some([t.panel for t in untold]), False, [t.fact.id for t in untold]))
    return lines


def _area_of(panels: list[PanelState], test: TestState) -> str:
    return next((p.test_area for p in panels if p.name == test.panel), test.panel)


def _operators(job: Job, found: list[Requirement], panels: list[PanelState]) -> list[Line]:
    """Operators of tests of whom no qualification is stated, where no requirement asks for one."""
    if any(r.rule.operator for r in of_form(found, People)):
        return []
    setups = [t.started for p in panels for t in p.tests if t.started is not None] + job.all("retest.done")
    held: dict[str, list[str]] = {}
    for setup in setups:
        held.setdefault(setup.body.operator or setup.by, []).append(setup.id)
    bare, people = {}, job.people
    for said, ids in held.items():
        person = person_called(job, said)
        if person not in people or not qualification(job, people[person]):
            bare["/".join(job.roles(person)) or said[:40]] = ids
    return [
        Line("operator_unqualified", f"No qualification is stated of the operator: {name}", "no requirement asks for one", False, ids)
        for name, ids in bare.items()
    ]


def _tolerances(found: list[Requirement], testers: Testers) -> list[Line]:
    """Readings held against a tolerance that the contract does not name."""
    ours = {t for r in of_form(found, CheckInterval) if r.rule.tolerance for t in [_share(r.rule.tolerance)]}
    other: dict[tuple[str, str], list[str]] = {}
    for check in testers.checks:
        body = check.fact.body
        if _share(body.tolerance) not in ours:
            other.setdefault((body.tolerance, body.tolerance_source), []).append(check.fact.id)
    return [
        Line(
            "tolerance_not_contract",
            f"Tolerance {tolerance}, taken from {source}, stands in no requirement entered",
            "the contract's own counts where it is stricter" if ours else "no requirement entered names one",
            False,
            ids,
        )
        for (tolerance, source), ids in other.items()
    ]


def _share(text: str) -> float | None:
    try:
        return quantity(text, "share").si
    except BadInput:
        return None


def _as_left(testers: Testers) -> list[Line]:
    """Mid and end checks that are marked as left: they close nothing backward."""
    words = {"mid": "Mid check", "after": "End check"}
    return [
        Line(
            "as_left_at_end",
            f"{words[c.fact.body.occasion]} of {c.fact.body.instrument}, {clock(c.fact.when)}, is marked as left",
            "as left opens what follows and closes nothing before it; a check as found is missing",
            False,
            [c.fact.id],
        )
        for c in testers.checks
        if c.fact.body.occasion in words and not c.fact.body.as_found and not _found_first(testers, c.fact)
    ]


def _found_first(testers: Testers, left: Fact) -> bool:
    """Whether the same tester was read as found earlier on the same day at the same occasion."""
    return any(
        c.fact.body.as_found
        and c.fact.body.instrument == left.body.instrument
        and c.fact.body.occasion == left.body.occasion
        and c.fact.when[:10] == left.when[:10]
        and c.fact.start <= left.start
        for c in testers.checks
    )


def _roles(job: Job, found: list[Requirement]) -> list[Line]:
    """Decisions, releases and concessions by a person whose role the contract does not name for it."""
    acts = (
        ("decides", "requirement.decided", "decided_by", "Decided"),
        ("releases", "hold.released", "by", "Hold point released"),
        ("concedes", "concession.given", "from_", "Conceded"),
    )
    lines = []
    for r in of_form(found, Roles):
        for key, kind, field, word in acts:
            named = getattr(r.rule, key)
            if not named:
                continue
            allowed = {n.strip().lower() for n in named}
            for fact in job.all(kind):
                roles = job.roles(getattr(fact.body, field))
                if not allowed & {x.strip().lower() for x in roles}:
                    who = "/".join(roles) or "a person who never joined"
                    what = getattr(fact.body, "topic", None) or getattr(fact.body, "point", None) or getattr(fact.body, "requirement", "")
                    says = f"{word} by {who}: {what}"
                    lines.append(Line("other_role", says, f"clause {r.clause} names {', '.join(named)}", False, [fact.id]))
    return lines


def _film(job: Job) -> list[Line]:
    """Films of which nobody knows whether they conduct or were ever immersed."""
    lines = []
    for fact in job.all("system.set"):
        areas, (word, names) = ", ".join(fact.body.test_areas), film_conducts(fact.body.layers)
        unknown = [f"whether {names} is conductive"] if word == "unknown" else []
        unknown += ["whether it was ever immersed"] if fact.body.immersed == "unknown" else []
        if unknown:
            says = f"Nobody knows of the film of {areas}: {' and '.join(unknown)}"
            lines.append(Line("film_unknown", says, "ask the coating maker before a spark test", False, [fact.id]))
    return lines
