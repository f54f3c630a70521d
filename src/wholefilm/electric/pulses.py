"""Pulses that a pulsed tester gives to one point while the electrode passes over it."""

from __future__ import annotations

from wholefilm.base.errors import OutOfRange


def pulses_on_a_point(rate_hz: float, contact_mm: float, speed_m_s: float) -> float:
    """Pulses on a point = rate x contact length along the travel / speed. [Hz, mm, m/s]

    Common practice: under 1 the electrode can pass a holiday between two pulses.

    Raises
    ------
    OutOfRange
        If one of the three is not more than zero.
    """
    for name, value, unit in (("rate", rate_hz, "Hz"), ("contact", contact_mm, "mm"), ("speed", speed_m_s, "m/s")):
        if not value > 0:
            raise OutOfRange(name, f"{value:g} {unit}", f"more than 0 {unit}")
    return rate_hz * contact_mm / 1000 / speed_m_s
