"""Version 2 of the bodies that grew a version 3. Never changed."""

from __future__ import annotations

from . import first
from .common import Setting


class VoltageSet(first.VoltageSet, kw_only=True, frozen=True):
    """The sheet of some test areas: rule, basis, who agreed, and a voltage, a spark length or the threshold of a wet sponge."""

    setting: Setting
