"""The sums that must come out, and where every figure comes from, as tables."""

from __future__ import annotations

from wholefilm.drawing.numbers import range_label
from wholefilm.sheets.assessment import AssessmentSheet
from wholefilm.sheets.rows import Column, Table

from .book import ReportSheets
from .words import GRADES


def area_sums(sheet: AssessmentSheet) -> Table:
    """Total = tested + not reached + not in scope + not yet tested. [m2]"""
    a = sheet.area
    rows = [
        ("tested", a.tested_m2),
        ("   of it checked before and after", a.checked_m2),
        ("   of it awaiting its end check", a.awaiting_m2),
        ("   of it in doubt", a.in_doubt_m2),
        ("   of it on written instruction", a.on_instruction_m2),
        ("not reached", a.not_reached_m2),
        ("not in scope", a.not_in_scope_m2),
        ("not yet tested", a.not_yet_tested_m2),
    ]
    share = 100 / a.total_m2 if a.total_m2 else 0.0
    cells = [[name.replace("   of it", "– of it"), f"{v:.2f}", f"{v * share:.1f}"] for name, v in rows]
    cells.append(
        [
            "total = tested + not reached + not in scope + not yet tested",
            f"{a.total_m2:.2f}",
            "100.0" if a.total_m2 else "0.0",
        ]
    )
    return Table("Area", [Column("area", "Area", False), Column("m2", "m²", True), Column("share", "% of total", True)], cells)


def mark_sums(sheet: AssessmentSheet) -> Table:
    """Marks = holidays + false indications + not yet decided; holidays = open + repaired + closed."""
    h = sheet.holidays
    marks = h.confirmed + h.false_indications + h.undecided
    said = f"{marks} marks = {h.confirmed} holidays + {h.false_indications} false" + (f" + {h.undecided} undecided" if h.undecided else "")
    cells = [
        ["Marks on the wall", str(marks), said],
        ["Holidays", str(h.confirmed), f"{h.confirmed} = {h.open} open + {h.repaired} repaired, retest due + {h.closed} closed"],
        ["Repairs", str(sheet.repairs.planned), f"{sheet.repairs.closed} closed"],
        ["Footprint of repairs, m²", f"{sheet.repairs.footprint_m2:.2f}", f"{sheet.repairs.share_percent:.2f} % of the total area"],
        ["Made holidays, counted apart", str(h.made.found), f"{h.made.closed} closed"],
        ["Burns, counted apart", str(h.burns.found), f"{h.burns.closed} closed"],
    ]
    return Table(
        "Marks, holidays, repairs", [Column("what", "What", False), Column("n", "Count", True), Column("sum", "Sum", False)], cells
    )


def source_table(sheets: ReportSheets) -> Table:
    """Every document that the report leans on, with edition, grade and what for."""
    used: dict[tuple[str, str, str], list[str]] = {}
    for f in sheets.assessment.findings:
        if f.rule.document:
            used.setdefault((f.rule.document, f.rule.edition, f.rule.grade), []).append(f"clause {f.rule.clause}")
    known = {f"{document} {edition}".strip() for document, edition, _ in used}
    for r in sheets.requirements.requirements:
        if r.document.strip() not in known:
            used.setdefault((r.document.strip(), "", r.grade), []).append(f"clause {r.clause}")
    for v in sheets.voltage.sheets:
        source, _, grade = v.source.rpartition(" [")
        used.setdefault((source.strip() or "no source named", "", grade.rstrip("]")), []).append(f"setting {v.setting}")
    for c in sheets.checks.checks:
        used.setdefault((c.tolerance_source or "no source named", "", "entered"), []).append("tolerance of the field check")
    for s in sheets.climate.sources:
        used.setdefault((s.document, "", s.grade), []).append(s.what)
    cells = [[document, edition, grade, ", ".join(dict.fromkeys(what))] for (document, edition, grade), what in used.items()]
    columns = [Column("document", "Document", False), Column("edition", "Edition", False), Column("grade", "Grade", False)]
    return Table("Documents", [*columns, Column("used", "Used for", False)], cells, "no document is named")


def outside_words(sheets: ReportSheets, *, holidays: bool) -> str:
    """One sentence on holidays, or on retests, whose local film lies outside the voltage sheet's thickness basis; else nothing."""
    groups: dict[str, list[str]] = {}
    for row in sheets.voltage.outside:
        if row.holiday is holidays:
            groups.setdefault(row.says, []).append(row.what)
    if not groups:
        return ""
    said = "; ".join(f"{says}: {range_label(what, most=len(what))}" for says, what in groups.items())
    return f"Local film outside the thickness basis of the voltage sheet ({said}). Each is listed under Voltage sheets."


def grade_table() -> Table:
    """What the grades mean."""
    return Table(
        "What the grades mean", [Column("grade", "Grade", False), Column("means", "The figure was", False)], [list(g) for g in GRADES]
    )


def record_table(sheets: ReportSheets, program: str) -> Table:
    """Digests that let another person hold this report against the record."""
    cells = [["record, heads of all devices", sheets.head_digest()]]
    cells += [[f"sheet: {name}", value] for name, value in sheets.digests().items()]
    cells += [[f"signed by {s.role}, {s.when}: {s.covers}", s.sha] for s in sheets.days.signatures]
    return Table(
        f"SHA-256 of the record and of each sheet, made with {program}",
        [Column("what", "What", False), Column("sha", "SHA-256", False)],
        cells,
    )
