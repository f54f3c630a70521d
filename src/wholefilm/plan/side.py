"""Every cited rule's voltage side by side. There is no winner and nothing is preselected: people decide."""

from __future__ import annotations

import math
from collections.abc import Sequence

import msgspec

from wholefilm.base.errors import BadInput
from wholefilm.base.quantity import Quantity, quantity
from wholefilm.rules.document import Rule, has_figures
from wholefilm.rules.evaluation import Worked, evaluate

from .film import BASES, Film, bases_of

SPREAD_SAID = 1.2
"""Ratio of the voltages at the thickest and the thinnest film from which the spread of the film is remarked."""


class SideRow(msgspec.Struct, frozen=True, kw_only=True):
    """One rule at one thickness.

    Attributes
    ----------
    id, document, edition, clause, method : str
        Editions that share the figures stand together.
    grade : str
        Worst grade of the figures used; ``no figure`` if none ships.
    basis, thickness : str
        Which thickness, and as given.
    thickness_um : float
        [um]
    voltage_v, to_v : float or None
        What the document gives; both ends where it gives a range or a span; None where refused or no figure. [V]
    means : str
        ``set``, ``at_least``, ``range``, ``span``, ``limit``; empty if None.
    steps : list of str
        The working, in the document's own unit.
    refused : str
        Why the document gives no voltage here; empty if it does.
    choosable : bool
        Whether it may be chosen without a confirmation from an own copy.
    warnings : list of str
    """

    id: str
    document: str
    edition: str
    clause: str
    method: str
    grade: str
    basis: str
    thickness: str
    thickness_um: float
    voltage_v: float | None
    to_v: float | None
    means: str
    steps: list[str]
    refused: str
    choosable: bool
    warnings: list[str]


class Side(msgspec.Struct, frozen=True):
    """The table, and how far its voltages lie apart.

    Attributes
    ----------
    rows : list of SideRow
        In the order of the cited rules.
    least_v, greatest_v : float or None
        Over all rows with a voltage to set. [V]
    says : str
        The spread in words.
    """

    rows: list[SideRow]
    least_v: float | None
    greatest_v: float | None
    says: str


def side_by_side(
    film: Film, cited: Sequence[tuple[Rule, str]], *, choice: str | None = None, approval: str | None = None, contract: Sequence[str] = ()
) -> Side:
    """Work out cited rules for a film.

    Parameters
    ----------
    film : Film
    cited : sequence of (Rule, str)
        Rule and edition; an empty edition takes all for which the rule was read, and prints them.
    choice : str, optional
        Class, for the rules that divide by one; others pay no heed to it.
    approval : str, optional
        Reference of the maker's written approval.
    contract : sequence of str
        Documents with edition as the contract names them, such as ``"ASTM G62 2023"``; an older one that is cited is remarked.

    Returns
    -------
    Side

    Raises
    ------
    BadInput
        If the film is none, or an edition is unknown.
    """
    film.check()
    rows: list[SideRow] = []
    for rule, edition in cited:
        mine = [_row(rule, edition, basis, film.thickness[basis], choice, approval) for basis in bases_of(rule, film)]
        rows += [msgspec.structs.replace(r, warnings=[*r.warnings, *_moves(mine), *_older(rule, edition, contract)]) for r in mine]
    volts = [v for r in rows if r.means in ("set", "at_least", "range") for v in (r.voltage_v, r.to_v) if v is not None]
    low, high = (min(volts), max(volts)) if volts else (None, None)
    return Side(rows, low, high, _spread(low, high, rows))


