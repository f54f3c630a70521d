"""One tree of errors. Each says what is wrong, where, and what would be allowed."""

from __future__ import annotations


class WholefilmError(Exception):
    """Root of every error that this project raises on purpose."""


class BadInput(WholefilmError):
    """Something given is not acceptable: exit code 2, HTTP 4xx.

    Parameters
    ----------
    field : str
        Name of the field, option or line.
    value : object
        What was given.
    allowed : str
        What is allowed, in words.
    """

    def __init__(self, field: str, value: object, allowed: str) -> None:
        self.field, self.value, self.allowed = field, value, allowed
        shown = str(value)
        if len(shown) > 120:
            shown = shown[:117] + "..."
        super().__init__(f"{field}: {shown!r} is not accepted. Allowed: {allowed}")


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
    """

    def __init__(self, sentences: list[tuple[str, str]], liftable: bool = True) -> None:
        self.sentences, self.liftable = sentences, liftable
        text = "; ".join(f"{name}: {says}" for name, says in sentences)
        super().__init__(text)


class Broken(WholefilmError):
    """A record is not intact: exit code 1."""
