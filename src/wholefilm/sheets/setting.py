"""Before a voltage is set: film of a test area, the job's cited rules side by side, methods as a question, a note for planning.

A proposal for people to decide on. It stands beside the voltage sheets of the record and reaches no finding and no report.
"""

from __future__ import annotations

from typing import Annotated

import msgspec

from wholefilm.base import cautions
from wholefilm.base.errors import NotFound
from wholefilm.base.quantity import Quantity, quantity
from wholefilm.electric import Air, Strength
from wholefilm.plan import Film, MethodRow, Note, SideRow, methods, planning_note, side_by_side
from wholefilm.plan.film import BASES
from wholefilm.plan.note import EVEN_AIR
from wholefilm.plan.side import may_be_chosen, worded_volts
from wholefilm.proof.cited import Cited
from wholefilm.proof.needs_film import film_conducts
from wholefilm.proof.site import Site
from wholefilm.proof.states import Requirement, Standing
from wholefilm.proof.thickness import Thickness

from .rows import Row, Table, head, table
from .voltage import VoltageRow, voltage_rows
from .voltage_parts import in_force

NONE_CITED = "no voltage rule is cited in this job: cite one of the shelf (rules cite), or enter one of your own copy (rules enter)"


class FilmRow(Row, frozen=True, kw_only=True):
    """A thickness of the film and where it is from."""

    basis: Annotated[str, head("Film")]
    thickness: Annotated[str, head("Thickness", True)]
    source: Annotated[str, head("From")]


class CitedRow(Row, frozen=True, kw_only=True):
    """One cited rule at one thickness."""

    rule: Annotated[str, head("Rule")]
    document: Annotated[str, head("Document, edition")]
    film: Annotated[str, head("Film")]
    voltage: Annotated[str, head("Voltage", True)]
    grade: Annotated[str, head("Grade")]
    choosable: Annotated[str, head("May be chosen")]
    working: Annotated[str, head("Working")]
    remarks: Annotated[str, head("Remarks")]


class MethodSaysRow(Row, frozen=True, kw_only=True):
    """What a document says of a method for this film, or what is to be asked."""

    method: Annotated[str, head("Method")]
    says: Annotated[str, head("Document says, or ask")]
    grade: Annotated[str, head("Grade")]


class SettingSheet(msgspec.Struct, frozen=True):
    """What a person needs to decide on the voltage of one test area.

    Attributes
    ----------
    test_area, stage : str
    film : list of FilmRow
        From the readings of all classes of the area, and the layers as specified.
    rules : list of SideRow
        Cited rules worked out.
    spread : str
    methods : list of MethodRow
    note : Note or None
        None where no thickness is known.
    in_force : list of VoltageRow
        Voltage sheets of the area.
    cautions, says : list of str
    """

    test_area: str
    stage: str
    film: list[FilmRow]
    rules: list[SideRow]
    spread: str
    methods: list[MethodRow]
    note: Note | None
    in_force: list[VoltageRow]
    cautions: list[str]
    says: list[str]

    def tables(self) -> list[Table]:
        """The sheet as tables."""
        return [
            table("Film", FilmRow, self.film, "no reading and no layer is recorded: nothing can be worked out"),
            table("Cited rules side by side", CitedRow, [_cited_row(r) for r in self.rules], self.spread),
            table("Methods, a question and not an answer", MethodSaysRow, _method_rows(self.methods), "no document is cited"),
            table("Voltage sheets of this area", VoltageRow, self.in_force, "none set"),
        ]


