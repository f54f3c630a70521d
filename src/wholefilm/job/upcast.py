"""Old bodies lifted to the newest version of their kind: pure, one step a version."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from .kinds import KINDS
from .kinds.common import Body

Step = Callable[[dict[str, Any]], dict[str, Any]]
STEPS: dict[tuple[str, int], Step] = {}
"""(kind, version) -> the function that lifts that version to the next. Empty while every kind is at version 1."""


def newest(kind: str) -> type[Body]:
    """Struct of the newest version of a kind."""
    return KINDS[kind][max(KINDS[kind])]


def upcast(kind: str, version: int, body: dict[str, Any]) -> dict[str, Any]:
    """Lift a body, version by version, to the newest."""
    for step in range(version, max(KINDS[kind])):
        body = STEPS[kind, step](body)
    return body
