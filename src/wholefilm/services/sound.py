"""Photos and files as a job may use them: only bytes that hash to their name."""

from __future__ import annotations

import hashlib

from wholefilm.job.facts import BlobView


class Sound:
    """A view of photos and files in which swapped or damaged bytes count as not here.

    Parameters
    ----------
    kept : BlobView
        Where the bytes lie, as they lie there.
    """

    def __init__(self, kept: BlobView) -> None:
        self._kept = kept
        self._sound: dict[str, bool] = {}

    def has(self, sha: str) -> bool:
        """Whether the bytes are here and hash to their name."""
        if sha not in self._sound:
            self.get(sha)
        return self._sound[sha]

    def get(self, sha: str) -> bytes | None:
        """The bytes, or None if they are not here or others lie under that name."""
        content = self._kept.get(sha)
        self._sound[sha] = content is not None and hashlib.sha256(content).hexdigest() == sha
        return content if self._sound[sha] else None

    def wrong(self, sha: str) -> bool:
        """Whether other bytes lie under that name."""
        return not self.has(sha) and self._kept.has(sha)
