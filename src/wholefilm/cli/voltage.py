"""The command about voltages: every cited rule worked out for a film, side by side."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from .options import (
    Altitude,
    Approval,
    ClassOf,
    Exponent,
    Json,
    Pressure,
    ShareUsed,
    StrengthAt,
    StrengthSource,
    Temperature,
    leaving,
)  # fmt: skip
from .tell import say, say_json

if TYPE_CHECKING:
    from wholefilm.plan.note import Note
    from wholefilm.services.voltage import VoltageAnswer
    from wholefilm.sheets.setting import SettingSheet

    Answer = VoltageAnswer | SettingSheet


def voltage(
    thickness: Annotated[str | None, typer.Option("--thickness", help="Film where the document does not say which: '812 um'.")] = None,
    least: Annotated[str | None, typer.Option("--min", help="Minimum film thickness.")] = None,
    nominal: Annotated[str | None, typer.Option("--nominal", help="Nominal film thickness.")] = None,
    mean: Annotated[str | None, typer.Option("--mean", help="Mean film thickness.")] = None,
    greatest: Annotated[str | None, typer.Option("--max", help="Maximum film thickness.")] = None,
    expected: Annotated[str | None, typer.Option("--expected-max", help="Expected maximum film thickness.")] = None,
    rule: Annotated[list[str] | None, typer.Option("--rule", help="ID or ID:EDITION of a rule; may be repeated. None: all.")] = None,
    substrate: Annotated[str, typer.Option("--substrate", help="metal or concrete.")] = "",
    conductive: Annotated[str, typer.Option("--conductive", help="What conducts in the film, in words; 'no' if nothing does.")] = "",
    immersed: Annotated[str, typer.Option("--immersed", help="Was the film ever immersed: yes or no.")] = "",
    class_: ClassOf = None,
    approval: Approval = None,
    volts: Annotated[list[str] | None, typer.Option("--voltage", help="A voltage to hold beside the note; may be repeated.")] = None,
    pressure: Pressure = None,
    altitude: Altitude = None,
    temperature: Temperature = None,
    strength: Annotated[str | None, typer.Option("--strength", help="Of the film, from the maker's data sheet: '16 kV/mm'.")] = None,
    strength_at: StrengthAt = None,
    exponent: Exponent = None,
    share: ShareUsed = None,
    source: StrengthSource = None,
    json: Json = False,
) -> int:
    """Work out what documents give for a film, side by side. No winner, no voltage set: exit 0 when worked out."""
    from wholefilm.base.errors import BadInput
    from wholefilm.services.voltage import air_of, strength_of, work_out

    if immersed not in ("", "yes", "no"):
        raise BadInput("--immersed", immersed, "yes or no; left out if nobody knows")
    answer = work_out(
        {"min": least, "nominal": nominal, "mean": mean, "thickness": thickness, "max": greatest, "expected_max": expected},
        rules=rule or (),
        substrate=substrate,
        conductive=conductive,
        immersed=immersed or "not known",  # type: ignore[arg-type]
        choice=class_,
        approval=approval,
        voltages=volts or (),
        air=air_of(pressure, altitude, temperature),
        strength=strength_of(strength, strength_at, exponent, share, source),
    )
    if json:
        say_json(answer)
    else:
        say_answer(answer)
    return 0


def say_answer(a: Answer) -> None:
    """Print rules side by side, their steps and remarks, methods, note and cautions."""
    from wholefilm.plan.methods import ALLOWS
    from wholefilm.plan.side import may_be_chosen, worded_volts

    warned: dict[str, list[str]] = {}
    steps: dict[str, None] = {}
    lines = [("Rule", "Film", "Voltage", "Grade", "May be chosen")]
    for r in a.rules:
        lines.append((r.id, f"{r.basis}, {r.thickness}", worded_volts(r), r.grade, may_be_chosen(r)))
        if r.steps and r.voltage_v is not None:
            steps[f"{r.id} ({r.document} {r.edition}{', ' + r.clause if r.clause else ''}): {'; '.join(r.steps)}"] = None
        for remark in [*([r.refused] if r.refused else []), *r.warnings]:
            ids = warned.setdefault(remark, [])
            if r.id not in ids:
                ids.append(r.id)
    widths = [max(len(line[n]) for line in lines) for n in range(4)]
    for line in lines:
        say("  ".join([*(f"{text:<{width}}" for text, width in zip(line, widths, strict=False)), line[4]]).rstrip())
    say(f"spread: {a.spread}")
    say()
    for heading, told in (("Steps", list(steps)), ("Remarks", [f"{', '.join(ids)}: {remark}" for remark, ids in warned.items()])):
        if told:
            say(heading)
            for one in told:
                say(f"  {one}")
            say()
    say("Methods, a question and not an answer: what each document says of this film")
    for m in a.methods:
        say(f"  {m.word}" + (": documents differ" if m.differ else ""))
        for d in m.documents:
            say(f"    {ALLOWS[d.allows]:<19} {d.document} {d.edition}{f' [{d.grade}]' if d.grade else ''}: {d.says}")
        for ask in m.asks:
            say(f"    ask: {ask}")
    if a.note is not None:
        say()
        say_note(a.note)
    say()
    say("Cautions")
    for caution in a.cautions:
        say(f"  {caution}")
    say()
    for closing in a.says:
        say(closing)


def say_note(n: Note) -> None:
    """Print a planning note."""
    say(n.label)
    say(f"  air: {n.air}")
    f = n.floor_v
    if f is not None:
        say(f"  floor at {n.thickness_mm:g} mm: even {f.uniform:g} V, older formula {f.low:g} V, wire end {f.tip:g} V")
    else:
        say(f"  floor: none, {n.outside}")
    if n.jump_gap_mm:
        say("  even gap that a voltage jumps: " + ", ".join(f"{v} V {mm:g} mm" for v, mm in n.jump_gap_mm.items()))
    if n.ceiling_v is not None:
        say(f"  ceiling at the thinnest film: {n.ceiling_v:g} V ({n.strength})")
        say("  most film left at a spot that is found: " + ", ".join(f"{v} V {mm:g} mm" for v, mm in (n.remaining_mm or {}).items()))
    for remark in n.remarks:
        say(f"  {remark}")


def add(app: typer.Typer) -> None:
    """Add the command of this file."""
    app.command("voltage")(leaving(voltage))
