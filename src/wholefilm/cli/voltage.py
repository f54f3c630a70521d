"""The command about voltages: every cited rule worked out for a film, side by side."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from .options import Json, leaving
from .tell import say, say_json

if TYPE_CHECKING:
    from wholefilm.plan.note import Note
    from wholefilm.services.voltage import VoltageAnswer
    from wholefilm.sheets.setting import SettingSheet

    Answer = VoltageAnswer | SettingSheet

ALLOWS = {"yes": "written for it", "with consent": "only with consent", "no": "not written for it", "no range": "names no thickness"}
"""What a document says of a method for a film, in words for a reader."""


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
    class_: Annotated[str | None, typer.Option("--class", help="Class, for a rule that divides by one.")] = None,
    approval: Annotated[str | None, typer.Option("--approval", help="Reference of the coating maker's written approval.")] = None,
    volts: Annotated[list[str] | None, typer.Option("--voltage", help="A voltage to hold beside the note; may be repeated.")] = None,
    pressure: Annotated[str | None, typer.Option("--pressure", help="Air pressure on site, such as '955 hPa'.")] = None,
    altitude: Annotated[str | None, typer.Option("--altitude", help="In place of --pressure, such as '1200 m'.")] = None,
    temperature: Annotated[str | None, typer.Option("--temperature", help="Of the air, such as '31 degC'.")] = None,
    strength: Annotated[str | None, typer.Option("--strength", help="Of the film, from the maker's data sheet: '16 kV/mm'.")] = None,
    strength_at: Annotated[str | None, typer.Option("--strength-at", help="Thickness it was measured on.")] = None,
    exponent: Annotated[str | None, typer.Option("--exponent", help="How it falls with thickness, 0 to 0.9.")] = None,
    share: Annotated[str | None, typer.Option("--share", help="Share of it to use, such as '50 %'.")] = None,
    source: Annotated[str | None, typer.Option("--strength-source", help="Data sheet, edition, page.")] = None,
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
    from wholefilm.plan.side import kilovolts

    warned: dict[str, list[str]] = {}
    steps: dict[str, None] = {}
    lines = [("Rule", "Film", "Voltage", "Grade", "May be chosen")]
    for r in a.rules:
        given = "none" if r.voltage_v is None else kilovolts(r.voltage_v) + (f" to {kilovolts(r.to_v)}" if r.to_v else "")
        word = {"at_least": "at least ", "span": "allows ", "limit": "limit "}.get(r.means, "")
        may = "" if r.voltage_v is None else "yes" if r.choosable else "after you confirm it"
        lines.append((r.id, f"{r.basis}, {r.thickness}", word + given, r.grade, may))
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
