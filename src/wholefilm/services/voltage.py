"""Voltages of documents for a film as typed on a command line."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import msgspec

from wholefilm.base import cautions
from wholefilm.base.errors import BadInput
from wholefilm.base.quantity import quantity
from wholefilm.electric import Air, Strength, relative_density, standard_pressure_kpa
from wholefilm.plan import Film, MethodRow, Note, SideRow, methods, planning_note, side_by_side
from wholefilm.plan.film import BASES, Known
from wholefilm.plan.methods import COMMON
from wholefilm.rules import load, rule
from wholefilm.rules.document import Rule, has_figures

NO_WINNER = (
    "None of these is preferred, and this list sets no voltage. The person whom the contract names decides, in writing, with the coating "
    "maker's own voltage where there is one."
)


class VoltageAnswer(msgspec.Struct, frozen=True, omit_defaults=True):
    """What documents give for a film, side by side.

    Attributes
    ----------
    rules : list of SideRow
    spread : str
    methods : list of MethodRow
    note : Note
    cautions, says : list of str
    """

    rules: list[SideRow]
    spread: str
    methods: list[MethodRow]
    note: Note
    cautions: list[str]
    says: list[str]


def cited(words: Sequence[str]) -> list[tuple[Rule, str]]:
    """Rules as cited, ``ID`` or ``ID:EDITION``; all with a figure that are not for one kind of item only, if none is cited.

    Raises
    ------
    NotFound
        If an id is unknown.
    UnknownEdition
        If an edition is.
    """
    if not words:
        return [(r, "") for r in load().values() if has_figures(r) and not r.only_for]
    found = []
    for word in words:
        ident, _, edition = word.partition(":")
        one = rule(ident.strip())
        if edition.strip():
            one.check_edition(edition.strip())
        found.append((one, edition.strip()))
    return found


def without_figure(words: Sequence[str]) -> list[str]:
    """Which documents of the shelf are missing from a list of all, because no copy of them could be read; none where some were cited."""
    if words:
        return []
    names = dict.fromkeys(f"{r.document} {', '.join(r.editions)}".strip() for r in load().values() if not has_figures(r) and not r.only_for)
    return [
        f"Not in the list, since no copy could be read: {'; '.join(names)}. Enter the figures of your own copy (wholefilm rules enter)."
    ]


def air_of(pressure: str | None, altitude: str | None, temperature: str | None) -> Air:
    """State of the air from what was typed.

    Raises
    ------
    BadInput
        If both pressure and altitude are given, or one is none.
    """
    if pressure and altitude:
        raise BadInput("--altitude", altitude, "one of --pressure and --altitude")
    if not (pressure or altitude or temperature):
        return Air(1.0, "standard air, 101.3 kPa and 20 degC: nothing was entered")
    celsius = quantity(temperature, "temperature", "--temperature").to("degC") if temperature else 20.0
    if altitude:
        kpa, how = standard_pressure_kpa(quantity(altitude, "length", "--altitude").to("m")), f"{altitude} of the standard atmosphere"
    else:
        kpa, how = (quantity(pressure, "pressure", "--pressure").to("kPa"), str(pressure)) if pressure else (101.3, "101.3 kPa taken")
    density = relative_density(kpa, celsius)
    return Air(density, f"{how}, {temperature or '20 degC taken'}: relative density {density:.3f}")


def strength_of(strength: str | None, at: str | None, exponent: str | None, share: str | None, source: str | None) -> Strength | None:
    """A strength from what was typed; none if nothing was.

    Raises
    ------
    BadInput
        If it is not whole: nothing of it has a default.
    """
    given = {"--strength": strength, "--strength-at": at, "--exponent": exponent, "--share": share, "--strength-source": source}
    if not any(given.values()):
        return None
    for name, value in given.items():
        if not value:
            allowed = "all five of a strength from the maker's data sheet: " + ", ".join(given) + "; none has a default"
            raise BadInput(name, "nothing", allowed)
    made = Strength(
        quantity(str(strength), "field", "--strength").to("kV/mm"),
        quantity(str(at), "length", "--strength-at").to("mm"),
        quantity(f"{exponent} 1", "share", "--exponent").to("1"),
        quantity(str(share), "share", "--share").to("1"),
        str(source),
    )
    made.check()
    return made


def work_out(
    thickness: Mapping[str, str | None],
    *,
    rules: Sequence[str] = (),
    substrate: str = "",
    conductive: str = "",
    immersed: Known = "not known",
    choice: str | None = None,
    approval: str | None = None,
    voltages: Sequence[str] = (),
    air: Air | None = None,
    strength: Strength | None = None,
) -> VoltageAnswer:
    """Work out what documents give for a film.

    Parameters
    ----------
    thickness : dict of str to str or None
        Keys of `wholefilm.plan.film.BASES`, each a length with unit.
    rules : sequence of str
        Ids, each with its edition after a colon where it is to be one of several.
    substrate, conductive, immersed : str
        As in `Film`.
    choice, approval : str, optional
        As in `side_by_side`.
    voltages : sequence of str
        Voltages to hold beside the note.
    air : Air, optional
    strength : Strength, optional

    Returns
    -------
    VoltageAnswer

    Raises
    ------
    BadInput
        Names the option, the value and what is allowed.
    """
    given = {name: quantity(text, "length", _option(name)) for name, text in thickness.items() if text}
    film = Film(given, substrate, conductive, immersed)
    try:
        film.check()
    except BadInput as error:
        raise type(error)(_option(error.field), error.value, error.allowed) from error
    chosen = cited(rules)
    side = side_by_side(film, chosen, choice=choice, approval=approval)
    volts = [_volts(text) for text in voltages]
    beside = volts or [v for r in side.rows if r.means in ("set", "at_least", "range") for v in (r.voltage_v, r.to_v) if v]
    shown = [*cautions.FOR_A_VOLTAGE]
    if any(r.method == "ac_spark" for r in side.rows):
        shown.append(cautions.OZONE)
    ways = methods(film, chosen)
    return VoltageAnswer(side.rows, side.says, ways, planning_note(film, beside, air or air_of(None, None, None), strength),
                         [*shown, cautions.FIRST], [*without_figure(rules), COMMON, NO_WINNER])  # fmt: skip


def _volts(text: str) -> float:
    read = quantity(text, "voltage", "--voltage")
    if read.number <= 0:
        raise BadInput("--voltage", text, "more than 0 V")
    return read.to("V")


def _option(name: str) -> str:
    return f"--{name.replace('_', '-')}" if name in (*BASES, "substrate") else name
