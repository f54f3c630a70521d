"""From the bytes' body to a typed body: strict, and every measured text readable."""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache
from typing import Any

import msgspec
from msgspec import inspect as look

from wholefilm.base.errors import BadInput
from wholefilm.base.misfit import misfit
from wholefilm.base.quantity import quantity
from wholefilm.base.times import utc_ms
from wholefilm.instruments.field_check import NO_ALARM, read_setting

from .facts import span
from .kinds import KINDS
from .kinds.common import PATTERNS, Body
from .kinds.site import ThicknessRead
from .upcast import newest, upcast

Check = Callable[[str, str], object]


def _reading(text: str, field: str) -> object:
    return None if text.strip().lower() == NO_ALARM else read_setting(text, field)


class _Plan(msgspec.Struct, frozen=True):
    """Which fields of a struct hold measured text, and which hold a part that may.

    Attributes
    ----------
    texts : tuple of (attribute, name, read, many)
    parts : tuple of (attribute, name, many)
    """

    texts: tuple[tuple[str, str, Check, bool], ...]
    parts: tuple[tuple[str, str, bool], ...]


@lru_cache
def _plan(struct: type[msgspec.Struct]) -> _Plan:
    info = look.type_info(struct)
    assert isinstance(info, look.StructType)
    texts, parts = [], []
    for field in info.fields:
        if field.name == "happened" and issubclass(struct, Body):
            continue  # `facts.span` reads both times of every body
        found = _of(field.type, field.encode_name, False)
        if found is not None and found[0] is not None:
            texts.append((field.name, field.encode_name, found[0], found[1]))
        elif found is not None:
            parts.append((field.name, field.encode_name, found[1]))
    return _Plan(tuple(texts), tuple(parts))


def _of(kind: look.Type, name: str, many: bool) -> tuple[Check | None, bool] | None:
    """How to read a field of this type: (reader, list or not), the reader None for a part of its own; None if nothing is measured."""
    if isinstance(kind, look.UnionType):
        return next((c for c in (_of(t, name, many) for t in kind.types) if c is not None), None)
    if isinstance(kind, look.Metadata):
        extra = kind.extra or {}
        if "dimension" in extra:
            return _quantity_of(extra["dimension"]), many
        return (utc_ms, many) if "time" in extra else _of(kind.type, name, many)
    if isinstance(kind, look.StructType):
        plan = _plan(kind.cls)
        return (None, many) if plan.texts or plan.parts else None
    if isinstance(kind, look.ListType):
        return _of(kind.item_type, name, True)
    if not isinstance(kind, look.StrType):
        return None
    if name == "read":
        return _reading, many  # no alarm is a reading, never a setting
    return (read_setting, many) if name in ("set", "setting", "chosen", "step", "low", "high") else None


def _quantity_of(dimension: str) -> Check:
    return lambda text, field: quantity(text, dimension, field)


def check_texts(body: msgspec.Struct, path: str = "") -> None:
    """Read every measured text and every time in a body once.

    Raises
    ------
    BadInput
        Naming the dotted field, the value and what is allowed.
    """
    plan = _plan(body.__class__)
    for attribute, name, read, many in plan.texts:
        value = getattr(body, attribute)
        if value is None:
            continue
        if many:
            for one in value:
                read(one, path + name)
        else:
            read(value, path + name)
    for attribute, name, many in plan.parts:
        value = getattr(body, attribute)
        if value is None:
            continue
        for one in value if many else (value,):
            check_texts(one, f"{path}{name}.")


@lru_cache
def _struct_of(kind: str, version: int) -> type[Body] | None:
    """The struct of a kind where the version is its newest; None where the body must be lifted first."""
    versions = KINDS.get(kind)
    return versions[version] if versions and version == max(versions) else None


def _lifted(kind: str, version: int, body: dict[str, Any]) -> dict[str, Any]:
    if kind not in KINDS:
        raise BadInput("kind", kind, "one of the kinds in docs/reference/bodies.md")
    if version not in KINDS[kind]:
        raise BadInput("version", version, f"version {', '.join(map(str, KINDS[kind]))} of {kind}")
    msgspec.convert(body, KINDS[kind][version], strict=True)  # a body of version 1 has no field of version 2
    return upcast(kind, version, body)


def read_correction(kind: str, version: int, body: dict[str, Any]) -> Body:
    """The whole new body of a correction: of the newest version, or of that of the entry which it corrects.

    Raises
    ------
    BadInput
        As `read_body`, of the entry's version, if it is neither.
    """
    newer = max(KINDS.get(kind, {version: Body}))
    if newer != version:
        try:
            return read_body(kind, newer, body)
        except BadInput:
            pass
    return read_body(kind, version, body)


def read_body(kind: str, version: int, body: dict[str, Any]) -> Body:
    """Type a body, lifted to the newest version of its kind.

    Parameters
    ----------
    kind : str
        Trade name, such as ``"panel.tested"``.
    version : int
        Version of the body as written.
    body : dict
        As parsed.

    Returns
    -------
    Body

    Raises
    ------
    BadInput
        If the kind or version is unknown, a field is missing, unknown or of a wrong form.
    """
    typed = type_body(kind, version, body)
    span(typed, 0)
    return typed


def type_body(kind: str, version: int, body: dict[str, Any]) -> Body:
    """`read_body` for a caller that reads the times of `happened` itself, by `facts.span`."""
    struct = _struct_of(kind, version)
    try:
        lifted = body if struct is not None else _lifted(kind, version, body)
        typed = msgspec.convert(lifted, struct or newest(kind), strict=True)
    except msgspec.ValidationError as error:
        raise misfit(error, body, fields=_fields(kind), patterns=PATTERNS, page="docs/reference/bodies.md") from error
    check_texts(typed)
    _one_correction(typed)
    return typed


def _fields(kind: str) -> tuple[str, ...]:
    return newest(kind).__struct_encode_fields__


def _one_correction(typed: Body) -> None:
    """A base metal reading and a fixed correction are two ways to take off the same thing: never both."""
    if isinstance(typed, ThicknessRead) and typed.base_metal is not None and typed.correction is not None:
        raise BadInput("base_metal", typed.base_metal, f"left out where correction is given ({typed.correction}): only one is taken off")
