"""A note of physics for planning: a model, a question to the engineer; never a finding, never in the assessment or the report."""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from wholefilm.base.errors import OutOfRange
from wholefilm.electric import (
    TIP_RADIUS_MM,
    Air,
    Strength,
    ceiling_kv,
    gap_jumped_mm,
    low_bracket_kv,
    remaining_film_mm,
    tip_kv,
    uniform_kv,
)

from .film import Film

LABEL = "Model, for planning only: a question to the engineer. It sets no voltage and stands in no finding, assessment or report."
EVEN_AIR = Air(1.0, "standard air, 101.3 kPa and 20 degC: nothing was entered")
THIN_SPOTS = (
    "thin spots: by the model a spot is found only where so little film is left that the voltage breaks it down. ASTM G62 (1987 to 2022, "
    "seen) says that its spark test finds thin spots; documents differ. Thickness is for the gauge"
)


class Floor(msgspec.Struct, frozen=True):
    """Breakdown of an air gap as long as the film is thick: even electrodes, the older formula, a fine wire end. [V]"""

    uniform: float
    low: float
    tip: float


class Note(msgspec.Struct, frozen=True, omit_defaults=True):
    """The note.

    Attributes
    ----------
    label, air : str
    thickness_mm : float
        The thickest film given. [mm]
    floor_v : Floor or None
        None where the film lies outside the model; `outside` says so.
    jump_gap_mm : dict of str to float
        Voltage [V] as text to the even gap that it jumps. [mm]
    ceiling_v : float
        At the thinnest film, only where a strength was entered. [V]
    remaining_mm : dict of str to float
        Voltage [V] to the most film that may be left at a spot for it to be found. [mm]
    strength, outside : str
    remarks : list of str
    """

    label: str
    air: str
    thickness_mm: float
    floor_v: Floor | None
    jump_gap_mm: dict[str, float]
    remarks: list[str]
    outside: str = ""
    strength: str = ""
    ceiling_v: float | None = None
    remaining_mm: dict[str, float] | None = None


def planning_note(film: Film, volts: Sequence[float] = (), air: Air = EVEN_AIR, strength: Strength | None = None) -> Note:
    """The note for a film.

    Parameters
    ----------
    film : Film
    volts : sequence of float
        Voltages to hold beside it. [V]
    air : Air
    strength : Strength, optional
        As the user entered it from a data sheet.

    Returns
    -------
    Note

    Raises
    ------
    OutOfRange
        If the strength is none.
    """
    mm = film.greatest.to("mm")
    outside, floor = "", None
    try:
        floor = Floor(*(round(1000 * f(mm, air.density)) for f in (uniform_kv, low_bracket_kv, tip_kv)))
    except OutOfRange as error:
        outside = str(error)
    jumps = {}
    for v in sorted(set(volts)):
        try:
            jumps[f"{v:g}"] = round(gap_jumped_mm(v / 1000, air.density), 3)
        except OutOfRange:
            continue
    remarks = [
        f"floor: even electrodes over {mm:g} mm of air; the older formula; a wire end of {TIP_RADIUS_MM:g} mm radius (first streamer only)",
        THIN_SPOTS,
    ]
    under = [v for v in sorted(set(volts)) if floor is not None and v < floor.uniform]
    if floor is not None and under:
        remarks.append(
            f"under the even-gap breakdown of {floor.uniform:g} V: {', '.join(f'{v:g} V' for v in under)}. By the model such a "
            "voltage reaches the metal through a hole only where a fine wire, a peak or moisture helps; prove the setting on a made holiday"
        )
    if strength is None:
        return Note(LABEL, air.says, mm, floor, jumps, [*remarks, "no strength of the film was entered: no ceiling is shown"], outside)
    strength.check()
    top = round(1000 * ceiling_kv(film.least.to("mm"), strength))
    if floor is not None and top < floor.uniform:
        remarks.append("the ceiling at the thinnest film lies under the floor at the thickest: no single setting serves both ends")
    left = {f"{v:g}": round(remaining_film_mm(v / 1000, strength), 3) for v in sorted(set(volts))}
    said = (
        f"{strength.kv_per_mm:g} kV/mm at {strength.at_mm:g} mm, exponent {strength.exponent:g}, {100 * strength.share:g} % of it used; "
        f"{strength.source}"
    )
    return Note(LABEL, air.says, mm, floor, jumps, remarks, outside, said, top, left)
