"""A field check made with a verification device that has a certificate of its own: a voltmeter, a resistor, a plate.

A check is worth what verified it. A device that is not named, not known or overdue does not change what was read; it is named
beside the check, so that a reader can weigh it (common practice; references need identity and certificate too, from memory).
"""

from __future__ import annotations

import enum
from collections.abc import Sequence

import msgspec

from .certificate import Standing, Term, certificate_at


class Backed(enum.StrEnum):
    """What stands behind a field check."""

    CERTIFIED = "certificate running"
    OVERDUE = "certificate overdue"
    UNSTATED = "no certificate or due date stated"
    UNKNOWN = "device not known to this job"
    UNNAMED = "no device named"


class Device(msgspec.Struct, frozen=True):
    """A verification device as entered: name, certificate, date of it and due date, as written; `since` when it is entered. [ms UTC]"""

    name: str
    certificate: str | None = None
    due: str | None = None
    certified: str | None = None
    since: int = 0


class Verified(msgspec.Struct, frozen=True):
    """With what a check was verified, how that stands, and a sentence for a reader."""

    backed: Backed
    certificate: Standing | None
    says: str


def device_at(devices: Sequence[Device], name: str, at: int) -> Device | None:
    """A device as it was last entered by a time (the first entry of it if all are later), or None. [ms UTC]"""
    mine = [d for d in devices if d.name == name]
    before = [d for d in mine if d.since <= at]
    return max(before, key=lambda d: d.since) if before else (mine[0] if mine else None)


def verified(name: str | None, devices: Sequence[Device], at: int) -> Verified:
    """What stands behind a check.

    Parameters
    ----------
    name : str or None
        The device that the check names.
    devices : sequence of Device
        Every instrument of the job, as entered.
    at : int
        Time of the check. [ms UTC]

    Returns
    -------
    Verified
    """
    if not name:
        return Verified(Backed.UNNAMED, None, "the check names no verification device")
    device = device_at(devices, name, at)
    if device is None:
        return Verified(Backed.UNKNOWN, None, f"{name} is no instrument of this job")
    held = certificate_at(device.certificate, device.due, at, device.certified)
    if held.term is Term.OVERDUE:
        return Verified(Backed.OVERDUE, held, f"{name}: {held.says}")
    stated = device.certificate is not None and held.term is Term.RUNNING
    return Verified(Backed.CERTIFIED if stated else Backed.UNSTATED, held, f"{name}: {held.says}")
