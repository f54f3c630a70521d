"""What is wrong with a line that the door refused: the field, the value, what is allowed. Slow, and only then."""

from __future__ import annotations

import json
from typing import Any

from wholefilm.base.errors import BadInput
from wholefilm.base.times import utc_ms

from . import entry as form

_REQUIRED = ("at", "body", "by", "device", "id", "job", "kind", "prev", "seq", "session", "tick", "version")


class _Number(str):
    """A number with a fraction or an exponent, as written."""


class _Pairs(dict[str, Any]):
    """A map that remembers a key written twice."""

    twice: str | None = None


def _pairs(pairs: list[tuple[str, Any]]) -> _Pairs:
    found = _Pairs()
    for key, value in pairs:
        if key in found:
            found.twice = key
        found[key] = value
    return found


def explain(raw: bytes, where: str) -> BadInput:
    """Say why a line is no entry.

    Parameters
    ----------
    raw : bytes
        The line that was refused.
    where : str
        Name of the place, put before the field.

    Returns
    -------
    BadInput
        Always one; the most telling that was found.
    """
    if len(raw) > form.LONGEST:
        return BadInput(where, f"{len(raw)} bytes", f"at most {form.LONGEST} bytes")
    if b"\n" in raw or b"\r" in raw:
        return BadInput(where, _shown(raw), "one line, without a line feed or carriage return")
    try:
        obj = json.loads(raw.decode("utf-8"), object_pairs_hook=_pairs, parse_float=_Number, parse_constant=_Number)
    except UnicodeDecodeError as error:
        return BadInput(where, f"byte {error.start + 1}: {raw[error.start : error.start + 8]!r}", "UTF-8")
    except RecursionError:
        return BadInput(where, _shown(raw), f"at most {form.DEEPEST} levels of lists and maps")
    except ValueError as error:
        return BadInput(where, f"{_shown(raw)} ({error})", "one line of JSON")
    if not isinstance(obj, _Pairs):
        return BadInput(where, _shown(raw), "a map of the fields of an entry")
    return _fields(obj, where) or _below(obj["body"], f"{where}, body", 1) or _form(obj, raw, where)


def _shown(raw: bytes) -> str:
    return raw.decode("utf-8", "backslashreplace")[:100]


def _named(key: str) -> str:
    """A key as it can be printed, whatever it holds."""
    return _shown(key.encode("utf-8", "backslashreplace"))


def _fields(obj: _Pairs, where: str) -> BadInput | None:
    names = _REQUIRED
    if obj.twice is not None:
        return BadInput(f"{where}, {_named(obj.twice)}", "written twice", "each key once")
    for name in names:
        if name not in obj:
            return BadInput(f"{where}, {name}", "missing", f"an entry has {', '.join(names)} and, where stated, heads")
    for name in obj:
        if name not in (*_REQUIRED, "heads"):
            return BadInput(f"{where}, {_named(name)}", obj[name], f"no field but {', '.join(names)}, heads")
    for name in ("by", "device", "id", "job", "session"):
        if not form.is_id(obj[name]):
            return BadInput(f"{where}, {name}", obj[name], form._UUID_FORM)
    for name, least in (("seq", 1), ("tick", 0), ("version", 1)):
        value = obj[name]
        if type(value) is not int or not least <= value < form.INTEGER_BELOW:
            return BadInput(f"{where}, {name}", value, f"a whole number from {least} to 2^53 - 1")
    if type(obj["kind"]) is not str or not form._KIND.fullmatch(obj["kind"]):
        return BadInput(f"{where}, kind", obj["kind"], "lower-case words such as 'panel.tested'")
    if type(obj["at"]) is not str:
        return BadInput(f"{where}, at", obj["at"], "YYYY-MM-DDThh:mm:ss.sss+hh:mm")
    try:
        utc_ms(obj["at"], f"{where}, at")
    except BadInput as error:
        return error
    if type(obj["body"]) is not _Pairs:
        return BadInput(f"{where}, body", obj["body"], "a map")
    return _opening(obj, where) or _stated(obj, where)


def _opening(obj: _Pairs, where: str) -> BadInput | None:
    if obj["kind"] == form.JOB_OPENED:
        if obj["id"] != obj["job"]:
            return BadInput(f"{where}, job", obj["job"], f"the entry's own id, because {form.JOB_OPENED} starts a job")
        if obj["prev"] != "":
            return BadInput(f"{where}, prev", obj["prev"], f"empty text, because {form.JOB_OPENED} has nothing before it")
        if obj["seq"] != 1:
            return BadInput(f"{where}, seq", obj["seq"], f"1, because {form.JOB_OPENED} is the first entry")
        return None
    if obj["id"] == obj["job"]:
        return BadInput(f"{where}, id", obj["id"], f"another id than the job's, which belongs to its {form.JOB_OPENED}")
    if not form.is_sha256(obj["prev"]):
        return BadInput(f"{where}, prev", obj["prev"], f"{form._SHA256_FORM} of the device's entry before")
    return None


def _stated(obj: _Pairs, where: str) -> BadInput | None:
    if "heads" not in obj:
        return None
    heads = obj["heads"]
    allowed = f"a map from device ({form._UUID_FORM}) to [seq, hash], seq from 1, hash {form._SHA256_FORM}"
    if type(heads) is not _Pairs:
        return BadInput(f"{where}, heads", heads, allowed)
    if heads.twice is not None:
        return BadInput(f"{where}, heads {_named(heads.twice)}", "written twice", "each device once")
    for device in heads:
        try:
            form._heads({device: heads[device]})
        except form._WrongError:
            return BadInput(f"{where}, heads {_named(device)}", heads[device], allowed)
    return None


def _below(value: Any, where: str, depth: int) -> BadInput | None:
    if depth > form.DEEPEST:
        return BadInput(where, "deeper", f"at most {form.DEEPEST} levels of lists and maps")
    if type(value) is _Pairs:
        if value.twice is not None:
            return BadInput(f"{where}.{_named(value.twice)}", "written twice", "each key once")
        for key, item in value.items():
            if not form._KEY.fullmatch(key) and not form.is_id(key):
                return BadInput(f"{where}, key", key, form._KEY_FORM)
            if (found := _below(item, f"{where}.{key}", depth + 1)) is not None:
                return found
    elif type(value) is list:
        for n, item in enumerate(value):
            if (found := _below(item, f"{where}[{n}]", depth + 1)) is not None:
                return found
    return None if type(value) in (_Pairs, list) else _single(value, where)


def _single(value: Any, where: str) -> BadInput | None:
    if type(value) is _Number or (type(value) is int and not -form.INTEGER_BELOW < value < form.INTEGER_BELOW):
        return BadInput(where, value, form._INTEGER_FORM)
    if value is None:
        return BadInput(where, "null", f"{form._VALUE_FORM}; what is empty is left out")
    if type(value) is str and any("\ud800" <= c <= "\udfff" for c in value):
        return BadInput(where, ascii(value), "whole characters only, no lone surrogate")
    return None


def _form(obj: _Pairs, raw: bytes, where: str) -> BadInput:
    """The content is right, the writing is not: name the first byte that differs."""
    made = form.canonical(obj)
    at = next((n for n, (a, b) in enumerate(zip(made, raw, strict=False)) if a != b), min(len(made), len(raw)))
    seen, wanted = _shown(raw[at : at + 20]), _shown(made[at : at + 20])
    return BadInput(f"{where}, byte {at + 1}", seen, f"canonical form (keys sorted, no spaces, no needless escapes), here {wanted!r}")
