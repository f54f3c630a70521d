"""KEY=VALUE words to the body of an entry: dotted keys go deep, a repeated key makes a list."""

from __future__ import annotations

import json
import re
from collections.abc import Sequence
from typing import Any

import msgspec
from msgspec import inspect as look

from wholefilm.base.errors import BadInput
from wholefilm.job.facts import Job
from wholefilm.job.kinds import KINDS
from wholefilm.job.kinds.common import Place
from wholefilm.job.upcast import newest
from wholefilm.surface import parse_place_text

from .refs import BY_FIELD, PEOPLE, entry_id, person_id
from .view import read_time

_HINTS = {"card": "card.name=... (card.certificate=..., card.contact=...)"}
"""How a field is typed that the program makes of fields of its own."""
_ID = r"^[0-9a-f]{8}-"


def read_words(words: Sequence[str]) -> dict[str, Any]:
    """KEY=VALUE words as a nested map of texts.

    Raises
    ------
    BadInput
        If a word has no ``=`` or a key is used as a value and as a map at once.
    """
    body: dict[str, Any] = {}
    for word in words:
        key, eq, value = word.partition("=")
        if not eq or not key:
            raise BadInput("KEY=VALUE", word, "a field, an equals sign and a value, such as panel=S3-4 or happened.from=...")
        *path, last = key.split(".")
        at = body
        for name in path:
            at = at.setdefault(name, {})
            if not isinstance(at, dict):
                raise BadInput(key, value, f"{name} is given as a value already")
        given: Any = _json(value, key) if value[:1] in ("[", "{") else value
        if last not in at:
            at[last] = given
        elif isinstance(at[last], list):
            at[last].append(given)
        else:
            at[last] = [at[last], given]
    return body


def _json(text: str, key: str) -> Any:
    try:
        return json.loads(text)
    except ValueError as error:
        raise BadInput(key, text, f"JSON, since it begins with {text[0]}; {where_wrong(error)}") from error


def where_wrong(error: ValueError) -> str:
    """Where a text stops being JSON, in words."""
    if isinstance(error, json.JSONDecodeError):
        return f"it goes wrong at line {error.lineno}, character {error.colno}"
    return "it goes wrong"


def typed_body(job: Job, kind: str, given: dict[str, Any], path: str = "") -> dict[str, Any]:
    """Texts turned into what the kind's body wants, and numbers that people say into ids.

    Parameters
    ----------
    job : Job
    kind : str
    given : dict
        As read by `read_words` or from a JSON file.
    path : str
        What stands before the name of a field in a message, such as ``body.``.

    Raises
    ------
    BadInput
        If the kind is unknown or a number names no entry.
    """
    if kind not in KINDS:
        raise BadInput("KIND", kind, "one of: " + ", ".join(KINDS))
    return dict(_struct(job, newest(kind), given, path))


def _struct(job: Job, struct: type[msgspec.Struct], given: dict[str, Any], path: str) -> dict[str, Any]:
    info = look.type_info(struct)
    assert isinstance(info, look.StructType)
    fields = {f.encode_name: f for f in info.fields}
    unknown = [k for k in given if k not in fields]
    if unknown:
        raise BadInput(f"{path}{unknown[0]}", given[unknown[0]], "one of the fields " + ", ".join(fields))
    missing = [n for n, f in fields.items() if f.required and n not in given]
    if missing:
        needed = ", ".join(_HINTS.get(n, n) for n, f in fields.items() if f.required)
        raise BadInput(f"{path}{missing[0]}", None, f"a value; needed in all: {needed}")
    joins = struct is newest("person.joined")
    return {n: v if joins and n == "person" else _value(job, fields[n].type, v, n, path) for n, v in given.items()}


