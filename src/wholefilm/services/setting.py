"""The voltage of a job, step by step: see what documents give, ask in writing, choose on the answer, print the sheet."""

from __future__ import annotations

import json
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import msgspec

from wholefilm.base.errors import BadInput, NotFound
from wholefilm.base.quantity import quantity
from wholefilm.electric import Air
from wholefilm.job.facts import Fact, Job
from wholefilm.ledger.files import write_whole
from wholefilm.ledger.store import Store
from wholefilm.plan.note import EVEN_AIR
from wholefilm.plan.request import brief
from wholefilm.plan.side import SideRow
from wholefilm.proof.cited import Cited
from wholefilm.report.pages import question, question_page
from wholefilm.rules.bodies import as_body
from wholefilm.sheets.setting import SettingSheet, cited_rules, setting_sheet, test_areas

from .find import find_stored
from .record import Recorded, body_of, record
from .view import View, view_of

TO = ("coating maker's adviser", "engineer")


def ask(
    store: Store,
    url: str,
    name: str,
    areas: Sequence[str],
    by: str,
    *,
    to: Sequence[str] = TO,
    air: Air = EVEN_AIR,
    stage: str = "",
    at_site: str | None = None,
) -> tuple[Recorded, bytes]:
    """Record the question about the voltage of some test areas, and set its page.

    Parameters
    ----------
    store : Store
    url, name : str
    areas : sequence of str
        All test areas if empty.
    by : str
    to : sequence of str
    air : Air
    stage : str, optional
    at_site : str, optional

    Returns
    -------
    Recorded
    bytes
        The page, PDF.

    Raises
    ------
    BadInput
        If an area is unknown or something given is not acceptable; nothing is stored.
    """
    seen = view_of(find_stored(store, name))
    wanted = list(areas) or test_areas(seen.standing)
    if not wanted:
        raise BadInput("AREA", "nothing", "a test area of an item; none is entered yet")
    sheets = [setting_sheet(seen.standing, area, air, stage=stage) for area in wanted]
    first = sheets[0]
    film = _film(sheets)
    text = brief(wanted, first.stage, [(f["basis"], f["thickness"]) for f in film], first.spread)
    body = {
        "to": list(to),
        "about": ", ".join(wanted),
        "text": text,
        "voltage": {"test_areas": wanted, "stage": first.stage, "film": film, "beside": _beside([r for s in sheets for r in s.rules])},
    }
    done = record(store, url, name, "question.raised", (), by, at_site, json.dumps(body))
    return done, question_page(view_of(find_stored(store, name)).standing, done.number, air)


def _film(sheets: Sequence[SettingSheet]) -> list[dict[str, str]]:
    """Film of all areas asked about: of each basis the span; a mean only where one area is asked about."""
    found: dict[str, list[str]] = {}
    for f in (f for s in sheets for f in s.film):
        found.setdefault(f.basis, []).append(f.thickness)
    pick = {"minimum": min, "maximum": max, "expected maximum": max}
    film = []
    for basis, texts in found.items():
        if len(set(texts)) == 1 or basis in pick:
            film.append({"basis": basis, "thickness": pick.get(basis, min)(texts, key=lambda t: quantity(t, "length").exact("m"))})
    return film


def _beside(rows: Sequence[SideRow]) -> list[dict[str, str]]:
    """Rows side by side as they stand in an entry, each once."""
    found = []
    for r in rows:
        one = {"rule": r.id, "edition": r.edition, "grade": r.grade, "basis": r.basis, "thickness": r.thickness}
        if r.refused:
            one["refused"] = r.refused
        elif r.voltage_v is not None:
            one |= {"voltage": f"{r.voltage_v:g} V"} | ({"to": f"{r.to_v:g} V"} if r.to_v is not None else {})
        if one not in found:
            found.append(one)
    return found


