"""Write docs/reference/bodies.md: the fields of every kind of entry, from the typed bodies themselves."""

from __future__ import annotations

from pathlib import Path

from msgspec import inspect as look

from wholefilm.job.kinds import KINDS
from wholefilm.job.kinds.common import Body, Place
from wholefilm.services.refs import BY_FIELD, PEOPLE

TARGET = Path(__file__).resolve().parent.parent / "docs" / "reference" / "bodies.md"
HEAD = """# Fields of each kind of entry

Written by `tools/kind_fields.py` from the typed bodies; a test holds it to them. Fields in *italics* may be left out. What each
kind is for stands in [kinds.md](../kinds.md). Measured values are text with a unit, times are written
`YYYY-MM-DDThh:mm:ss.sss+hh:mm`, ids are lower-case UUIDs; on the command line `B17`, `R-01`, `Q-01`, `NCR-01`, a role or a
clause stand for ids.

Every kind may carry: *happened* {from, *to*}, *told* (seen, radio, slate, paper, rig), *operator*, *recorder*, *witness*,
*note*, *files* (ids), *although* {needs, why, *instruction*, *told*}.
"""


IDS = {
    "conflicts_with": "requirement.noted",
    "countersigns": "signed",
    "device": "device",
    "entries": "entry",
    "files": "file.attached or photo.taken",
    "keep": "entry",
    "of": "entry",
    "over": "entry, the one that the person saw",
    "rows.set_aside.of": "readings.loaded",
}
"""What an id names, by field, besides what the command line knows."""
ALSO = {
    "consent": " or instruction.received",
    "agreed_by": " or instruction.received",
    "evidence": " or instruction.received",
    "holidays": " or made_holiday.made or burn.inspected",
    "instruction": " or question.answered",
    "exposure_consent": " or instruction.received",
}


def id_of(name: str) -> str:
    """What the id in a field of this name names."""
    kind_field, name = name, name.rpartition(".")[2]
    if name in PEOPLE:
        return "id of a person"
    named = IDS.get(kind_field) or IDS.get(name) or BY_FIELD.get(name, "")
    article = "an" if named[:1] in ("a", "e", "i", "o") else "a"
    return f"id of {article} {named}{ALSO.get(name, '')}" if named else "id"


def part(kind: look.StructType) -> str:
    """The fields of a nested part, with the words that a field allows and the kinds that an id names."""
    inner = []
    for f in kind.fields:
        name = f.encode_name if f.required else f"*{f.encode_name}*"
        told = says(f.type, f.encode_name)
        inner.append(f"{name} ({told})" if told.startswith("id") or any(isinstance(t, look.LiteralType) for t in _within(f.type)) else name)
    return "{" + ", ".join(inner) + "}"


def _within(kind: look.Type) -> list[look.Type]:
    """A type, or the types that it is a choice of."""
    return list(kind.types) if isinstance(kind, look.UnionType) else [kind]


def says(kind: look.Type, name: str = "") -> str:
    """A type in words; `name` is the field's, which tells what an id names."""
    if isinstance(kind, look.UnionType):
        return " or ".join(says(t, name) for t in kind.types if not isinstance(t, look.NoneType))
    if isinstance(kind, look.Metadata):
        extra = kind.extra or {}
        if "dimension" in extra:
            return f"{extra['dimension'].replace('_', ' ')} with its unit"
        if "time" in extra:
            return "time"
        schema = kind.extra_json_schema or {}
        described = str(schema.get("description") or "")
        return id_of(name) if described.startswith("id of an entry") else described or says(kind.type, name)
    if isinstance(kind, look.StructType) and kind.cls is Place:
        return "a place, as [item.md](item.md) tells"
    if isinstance(kind, look.StructType):
        return part(kind)
    if isinstance(kind, look.ListType):
        return f"list of {says(kind.item_type, name)}"
    if isinstance(kind, look.LiteralType):
        return ", ".join(str(v) for v in kind.values)
    if isinstance(kind, look.StrType):
        pattern = kind.pattern or ""
        return (
            id_of(name)
            if pattern.startswith("^[0-9a-f]{8}-")
            else "SHA-256"
            if "{64}" in pattern
            else "day"
            if pattern == r"^\d{4}-\d\d-\d\d$"
            else "text"
        )
    return {look.IntType: "whole number", look.BoolType: "yes or no", look.DictType: "map"}.get(type(kind), "any")


def page() -> str:
    """The whole page."""
    shared = {f.encode_name for f in look.type_info(Body).fields}  # type: ignore[union-attr]
    parts = [HEAD]
    for kind, versions in KINDS.items():
        for version, struct in versions.items():
            fields = [f for f in look.type_info(struct).fields if f.encode_name not in shared]  # type: ignore[union-attr]
            parts.append(
                f"\n## `{kind}` version {version}\n\n{(struct.__doc__ or '').strip().splitlines()[0]}\n\n| field | is |\n|---|---|\n"
            )
            parts += [
                f"| {f.encode_name if f.required else f'*{f.encode_name}*'} | {says(f.type, f'{kind}.{f.encode_name}')} |\n" for f in fields
            ]
    return "".join(parts)


if __name__ == "__main__":
    TARGET.write_text(page(), encoding="utf-8")
