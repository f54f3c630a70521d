"""One entry in the words of the trade, from its bytes' body alone: also where the body cannot be typed."""

from __future__ import annotations

import string
from collections.abc import Callable, Mapping
from typing import Any

from .kinds import in_words

_PHRASES = {
    "area.disturbed": "{panel} disturbed by {by_what}",
    "area.not_in_scope": "{panel} not in scope",
    "area.not_reached": "{panel} not reached",
    "assessment.made": "assessment",
    "burn.inspected": "look for burns on {panels}",
    "clock.compared": "clocks compared with device {device}",
    "climate.read": "climate at {place}",
    "coat.applied": "{coat} on {test_areas}",
    "concession.given": "concession on {requirement}",
    "cure.released": "cure of {about} released",
    "day.closed": "daily report of {date}",
    "defect.noted": "defect: {class}",
    "delay.noted": "delay: {reason}",
    "device.joined": "device {letter} joined",
    "device.lost": "loss of device {device}",
    "entry.agreed": "agreement to {of}",
    "entry.corrected": "correction of {of}",
    "entry.withdrawn": "withdrawal of {of}",
    "file.attached": "file {name}",
    "ground.checked": "ground proof of {point}",
    "hold.released": "hold point {point} released",
    "holiday.confirmed": "holiday {indication}",
    "indication.false": "false indication {indication}",
    "indication.raised": "indication {number}",
    "instruction.received": "instruction of the {from}",
    "instrument.added": "{instrument} added",
    "instrument.changed": "{what} of {instrument} changed",
    "instrument.checked": "check of {instrument}",
    "item.added": "item {item}",
    "job.opened": "opening of the job",
    "log.loaded": "log of {panels}",
    "made_holiday.made": "made holiday {number}",
    "nonconformance.closed": "non-conformance {nonconformance} closed",
    "nonconformance.raised": "non-conformance {number}",
    "panel.started": "start on {panel}",
    "panel.tested": "test of {panel}",
    "permit.noted": "permission: {what}",
    "person.joined": "{roles} joined",
    "photo.taken": "photo of {about}",
    "question.answered": "answer to {question}",
    "question.raised": "question {number}",
    "readings.loaded": "readings: {about}",
    "repair.done": "repair {repair} done",
    "repair.planned": "repair {number} planned",
    "requirement.decided": "decision on {topic}",
    "requirement.noted": "requirement {clause}, {topic}",
    "retest.done": "retest of {repair}",
    "signed": "signature of the {role}",
    "surface.inspected": "surface of {panels} inspected",
    "system.set": "coating system of {test_areas}",
    "thickness.read": "film thickness",
    "voltage.set": "voltage sheet of {test_areas}",
    "withheld": "bytes withheld",
    "witness.noted": "witness point {point}",
}
_LONGEST, _MOST = 48, 4


def entry_words(kind: str, body: Mapping[str, Any], named: Callable[[str], str] = lambda ident: "") -> str:
    """An entry for a reader: ``check of HV-01``, ``retest of R-01``.

    Parameters
    ----------
    kind : str
    body : mapping
        As parsed; it may hold anything.
    named : callable
        What an id in the body stands for (a number, a letter), or empty text.

    Returns
    -------
    str
        The kind alone where the body does not tell what it is about. Never raises.
    """
    phrase = _PHRASES.get(kind, "")
    told: dict[str, str] = {}
    for _, field, _, _ in string.Formatter().parse(phrase):
        if field:
            told[field] = _shown(body.get(field), named)
            if not told[field]:
                return _lower(in_words(kind))
    return phrase.format(**told) if phrase else _lower(in_words(kind))


def _lower(text: str) -> str:
    return text[:1].lower() + text[1:]


def _shown(value: Any, named: Callable[[str], str]) -> str:
    if isinstance(value, list):
        shown = [_shown(v, named) for v in value[:_MOST]]
        return (", ".join(shown) + (" ..." if len(value) > _MOST else "")) if all(shown) else ""
    if not isinstance(value, str):
        return ""
    text = " ".join(value.split())
    if len(text) == 36 and text.count("-") == 4:
        text = named(text)
    return text if len(text) <= _LONGEST else text[: _LONGEST - 4].rstrip() + " ..."
