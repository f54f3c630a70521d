"""What the book's disk says when it refuses."""

from __future__ import annotations

from wholefilm.base.errors import WholefilmError


class NotStored(WholefilmError):
    """The disk or the database refused; nothing of what was given is stored.

    Parameters
    ----------
    what : str
        What was to be written.
    why : object
        What the disk or database said.
    """

    def __init__(self, what: str, why: object) -> None:
        super().__init__(f"{what} is not stored, and nothing of it is half written: {why}")


class NotRead(WholefilmError):
    """The disk or the database did not give what was asked for.

    Parameters
    ----------
    what : str
        What was to be read.
    why : object
        What the disk or database said.
    """

    def __init__(self, what: str, why: object) -> None:
        super().__init__(f"{what} cannot be read: {why}")
