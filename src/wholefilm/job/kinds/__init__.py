"""Every kind of entry, with one typed body a version.

`KINDS[kind][version]` is the body's struct. A new optional field is a new version; see `upcast`.
"""

from __future__ import annotations

import inspect
import re

from . import first, instruments, papers, second, site, voltage
from .common import Body


def _kind_of(name: str) -> str:
    """Trade name of a struct: ``PanelTested`` is ``panel.tested``; the last word is the event."""
    words = [w.lower() for w in re.findall(r"[A-Z][a-z]*", name)]
    special = {
        "AreaNotInScope": "area.not_in_scope",
        "AreaNotReached": "area.not_reached",
        "RowsSetAside": "rows.set_aside",
        "MadeHolidayMade": "made_holiday.made",
        "Withheld": "withheld",
        "Signed": "signed",
    }
    return special.get(name) or f"{'_'.join(words[:-1])}.{words[-1]}"


def _bodies() -> dict[str, dict[int, type[Body]]]:
    """The rooms of the newest bodies, and the older versions of those that grew another."""
    found: dict[str, dict[int, type[Body]]] = {}
    for module in (papers, site, instruments, voltage):
        for name, thing in vars(module).items():
            if inspect.isclass(thing) and issubclass(thing, Body) and thing is not Body:
                versions = [getattr(first, name, None), getattr(second, name, None), thing]
                known = [v for n, v in enumerate(versions) if v is not None and v not in versions[:n]]
                found[_kind_of(name)] = dict(enumerate(known, start=1))
    return dict(sorted(found.items()))


KINDS: dict[str, dict[int, type[Body]]] = _bodies()
"""Kind -> version -> struct of the body."""

_WORDS = {
    "instrument.checked": "Check of a tester",
    "indication.raised": "Indication",
    "holiday.confirmed": "Confirmed holiday",
    "retest.done": "Retest",
    "panel.tested": "Test of a panel",
    "climate.read": "Climate reading",
}


def in_words(kind: str) -> str:
    """A kind for a reader: ``confirmed holiday`` for `holiday.confirmed`."""
    return _WORDS.get(kind, kind.replace("_", " ").replace(".", " ").capitalize())
