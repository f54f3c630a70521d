"""Write docs/reference/json.md: the keys of each sheet as `--json` prints it, from the types of the sheets."""

from __future__ import annotations

import inspect
import sys
import typing
from pathlib import Path

import msgspec

from wholefilm.services.show import MAKERS
from wholefilm.sheets import (
    assessment,
    checks,
    climate,
    cure,
    day,
    days,
    doubt,
    holidays,
    job,
    maps,
    people,
    readings,
    ready,
    repairs,
    requirements,
    statistics,
    voltage,
)
from wholefilm.sheets import panels as test

PLACE = Path(__file__).resolve().parent.parent / "docs" / "reference" / "json.md"
MODULES = {
    "job": job, "requirements": requirements, "voltage": voltage, "readings": readings, "climate": climate, "checks": checks,
    "doubt": doubt, "cure": cure, "test": test, "holidays": holidays, "repairs": repairs, "assessment": assessment,
    "statistics": statistics, "people": people, "days": days,
    "maps": maps, "ready": ready, "day": day,
}  # fmt: skip
HEAD = """# Keys of `--json`

Made by `python tools/sheet_schema.py` from the types of the sheets; do not edit. `wholefilm assess JOB --json` prints the sheet
`assessment`, `wholefilm job show JOB --sheet NAME --json` any of them but
`ready`, which `wholefilm ready JOB AREA --json` prints, and `day`, which `wholefilm day JOB DATE --json` prints. Keys stand in
this order. A heading in quotes is the title of the column in the printed table.
"""


def sheet_type(module: object) -> type[msgspec.Struct]:
    """The struct of a module whose name ends in Sheet or is returned by its maker: the whole sheet."""
    makers = [f for n, f in vars(module).items() if n.endswith("_sheet") and inspect.isfunction(f) and f.__module__ == module.__name__]  # type: ignore[attr-defined]
    found: type[msgspec.Struct] = typing.get_type_hints(makers[0])["return"]
    return found


def structs_in(kind: object) -> list[type[msgspec.Struct]]:
    """Structs that a type names, at any depth of lists and maps."""
    if inspect.isclass(kind) and issubclass(kind, msgspec.Struct):
        return [kind]
    return [s for part in typing.get_args(kind) for s in structs_in(part)]


def says(kind: object) -> str:
    """A type in words of JSON."""
    if typing.get_origin(kind) is typing.Annotated:
        return says(typing.get_args(kind)[0])
    words = {str: "text", int: "whole number", float: "number", bool: "true or false", type(None): "null"}
    if kind in words:
        return words[kind]  # type: ignore[index]
    if inspect.isclass(kind) and issubclass(kind, msgspec.Struct):
        return kind.__name__
    origin, parts = typing.get_origin(kind), typing.get_args(kind)
    if origin is dict:
        return f"map of {says(parts[0])} to {says(parts[1])}"
    if origin is list:
        return f"list of {says(parts[0])}"
    if origin is tuple:
        return "list of " + ", ".join(says(p) for p in parts)
    return " or ".join(says(p) for p in parts) if parts else str(kind)


def rows(struct: type[msgspec.Struct]) -> list[str]:
    """A line of a table for each key."""
    hints = typing.get_type_hints(struct, include_extras=True)
    lines = []
    for field in msgspec.structs.fields(struct):
        kind = hints[field.name]
        metas = [m for m in typing.get_args(kind)[1:] if isinstance(m, msgspec.Meta)] if typing.get_origin(kind) is typing.Annotated else []
        title = next((m.title for m in metas if m.title), "")
        quoted = f'"{title}"' if title else ""
        lines.append(f"| `{field.encode_name}` | {says(kind)} | {quoted} |")
    return lines


def document() -> str:
    """The whole document."""
    assert set(MODULES) == {*MAKERS, "ready", "day"}  # these two ask for an area and a day, and have commands of their own
    parts = [HEAD]
    for name, module in MODULES.items():
        todo, seen = [sheet_type(module)], []
        parts.append(f"\n## `{name}`\n")
        while todo:
            struct = todo.pop(0)
            if struct in seen:
                continue
            seen.append(struct)
            text = (inspect.getdoc(struct) or "").split("\n")[0]
            parts.append(f"\n**{struct.__name__}**: {text}\n\n| key | holds | heading |\n|---|---|---|\n" + "\n".join(rows(struct)) + "\n")
            hints = typing.get_type_hints(struct)
            todo += [s for f in msgspec.structs.fields(struct) for s in structs_in(hints[f.name])]
    return "".join(parts)


if __name__ == "__main__":
    PLACE.write_text(document(), encoding="utf-8")
    print(f"written: {PLACE}", file=sys.stderr)
