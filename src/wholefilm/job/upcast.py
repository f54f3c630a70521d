"""Old bodies lifted to the newest version of their kind: pure, one step a version."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from .kinds import KINDS
from .kinds.common import Body

Step = Callable[[dict[str, Any]], dict[str, Any]]


def _same(body: dict[str, Any]) -> dict[str, Any]:
    """A version that only added fields which may be left out."""
    return body


def _permit(body: dict[str, Any]) -> dict[str, Any]:
    """Version 1 named no topic: a permission for an ignition source says so in words, all else is `other`."""
    ignition = "ignition" in str(body.get("what", "")).lower()
    return {**body, "topic": "ignition_source" if ignition else "other"}


STEPS: dict[tuple[str, int], Step] = {(kind, n): _same for kind, versions in KINDS.items() for n in versions if n + 1 in versions}
"""(kind, version) -> the function that lifts that version to the next."""
STEPS["permit.noted", 1] = _permit


def newest(kind: str) -> type[Body]:
    """Struct of the newest version of a kind."""
    return KINDS[kind][max(KINDS[kind])]


def upcast(kind: str, version: int, body: dict[str, Any]) -> dict[str, Any]:
    """Lift a body, version by version, to the newest.

    Parameters
    ----------
    kind : str
    version : int
        Version of the body as written.
    body : dict
        A body of that version; it is not changed.

    Returns
    -------
    dict
    """
    for step in range(version, max(KINDS[kind])):
        body = STEPS[kind, step](body)
    return body
