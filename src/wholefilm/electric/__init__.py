"""Air gap, film strength and the settings that serve a film: a model for planning, and a question to the engineer.

Nothing of this floor reaches findings, assessment or report: what is tested, and at what voltage, is for the documents and the
people whom the contract names. No hazard figure is here.
"""

from .air import Air, gap_jumped_mm, low_bracket_kv, relative_density, standard_pressure_kpa, uniform_kv
from .film import Strength, ceiling_kv, remaining_film_mm, strength_exponent
from .pulses import pulses_on_a_point
from .serving import Setting, fewest_settings
from .tip import TIP_RADIUS_MM, tip_kv

__all__ = [
    "TIP_RADIUS_MM",
    "Air",
    "Setting",
    "Strength",
    "ceiling_kv",
    "fewest_settings",
    "gap_jumped_mm",
    "low_bracket_kv",
    "pulses_on_a_point",
    "relative_density",
    "remaining_film_mm",
    "standard_pressure_kpa",
    "strength_exponent",
    "tip_kv",
    "uniform_kv",
]