def _row(rule: Rule, edition: str, basis: str, thickness: Quantity, choice: str | None, approval: str | None) -> SideRow:
    names = [edition] if edition else list(rule.editions)
    worked, refused = _worked(rule, names[0] if names else "not named", thickness, choice, approval)
    low, high = (_volts(worked.volts.low), _volts(worked.volts.high)) if worked and worked.volts else (None, None)
    if worked is not None and worked.volts is None and not refused:
        refused = "; ".join(worked.steps)
    grade = (worked.grade if worked else None) or (None if worked else rule.grade)
    return SideRow(
        id=rule.id, document=rule.document, edition=", ".join(names) or "none read", clause=rule.clause, method=rule.method,
        grade=grade.value if grade else "no figure", basis=BASES[basis], thickness=thickness.text, thickness_um=thickness.to("um"),
        voltage_v=low if low is not None else high, to_v=high if high != low and low is not None else None,
        means=worked.volts.means if worked and worked.volts else "", steps=worked.steps if worked else [], refused=refused,
        choosable=bool(worked and worked.choosable and not refused), warnings=worked.warnings if worked else [],
    )  # fmt: skip


def _worked(rule: Rule, edition: str, thickness: Quantity, choice: str | None, approval: str | None) -> tuple[Worked | None, str]:
    """The rule worked out, or why the document gives nothing here."""
    classes = getattr(rule.form, "classes", ())
    mine = choice if any(kind.name == choice for kind in classes) else None
    if rule.editions:
        rule.check_edition(edition)
    if not has_figures(rule):
        return None, "no figure of this document is shipped: enter it from your own copy, with its page"
    try:
        return evaluate(rule, edition, thickness, choice=mine, approval=approval), ""
    except BadInput as error:
        asked = f"ask for the class: {error.allowed}" if error.field == "choice" else f"outside what it was written for: {error.allowed}"
        return None, asked


def _volts(text: str | None) -> float | None:
    return quantity(text, "voltage").to("V") if text else None


def _moves(rows: list[SideRow]) -> list[str]:
    """A remark where the spread of the film moves the voltage by more than a fifth."""
    told = [r for r in rows if r.voltage_v is not None and r.means in ("set", "at_least", "range")]
    if len(told) < 2:
        return []
    low, high = min(told, key=lambda r: r.voltage_v or 0), max(told, key=lambda r: r.voltage_v or 0)
    ratio = (high.voltage_v or 0) / (low.voltage_v or math.inf)
    if ratio <= SPREAD_SAID:
        return []
    return [
        f"the spread of the film moves this voltage by {100 * (ratio - 1):.0f} %: {kilovolts(low.voltage_v)} at {low.thickness}, "
        f"{kilovolts(high.voltage_v)} at {high.thickness}"
    ]


def _older(rule: Rule, edition: str, contract: Sequence[str]) -> list[str]:
    """A remark where the contract names the same document in another edition."""
    named = [text[len(rule.document) :].strip() for text in contract if text.lower().startswith(rule.document.lower() + " ")]
    mine = [edition] if edition else list(rule.editions)
    return [f"the contract names {rule.document} {other}, this is {', '.join(mine)}" for other in named if other and other not in mine]


def worded_volts(row: SideRow) -> str:
    """What a row gives, for a reader: ``at least 15.00 kV``, ``10.00 kV to 12.00 kV``, ``none``."""
    if row.voltage_v is None:
        return "none"
    word = {"at_least": "at least ", "span": "allows ", "limit": "limit "}.get(row.means, "")
    return word + kilovolts(row.voltage_v) + (f" to {kilovolts(row.to_v)}" if row.to_v else "")


def may_be_chosen(row: SideRow) -> str:
    """Whether a row may be chosen, for a reader; empty where it gives no voltage."""
    return "" if row.voltage_v is None else "yes" if row.choosable else "after you confirm it"


def kilovolts(volts: float | None) -> str:
    """A voltage for a reader: under 100 V in V, else kV with three significant digits or more."""
    if volts is None:
        return "-"
    return f"{volts:g} V" if volts < 500 else f"{volts / 1000:.2f} kV"


def _spread(low: float | None, high: float | None, rows: list[SideRow]) -> str:
    refused = sum(1 for r in rows if r.refused)
    tail = f"; {refused} of {len(rows)} rows give none" if refused else ""
    if low is None or high is None:
        return "no cited document gives a voltage to set here" + tail
    apart = f", {high / low:.1f} times apart" if high > low * 1.05 else ""
    return f"{kilovolts(low)} to {kilovolts(high)}{apart}{tail}" if high > low else f"{kilovolts(low)}{tail}"