def choose(
    store: Store, url: str, name: str, number: str, words: Sequence[str], by: str, *, rule: str = "", at_site: str | None = None,
    body: str | None = None,
) -> Recorded:  # fmt: skip
    """Make the dated answer to a question the voltage sheet of its areas.

    Parameters
    ----------
    store : Store
    url, name, number : str
    words : sequence of str
        ``KEY=VALUE`` for the rest of the sheet: method, setting, reason, electrode, valid_until, site.by ...; they go over what follows
        from the question and its answers.
    by : str
    rule : str
        ``ID`` or ``ID:EDITION`` of a rule cited in the job; if empty, the answer itself is the source.
    at_site : str, optional
    body : str, optional
        More fields as JSON.

    Returns
    -------
    Recorded

    Raises
    ------
    BadInput, NotFound
        If the question has no answer, or the rule is not cited.
    Needs
        If the sheet lacks something; nothing is stored.
    """
    seen = view_of(find_stored(store, name))
    job = seen.job
    fact = question(job, number)
    answers = [f for f in job.all("question.answered") if f.body.question == fact.id]
    if not answers:
        raise BadInput("QUESTION", number, f"a question with an answer: wholefilm record {name} question.answered question={number} ...")
    asked = fact.body.voltage
    areas = list(asked.test_areas)
    systems = [f for f in job.all("system.set") if set(areas) & set(f.body.test_areas)]
    if not systems:
        raise BadInput("system", "none", f"a coating system of {', '.join(areas)}: wholefilm record {name} system.set ...")
    given: dict[str, Any] = {
        "test_areas": areas, "system": systems[-1].id, "stage": asked.stage, "basis": _basis(job, asked), "question": fact.id,
        "agreed_by": [f.id for f in answers], "rule": _rule(seen, areas, rule, answers[-1], number),
        "beside": msgspec.to_builtins(asked.beside),
    }  # fmt: skip
    given |= body_of((), body)
    return record(store, url, name, "voltage.set", words, by, at_site, json.dumps(given))


def _basis(job: Job, asked: Any) -> dict[str, str]:
    """Thickness basis of the sheet: the span of the film that was asked about."""
    film = {f.basis: f.thickness for f in asked.film}
    loaded = job.all("readings.loaded")
    basis = {"what": "film as asked: " + ", ".join(film) if film else "not known"}
    low, high = film.get("minimum") or film.get("nominal"), film.get("maximum") or film.get("nominal")
    return basis | ({"low": low} if low else {}) | ({"high": high} if high else {}) | ({"readings": loaded[-1].id} if loaded else {})


def _rule(seen: View, areas: Sequence[str], said: str, answer: Fact, number: str) -> dict[str, Any]:
    """The rule that a sheet carries: a cited one whole, or the dated answer."""
    if not said:
        source = {"document": f"answer to {number} by {answer.body.from_}", "edition": answer.body.dated[:10], "grade": "entered"}
        return {"form": "as_answered", "says": answer.body.text, "source": source | {"clause": answer.body.evidence}}
    ident, _, edition = said.partition(":")
    first, *others = ([c for _, c in cited_rules(seen.standing, area)] for area in areas)
    known: list[Cited] = [c for c in first if all(c in cited for cited in others)]
    for cited in reversed(known):
        if cited.rule.id == ident and edition in ("", cited.edition):
            confirmed = msgspec.to_builtins(cited.confirmed) if cited.confirmed is not None else None
            return as_body(cited.rule, cited.edition, confirmed)
    names = ", ".join(f"{c.rule.id}:{c.edition}" for c in known) or "none yet: wholefilm rules cite, wholefilm rules enter"
    raise NotFound("--rule", said, f"a rule that this job cites for {', '.join(areas)}: {names}")


def check_pdf(path: Path) -> None:
    """Refuse a name before anything is stored.

    Raises
    ------
    BadInput
        If it does not end in .pdf, or its folder is not there.
    """
    if path.suffix != ".pdf":
        raise BadInput("-o", str(path), "a name that ends in .pdf")
    if not path.absolute().parent.is_dir():
        raise BadInput("-o", str(path), "a file in a folder that is there")


def write_pdf(path: Path, pdf: bytes) -> None:
    """Write a page, whole or not at all."""
    check_pdf(path)
    write_whole(path, pdf)
