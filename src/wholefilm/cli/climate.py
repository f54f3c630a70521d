"""The command about the climate: dew point, spread, and the rules on the shelf beside them."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from .options import Json, leaving
from .tell import say, say_json

if TYPE_CHECKING:
    from wholefilm.sheets.climate_answer import ClimateAnswer


def climate(
    air: Annotated[str, typer.Option("--air", help="Air temperature, such as '16 degC'.")],
    surface: Annotated[str, typer.Option("--surface", help="Temperature of the surface, such as '13 degC'.")],
    rh: Annotated[str | None, typer.Option("--rh", help="Relative humidity, such as '71 %'.")] = None,
    wet_bulb: Annotated[str | None, typer.Option("--wet-bulb", help="Wet bulb in place of --rh, such as '13 degC'.")] = None,
    pressure: Annotated[str | None, typer.Option("--pressure", help="Air pressure; only with --wet-bulb.")] = None,
    psychrometer: Annotated[str | None, typer.Option("--psychrometer", help="Constant: wmo or ams.")] = None,
    psychrometer_class: Annotated[
        str | None, typer.Option("--psychrometer-class", help="ASTM E337 class for the uncertainty: aspirated, aspirated_fine or sling.")
    ] = None,
    wick: Annotated[str | None, typer.Option("--wick", help="Below 0 degC: water or ice.")] = None,
    air_uncertainty: Annotated[str | None, typer.Option("--air-uncertainty", help="Such as '0.5 K'.")] = None,
    rh_uncertainty: Annotated[str | None, typer.Option("--rh-uncertainty", help="Such as '3 %'.")] = None,
    wet_bulb_uncertainty: Annotated[str | None, typer.Option("--wet-bulb-uncertainty", help="Such as '0.2 K'.")] = None,
    surface_uncertainty: Annotated[str | None, typer.Option("--surface-uncertainty", help="Such as '0.5 K'.")] = None,
    earlier_surface: Annotated[str | None, typer.Option("--earlier-surface", help="Of an earlier reading here, for 'and rising'.")] = None,
    earlier_spread: Annotated[str | None, typer.Option("--earlier-spread", help="Of an earlier reading here, for 'and rising'.")] = None,
    json: Json = False,
) -> int:
    """Work out dew point, spread and surface humidity. The rules on the shelf stand beside them; no verdict: exit 0 when worked out."""
    from wholefilm.services.climate import work_out

    answer = work_out(
        {
            "air": air,
            "surface": surface,
            "rh": rh,
            "wet_bulb": wet_bulb,
            "pressure": pressure,
            "air_uncertainty": air_uncertainty,
            "rh_uncertainty": rh_uncertainty,
            "wet_bulb_uncertainty": wet_bulb_uncertainty,
            "surface_uncertainty": surface_uncertainty,
        },
        psychrometer=psychrometer,
        psychrometer_class=psychrometer_class,
        wick=wick,
        earlier_surface=earlier_surface,
        earlier_spread=earlier_spread,
    )
    if json:
        say_json(answer)
    else:
        _print(answer)
    return 0


def _print(a: ClimateAnswer) -> None:
    from wholefilm.sheets.climate_answer import NOT_FOR_TEST

    u = a.uncertainty
    rows = [("dew point", f"{a.dew_point_c:.2f} degC", u and u.dew_point_k, "K")]
    if a.frost_point_c is not None:
        rows.append(("frost point", f"{a.frost_point_c:.2f} degC", u and u.frost_point_k, "K"))
    rows.append(("relative humidity", f"{a.rh_percent:.1f} %", u and u.rh_percent, "%"))
    rows.append(("spread", f"{a.spread_k:.2f} K (surface less {a.spread_from})", u and u.spread_k, "K"))
    rows.append(("humidity at surface", f"{a.surface_rh_percent:.1f} %", u and u.surface_rh_percent, "%"))
    for name, value, size, unit in rows:
        say(f"{name:<20} {value}" + (f", uncertainty {size:.2f} {unit}" if size is not None else ""))
    if a.spread_k <= 0:
        point = "frost" if a.spread_from == "frost point" else "dew"
        say(f"the surface is at or under the {point} point: water {'freezes onto' if point == 'frost' else 'condenses on'} it")
    if a.uncertainty_not_stated:
        say(f"uncertainty not stated for {', '.join(a.uncertainty_not_stated)}" + ("; its part is missing above" if u else ""))
    for note in a.notes:
        say(f"note: {note}")
    for other in a.other_constants:
        say(f"note: with the constant {other.psychrometer} the dew point is {other.dew_point_c:.2f} degC")
    say("formula: " + "; ".join(f"{f.what}, {f.document} [{f.grade}]" for f in a.formulas))
    say()
    say(NOT_FOR_TEST)
    for line in a.rules:
        finding = line.finding.replace("_", " ") + (", inside uncertainty" if line.inside_uncertainty else "")
        say()
        say(f"value   {line.value}: {finding}" + (f" ({line.because})" if line.finding == "cannot_tell" else ""))
        say(f"limit   {line.limit}")
        say(f"source  {line.document} {line.edition} {line.clause}".rstrip() + f" [{line.grade}], for {line.for_}")
    for every in a.intervals:
        say()
        say(f"read again about every {every.every}: {every.document} {every.edition} {every.clause} [{every.grade}], for {every.for_}")


def add(app: typer.Typer) -> None:
    """Add the command of this file."""
    app.command("climate")(leaving(climate))
