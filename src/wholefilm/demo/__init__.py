"""Demo jobs, told entry by entry. Everything in them is invented: people, firms, letters, figures."""

from __future__ import annotations

from collections.abc import Callable

from . import north_basin
from .scribe import Demo

DEMOS: dict[str, Callable[[], Demo]] = {"north-basin": north_basin.build}
"""Name of a demo to the function that writes it."""

__all__ = ["DEMOS", "Demo"]
