"""The door and the form: an entry is one line, and only in one form."""

from __future__ import annotations

import json
import shutil
import subprocess
import uuid
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ledger.book import Book, uid
from wholefilm.base.errors import BadInput
from wholefilm.ledger.entry import canonical, make_entry, parse_entry, uuid7

DEVICE, PERSON, SESSION, JOB, IDENT = uid(1), uid(2), uid(3), uid(4), uid(5)
GOOD: dict[str, Any] = {
    "at": "2025-06-03T16:55:00.250+02:00", "body": {"note": "x"}, "by": PERSON, "device": DEVICE, "id": IDENT, "job": JOB,
    "kind": "item.added", "prev": "a" * 64, "seq": 2, "session": SESSION, "tick": 0, "version": 1,
}  # fmt: skip


def line(**changes: Any) -> bytes:
    """A good line with fields changed (None = left out), written by Python's json, which is not under test."""
    obj = {name: value for name, value in (GOOD | changes).items() if value is not None}
    return json.dumps(obj, sort_keys=True, separators=(",", ":"), ensure_ascii=False).encode("utf-8", "surrogatepass")


# Bytes of JSON.stringify (ECMA-262, QuoteJSONString: only ", \, and what lies below U+0020 is escaped, lower-case hex), typed by hand.
GOLDEN = [
    ({"b": 1, "a": 2}, b'{"a":2,"b":1}'),
    ({"t": 'q"b\\s/'}, b'{"t":"q\\"b\\\\s/"}'),
    ({"t": "\b\t\n\f\r\x00\x0b\x1f"}, b'{"t":"\\b\\t\\n\\f\\r\\u0000\\u000b\\u001f"}'),
    ({"t": "\x7f"}, b'{"t":"\x7f"}'),
    ({"t": "\u2028\u2029"}, b'{"t":"\xe2\x80\xa8\xe2\x80\xa9"}'),
    ({"t": "\u00b5m \u03a9 \U0001f600"}, b'{"t":"\xc2\xb5m \xce\xa9 \xf0\x9f\x98\x80"}'),
    ({"t": "</script>&'"}, b'{"t":"</script>&\'"}'),
    ({"n": [9007199254740991, -1, 0, True, False]}, b'{"n":[9007199254740991,-1,0,true,false]}'),
    ({"a_b": 1, "a": 1, "a1": 1, "ab": 1}, b'{"a":1,"a1":1,"a_b":1,"ab":1}'),
]


@pytest.mark.parametrize(("obj", "written"), GOLDEN)
def test_canonical_form_is_that_of_json_stringify(obj: dict[str, Any], written: bytes) -> None:
    assert canonical(obj) == written


SORTED_STRINGIFY = """
const sort = v => Array.isArray(v) ? v.map(sort) : v && typeof v === 'object'
  ? Object.fromEntries(Object.keys(v).sort().map(k => [k, sort(v[k])])) : v;
for (const line of require('fs').readFileSync(0, 'utf8').split('\\n')) if (line) console.log(JSON.stringify(sort(JSON.parse(line))));
"""


def test_canonical_form_against_a_javascript_engine() -> None:
    """Where there is no JavaScript engine the golden bytes above are the check; here every one is also made by it."""
    node = shutil.which("node")
    if node is None:
        return test_canonical_form_is_that_of_json_stringify(*GOLDEN[2])
    rare = [{"t": chr(c)} for c in [*range(0x00, 0x250), *range(0x2000, 0x2070), 0xD7FF, 0xE000, 0xFEFF, 0xFFFD, 0xFFFF, 0x10FFFF]]
    objs = [obj for obj, _ in GOLDEN] + rare + [{uid(9): {"z": [{"b": 1, "a": {}}], "a": []}}]
    given = "\n".join(json.dumps(obj) for obj in objs)
    done = subprocess.run([node, "-e", SORTED_STRINGIFY], input=given.encode(), capture_output=True, check=True, timeout=30)
    assert done.stdout.split(b"\n")[:-1] == [canonical(obj) for obj in objs]


KEYS = st.from_regex(r"[a-z][a-z0-9_]{0,8}", fullmatch=True)
VALUES = st.recursive(
    st.booleans() | st.integers(-(2**53) + 1, 2**53 - 1) | st.text(st.characters(exclude_categories=("Cs",))),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(KEYS, inner, max_size=4),
    max_leaves=12,
)


@settings(max_examples=300, deadline=None)
@given(st.dictionaries(KEYS, VALUES, max_size=5))
def test_canonical_form_against_python_json_and_round_trip(body: dict[str, Any]) -> None:
    assert canonical(body) == json.dumps(body, sort_keys=True, separators=(",", ":"), ensure_ascii=False).encode()
    raw = line(body=body)
    entry = parse_entry(raw)
    assert (entry.raw, entry.body) == (raw, body)