def _value(job: Job, kind: look.Type, value: Any, name: str, path: str, says: str = "") -> Any:
    """A value as its field takes it; `says` tells in words what that is."""
    field = f"{path}{name}"
    if isinstance(kind, look.Metadata):
        if (kind.extra or {}).get("time") and isinstance(value, str):
            return read_time(value, str(job.opened.body.time_zone) if job.opened else "UTC", field)
        says = str((kind.extra_json_schema or {}).get("description", says))
        return _value(job, kind.type, value, name, path, says)
    if isinstance(kind, look.UnionType):
        kinds = [k for k in kind.types if not isinstance(k, look.NoneType)]
        chosen = next((k for k in kinds if isinstance(k, look.ListType) == isinstance(value, list)), kinds[0])
        return _value(job, chosen, value, name, path, says)
    if isinstance(kind, look.StructType):
        if kind.cls is Place and isinstance(value, str):
            value = parse_place_text(value)
        if not isinstance(value, dict):
            raise BadInput(field, value, f"fields of its own, such as {name}.{kind.fields[0].encode_name}=...")
        return _struct(job, kind.cls, value, f"{field}.")
    if isinstance(kind, look.ListType):
        items = value if isinstance(value, list) else [value]
        return [_value(job, kind.item_type, v, name, path, says) for v in items]
    if isinstance(kind, look.DictType):
        if not isinstance(value, dict):
            raise BadInput(field, value, f"fields of its own, such as {name}.form=..., or JSON in braces")
        whole = isinstance(value.get("rule"), dict)  # a whole rule travels as it is: its figures and editions are texts
        return value if whole else _loose(value)
    if isinstance(value, str):
        value = _meant(job, kind, value, name, field)
    _leaf(kind, value, field, says)
    return value


def _meant(job: Job, kind: look.Type, value: str, name: str, field: str) -> Any:
    """What a typed word means for its field: yes or no, a whole number, the id that a number or a name stands for."""
    if isinstance(kind, look.BoolType):
        return {"true": True, "yes": True, "false": False, "no": False}.get(value.lower(), value)
    if isinstance(kind, look.IntType) and value.lstrip("-").isdigit():
        return int(value)
    if isinstance(kind, look.StrType) and (kind.pattern or "").startswith(_ID):
        if name in PEOPLE:
            return person_id(job, value, field) if value not in job.people and job.people else value
        if name == "device":
            return _device(job, value, field)
        if name in BY_FIELD or name in ("of", "over", "keep", "entries", "files", "holidays", "countersigns"):
            return entry_id(job, value, name)
    return value


def _device(job: Job, value: str, field: str) -> str:
    """Id of a device said by its letter; an id stays as it is."""
    if re.match(_ID, value):
        return value
    found = [ident for ident, letter in job.devices.items() if letter == value]
    if not found:
        raise BadInput(field, value, f"the letter of a device of this job: {', '.join(sorted(set(job.devices.values())))}")
    return found[0]


def _leaf(kind: look.Type, value: Any, field: str, says: str) -> None:
    """Refuse a value that its field does not take, in words: empty text, a number for text, a text of another form."""
    if isinstance(kind, look.LiteralType) and value not in kind.values:
        raise BadInput(field, value, ", ".join(str(v) for v in kind.values))
    if isinstance(kind, look.BoolType) and not isinstance(value, bool):
        raise BadInput(field, value, "yes or no")
    if isinstance(kind, look.IntType):
        if not isinstance(value, int) or isinstance(value, bool):
            raise BadInput(field, value, "a whole number")
        if kind.ge is not None and value < kind.ge:
            raise BadInput(field, value, f"a whole number, {kind.ge} or more")
    if isinstance(kind, look.StrType):
        if not isinstance(value, str):
            raise BadInput(field, value, says or "text")
        if not value:
            raise BadInput(field, value, "a value; leave the field out if there is none")
        if kind.pattern and re.search(kind.pattern, value) is None:
            raise BadInput(field, value, says or f"text of the form {kind.pattern}")


def _loose(value: Any) -> Any:
    """Values of a free map: whole numbers, yes and no are read as such."""
    if isinstance(value, dict):
        return {k: _loose(v) for k, v in value.items()}
    if isinstance(value, list):
        return [_loose(v) for v in value]
    if isinstance(value, str) and value.lstrip("-").isdigit() and (value == "0" or not value.lstrip("-").startswith("0")):
        return int(value)
    return {"true": True, "false": False}.get(value, value) if isinstance(value, str) else value
