"""Load a file of thickness readings into a job: looked at whole before anything is stored."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Annotated, Any

import msgspec

from wholefilm.base.errors import BadInput
from wholefilm.base.quantity import ALIASES, UNITS, units_of
from wholefilm.base.table import DECIMALS, DELIMITERS, TextForm, head_cells
from wholefilm.exchange.table import MOST_ROWS, TableFile, read_file, read_table
from wholefilm.film.cells import Signs
from wholefilm.film.readings import CLASSES, KNOWN, NEEDED, SHOWN, BadRows, Spots, examine
from wholefilm.film.statistics import thickness_statistics
from wholefilm.job.facts import Job
from wholefilm.job.fold import fold
from wholefilm.ledger.store import Store
from wholefilm.sheets.rows import Row, Table, head, table

from .find import find_stored
from .record import Attached, Recorded, record

HEADER_UNITS = ("um", "mil", "mm")
MEASURED = ("value", "first", "second")
CONSTANT = ("test_area", "class", "on")
FIRST_ROWS = 5


class Wanted(msgspec.Struct, frozen=True, kw_only=True):
    """What the user says of a file; each may be left out.

    Attributes
    ----------
    columns : sequence of str
        ``OURS=HEADER`` for headers that do not bear our names.
    units : sequence of str
        ``UNIT`` of the values, ``OURS=UNIT`` of another column.
    constants : dict of str
        One test area, class or part for every row.
    encoding, sheet : str
    decimal : str
        ``point`` or ``comma``.
    """

    columns: Sequence[str] = ()
    units: Sequence[str] = ()
    constants: Mapping[str, str] = {}
    encoding: str | None = None
    sheet: str | None = None
    decimal: str | None = None


class Looked(msgspec.Struct, frozen=True):
    """A file as understood: its table, columns and units as they will be recorded, spots, and what is wrong."""

    file: TableFile
    columns: dict[str, Any]
    units: dict[str, Any]
    spots: Spots
    bad: list[BadInput]
    count: int
    notes: list[str]


class ColumnRow(Row, frozen=True, kw_only=True):
    """How one column is understood."""

    ours: Annotated[str, head("Read as")]
    header: Annotated[str, head("Column of the file")]
    unit: Annotated[str, head("Unit")]


class GroupRow(Row, frozen=True, kw_only=True):
    """Spots of one class in one test area."""

    test_area: Annotated[str, head("Test area")]
    class_: Annotated[str, head("On")]
    spots: Annotated[int, head("Spots", True)]
    mean_um: Annotated[str, head("Mean µm", True)]
    sd_um: Annotated[str, head("s µm", True)]
    min_um: Annotated[str, head("Min µm", True)]
    max_um: Annotated[str, head("Max µm", True)]


class FirstRow(Row, frozen=True, kw_only=True):
    """One of the first rows, as understood."""

    line: Annotated[int, head("Line", True)]
    test_area: Annotated[str, head("Test area")]
    class_: Annotated[str, head("On")]
    value: Annotated[str, head("Value")]
    um: Annotated[str, head("µm", True)]
    spot: Annotated[str, head("Spot")]
    measured_area: Annotated[str, head("Measured area")]
    on: Annotated[str, head("Part")]
    first: Annotated[str, head("First m", True)]
    second: Annotated[str, head("Second m", True)]


class Preview(msgspec.Struct, frozen=True):
    """A file before it is loaded."""

    written: str
    rows: int
    bad: list[str]
    bad_rows: int
    notes: list[str]
    columns: list[ColumnRow]
    first: list[FirstRow]
    groups: list[GroupRow]

    def tables(self) -> list[Table]:
        """The preview as tables."""
        return [
            table("Columns", ColumnRow, self.columns),
            table("First rows", FirstRow, self.first, "no row can be read"),
            table("By test area", GroupRow, self.groups, "no row can be read"),
        ]


def guess_columns(header: Sequence[str]) -> dict[str, Any]:
    """Columns that bear our own names, and the one value column that names its unit (``dft_um``)."""
    columns: dict[str, Any] = {name: name for name in KNOWN if name in header}
    if "value" not in columns:
        values = [h for h in header if h.rsplit("_", 1)[-1] in HEADER_UNITS]
        if len(values) == 1:
            columns["value"] = values[0]
    return columns


def look(path: Path, wanted: Wanted) -> Looked:
    """Read a file as it would be loaded.

    Raises
    ------
    BadInput
        If it cannot be understood as a whole. Bad rows are told in what comes back.
    """
    file = read_table(read_file(path), encoding=wanted.encoding, sheet=wanted.sheet)
    header = head_cells(file.data, file.form)
    columns = _columns(header, wanted)
    units: dict[str, Any] = _units(columns, wanted)
    decimal = ""
    if wanted.decimal is not None:
        decimal = {word: sign for sign, word in DECIMALS.items()}.get(wanted.decimal, "")
        if not decimal:
            raise BadInput("--decimal", wanted.decimal, "point or comma")
    form = msgspec.structs.replace(file.form, decimal=decimal)
    signs = Signs()
    spots, bad, count, _ = examine(file.data, columns, units | {"text": _plain(form)}, signs)
    if not decimal:
        form = msgspec.structs.replace(form, decimal=signs.settle(form.delimiter))
    if len(spots) + count > MOST_ROWS:
        raise BadInput("FILE", f"{len(spots) + count:,} rows", f"at most {MOST_ROWS:,} rows; part the file")
    if not len(spots) + count:
        raise BadInput("FILE", str(path), f"rows of readings under the header ({', '.join(header)})")
    notes: list[str] = []
    if file.workbook is not None:
        picked = {header.index(theirs): ours for ours, theirs in columns.items() if isinstance(theirs, str)}
        faults = file.workbook.faults(picked)
        notes = file.workbook.notes(picked)
        bad, count = faults + bad if faults else bad, count + len(faults)
    return Looked(file, columns, units | {"text": _plain(form)}, spots, bad, count, notes)


def preview(looked: Looked, job: Job | None = None) -> Preview:
    """What a file says, before anything is stored.

    Parameters
    ----------
    looked : Looked
    job : Job, optional
        Whose test areas the file should name.
    """
    spots, text = looked.spots, looked.units["text"]
    form = msgspec.convert(text, TextForm)
    written = f"{form.encoding.upper()}, {DELIMITERS[form.delimiter]} between cells, decimal {DECIMALS[form.decimal]}"
    if form.sheet:
        written = f"sheet {form.sheet}"
    columns = [
        ColumnRow(
            ours=ours,
            header=theirs if isinstance(theirs, str) else f"every row: {theirs['constant']}",
            unit=looked.units.get(ours, ""),
        )
        for ours, theirs in looked.columns.items()
    ]
    first = [
        FirstRow(
            line=spots.row[n],
            test_area=spots.test_area[n],
            class_=spots.class_[n],
            value=str(spots.quantity(n)),
            um=f"{spots.values_um[n]:g}",
            spot=spots.spot[n],
            measured_area=spots.measured_area[n],
            on=spots.on[n],
            first=_metres(spots.first[n]),
            second=_metres(spots.second[n]),
        )
        for n in range(min(FIRST_ROWS, len(spots)))
    ]
    groups = []
    for (area, class_), values in sorted(spots.groups().items(), key=lambda x: (x[0][0], CLASSES.index(x[0][1]))):
        s = thickness_statistics(values)
        groups.append(
            GroupRow(
                test_area=area,
                class_=class_,
                spots=s.n,
                mean_um=f"{s.mean_um:.1f}",
                sd_um=f"{s.sd_um:.1f}",
                min_um=f"{s.min_um:.1f}",
                max_um=f"{s.max_um:.1f}",
            )
        )
    bad = [str(b) for b in looked.bad[:SHOWN]]
    return Preview(written, len(spots), bad, looked.count, looked.notes + unknown_areas(job, spots), columns, first, groups)


def load_readings(
    store: Store, url: str, name: str, looked: Looked, by: str, *, about: str, file_name: str = "", at_site: str | None = None
) -> Recorded:
    """Store a file that was looked at, and record it; a workbook is attached as it came, before, in the same transaction.

    Parameters
    ----------
    store, url, name, by
        As in `record`.
    looked : Looked
    about : str
        What was read: instrument, day, area.
    file_name : str
        Name of a workbook, for the entry that attaches it.
    at_site : str, optional
        When it was read.

    Raises
    ------
    BadInput
        Naming column or line; nothing is stored then.
    """
    if looked.bad:
        raise looked.bad[0] if looked.count == 1 else BadRows(looked.bad[:SHOWN], looked.count)
    data, original = looked.file.data, looked.file.original
    body: dict[str, Any] = {
        "blob": hashlib.sha256(data).hexdigest(),
        "columns": looked.columns,
        "units": looked.units,
        "rows": len(looked.spots),
        "about": about,
    }
    attached = Attached(original, file_name or "readings.xlsx", [about]) if original is not None else None
    return record(store, url, name, "readings.loaded", (), by, at_site, json.dumps(body), beside=data, attached=attached)


def job_of(store: Store, name: str) -> Job:
    """The job that a preview is held against.

    Raises
    ------
    NotFound
        If there is none by that name.
    """
    found = find_stored(store, name)
    return fold(found.entries, found.blobs, found.aside)


def unknown_areas(job: Job | None, spots: Spots) -> list[str]:
    """A sentence on test areas that no item of the job has, if it has an item."""
    items = job.all("item.added") if job is not None else []
    known = {str(area.get("name")) for fact in items for area in fact.body.test_areas}
    unknown = sorted(set(spots.test_area) - known)
    if not items or not unknown:
        return []
    return [f"no test area of this job: {', '.join(unknown)}; spots there count for nothing. Known: {', '.join(sorted(known)) or 'none'}"]


def _plain(form: TextForm) -> dict[str, Any]:
    plain: dict[str, Any] = msgspec.to_builtins(form)
    return {"encoding": form.encoding, "delimiter": form.delimiter} | plain


def _metres(value: float) -> str:
    return "" if value != value else f"{value:g}"


def _columns(header: Sequence[str], wanted: Wanted) -> dict[str, Any]:
    chosen = guess_columns(header)
    for word in wanted.columns:
        ours, eq, theirs = word.partition("=")
        if not eq or ours not in KNOWN:
            raise BadInput("--column", word, f"OURS=HEADER with OURS one of {', '.join(KNOWN)}")
        if theirs not in header:
            raise BadInput("--column", word, f"a header of the file: {', '.join(header)}")
        chosen[ours] = theirs
    for ours, text in wanted.constants.items():
        option = f"--{ours.replace('_', '-')}"
        if ours in chosen:
            raise BadInput(option, text, f"nothing, since column {chosen[ours]} of the file is read as {ours}")
        if not text.strip() or (ours == "class" and text.strip() not in CLASSES):
            raise BadInput(option, text, ", ".join(CLASSES) if ours == "class" else "a name")
        chosen[ours] = {"constant": text.strip()}
    lacking = [n for n in NEEDED if n not in chosen]
    if lacking:
        more = f" or --{lacking[0].replace('_', '-')} NAME" if lacking[0] in CONSTANT else ""
        says = f"a column for {', '.join(lacking)}, such as --column {lacking[0]}=HEADER{more}"
        raise BadInput("--column", ", ".join(header), says)
    for ours, theirs in chosen.items():
        if isinstance(theirs, str) and header.count(theirs) > 1:
            raise BadInput("--column", f"{ours}={theirs}", "a header that the file has once")
    return {name: chosen[name] for name in KNOWN if name in chosen}


def _units(columns: Mapping[str, Any], wanted: Wanted) -> dict[str, str]:
    units = {n: "m" for n in MEASURED[1:] if n in columns}
    if columns["value"].rsplit("_", 1)[-1] in HEADER_UNITS and "_" in columns["value"]:
        units["value"] = columns["value"].rsplit("_", 1)[-1]
    for word in wanted.units:
        ours, unit = word.split("=", 1) if "=" in word else ("value", word)
        if ours not in MEASURED or ours not in columns:
            raise BadInput("--unit", word, f"UNIT, or OURS=UNIT with OURS one of {', '.join(n for n in MEASURED if n in columns)}")
        known = UNITS.get(ALIASES.get(unit, unit))
        if known is None or known[0] != "length":
            raise BadInput("--unit", word, f"a unit of length: {', '.join(units_of('length'))}")
        units[ours] = unit
    if "value" not in units:
        raise BadInput("--unit", "nothing", "the unit of the values: um, mil or mm")
    return {name: units[name] for name in MEASURED if name in units}
