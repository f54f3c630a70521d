"""The simple needs, matched on plain maps: an entry of a kind, about a place, with a result, not too old, not ended, not stopped.

Nothing here knows a typed body or a clock: entries and the question are maps as JSON writes them, so that the same cases
can be run by another program.

An entry: {`id`, `start` [ms UTC], `when` (as written), `body`}. A question: {`places` (panel, test area, item), `start`, `end`
[ms UTC], `day`, `offset`, `spark`, `instrument`, `operator`, `asked` {need: longest age, or empty}}.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from wholefilm.base.errors import BadInput
from wholefilm.base.quantity import quantity
from wholefilm.base.times import clock, utc_ms

Plain = Mapping[str, Any]
MET, NOT_MET, CANNOT_TELL = "met", "not_met", "cannot_tell"


def is_asked(need: Plain, question: Plain) -> bool:
    """Whether a need is asked: always for its method of test, or because a requirement names it."""
    if need["need"] in question["asked"]:
        return True
    return bool(need["asked"] == "always" and need["for"] in ("any", "spark" if question["spark"] else "sponge"))


def match(need: Plain, entries: Mapping[str, Sequence[Plain]], question: Plain) -> dict[str, Any]:
    """Hold one need against the entries.

    Parameters
    ----------
    need : map
        As in ``needs_data/needs.json``, one with a `kind`.
    entries : map of kind to list of maps
        Each list in order of time.
    question : map

    Returns
    -------
    dict
        `result` (``met``, ``not_met``, ``cannot_tell``), `why` (a sentence; empty if met), `entry` (id, or empty) and
        `until` (when it ends [ms UTC], or None).
    """
    listed = entries.get(need["kind"], ())
    before = bisect_right(listed, question["start"], key=_start)
    newest: Plain | None = None
    for entry in _found(need, listed, before, question):
        newest = newest or entry
        if not _wrong(need, entry, entries, question):
            return {"result": MET, "why": "", "entry": entry["id"], "until": _until(need, entry, question)}
        if need["pick"] != "any":
            break
    if newest is None:
        result = need.get("if_none", NOT_MET)
        elsewhere = "elsewhere" in need["say"] and any(_is_meant(need, e["body"], question) for e in listed[:before])
        why = "elsewhere" if elsewhere else "none"
        return {"result": result, "why": "" if result == MET else _say(need, why, None, question), "entry": "", "until": None}
    why = _wrong(need, newest, entries, question)
    result = need.get("if_older", NOT_MET) if why == "older" else CANNOT_TELL if why == "unsaid" else NOT_MET
    return {"result": result, "why": _say(need, why, newest, question, entries), "entry": newest["id"], "until": None}


def _start(entry: Plain) -> int:
    return int(entry["start"])


def _found(need: Plain, listed: Sequence[Plain], before: int, question: Plain) -> Iterator[Plain]:
    """Entries that answer a need, the newest first; where those that name the place go first, only those if there are any."""
    if need.get("named_first"):
        named = False
        for n in range(before - 1, -1, -1):
            body = listed[n]["body"]
            if need.get("about") in body and _is_meant(need, body, question) and _covers(need, body, question):
                named = True
                yield listed[n]
        if named:
            return
    for n in range(before - 1, -1, -1):
        body = listed[n]["body"]
        if _is_meant(need, body, question) and _covers(need, body, question):
            yield listed[n]


def _is_meant(need: Plain, body: Plain, question: Plain) -> bool:
    return (
        all(body.get(field) == value for field, value in need.get("where", {}).items())
        and all(body.get(field) == question[name] for field, name in need.get("where_is", {}).items())
        and all(field not in body or body[field] == question[name] for field, name in need.get("match", {}).items())
    )


def _covers(need: Plain, body: Plain, question: Plain) -> bool:
    names = body.get(need.get("about", ""))
    return names is None or any(place in names for place in question["places"])


def _wrong(need: Plain, entry: Plain, entries: Mapping[str, Sequence[Plain]], question: Plain) -> str:
    """What is wrong with an entry as an answer: a key of the need's `say`, or empty."""
    body = entry["body"]
    if any(not body.get(field) for field in need.get("stated", ())):
        return "unstated"
    unsaid = [field for field in need.get("is", {}) if body.get(field) is None] if need.get("unsaid") else []
    if any(body.get(field) not in allowed for field, allowed in need.get("is", {}).items() if field not in unsaid):
        return "wrong"
    longest = _longest(need, question)
    if longest == "day" and entry["when"][:10] != question["day"]:
        return "older"
    if longest not in ("", "day") and question["start"] - entry["start"] > quantity(longest, "time").si * 1000:
        return "older"
    if _stop(need, entry, entries, question) is not None:
        return "stopped"
    ends = _end(need, body, question)
    if ends is not None and (ends < question["end"] or ends <= question["start"]):
        return "ended"
    return "unsaid" if unsaid else ""


def _longest(need: Plain, question: Plain) -> str:
    return str(question["asked"].get(need["need"]) or need.get("not_older_than", ""))


def _stop(need: Plain, entry: Plain, entries: Mapping[str, Sequence[Plain]], question: Plain) -> Plain | None:
    """The entry that stopped this one before the end of the question's time, or None."""
    by = need.get("stopped_by")
    if not by:
        return None
    before = max(question["end"], question["start"] + 1)
    return next((s for s in entries.get(by["kind"], ()) if s["body"].get(by["field"]) == entry["id"] and s["start"] < before), None)


def _end(need: Plain, body: Plain, question: Plain) -> int | None:
    """When the entry's own end lies [ms UTC]; a calendar day ends with its last minute where the question is asked."""
    text = body.get(need.get("until", ""))
    if not text:
        return None
    try:
        return utc_ms(_last_minute(text, question) if len(text) == 10 else text)
    except BadInput:  # a day that no calendar has never lies ahead
        return 0


def _last_minute(day: str, question: Plain) -> str:
    return f"{day}T23:59:59.999{question['offset']}"


def _until(need: Plain, entry: Plain, question: Plain) -> int | None:
    ends = [_end(need, entry["body"], question)]
    longest = _longest(need, question)
    if longest == "day":
        ends.append(utc_ms(_last_minute(question["day"], question)))
    elif longest:
        ends.append(entry["start"] + int(quantity(longest, "time").si * 1000))
    return min((e for e in ends if e is not None), default=None)


def _say(need: Plain, why: str, entry: Plain | None, question: Plain, entries: Mapping[str, Sequence[Plain]] | None = None) -> str:
    """The need's sentence for a reason, with what it names filled in."""
    body = entry["body"] if entry else {}
    words = [word for field, word in need.get("words", {}).items() if body.get(field) not in need["is"][field]]
    until = str(body.get(need.get("until", ""), ""))
    stop = _stop(need, entry, entries, question) if entry and entries else None
    fill = {
        "place": question["places"][0],
        "day": question["day"],
        "operator": question.get("operator_says") or question["operator"],
        "began": clock(entry["when"]) if entry else "",
        "until": clock(until) if len(until) > 10 else until,
        "stopped": clock(stop["when"]) if stop else "",
        "why": stop["body"].get("why", "") if stop else "",
        "older_than": _longest(need, question),
        "point": body.get("point", ""),
        "words": ", ".join(words),
    }
    text = str(need["say"].get(why, need["say"].get("none", need["title"])))
    for name, value in fill.items():
        text = text.replace("{" + name + "}", str(value))
    return text
