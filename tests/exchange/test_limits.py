"""Files made to do harm: each is refused in a process that may take only so much memory, before it is unpacked or read whole."""

from __future__ import annotations

import io
import os
import struct
import subprocess
import sys
import zipfile
import zlib
from pathlib import Path

import pytest

from exchange.makers import HEADER, ROWS, by_xlsxwriter, with_part
from wholefilm.base.errors import BadInput
from wholefilm.exchange import table, zipped
from wholefilm.exchange.workbook import read_workbook

MIB = 1 << 20
SHEET = "xl/worksheets/sheet1.xml"
CHILD = """
import resource, sys
from pathlib import Path
from wholefilm.base.errors import BadInput
from wholefilm.exchange.table import read_file, read_table
resource.setrlimit(resource.RLIMIT_AS, (int(sys.argv[2]), int(sys.argv[2])))
resource.setrlimit(resource.RLIMIT_CPU, (20, 20))
try:
    read_table(read_file(Path(sys.argv[1])))
except BadInput as error:
    print(error)
else:
    print("taken")
"""


def in_a_child(path: Path, memory: int) -> str:
    """What reading a file says in a process with so much address space. [byte]"""
    done = subprocess.run([sys.executable, "-c", CHILD, str(path), str(memory)], capture_output=True, text=True, timeout=60)
    assert done.returncode == 0, done.stderr
    return done.stdout


