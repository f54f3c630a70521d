"""Demo jobs, told entry by entry. Everything in them is invented: people, firms, letters, figures."""

from __future__ import annotations

import importlib
from collections.abc import Callable

from .scribe import Demo


def _told(name: str) -> Callable[[], Demo]:
    def build() -> Demo:
        module = importlib.import_module(f"{__name__}.{name.replace('-', '_')}")
        made: Demo = module.build()
        return made

    return build


DEMOS: dict[str, Callable[[], Demo]] = {
    name: _told(name)
    for name in (
        "north-basin",
        "river-crossing",
        "acid-store",
        "leach-vessel",
        "penstock",
    )
}  # fmt: skip
"""Name of a demo to the function that writes it; the module is loaded when it is called."""

EVENINGS = {
    "north-basin": ("2025-06-03 20:00", "the evening the end check failed"),
    "river-crossing": ("2025-07-08 20:00", "the evening the end check failed"),
    "acid-store": ("2025-08-05 20:00", "the evening the ground lead was found open"),
    "leach-vessel": ("2025-09-08 20:00", "the evening the spark was found too long"),
    "penstock": ("2025-10-08 20:00", "the evening the tester was found deaf"),
}
"""Name of a demo to a time worth looking at, and why."""

__all__ = ["DEMOS", "EVENINGS", "Demo"]
