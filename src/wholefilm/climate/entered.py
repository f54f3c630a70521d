"""A climate reading as typed: text with units, read into numbers."""

from __future__ import annotations

from collections.abc import Mapping

from wholefilm.base.errors import BadInput
from wholefilm.base.quantity import quantity

from .psychrometer import psychrometer_class
from .state import Measured

FIELDS = {
    "air": ("air_c", "temperature", "degC"),
    "surface": ("surface_c", "temperature", "degC"),
    "rh": ("rh_percent", "share", "%"),
    "wet_bulb": ("wet_bulb_c", "temperature", "degC"),
    "pressure": ("pressure_hpa", "pressure", "hPa"),
    "air_uncertainty": ("air_u_k", "temperature_difference", "dK"),
    "rh_uncertainty": ("rh_u_percent", "share", "%"),
    "wet_bulb_uncertainty": ("wet_bulb_u_k", "temperature_difference", "dK"),
    "surface_uncertainty": ("surface_u_k", "temperature_difference", "dK"),
}
"""Name as typed to field of `Measured`, dimension and unit."""


def measured(texts: Mapping[str, str | None], *, psychrometer: str = "wmo", wick: str = "", class_: str = "") -> Measured:
    """Read a climate reading.

    Parameters
    ----------
    texts : dict of str to str or None
        Keys of `FIELDS`; None or left out = not read.
    psychrometer : str
        Name of the constant.
    wick : str
        ``"water"`` or ``"ice"``.
    class_ : str
        Class of ASTM E337 from which the uncertainties of air and wet bulb are taken; empty = those typed.

    Returns
    -------
    Measured

    Raises
    ------
    BadInput
        If a quantity cannot be read, an uncertainty is negative or has no reading, or is given both by class and by hand.
    """
    values: dict[str, float] = {}
    for name, (field, dimension, unit) in FIELDS.items():
        text = texts.get(name)
        if text is None:
            continue
        value = quantity(text, dimension, name).to(unit)
        if name.endswith("uncertainty") and value < 0:
            raise BadInput(name, text, "zero or more")
        values[field] = value
    for name in ("rh", "wet_bulb"):
        if f"{name}_uncertainty" in {k for k, v in texts.items() if v is not None} and texts.get(name) is None:
            raise BadInput(f"{name}_uncertainty", texts[f"{name}_uncertainty"], f"only with {name}")
    if class_:
        values |= _of_class(class_, values)
    return Measured(**values, psychrometer=psychrometer, wick=wick, class_=class_)


def _of_class(name: str, values: Mapping[str, float]) -> dict[str, float]:
    found = psychrometer_class(name)
    if "wet_bulb_c" not in values:
        raise BadInput("psychrometer class", name, "only with a wet bulb")
    both = [f for f in ("air_u_k", "wet_bulb_u_k") if f in values]
    if both:
        raise BadInput("psychrometer class", name, "the class or the uncertainties of air and wet bulb by hand, not both")
    return {"air_u_k": found.air_k, "rh_u_percent": found.rh_percent}
