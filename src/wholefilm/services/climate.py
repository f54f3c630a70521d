"""A reading of the climate as typed on a command line, worked out."""

from __future__ import annotations

from collections.abc import Mapping

from wholefilm.base.errors import BadInput
from wholefilm.base.quantity import quantity
from wholefilm.climate.entered import measured
from wholefilm.climate.holding import Earlier
from wholefilm.climate.state import climate_state
from wholefilm.sheets.climate_answer import ClimateAnswer, climate_answer


def work_out(
    texts: Mapping[str, str | None],
    *,
    psychrometer: str | None = None,
    psychrometer_class: str | None = None,
    wick: str | None = None,
    earlier_surface: str | None = None,
    earlier_spread: str | None = None,
) -> ClimateAnswer:
    """Work out a reading typed with units.

    Parameters
    ----------
    texts : dict of str to str or None
        Keys of `wholefilm.climate.entered.FIELDS`.
    psychrometer : str, optional
        Name of the constant; ``wmo`` if none is named, which the notes say.
    psychrometer_class : str, optional
        Class of ASTM E337 for the uncertainty of both bulbs.
    wick : str, optional
        ``"water"`` or ``"ice"``, asked below 0 degC.
    earlier_surface, earlier_spread : str, optional
        From an earlier reading of the same place, for rules that ask for "and rising".

    Returns
    -------
    ClimateAnswer

    Raises
    ------
    BadInput
        Names the option, the value and what is allowed.
    """
    try:
        if texts.get("wet_bulb") is None:
            for name, given in (("psychrometer", psychrometer), ("wick", wick)):
                if given:
                    raise BadInput(name, given, "only with wet_bulb")
        m = measured(texts, psychrometer=psychrometer or "wmo", wick=wick or "", class_=psychrometer_class or "")
        earlier = Earlier(
            quantity(earlier_surface, "temperature", "earlier_surface").to("degC") if earlier_surface else None,
            quantity(earlier_spread, "temperature_difference", "earlier_spread").to("dK") if earlier_spread else None,
        )
        return climate_answer(climate_state(m), earlier)
    except BadInput as error:
        raise type(error)(_option(error.field), error.value, error.allowed.replace("wet_bulb", "--wet-bulb")) from error


def _option(field: str) -> str:
    """A field as the option that it was typed with."""
    return ", ".join("--" + part.strip().replace("_", "-").replace(" ", "-") for part in field.split(","))