def deflated(size: int) -> bytes:
    """Zeros packed by deflate, about a thousandth of their size."""
    packer = zlib.compressobj(9, zlib.DEFLATED, -15)
    block = bytes(MIB)
    return b"".join(packer.compress(block) for _ in range(size // MIB)) + packer.flush()


def sheet_at(data: bytes) -> int:
    """Where the packed sheet begins in a workbook. [byte]"""
    with zipfile.ZipFile(io.BytesIO(data)) as bag:
        return bag.getinfo(SHEET).header_offset


def lying_zip(name: str, packed: bytes, size: int) -> bytes:
    """A zip of one part that says it unpacks to `size` bytes."""
    head = struct.pack("<HHHHHLLLHH", 20, 0, 8, 0, 33, 0, len(packed), size, len(name), 0)
    local = b"PK\x03\x04" + head + name.encode() + packed
    central = b"PK\x01\x02" + struct.pack("<H", 20) + head + struct.pack("<HHHLL", 0, 0, 0, 0, 0) + name.encode()
    return local + central + b"PK\x05\x06" + struct.pack("<HHHHLLH", 0, 0, 1, 1, len(central), len(local), 0)


def test_two_gibibytes_of_csv_are_refused_by_their_size(tmp_path: Path) -> None:
    path = tmp_path / "huge.csv"
    path.touch()
    os.truncate(path, 2 << 30)
    assert in_a_child(path, 200 * MIB).endswith(
        "huge.csv: 2,147,483,648 bytes' is not accepted. Allowed: at most 268,435,456 bytes; part the file\n"
    )


def test_a_bomb_that_says_its_size_is_not_unpacked(tmp_path: Path) -> None:
    path = tmp_path / "bomb.xlsx"
    path.write_bytes(with_part(by_xlsxwriter([HEADER]), SHEET, lambda x: x + bytes(300 * MIB)))
    assert path.stat().st_size < MIB
    said = in_a_child(path, 200 * MIB)
    assert said.startswith("file: '") and "of at most 268,435,456 bytes unpacked" in said  # noqa: PT018


def test_a_part_that_unpacks_to_too_many_times_its_size() -> None:
    with pytest.raises(BadInput, match="at most 200 times their size"):
        read_workbook(with_part(by_xlsxwriter([HEADER]), SHEET, lambda x: x + bytes(20 * MIB)))


def test_a_bomb_that_lies_about_its_size_gives_no_more_than_it_says(tmp_path: Path) -> None:
    """300 MiB behind a header that says 1,000 bytes: what comes out is cut there and fails its checksum."""
    path = tmp_path / "liar.xlsx"
    path.write_bytes(lying_zip("_rels/.rels", deflated(300 * MIB), 1_000))
    assert "that is whole" in in_a_child(path, 200 * MIB)


def test_what_comes_out_is_counted(monkeypatch: pytest.MonkeyPatch) -> None:
    data = by_xlsxwriter([HEADER, *ROWS])
    monkeypatch.setattr(zipped, "MOST_UNPACKED", 1 << 30)
    bag = zipped.Zipped(data)
    bag._left = 1_000
    with pytest.raises(BadInput, match="unpacked"):
        list(bag.blocks("xl/styles.xml")) + list(bag.blocks(SHEET))


def test_a_list_of_a_million_parts_is_not_read(tmp_path: Path) -> None:
    path = tmp_path / "parts.xlsx"
    one = (
        b"PK\x01\x02"
        + struct.pack("<H", 20)
        + struct.pack("<HHHHHLLLHH", 20, 0, 0, 0, 33, 0, 0, 0, 1, 0)
        + struct.pack("<HHHLL", 0, 0, 0, 0, 0)
        + b"x"
    )
    many = one * 1_000_000
    path.write_bytes(b"PK\x03\x04" + many + b"PK\x05\x06" + struct.pack("<HHHHLLH", 0, 0, 9, 9, len(many), 4, 0))
    assert "of at most 2,000 parts" in in_a_child(path, 400 * MIB)


def test_a_workbook_with_three_thousand_parts() -> None:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as bag:
        for n in range(3_000):
            bag.writestr(f"{n}.xml", "")
    with pytest.raises(BadInput, match="a list of 3,000 parts"):
        read_workbook(out.getvalue())


def test_an_entity_bomb_is_refused_at_its_document_type(tmp_path: Path) -> None:
    bomb = (
        b'<!DOCTYPE z [<!ENTITY a "aaaaaaaaaa">'
        + b"".join(b'<!ENTITY %c "%b">' % (98 + n, b"&%c;" % (97 + n) * 10) for n in range(9))
        + b"]>"
    )
    path = tmp_path / "entities.xlsx"
    path.write_bytes(with_part(by_xlsxwriter([HEADER]), SHEET, lambda x: x.replace(b"<worksheet", bomb + b"<worksheet", 1)))
    assert "a document type" in in_a_child(path, 200 * MIB)


def test_one_text_named_by_a_million_cells_stops(tmp_path: Path) -> None:
    """One shared string of 999 characters in 800,000 cells would be 800 MB of text."""
    cells = b"".join(b'<row r="%d"><c r="A%d" t="s"><v>0</v></c></row>' % (n, n) for n in range(1, 800_001))
    data = by_xlsxwriter([("y" * 999,)])
    path = tmp_path / "many.xlsx"
    path.write_bytes(with_part(data, SHEET, lambda x: x[: x.index(b"<sheetData>") + 11] + cells + x[x.index(b"</sheetData>") :]))
    said = in_a_child(path, 700 * MIB)
    assert "characters in a sheet" in said or "times their size" in said


def test_a_name_without_end_is_refused() -> None:
    with pytest.raises(BadInput, match="a token over"):
        read_workbook(
            with_part(by_xlsxwriter([HEADER]), SHEET, lambda x: x.replace(b"<sheetData>", b"<x" + os.urandom(2 * MIB).hex().encode(), 1))
        )


@pytest.mark.parametrize(
    ("change", "says"),
    [
        (lambda d: d[: len(d) // 2], "no list of parts at its end"),
        (lambda d: d[:-1], "no list of parts at its end"),
        (lambda d: d.replace(b"xl/workbook.xml", b"xl/werkbook.xml"), "no part xl/workbook.xml"),
        (lambda d: d.replace(d[sheet_at(d) + 60 :][:40], bytes(40)), "that is whole"),
    ],
)
def test_damaged_workbooks(change, says: str) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(BadInput, match=says):
        read_workbook(change(by_xlsxwriter([HEADER, *ROWS])))


def test_more_lines_than_rows_are_taken(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(table, "MOST_ROWS", 10)
    with pytest.raises(BadInput, match="1,011 lines"):
        table.read_table(b"a,b\n" * 1_011)