def setting_sheet(standing: Standing, area: str, air: Air = EVEN_AIR, strength: Strength | None = None, stage: str = "") -> SettingSheet:
    """The sheet of a test area.

    Parameters
    ----------
    standing : Standing
    area : str
        Test area.
    air : Air
    strength : Strength, optional
        As the user enters it from a data sheet.
    stage : str, optional
        Stage that is asked about; the first that a requirement names, else ``final``.

    Returns
    -------
    SettingSheet

    Raises
    ------
    NotFound
        If the job has no such test area.
    """
    known, held = test_areas(standing), in_force(standing.job)
    if area not in known:
        raise NotFound("AREA", area, f"one of {', '.join(known) or 'none yet: no item is entered'}")
    film, rows = film_of(standing, area)
    cited = cited_rules(standing, area)
    contract = [f"{r.source.document} {r.source.edition}" for r in standing.requirements if "voltage" in r.topic.lower()]
    pairs = [(c.rule, c.edition) for _, c in cited]
    stages = [r.stage for r in standing.requirements if r.stage]
    side = side_by_side(film, pairs, contract=contract) if film.thickness and pairs else None
    ways = methods(film, pairs) if film.thickness else []
    volts = [r.voltage_v for r in side.rows if r.voltage_v and r.means in ("set", "at_least", "range")] if side else []
    confirmed = {(c.rule.id, c.edition) for _, c in cited if c.choosable}
    rules = [msgspec.structs.replace(r, choosable=not r.refused and (r.id, r.edition) in confirmed) for r in side.rows] if side else []
    shown = [*cautions.FOR_A_VOLTAGE, *([cautions.OZONE] if any(c.rule.method == "ac_spark" for _, c in cited) else []), cautions.FIRST]
    return SettingSheet(
        test_area=area,
        stage=stage or (stages[0] if stages else "final"),
        film=rows,
        rules=rules,
        spread=side.says if side else NONE_CITED,
        methods=ways,
        note=planning_note(film, volts, air, strength) if film.thickness else None,
        in_force=[row for row in voltage_rows(standing.job) if area in held[row.entry]],
        cautions=shown,
        says=["None of these is preferred, and this list sets no voltage. The person whom the contract names decides, in writing."],
    )


def test_areas(standing: Standing) -> list[str]:
    """Test areas of the job, in the order of its panels."""
    return list(dict.fromkeys(p.test_area for p in standing.panels))


def cited_rules(standing: Standing, area: str) -> list[tuple[Requirement, Cited]]:
    """Voltage rules that the job cites for an area, in the order noted; of one cited again, the last."""
    found: dict[tuple[str, str], tuple[Requirement, Cited]] = {}
    for r in standing.requirements:
        if isinstance(r.rule, Cited) and (not r.applies_to or area in r.applies_to):
            found[r.rule.rule.id, r.rule.edition] = (r, r.rule)
    return list(found.values())


def film_of(standing: Standing, area: str) -> tuple[Film, list[FilmRow]]:
    """Film of a test area as planning sees it, and where each thickness is from."""
    job = standing.job
    groups = Thickness(job, Site(job), standing.requirements).groups()
    values = sorted(um for (of, _), found in groups.items() if of == area for um in found if um > 0)
    known: dict[str, Quantity] = {}
    rows = []
    systems = [f for f in job.all("system.set") if area in f.body.test_areas]
    layers = systems[-1].body.layers if systems else []
    nominal = [x.nominal for x in layers]
    if nominal and all(nominal):
        total = sum(quantity(x, "length").exact("um") for x in nominal if x)
        known["nominal"] = quantity(f"{float(total):g} um", "length")
        rows.append(FilmRow(basis=BASES["nominal"], thickness=known["nominal"].text, source="layers of the coating system, added up"))
    if values:
        source = f"{len(values)} spots of {area}, all classes, edges and welds with them"
        for name, um in (("min", values[0]), ("mean", sum(values) / len(values)), ("max", values[-1])):
            known[name] = quantity(f"{um:.0f} um" if name == "mean" else f"{um:g} um", "length")
            rows.append(FilmRow(basis=BASES[name], thickness=known[name].text, source=source))
    word, names = film_conducts(layers)
    conductive = {"yes": names, "no": "no" if layers else "", "unknown": ""}[word]
    immersed = {"never": "no", "once": "yes"}.get(systems[-1].body.immersed or "" if systems else "", "not known")
    return Film(known, "", conductive, immersed), rows  # type: ignore[arg-type]


def _cited_row(r: SideRow) -> CitedRow:
    return CitedRow(
        rule=r.id,
        document=f"{r.document} {r.edition}" + (f", {r.clause}" if r.clause else ""),
        film=f"{r.basis}, {r.thickness}",
        voltage=worded_volts(r),
        grade=r.grade,
        choosable=may_be_chosen(r),
        working="; ".join(r.steps),
        remarks="; ".join([*([r.refused] if r.refused else []), *r.warnings]),
    )


def _method_rows(ways: list[MethodRow]) -> list[MethodSaysRow]:
    rows = []
    for m in ways:
        word = m.word + (": documents differ" if m.differ else "")
        rows += [MethodSaysRow(method=word, says=f"{d.document} {d.edition}: {d.allows}, {d.says}", grade=d.grade) for d in m.documents]
        rows += [MethodSaysRow(method=word, says=f"ask: {ask}", grade="") for ask in m.asks]
    return rows
