"""The rule documents that are shipped: one TOML file a document, read when first asked for."""

from __future__ import annotations

import difflib
import tomllib
from collections.abc import Callable, Mapping
from functools import cache
from pathlib import Path
from types import MappingProxyType
from typing import Any, TypeVar

from wholefilm.base.errors import BadInput, NotFound

from .acceptance import Clause, read_clause
from .document import Rule
from .reading import read_rule

T = TypeVar("T")
DATA = Path(__file__).parent / "data"


@cache
def load() -> Mapping[str, Rule]:
    """All voltage rules by id, in order of their documents' file names. Read once.

    Raises
    ------
    BadInput
        If a file cannot be read as a rule document, or an id stands twice.
    """
    return MappingProxyType({found["id"]: found["read"] for found in read_folder(DATA, "rule")})


@cache
def load_limits() -> Mapping[str, Clause]:
    """All acceptance clauses by id. Read once.

    Raises
    ------
    BadInput
        As `load`.
    """
    return MappingProxyType({found["id"]: found["read"] for found in read_folder(DATA / "limits", "limit")})


def rule(id_: str) -> Rule:
    """The voltage rule of that id.

    Raises
    ------
    NotFound
        Names the nearest ids.
    """
    return by_id(load(), id_, "rule")


def limit(id_: str) -> Clause:
    """The acceptance clause of that id.

    Raises
    ------
    NotFound
        Names the nearest ids.
    """
    return by_id(load_limits(), id_, "limit")


def by_id(known: Mapping[str, T], id_: str, field: str) -> T:
    """What stands under an id.

    Raises
    ------
    NotFound
        Names the nearest ids.
    """
    if id_ not in known:
        near = [one for one in known if one.lower().startswith(id_.lower())] if id_ else []
        near = near or difflib.get_close_matches(id_, known, 5, 0.5)
        raise NotFound(
            field,
            id_,
            ", ".join(near[:8] or (known if len(known) <= 12 else [])) or f"one of the {len(known)} ids of `wholefilm rules list`",
        )
    return known[id_]


def read_folder(folder: Path, table: str, reader: Callable[[Mapping[str, Any]], Any] | None = None) -> list[dict[str, Any]]:
    """Read every document of a folder; what stands at the top of a file is common to its `[[rule]]` or `[[limit]]` tables.

    Parameters
    ----------
    folder : Path
    table : str
        ``"rule"`` or ``"limit"``.
    reader : function, optional
        Makes a rule, with its `id`, of a table; else `read_rule` or `read_clause` by the name of the table.

    Returns
    -------
    list of dict
        `id`, `read` (what the reader made) and `file`.

    Raises
    ------
    BadInput
        Names the file and the field.
    """
    found: dict[str, dict[str, Any]] = {}
    reader = reader or (read_rule if table == "rule" else read_clause)
    for path in sorted(folder.glob("*.toml")):
        try:
            document = tomllib.loads(path.read_text(encoding="utf-8"))
        except (tomllib.TOMLDecodeError, UnicodeDecodeError) as error:
            raise BadInput(path.name, str(error), "a TOML file in UTF-8") from error
        tables = document.pop(table, None)
        if not isinstance(tables, list) or not tables:
            raise BadInput(f"{path.name}: {table}", tables or "nothing", f"one or more [[{table}]] tables")
        for one in tables:
            try:
                read = reader(document | one)
            except BadInput as error:
                raise BadInput(f"{path.name}: {error.field}", error.value, error.allowed) from error
            if read.id in found:
                raise BadInput(f"{path.name}: id", read.id, f"an id of its own; it stands in {found[read.id]['file']} already")
            found[read.id] = {"id": read.id, "read": read, "file": path.name}
    return list(found.values())
