"""One tree of errors. Each says what is wrong, where, and what would be allowed."""

from __future__ import annotations

import json


class WholefilmError(Exception):
    """Root of every error that this project raises on purpose."""


class BadInput(WholefilmError):
    """Something given is not acceptable, or nothing is given: exit code 2, HTTP 4xx.

    Parameters
    ----------
    field : str
        Name of the field, option or line.
    value : object
        What was given; None or ``"nothing"`` where nothing is.
    allowed : str
        What is allowed, in words.
    """

    def __init__(self, field: str, value: object, allowed: str) -> None:
        self.field, self.value, self.allowed = field, "nothing" if value is None else value, allowed
        if self.value == "nothing":
            super().__init__(f"{field}: nothing is given. Needed: {allowed}")
            return
        shown = _shown(value)
        if len(shown) > 120:
            shown = shown[:117] + "..."
        super().__init__(f"{field}: {shown!r} is not accepted. Allowed: {allowed}")


def _shown(value: object) -> str:
    """A value as a person types it: yes and no, lists and maps as JSON."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, dict | list | tuple):
        return json.dumps(value, ensure_ascii=False, default=str)
    return str(value)


class OutOfRange(BadInput):
    """A number lies outside the range for which a rule or formula was written."""


class UnknownEdition(BadInput):
    """A document is known, the edition asked for is not. Editions never default."""


class NotFound(BadInput):
    """Nothing by that name."""


class Conflict(WholefilmError):
    """Same identity, other bytes (HTTP 409). Both are kept; a person settles it."""


class Needs(WholefilmError):
    """An entry was refused because something that it needs is missing.

    Parameters
    ----------
    sentences : list of (str, str)
        Name of each need and the sentence that says what is missing.
    liftable : bool
        Whether `although` may carry the entry into the book.
    untold : list of (str, str), optional
        Needs of which the record does not tell: they refuse nothing, and will stand on the exceptions page.
    """

    def __init__(self, sentences: list[tuple[str, str]], liftable: bool = True, untold: list[tuple[str, str]] | None = None) -> None:
        self.sentences, self.liftable, self.untold = sentences, liftable, untold or []
        text = "; ".join(f"{name}: {says}" for name, says in sentences)
        super().__init__(text)


class Broken(WholefilmError):
    """A record is not intact: exit code 1."""
