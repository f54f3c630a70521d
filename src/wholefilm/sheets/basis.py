"""Local film at holidays and retests that lies outside the thickness basis of the voltage sheet in force there."""

from __future__ import annotations

from typing import Annotated

from wholefilm.job.facts import Fact
from wholefilm.proof.setting import outside
from wholefilm.proof.states import Standing

from .rows import Row, head


class OutsideRow(Row, frozen=True, kw_only=True):
    """A holiday or a retest whose local film lies outside the basis."""

    what: Annotated[str, head("At")]
    test_area: Annotated[str, head("Test area")]
    local_thickness: Annotated[str, head("Local film")]
    basis: Annotated[str, head("Thickness basis")]
    setting: Annotated[str, head("Setting")]
    says: Annotated[str, head("Lies")]
    holiday: bool


def outside_basis(standing: Standing) -> list[OutsideRow]:
    """Holidays, then retests, whose local film lies outside the range that the test voltage was chosen for.

    Parameters
    ----------
    standing : Standing

    Returns
    -------
    list of OutsideRow
        In the order of the sheets. A holiday or retest without a local reading, or without a sheet in force, is none of them.
        It is a note for the reader, no finding: the limits of a clause are held elsewhere.
    """
    areas = {p.name: p.test_area for p in standing.panels}
    sheets = standing.job.all("voltage.set")
    found = []
    for h in standing.holidays:
        film = h.fact.body.local_thickness
        found.append(_row(h.number, [h.test_area], film, _in_force(sheets, [h.test_area], h.indication.fact.start), holiday=True))
    for r in standing.repairs:
        mine = list(dict.fromkeys(areas[p] for p in r.panels if p in areas))
        for x in r.retests:
            sheet = _in_force(sheets, mine, x.fact.start)
            found.append(_row(f"{r.number}, retest {x.nth}", mine, x.fact.body.local_thickness, sheet, holiday=False))
    return [row for row in found if row is not None]


def _in_force(sheets: list[Fact], areas: list[str], when: int) -> Fact | None:
    """The last sheet set for one of the areas up to a time; one set later is none. [ms UTC]"""
    mine = [f for f in sheets if set(areas) & set(f.body.test_areas) and f.start <= when]
    return max(mine, key=lambda f: (f.start, f.rank), default=None)


def _row(what: str, areas: list[str], film: str | None, sheet: Fact | None, *, holiday: bool) -> OutsideRow | None:
    if not film or sheet is None:
        return None
    basis, says = sheet.body.basis, outside(sheet, film)
    if not says:
        return None
    return OutsideRow(
        what=what,
        test_area=", ".join(areas),
        local_thickness=film,
        basis=" to ".join(x for x in (basis.low, basis.high) if x),
        setting=sheet.body.setting,
        says=says,
        holiday=holiday,
    )
