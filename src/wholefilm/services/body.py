"""KEY=VALUE words to the body of an entry: dotted keys go deep, a repeated key makes a list."""

from __future__ import annotations

import json
from collections.abc import Sequence
from typing import Any

import msgspec
from msgspec import inspect as look

from wholefilm.base.errors import BadInput
from wholefilm.job.facts import Job
from wholefilm.job.kinds import KINDS
from wholefilm.job.upcast import newest

from .refs import BY_FIELD, PEOPLE, entry_id, person_id

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
        given: Any = _json(value, key) if value[:1] in "[{" else value
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
        raise BadInput(key, text, f"JSON, since it begins with {text[0]} ({error})") from error


def typed_body(job: Job, kind: str, given: dict[str, Any]) -> dict[str, Any]:
    """Texts turned into what the kind's body wants, and numbers that people say into ids.

    Parameters
    ----------
    job : Job
    kind : str
    given : dict
        As read by `read_words` or from a JSON file.

    Raises
    ------
    BadInput
        If the kind is unknown or a number names no entry.
    """
    if kind not in KINDS:
        raise BadInput("KIND", kind, "one of: " + ", ".join(KINDS))
    return dict(_struct(job, newest(kind), given, ""))


def _struct(job: Job, struct: type[msgspec.Struct], given: dict[str, Any], path: str) -> dict[str, Any]:
    info = look.type_info(struct)
    assert isinstance(info, look.StructType)
    fields = {f.encode_name: f for f in info.fields}
    unknown = [k for k in given if k not in fields]
    if unknown:
        raise BadInput(f"{path}{unknown[0]}", given[unknown[0]], "one of the fields " + ", ".join(fields))
    missing = [n for n, f in fields.items() if f.required and n not in given]
    if missing:
        raise BadInput(
            f"{path}{missing[0]}", "nothing", f"a value; {struct.__name__} needs {', '.join(n for n, f in fields.items() if f.required)}"
        )
    joins = struct is newest("person.joined")
    return {n: v if joins and n == "person" else _value(job, fields[n].type, v, n, path) for n, v in given.items()}


def _value(job: Job, kind: look.Type, value: Any, name: str, path: str) -> Any:
    if isinstance(kind, look.Metadata):
        return _value(job, kind.type, value, name, path)
    if isinstance(kind, look.UnionType):
        kinds = [k for k in kind.types if not isinstance(k, look.NoneType)]
        return _value(job, kinds[0], value, name, path)
    if isinstance(kind, look.StructType):
        if not isinstance(value, dict):
            raise BadInput(f"{path}{name}", value, f"fields of its own, such as {name}.{kind.fields[0].encode_name}=...")
        return _struct(job, kind.cls, value, f"{path}{name}.")
    if isinstance(kind, look.ListType):
        items = value if isinstance(value, list) else [value]
        return [_value(job, kind.item_type, v, name, path) for v in items]
    if isinstance(kind, look.DictType):
        return _loose(value)
    if isinstance(kind, look.BoolType) and isinstance(value, str):
        words = {"true": True, "yes": True, "false": False, "no": False}
        if value.lower() not in words:
            raise BadInput(f"{path}{name}", value, "yes or no")
        return words[value.lower()]
    if isinstance(kind, look.IntType) and isinstance(value, str):
        try:
            return int(value)
        except ValueError as error:
            raise BadInput(f"{path}{name}", value, "a whole number") from error
    if isinstance(kind, look.StrType) and isinstance(value, str) and (kind.pattern or "").startswith(_ID):
        if name in PEOPLE:
            return person_id(job, value, f"{path}{name}") if value not in job.people and job.people else value
        if name in BY_FIELD or name in ("of", "over", "keep", "entries", "files", "holidays", "countersigns"):
            return entry_id(job, value, name)
    return value


def _loose(value: Any) -> Any:
    """Values of a free map: whole numbers, yes and no are read as such."""
    if isinstance(value, dict):
        return {k: _loose(v) for k, v in value.items()}
    if isinstance(value, list):
        return [_loose(v) for v in value]
    if isinstance(value, str) and value.lstrip("-").isdigit() and (value == "0" or not value.lstrip("-").startswith("0")):
        return int(value)
    return {"true": True, "false": False}.get(value, value) if isinstance(value, str) else value
