"""What an instrument found bad puts in question: all that it did since it was last found good.

The window runs from the last good check to the discovery [1]_; a documented check of every shift shortens it to hours.

References
----------
.. [1] ASTM D7091 and SSPC-PA 2, verification of accuracy: all readings since the last good check are suspect (from memory);
   ISO 9001:2015, 7.1.5.2: the validity of earlier results is judged (restated).
"""

from __future__ import annotations

from collections.abc import Sequence

from wholefilm.base.errors import BadInput


def at_risk(found: int, last_good: int | None, times: Sequence[int]) -> list[int]:
    """Uses between the last good check and the discovery.

    Parameters
    ----------
    found : int
        When the instrument was found bad. [ms UTC]
    last_good : int or None
        When it was last found good; None if it never was. [ms UTC]
    times : sequence of int, shape (n,)
        When it was used. [ms UTC]

    Returns
    -------
    list of int
        The suspect ones, in the order given. [ms UTC]

    Raises
    ------
    BadInput
        If the last good check is later than the discovery.
    """
    if last_good is not None and last_good > found:
        raise BadInput("last_good", last_good, f"not later than when it was found bad, {found}")
    return [t for t in times if t <= found and (last_good is None or t >= last_good)]
