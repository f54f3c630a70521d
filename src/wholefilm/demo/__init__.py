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
    )
}  # fmt: skip
"""Name of a demo to the function that writes it; the module is loaded when it is called."""

__all__ = ["DEMOS", "Demo"]
