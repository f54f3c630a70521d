"""Numbers of marks as one short label: ``B8–B13``, ``B17, B18``."""

from __future__ import annotations

import re
from collections.abc import Iterable

_NUMBER = re.compile(r"^(.*?)(\d+)$")


def number_key(number: str) -> tuple[str, int, str]:
    """Order of numbers as a reader counts: letter, then counter."""
    found = _NUMBER.match(number)
    return (found[1], int(found[2]), number) if found else (number, -1, number)


def range_label(numbers: Iterable[str], most: int = 3) -> str:
    """One label for several numbers; runs of three and more as a range, what goes beyond `most` parts is counted."""
    runs: list[list[str]] = []
    for number in sorted(set(numbers), key=number_key):
        letter, count, _ = number_key(number)
        last = number_key(runs[-1][-1]) if runs else ("", -9, "")
        if count >= 0 and letter == last[0] and count == last[1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    parts: list[str] = []
    sizes: list[int] = []
    for run in runs:
        if len(run) >= 3:
            parts.append(f"{run[0]}–{run[-1]}")
            sizes.append(len(run))
        else:
            parts += run
            sizes += [1] * len(run)
    if len(parts) > most:
        return ", ".join(parts[: most - 1]) + f" + {sum(sizes[most - 1 :])} more"
    return ", ".join(parts)