def test_hash_is_sha256_of_the_line_as_coreutils_count_it(tmp_path: Path) -> None:
    (tmp_path / "line").write_bytes(line())
    done = subprocess.run(["sha256sum", tmp_path / "line"], capture_output=True, check=True, timeout=30)
    assert parse_entry(line()).hash == done.stdout.decode().split()[0]


def test_fields_of_a_good_entry() -> None:
    heads = {DEVICE: [1, "b" * 64]}
    body = {"repair": uid(7), "files": ["c" * 64], "per_item": {uid(8): "1"}, "text": f'":{uid(6)}",', "list": [uid(9), DEVICE]}
    entry = parse_entry(line(heads=heads, body=body))
    assert entry.ms == 1748962500250  # GNU date: date -d 2025-06-03T16:55:00.250+02:00 +%s%3N
    assert entry.heads == {DEVICE: (1, "b" * 64)}
    assert set(entry.refs) == {JOB, PERSON, DEVICE, SESSION, uid(7), uid(9)}
    assert entry.blobs == ("c" * 64,)


UUID = "lower-case UUID"
REFUSED: list[tuple[bytes, str, str]] = [
    (line(at="2025-06-03T16:55:00.250Z"), "at", "+hh:mm"),
    (line(at="2025-06-03T16:55:00+02:00"), "at", "ss.sss"),
    (line(at="2025-02-30T16:55:00.000+02:00"), "at", "real time"),
    (line(at="2025-06-03T16:55:60.000+02:00"), "at", "real time"),
    (line(at="2025-06-03T16:55:0\u0661.000+02:00"), "at", "YYYY"),
    (line(at=5), "at", "YYYY"),
    (line(body=[]), "body", "a map"),
    (line(by=PERSON.upper()), "by", UUID),
    (line(device=DEVICE.replace("-", "")), "device", UUID),
    (line(id="x"), "id", UUID),
    (line(job=7), "job", UUID),
    (line(session=""), "session", UUID),
    (line(kind="Item.Added"), "kind", "lower-case words"),
    (line(kind="a.b.c"), "kind", "lower-case words"),
    (line(prev=""), "prev", "64 lower-case hex"),
    (line(prev="A" * 64), "prev", "64 lower-case hex"),
    (line(seq=0), "seq", "from 1"),
    (line(seq=True), "seq", "from 1"),
    (line(seq="2"), "seq", "from 1"),
    (line(seq=2**53), "seq", "2^53"),
    (line(tick=-1), "tick", "from 0"),
    (line(version=0), "version", "from 1"),
    (line(seq=2.0), "seq", "whole number"),
    (line(body=None), "body", "an entry has"),
    (line(extra=1), "extra", "no field but"),
    (line(id=JOB), "id", "another id"),
    (line(kind="job.opened", prev="", seq=1), "job", "own id"),
    (line(kind="job.opened", id=JOB, seq=1), "prev", "empty text"),
    (line(kind="job.opened", id=JOB, prev="", seq=2), "seq", "1"),
    (line(heads=[]), "heads", "a map from device"),
    (line(heads={DEVICE: [0, "b" * 64]}), f"heads {DEVICE}", "seq from 1"),
    (line(heads={DEVICE: [1, "b"]}), f"heads {DEVICE}", "hash"),
    (line(heads={"x": [1, "b" * 64]}), "heads x", "device"),
    (line(body={"v": 1.5}), "body.v", "without fraction"),
    (line(body={"v": 1.0}), "body.v", "without fraction"),
    (line().replace(b'"x"', b"1e3"), "body.note", "exponent"),
    (line().replace(b'"x"', b"NaN"), "body.note", "whole number"),
    (line().replace(b'"x"', b"-0"), "entry, byte", "canonical"),
    (line().replace(b'"x"', b"01"), "entry", "JSON"),
    (line(body={"v": [{"w": 2**53}]}), "body.v[0].w", "2^53"),
    (line(body={"v": -(2**53)}), "body.v", "2^53"),
    (line(body={"v": 10**30}), "body.v", "2^53"),
    (line().replace(b'"x"', b"null"), "body.note", "left out"),
    (line().replace(b'"x"', b"[null]"), "body.note[0]", "left out"),
    (line(body={"Key": 1}), "body, key", "snake_case"),
    (line(body={"a": {"b-c": 1}}), "body.a, key", "snake_case"),
    (line(body={"\u00e4": 1}), "body, key", "snake_case"),
    (line(body={PERSON.upper(): 1}), "body, key", "an id"),
    (line().replace(b'{"note":"x"}', b'{"note":"x","note":"x"}'), "body.note", "each key once"),
    (line().replace(b'"tick":0', b'"tick":0,"tick":0'), "tick", "each key once"),
    (line().replace(b'"seq":2,', b'"seq": 2,'), "byte", "canonical"),
    (line().replace(b'"x"', b'"\\u0078"'), "byte", "canonical"),
    (line().replace(b'"x"', b'"\\/"'), "byte", "canonical"),
    (line().replace(b'"x"', b'"\\u001F"'), "byte", "canonical"),
    (line().replace(b'"x"', b'"\\ud800"'), "body.note", "lone surrogate"),
    (line().replace(b'"x"', b'"\xed\xa0\x80"'), "entry", "UTF-8"),
    (line().replace(b'"x"', b'"\xff"'), "entry", "UTF-8"),
    (line() + b"\n", "entry", "one line"),
    (line() + b" ", "byte", "canonical"),
    (b" " + line(), "byte", "canonical"),
    (b"\xef\xbb\xbf" + line(), "entry", "JSON"),
    (line(body={"t": "x" * 65536}), "entry", "65536 bytes"),
    (b"[" * 40000, "entry", "levels"),
    (line(body={"v": json.loads("[" * 40 + "]" * 40)}), "body.v", "levels"),
    (b"[]", "entry", "a map"),
    (b"7", "entry", "a map"),
    (b"", "entry", "JSON"),
    (line()[:-1], "entry", "JSON"),
]  # fmt: skip


