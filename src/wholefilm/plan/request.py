"""The question about a voltage in writing, on one page: film, documents, spread, and what is asked of engineer and coating maker."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from .note import Note
from .side import SideRow, worded_volts

ASKED = (
    "Which method is to be used: wet sponge, spark (continuous or pulsed), high-frequency AC spark, or a voltage found on a made holiday?",
    "At which voltage, spark length or liquid? By which document and edition, and for which film thickness (minimum, mean, maximum)?",
    "Does a layer hold zinc, aluminium, graphite or carbon black, or conduct in another way?",
    "Was the film ever immersed or in service?",
    "What is the most that the film may see, from the maker's own data, and on which thickness was it measured?",
    "May a place be tested a second time at that voltage, after a failed end check or a repair?",
    "What counts as a holiday: substrate exposed, dielectric strength lowered, found below the test voltage, or the contract's own words?",
)


def brief(areas: Sequence[str], stage: str, film: Sequence[tuple[str, str]], spread: str) -> str:
    """The question in one paragraph, as it stands in the entry.

    Parameters
    ----------
    areas : sequence of str
    stage : str
    film : sequence of (str, str)
        What a thickness means, and the thickness.
    spread : str
        How far the cited rules lie apart.

    Returns
    -------
    str
    """
    said = ", ".join(f"{basis} {thickness}" for basis, thickness in film) or "no thickness known yet"
    return (
        f"Which method, and which voltage, for the {stage} test of {', '.join(areas)}? Film: {said}. "
        f"The documents cited give {spread}. The page that goes with this question shows them side by side."
    )


class Cell(NamedTuple):
    """One rule at one thickness: names of both, its voltage in words, its grade."""

    rule: str
    film: str
    voltage: str
    grade: str


def cells(rows: Sequence[SideRow]) -> list[Cell]:
    """Rows side by side as cells of a table."""
    found = []
    for r in rows:
        found.append(Cell(f"{r.document} {r.edition} ({r.id})", f"{r.basis} {r.thickness}", worded_volts(r), r.grade))
    return found


def crossed(given: Sequence[Cell]) -> tuple[list[str], list[list[str]]]:
    """Cells as a table: a row a rule, a column a thickness.

    Returns
    -------
    list of str
        The thicknesses.
    list of list of str
        Rule, its voltage at each thickness (empty where the rule does not mean that one), grade.
    """
    films = list(dict.fromkeys(c.film for c in given))
    rules: dict[str, dict[str, Cell]] = {}
    for c in given:
        rules.setdefault(c.rule, {})[c.film] = c
    rows = [[name, *(mine[f].voltage if f in mine else "" for f in films), next(iter(mine.values())).grade] for name, mine in rules.items()]
    return films, rows


def remarks(rows: Sequence[SideRow]) -> list[str]:
    """What is remarked on each rule, and why it gives none where it does, one line a rule and each thing once."""
    told: dict[str, dict[str, list[str]]] = {}
    for r in rows:
        mine = told.setdefault(r.id, {})
        for remark in [*([f"none at {{films}}: {r.refused}"] if r.refused else []), *r.warnings]:
            mine.setdefault(remark, []).append(r.thickness)
    lines = []
    for ident, mine in told.items():
        said = [remark.replace("{films}", ", ".join(dict.fromkeys(films))).rstrip(".") for remark, films in mine.items()]
        if said:
            lines.append(f"{ident}: {'; '.join(said)}.")
    return lines


def physics_lines(note: Note | None) -> list[str]:
    """The planning note as a question: empty where there is none."""
    if note is None or note.floor_v is None:
        return []
    f = note.floor_v
    lines = [
        f"{note.label} Over {note.thickness_mm:g} mm of air, the thickest film, even electrodes break down at {f.uniform:g} V "
        f"(older formula {f.low:g} V, a fine wire end {f.tip:g} V; {note.air}). Does the voltage that you name take account of it?"
    ]
    if note.ceiling_v is not None:
        lines.append(f"At the thinnest film the strength entered gives {note.ceiling_v:g} V ({note.strength}). Is that strength right?")
    return lines
