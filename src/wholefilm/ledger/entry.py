"""One entry of the book: its bytes, its hash, and the door that refuses what is not an entry.

The bytes are the record. They are kept and handed on as they came, never made again.
"""

from __future__ import annotations

import re
from hashlib import sha256
from typing import Annotated, Any, NoReturn

import msgspec
from msgspec import UNSET, Meta, UnsetType

from wholefilm.base.errors import BadInput
from wholefilm.base.times import utc_ms

JOB_OPENED = "job.opened"
LONGEST = 65536  # bytes of one line without its line feed
INTEGER_BELOW = 2**53
DEEPEST = 32  # levels of lists and maps inside `body`

_UUID = re.compile(r"[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}")
_SHA256 = re.compile(r"[0-9a-f]{64}")
_HEX = "0123456789abcdef"
_KEY = re.compile(r"[a-z][a-z0-9_]*")
_KIND = re.compile(r"[a-z][a-z0-9_]{0,40}(?:\.[a-z][a-z0-9_]{0,40})?")
_KEY_FORM = "ASCII snake_case (a-z, 0-9, _, a letter first), or an id"
_UUID_FORM = "a lower-case UUID with hyphens"
_SHA256_FORM = "64 lower-case hex digits (SHA-256)"
_VALUE_FORM = "text, a whole number, true, false, a list or a map"
_INTEGER_FORM = "a whole number between -(2^53 - 1) and 2^53 - 1, without fraction, exponent or sign of zero"

_known_keys: set[str] = set()  # keys and ids that passed once; bounded, because entries repeat the same few
_known_ids: set[str] = set()
_known_kinds: set[str] = set()
_KNOWN_MOST = 4096


class Entry(msgspec.Struct, frozen=True, eq=False, gc=False):
    """One entry, as read from its bytes.

    Attributes
    ----------
    raw : bytes
        The line without its line feed: the record itself.
    hash : str
        SHA-256 of `raw`, lower-case hex.
    at : str
        Wall clock with offset when recorded, ``YYYY-MM-DDThh:mm:ss.sss+hh:mm``.
    ms : int
        The same in UTC since 1970. [ms]
    body : dict
        What is told; its form depends on `kind` and `version`.
    by, device, id, job, session : str
        Lower-case UUIDs.
    kind : str
    prev : str
        Hash of this device's entry before; for its first that of the entry that opened the job; for that one empty text.
    seq : int
        1, 2, 3 per device and job.
    tick : int
        Time since `session` began. [ms]
    version : int
        Version of the body's form.
    heads : dict of str to (int, str), or None
        Where stated: device -> (seq, hash) of all that the writer had seen.
    refs : tuple of str
        Ids that stand as a value in the line (the job's too), its own left out.
    blobs : tuple of str
        SHA-256 texts that stand as a value in the body.
    """

    raw: bytes
    hash: str
    at: str
    ms: int
    body: dict[str, Any]
    by: str
    device: str
    id: str
    job: str
    kind: str
    prev: str
    seq: int
    session: str
    tick: int
    version: int
    heads: dict[str, tuple[int, str]] | None
    refs: tuple[str, ...]
    blobs: tuple[str, ...]

    @property
    def place(self) -> str:
        """Device, number and id, for a message."""
        return f"device {self.device}, seq {self.seq}, id {self.id}"


class _WrongError(Exception):
    """The fast path met something that is no part of an entry; `_explain` says what."""


def _no_float(_: str) -> NoReturn:
    raise _WrongError


_Number = Annotated[int, Meta(gt=0, lt=INTEGER_BELOW)]


class _Line(msgspec.Struct, forbid_unknown_fields=True, gc=False, kw_only=True):
    """The fields of a line, in the order in which they are written."""

    at: str
    body: dict[str, Any]
    by: str
    device: str
    heads: dict[str, Any] | UnsetType = UNSET
    id: str
    job: str
    kind: str
    prev: str
    seq: _Number
    session: str
    tick: Annotated[int, Meta(ge=0, lt=INTEGER_BELOW)]
    version: _Number


_decoder = msgspec.json.Decoder(_Line, float_hook=_no_float)
_encoder = msgspec.json.Encoder(order="sorted")


def is_id(text: object) -> bool:
    """Whether a value is a lower-case UUID with hyphens."""
    return type(text) is str and len(text) == 36 and _UUID.fullmatch(text) is not None


def is_sha256(text: object) -> bool:
    """Whether a value is a SHA-256 in lower-case hex."""
    return type(text) is str and len(text) == 64 and _SHA256.fullmatch(text) is not None


def canonical(obj: dict[str, Any]) -> bytes:
    """Write a map in the one form that the book knows.

    Parameters
    ----------
    obj : dict

    Returns
    -------
    bytes
        UTF-8 JSON, keys sorted, no spaces: the bytes of JavaScript's ``JSON.stringify`` over sorted ASCII keys.

    Raises
    ------
    BadInput
        If a text holds a lone surrogate or a value has no JSON form.
    """
    try:
        return _encoder.encode(obj)
    except UnicodeEncodeError as error:
        raise BadInput("text", ascii(error.object), "whole characters only, no lone surrogate") from error
    except (TypeError, ValueError, OverflowError, RecursionError, msgspec.MsgspecError) as error:
        raise BadInput("value", ascii(obj), _VALUE_FORM) from error


