"""Which entries are refused, before anything is stored."""

from __future__ import annotations

import shlex
from collections.abc import Sequence
from typing import Any

import msgspec

from wholefilm.base.errors import BadInput, Needs
from wholefilm.base.times import utc_ms
from wholefilm.job.facts import Fact, Job
from wholefilm.ledger.entry import Entry
from wholefilm.proof.acts import unmet_needs, untold_needs
from wholefilm.proof.acts_voltage import check_steps
from wholefilm.proof.cited import check_cited, is_cited
from wholefilm.proof.needs_book import Answer
from wholefilm.proof.requirements import read_rule
from wholefilm.proof.site import Site
from wholefilm.proof.states import Unmet
from wholefilm.surface import read_item

from .fill import next_number, numbers_of, wall_numbers

_PLACES = {"ground.checked": "serves", "surface.inspected": "panels", "burn.inspected": "panels", "permit.noted": "covers"}
"""Fields that name test areas, panels, items or repairs."""
_MOST = 24


def refuse_nonsense(job: Job, entries: Sequence[Entry], draft: Fact) -> None:
    """Refuse what no instruction lifts: the future, a number used twice, a rule that cannot be read.

    Raises
    ------
    BadInput
    """
    if draft.end > draft.ms + 60_000:
        raise BadInput("happened", draft.until, f"not later than now, {draft.at}")
    told = draft.body.happened
    if told is not None and told.to is not None and utc_ms(told.to) < utc_ms(told.from_):
        raise BadInput("happened.to", told.to, f"not before happened.from, {told.from_}")
    if draft.kind == "item.added":
        read_item(msgspec.to_builtins(draft.body))
        if any(f.body.item == draft.body.item for f in job.all("item.added")):
            raise BadInput("item", draft.body.item, "a name that no item of this job has; put the first right with entry.corrected")
    if draft.kind == "burn.inspected":
        for burn in draft.body.found:
            _wall_number(job, entries, draft.device, burn.number, "found.number")
    elif draft.kind in ("indication.raised", "made_holiday.made"):
        _wall_number(job, entries, draft.device, draft.body.number, "number")
    elif getattr(draft.body, "number", None) in numbers_of(entries, draft.kind):
        raise BadInput("number", draft.body.number, "a number that is not used yet")
    if draft.kind in ("requirement.noted", "requirement.decided") and draft.body.rule is not None:
        read_rule(draft.body.rule)
        if is_cited(draft.body.rule):
            check_cited(draft.body.rule)
    _known_names(job, draft)
    if draft.kind == "voltage.set":
        check_steps(draft.body)
    if draft.kind == "thickness.read" and draft.body.base_metal and draft.body.correction:
        raise BadInput(
            "base_metal", draft.body.base_metal, "either base_metal or correction; each takes the profile off, and it is taken off once"
        )
    if draft.kind == "device.joined":
        if draft.body.letter in job.devices.values():
            raise BadInput(
                "letter", draft.body.letter, f"a letter that no device has: {', '.join(sorted(set(job.devices.values())))} are taken"
            )
        if draft.body.device in job.devices:
            raise BadInput("device", draft.body.device, "a device that has not joined yet")


def _known_names(job: Job, draft: Fact) -> None:
    """Refuse names of places that nothing of the job bears, once an item is entered."""
    field = _PLACES.get(draft.kind, "")
    names = getattr(draft.body, field, None) if field else None
    if not names or not job.all("item.added"):
        return
    site = Site(job)
    known: dict[str, None] = {}
    for _, panel in site.panels:
        known.update(dict.fromkeys((panel.test_area, panel.name)))
    known.update(dict.fromkeys([*site.surfaces, *(f.body.number for f in job.all("repair.planned"))]))
    for name in names:
        if name not in known:
            shown = list(known)
            more = f" and {len(shown) - _MOST} more" if len(shown) > _MOST else ""
            raise BadInput(field, name, f"a test area, panel, item or repair of this job: {', '.join(shown[:_MOST])}{more}")


def _wall_number(job: Job, entries: Sequence[Entry], device: str, number: str, field: str) -> None:
    letter = job.devices.get(device, "")
    if number in wall_numbers(entries):
        raise BadInput(field, number, f"a number that is not used yet; the next is {next_number(job, entries, device)}")
    if not (number.startswith(letter) and number[len(letter) :].isdigit()):
        raise BadInput(field, number, f"the letter of this device, {letter}, and a counter, such as {next_number(job, entries, device)}")


def ask_needs(job: Job, draft: Fact) -> None:
    """Ask the needs of a draft; those not met refuse it unless `although` names each and an instruction may lift it.

    Raises
    ------
    BadInput
        If `although` names no instruction that is here, nor how it was told.
    Needs
        With a sentence for each need that is missing.
    """
    unmet = unmet_needs(job, draft)
    if not unmet:
        return
    although = draft.body.although
    named = set(although.needs) if although else set()
    if all(u.liftable and u.need in named for u in unmet):
        if although is not None and not (although.instruction or although.told):
            raise BadInput(
                "although", although.why, "although.instruction=ID of the written instruction, or although.told=slate, paper or radio"
            )
        if (
            although is not None
            and although.instruction
            and job.get(although.instruction, "instruction.received") is None
            and job.get(although.instruction, "question.answered") is None
        ):
            raise BadInput(
                "although.instruction", although.instruction, "the id of an instruction.received or question.answered of this job"
            )
        return
    left = [u for u in unmet if not u.liftable or u.need not in named]
    untold = [(a.need, _sentence(a, job.name, draft.body, "")) for a in untold_needs(job, draft)]
    raise Needs([(u.need, _sentence(u, job.name, draft.body)) for u in left], all(u.liftable for u in left), untold)


def _sentence(unmet: Unmet | Answer, name: str, body: Any, never: str = " (no instruction lifts this)") -> str:
    """What is missing, whether anything lifts it, and the command that supplies it."""
    says = unmet.says if unmet.liftable or unmet.lifts == "two_answers" else f"{unmet.says}{never}"
    supply = supplied_by(unmet.supply, name, getattr(body, "panel", None) or "PANEL")
    return f"{says}. To supply it: {supply}" if supply else says


def supplied_by(supply: str, name: str, panel: str) -> str:
    """The command that supplies a need, for a job and a panel."""
    job, place = (shlex.quote(word) for word in (name, panel))
    return supply.replace(" JOB ", f" {job} ").replace("PANEL", place)