@pytest.mark.parametrize(("raw", "field", "allowed"), REFUSED, ids=[f"{n}-{field}" for n, (_, field, _) in enumerate(REFUSED)])
def test_the_door_refuses_and_names_field_and_what_is_allowed(raw: bytes, field: str, allowed: str) -> None:
    with pytest.raises(BadInput) as caught:
        parse_entry(raw, "entry")
    assert field in caught.value.field
    assert allowed in caught.value.allowed


def test_the_longest_line_is_65536_bytes() -> None:
    room = 65536 - len(line(body={"t": ""}))
    assert len(parse_entry(line(body={"t": "x" * room})).raw) == 65536
    with pytest.raises(BadInput, match="65537 bytes"):
        parse_entry(line(body={"t": "x" * (room + 1)}))


@settings(max_examples=400, deadline=None)
@given(st.integers(0, len(line()) - 1), st.integers(0, 255))
def test_any_byte_changed_is_refused_or_another_entry(place: int, byte: int) -> None:
    raw = bytearray(line())
    raw[place] = byte
    try:
        entry = parse_entry(bytes(raw))
    except BadInput:
        return
    assert entry.raw == bytes(raw)
    assert (entry.hash == parse_entry(line()).hash) == (bytes(raw) == line())


@settings(max_examples=400, deadline=None)
@given(st.sampled_from([*GOOD, "heads", "new", "\ud800", "body"]), VALUES | st.floats() | st.just("\ud800"), st.booleans())
def test_any_field_set_to_anything_is_an_entry_or_a_message_that_can_be_printed(name: str, value: Any, inside: bool) -> None:
    changes = {"body": {name: value}} if inside else {name: value}
    raw = json.dumps(GOOD | changes, sort_keys=True, separators=(",", ":")).encode()
    try:
        said = parse_entry(raw).raw
    except BadInput as error:
        said = str(error).encode("utf-8")
    assert said == raw or said.startswith(b"entry")


def test_make_entry_refuses_what_the_door_refuses() -> None:
    with pytest.raises(BadInput, match="lone surrogate"):
        make_entry(**(GOOD | {"body": {"t": "\ud800"}}))
    with pytest.raises(BadInput, match="without fraction"):
        make_entry(**(GOOD | {"body": {"v": 1.5}}))
    assert make_entry(**GOOD).raw == line()


def test_uuid7_worked_example_of_rfc_9562() -> None:
    """RFC 9562 (2024), appendix A.6: time 017F22E279B0, rand_a CC3, rand_b 18C4DC0C0C07398F. Typed from memory."""
    rand = (0xCC3 << 62 | 0x18C4DC0C0C07398F).to_bytes(10, "big")
    made = uuid7(0x017F22E279B0, rand)
    assert made == "017f22e2-79b0-7cc3-98c4-dc0c0c07398f"
    assert (uuid.UUID(made).version, uuid.UUID(made).variant) == (7, uuid.RFC_4122)
    assert uuid7(0x017F22E279B0, b"\xff" * 10) == "017f22e2-79b0-7fff-bfff-ffffffffffff"
    for wrong in (-1, 1 << 48):
        with pytest.raises(BadInput, match="ms"):
            uuid7(wrong, bytes(10))
    with pytest.raises(BadInput, match="10 bytes"):
        uuid7(0, bytes(9))


def test_an_entry_of_the_book_reads_back() -> None:
    for entry in Book().fill(30).entries:
        assert parse_entry(entry.raw).hash == entry.hash
