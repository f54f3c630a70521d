"""One reading of a field check held against its tolerance.

A spark tester is read in volts or by the length of its spark, a wet-sponge tester in the resistance at which it still
alarms: the circuit through a holiday has a resistance, and the tester speaks when that is at or below its threshold. A
reading under the set value is *low* for both: less voltage, or a threshold that only a better conductor reaches; either may
miss holidays. A reading over it is *high*: a spark tester may have burnt sound film; a sponge tester is over-sensitive,
misses nothing and may speak where nothing is. No alarm at all on a known holiday counts as low. (Common practice.)
"""

from __future__ import annotations

import enum
from functools import lru_cache

import msgspec

from wholefilm.base.errors import BadInput
from wholefilm.base.quantity import Quantity, quantity

NO_ALARM = "no alarm"
_DIMENSIONS = ("voltage", "resistance", "length")


class Verdict(enum.StrEnum):
    """What one reading says."""

    PASSED = "passed"
    LOW = "low"
    HIGH = "high"


class CheckResult(msgspec.Struct, frozen=True):
    """Verdict of one reading.

    Attributes
    ----------
    verdict : Verdict
    deviation : float or None
        (read - set) / set. None for no alarm. [-]
    dimension : str
        ``voltage``, ``length`` (of a spark) or ``resistance`` (of a wet sponge).
    """

    verdict: Verdict
    deviation: float | None
    dimension: str = "voltage"

    @property
    def spark(self) -> bool:
        """Whether a spark was set, which can burn film."""
        return self.dimension != "resistance"

    @property
    def means(self) -> str:
        """What the verdict asks for, for a reader; empty if passed."""
        if self.verdict is Verdict.PASSED:
            return ""
        if self.verdict is Verdict.LOW:
            return "low: may have missed holidays" if self.spark else "low: insensitive, may have missed holidays"
        return "high: look for burns" if self.spark else "high: over-sensitive, indications may be false"

    @property
    def says(self) -> str:
        """The deviation for a reader: ``-18 %``."""
        return "no alarm" if self.deviation is None else f"{self.deviation * 100:+.1f} %"


@lru_cache(maxsize=4096)
def read_setting(text: str, field: str = "set") -> Quantity:
    """Read a setting or reading of a tester: a voltage, a resistance or a spark length.

    Raises
    ------
    BadInput
        If it is none of the three.
    """
    for dimension in _DIMENSIONS:
        try:
            return quantity(text, dimension, field)
        except BadInput:
            continue
    raise BadInput(field, text, "a voltage (V, kV), a resistance (ohm, kohm) or a spark length (mm) with its unit")


@lru_cache(maxsize=4096)
def field_check(set_text: str, read_text: str, tolerance_text: str) -> CheckResult:
    """Hold one reading against the set value.

    Parameters
    ----------
    set_text, read_text : str
        Set and read values with units; ``"no alarm"`` is a reading too.
    tolerance_text : str
        Allowed deviation either way, such as ``"5 %"``.

    Returns
    -------
    CheckResult

    Raises
    ------
    BadInput
        If a text cannot be read, or set and read are of different kinds.
    """
    wanted = read_setting(set_text, "set")
    tolerance = quantity(tolerance_text, "share", "tolerance")
    if read_text.strip().lower() == NO_ALARM:
        return CheckResult(Verdict.LOW, None, wanted.dimension)
    read = read_setting(read_text, "read")
    if read.dimension != wanted.dimension:
        raise BadInput("read", read_text, f"a {wanted.dimension}, like the set value {set_text}")
    if wanted.number <= 0:
        raise BadInput("set", set_text, "more than zero")
    exact = (read.exact(wanted.unit) - wanted.number) / wanted.number
    if abs(exact) <= tolerance.exact("1"):
        return CheckResult(Verdict.PASSED, float(exact), wanted.dimension)
    return CheckResult(Verdict.LOW if exact < 0 else Verdict.HIGH, float(exact), wanted.dimension)


def same_setting(one: str, other: str) -> bool:
    """Whether two settings are the same quantity, whatever the unit typed."""
    a, b = read_setting(one), read_setting(other)
    return a.dimension == b.dimension and a.exact(a.unit) == b.exact(a.unit)
