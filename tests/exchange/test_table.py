"""CSV files as programs write them, and files that are none."""

from __future__ import annotations

import codecs
import csv
import io
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from wholefilm.base.errors import BadInput
from wholefilm.base.table import LONGEST_LINE, TextForm, head_cells, read_chunks
from wholefilm.exchange.table import read_file, read_table

LINES = "test_area;class;dft_um\nS1;flat;410,5\nÄ1;weld;395\n"


def rows(data: bytes, form: TextForm) -> list[list[str]]:
    return [row for chunk in read_chunks(data, form) for row in chunk.rows()]


@pytest.mark.parametrize(
    ("data", "encoding", "found"),
    [
        (LINES.encode(), None, "utf-8"),
        (codecs.BOM_UTF8 + LINES.encode(), None, "utf-8"),
        (LINES.encode("utf-16"), None, "utf-16"),
        (codecs.BOM_UTF16_BE + LINES.encode("utf-16-be"), None, "utf-16"),
        (LINES.encode("utf-16-le"), "utf-16", "utf-16"),
        (LINES.encode("cp1252"), "cp1252", "cp1252"),
        (LINES.replace("\n", "\r\n").encode(), None, "utf-8"),
        (LINES.replace("\n", "\r").encode(), None, "utf-8"),
        (LINES.replace(";", "\t").encode(), None, "utf-8"),
    ],
)
def test_encodings_line_ends_and_delimiters(data: bytes, encoding: str | None, found: str) -> None:
    file = read_table(data, encoding=encoding)
    assert file.form.encoding == found
    assert rows(file.data, file.form) == [["test_area", "class", "dft_um"], ["S1", "flat", "410,5"], ["Ä1", "weld", "395"]]
    assert file.data is data


@pytest.mark.parametrize(
    ("data", "encoding", "says"),
    [
        (LINES.encode("cp1252"), None, "file: 'byte 37' is not accepted. Allowed: UTF-8 text; on line 3 stands 0xC4"),
        ("a;b\n1;2\n".encode("utf-16-le"), None, "line 1: 'a NUL character'"),
        (b"a,b\n1,\x002\n", None, "line 2: 'a NUL character'"),
        (b'a,b\n"1,\x002",3\n', None, "line 2: 'a NUL character'"),
        (b'a,b\n"1,2\n3,4\n', None, "line 3: 'unexpected end of data'"),
        (b'a,b\n"1"2,3\n', None, "line 2: "),
        (LINES.encode(), "klingon", "--encoding: 'klingon' is not accepted. Allowed: one of utf-8, utf-16, cp1250"),
        (b"\xd0\xcf\x11\xe0" + bytes(512), None, "FILE: 'a workbook of the old form, or with a password'"),
        (b"PK\x03\x04" + bytes(512), None, "file: 'no list of parts at its end'"),
        (b"a,b\n" + b"1" * (LONGEST_LINE + 9), None, "line 2: 'a line without end'"),
    ],
)
def test_what_is_no_table_is_refused_by_byte_or_line(data: bytes, encoding: str | None, says: str) -> None:
    def act() -> None:
        file = read_table(data, encoding=encoding)
        rows(file.data, file.form)

    with pytest.raises(BadInput) as caught:
        act()
    assert str(caught.value).startswith(says)


def test_a_bad_byte_far_into_the_file_is_named() -> None:
    """Two bytes a character, so that a block ends inside one: 3 + 3,000 lines of 2 x 300 + 1 bytes."""
    data = b"a;\n" + ("é" * 300 + "\n").encode() * 3_000 + b"\xff"
    with pytest.raises(BadInput) as caught:
        rows(data, TextForm(delimiter=";"))
    assert caught.value.value == "byte 1803003"


def test_files_that_are_not_read(tmp_path: Path) -> None:
    (tmp_path / "empty.csv").write_bytes(b"\xef\xbb\xbf\r\n \n")
    cases = {
        tmp_path: "not a folder",
        Path("/dev/zero"): "not a folder or device",
        tmp_path / "empty.csv": "this one is empty",
        tmp_path / "none.csv": "that can be read",
        tmp_path / "\0": "that can be read",
    }
    for path, says in cases.items():
        with pytest.raises(BadInput, match=says):
            read_file(path)


def test_quoted_cells_run_over_lines_and_chunks() -> None:
    """Against the standard library's own reader on the whole text; longer than one chunk, the break in the middle of a cell."""
    text = "name,note\n" + "".join(f'{n},"line {n}\nmore ""{n}"""\n{n},plain\n' for n in range(30_000))
    got = [(n, row) for chunk in read_chunks(text.encode(), TextForm()) for n, row in zip(chunk.numbers, chunk.rows(), strict=True)]
    reader = csv.reader(io.StringIO(text, newline=""))
    assert got == [(reader.line_num, row) for row in reader]


cells = st.text(st.characters(exclude_characters="\0\r", exclude_categories=["Cs"]), max_size=9)


@settings(max_examples=150, deadline=None)
@given(
    st.lists(st.lists(cells, min_size=3, max_size=3), min_size=1, max_size=9), st.sampled_from(",;\t"), st.sampled_from(["utf-8", "utf-16"])
)
def test_any_table_that_the_standard_library_writes_reads_back(table: list[list[str]], delimiter: str, encoding: str) -> None:
    out = io.StringIO()
    csv.writer(out, delimiter=delimiter, lineterminator="\n").writerows(table)
    data = out.getvalue().encode(encoding)
    form = TextForm(encoding=encoding, delimiter=delimiter)
    mark = "\ufeff"  # in front of everything it is a byte order mark and no text
    if not table[0][0].startswith(mark):
        assert rows(data, form) == table


@settings(max_examples=100, deadline=None)
@given(st.lists(st.lists(st.text("ab 1.,;", max_size=4), min_size=0, max_size=4), min_size=1, max_size=12), st.integers(1, 4))
def test_columns_at_once_are_the_columns_of_the_rows_or_nothing(table: list[list[str]], width: int) -> None:
    text = "\n".join("\t".join(row) for row in table)
    wanted = list(range(width))
    for chunk in read_chunks(text.encode(), TextForm(delimiter="\t")):
        columns = chunk.columns(width, wanted)
        alike = all(len(row) == width for row in chunk.rows())
        if columns is not None:
            assert [[c.removesuffix("\n") for c in column] for column in columns] == [[row[n] for row in chunk.rows()] for n in wanted]
        else:
            assert not alike


def test_the_head_is_the_first_line_that_is_not_blank() -> None:
    assert head_cells(b"\n ,\n a , b\n", TextForm()) == ["a", "b"]
    assert head_cells(b"\n", TextForm()) == []
