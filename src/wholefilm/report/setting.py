"""Two pages to print about a voltage: the question to engineer and coating maker, and the sheet for the pre-job meeting."""

from __future__ import annotations

from wholefilm.plan.request import ASKED, Cell, cells, crossed, physics_lines, remarks
from wholefilm.sheets.setting import SettingSheet
from wholefilm.sheets.voltage import VoltageRow, VoltageSheet

from .sheet import Column, Part, PrintSheet

FOOT = "The program assesses, people accept. Local codes, licensed practice and the site's permission come first."
ACROSS = 4
"""Thicknesses side by side in a printed table, so that their headings do not touch."""


def request_page(number: str, job: str, contract: str, to: list[str], asked_by: str, sheets: list[SettingSheet]) -> PrintSheet:
    """The question on one page.

    Parameters
    ----------
    number : str
        Of the question, such as ``Q-01``.
    job, contract : str
    to : list of str
    asked_by : str
    sheets : list of SettingSheet
        One for each test area asked about; areas of the same film and rules are told once.

    Returns
    -------
    PrintSheet
    """
    parts = [Part(paras=[f"To: {', '.join(to)}. Asked by: {asked_by}. Please answer in writing, with name and date, naming {number}."])]
    told: dict[tuple[object, ...], list[SettingSheet]] = {}
    for s in sheets:
        key = (tuple((f.basis, f.thickness) for f in s.film), tuple((r.id, r.edition, r.voltage_v, r.refused) for r in s.rules))
        told.setdefault(key, []).append(s)
    for same in told.values():
        s = same[0]
        areas = ", ".join(x.test_area for x in same)
        film = "; ".join(f"{f.basis} {f.thickness} ({f.source})" for f in s.film) or "no thickness is known yet"
        parts.append(Part(heading=f"{areas}, stage {s.stage}", paras=[f"Film: {film}."]))
        said = f"The documents cited, side by side; none is preferred. Spread: {s.spread}."
        parts += crossed_parts(cells(s.rules), "Document, edition", said)
    thickest = max((s.note for s in sheets if s.note is not None), key=lambda n: n.thickness_mm, default=None)
    parts.append(Part(heading="Remarks", bullets=[*remarks([r for s in sheets for r in s.rules]), *physics_lines(thickest)]))
    parts.append(Part(heading="What is asked", bullets=list(ASKED)))
    parts.append(
        Part(heading="Answer", to_fill=["Method", "Voltage, spark length or liquid", "By document, edition, film", "Name, role, date"])
    )
    return PrintSheet(f"Question {number}: which method, which voltage", f"{job} · {contract}", parts, FOOT)


def voltage_page(job: str, contract: str, row: VoltageRow, sheet: VoltageSheet, says: list[str]) -> PrintSheet:
    """One voltage sheet on one page, with the cautions and the site's answers.

    Parameters
    ----------
    job, contract : str
    row : VoltageRow
        The sheet.
    sheet : VoltageSheet
        All of the job, for what stands beside it.
    says : list of str
        Cautions.

    Returns
    -------
    PrintSheet
    """
    pairs = [
        ("Test areas", row.test_areas), ("Stage", row.stage), ("Method", row.method), ("Setting", row.setting), ("Also", row.further),
        ("Film thickness basis", row.basis), ("Rule", row.rule), ("Source, grade", row.source), ("Reason", row.reason),
        ("Agreed in writing by", row.agreed_by), ("Electrode", row.electrode), ("Valid until", row.valid_until), ("Set", row.set_at),
    ]  # fmt: skip
    layers = [x for x in sheet.layers if set(x.test_areas.split(", ")) & set(row.test_areas.split(", "))]
    answers = [x for x in sheet.site if x.entry == row.entry]
    beside = [x for x in sheet.beside if x.entry == row.entry]
    parts = [Part(columns=[Column("", 22), Column("", 78)], rows=[[name, text] for name, text in pairs if text])]
    if layers:
        rows = [[x.layer, x.nominal or "not told", x.conductive] for x in layers]
        parts.append(
            Part(heading="Coating system", columns=[Column("Layer", 60), Column("Nominal", 20), Column("Conductive", 20)], rows=rows)
        )
    if beside:
        parts += crossed_parts([Cell(x.rule, x.film, x.voltage.partition(":")[0], x.grade) for x in beside], "Stood beside", "")
    if answers:
        by = ", ".join(dict.fromkeys(x.by for x in answers))
        parts.append(
            Part(
                heading=f"The site's own answers, by {by}",
                columns=[Column("Asked", 40), Column("Answer", 60)],
                rows=[[x.caution, x.says] for x in answers],
            )
        )
    parts.append(Part(heading="Cautions", bullets=says))
    parts.append(Part(heading="At the pre-job meeting", to_fill=["Operator", "Second person", "Site", "Date"]))
    return PrintSheet(f"Voltage sheet: {row.test_areas}, {row.stage}", f"{job} · {contract}", parts, FOOT)


def crossed_parts(given: list[Cell], heading: str, says: str) -> list[Part]:
    """Rules by thickness as parts of a sheet, at most `ACROSS` thicknesses side by side."""
    films = list(dict.fromkeys(c.film for c in given))
    parts = []
    for n in range(0, len(films), ACROSS):
        mine, rows = crossed([c for c in given if c.film in films[n : n + ACROSS]])
        columns = [Column(heading, 36), *(Column(f, 54 / len(mine), number=True) for f in mine), Column("Grade", 10)]
        parts.append(Part(columns=columns, rows=rows, paras=[says] if says and not n else []))
    return parts or [Part(paras=[says] if says else [])]