def uuid7(ms: int, rand: bytes) -> str:
    """Id of time and chance.

    Parameters
    ----------
    ms : int
        UTC since 1970. [ms]
    rand : bytes, length 10
        Random bytes; 74 of their bits are used.

    Returns
    -------
    str
        UUID version 7.

    Raises
    ------
    BadInput
        If `ms` does not fit 48 bits or `rand` has not 10 bytes.

    References
    ----------
    .. [1] RFC 9562, 2024, section 5.7. Grade: memory.
    """
    if not 0 <= ms < 1 << 48:
        raise BadInput("ms", ms, "0 to 2^48 - 1")
    if len(rand) != 10:
        raise BadInput("rand", rand.hex(), "10 bytes")
    low = int.from_bytes(rand, "big")
    value = ms << 80 | 0x7 << 76 | (low >> 62 & 0xFFF) << 64 | 0b10 << 62 | low & (1 << 62) - 1
    text = f"{value:032x}"
    return f"{text[:8]}-{text[8:12]}-{text[12:16]}-{text[16:20]}-{text[20:]}"


def _check_key(key: str) -> None:
    if _KEY.fullmatch(key):
        if len(_known_keys) < _KNOWN_MOST:
            _known_keys.add(key)
    elif not is_id(key):
        raise _WrongError


def _check_id(value: object) -> None:
    if not is_id(value):
        raise _WrongError
    if len(_known_ids) < _KNOWN_MOST:
        _known_ids.add(str(value))


def _walk(value: Any, depth: int, ids: list[str], shas: list[str]) -> None:
    """Check every key and value below; gather the ids and hashes that stand as values."""
    if depth > DEEPEST:
        raise _WrongError
    items = value
    if type(value) is dict:
        for key in value:
            if key not in _known_keys:
                _check_key(key)
        items = value.values()
    for item in items:
        kind = type(item)
        if kind is str:
            size = len(item)
            if size == 36:
                if _UUID.fullmatch(item):
                    ids.append(item)
            elif size == 64 and _SHA256.fullmatch(item):
                shas.append(item)
        elif kind is dict or kind is list:
            _walk(item, depth + 1, ids, shas)
        elif kind is int:
            if not -INTEGER_BELOW < item < INTEGER_BELOW:
                raise _WrongError
        elif kind is not bool:
            raise _WrongError


def _heads(value: dict[str, Any]) -> dict[str, tuple[int, str]]:
    heads = {}
    for device, pair in value.items():
        if type(pair) is not list or len(pair) != 2 or not is_id(device) or not is_sha256(pair[1]):
            raise _WrongError
        if type(pair[0]) is not int or not 0 < pair[0] < INTEGER_BELOW:
            raise _WrongError
        heads[device] = (pair[0], pair[1])
    return heads


def parse_entry(raw: bytes, where: str | int = "entry") -> Entry:
    """The door: read one line, refuse whatever is not an entry in canonical form.

    Parameters
    ----------
    raw : bytes
        The line without its line feed, at most 65,536 bytes.
    where : str or int
        Name of the place in a message, such as ``"line 12"``; 12 means the same.

    Returns
    -------
    Entry

    Raises
    ------
    BadInput
        With the field, the value and what is allowed.
    """
    try:
        return _parse(raw)
    except (_WrongError, BadInput, msgspec.MsgspecError, UnicodeError, ValueError, RecursionError):
        from .door import explain  # needed only when something is wrong

        raise explain(raw, where if isinstance(where, str) else f"line {where}") from None


def _parse(raw: bytes) -> Entry:
    if len(raw) > LONGEST:
        raise _WrongError
    told = _decoder.decode(raw)
    body, by, device, ident, job, kind, prev, session = (
        told.body, told.by, told.device, told.id, told.job, told.kind, told.prev, told.session,
    )  # fmt: skip
    stated = None if told.heads is UNSET else _heads(told.heads)
    for name in (by, device, job, session):
        if name not in _known_ids:
            _check_id(name)
    if not _UUID.fullmatch(ident):
        raise _WrongError
    if kind not in _known_kinds:
        if not _KIND.fullmatch(kind):
            raise _WrongError
        if len(_known_kinds) < _KNOWN_MOST:
            _known_kinds.add(kind)
    if kind == JOB_OPENED:
        if ident != job or prev or told.seq != 1:
            raise _WrongError
    elif ident == job or len(prev) != 64 or prev.strip(_HEX):
        raise _WrongError
    ids = [job, by, device, session]
    shas: list[str] = []
    _walk(body, 1, ids, shas)
    if _encoder.encode(told) != raw:
        raise _WrongError
    found = dict.fromkeys(ids)
    found.pop(ident, None)
    return Entry(
        bytes(raw), sha256(raw).hexdigest(), told.at, utc_ms(told.at), body, by, device, ident, job, kind,
        prev, told.seq, session, told.tick, told.version, stated, tuple(found), tuple(shas),
    )  # fmt: skip


def make_entry(
    *,
    at: str,
    body: dict[str, Any],
    by: str,
    device: str,
    id: str,
    job: str,
    kind: str,
    prev: str,
    seq: int,
    session: str,
    tick: int,
    version: int,
    heads: dict[str, tuple[int, str]] | None = None,
) -> Entry:
    """Write a new entry and read it back through the door.

    Parameters
    ----------
    at, body, by, device, id, job, kind, prev, seq, session, tick, version, heads
        As in `Entry`.

    Returns
    -------
    Entry

    Raises
    ------
    BadInput
        As `parse_entry`, and if a text holds a lone surrogate.
    """
    obj: dict[str, Any] = {
        "at": at, "body": body, "by": by, "device": device, "id": id, "job": job, "kind": kind, "prev": prev, "seq": seq,
        "session": session, "tick": tick, "version": version,
    }  # fmt: skip
    if heads is not None:
        obj["heads"] = heads
    return parse_entry(canonical(obj))
