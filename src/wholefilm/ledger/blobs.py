"""Photos and files, beside the book, each under the SHA-256 of its bytes."""

from __future__ import annotations

import hashlib
from pathlib import Path
from typing import Protocol

from wholefilm.base.errors import BadInput

from .entry import is_sha256
from .errors import NotStored
from .files import sync_folder, write_whole


class BlobStore(Protocol):
    """What every place for photos and files can do."""

    def put(self, content: bytes) -> str:
        """Keep bytes; their SHA-256."""

    def get(self, sha: str) -> bytes | None:
        """The bytes, or None if they are not there."""

    def has(self, sha: str) -> bool:
        """Whether they are there."""


def _checked(sha: str) -> str:
    if not is_sha256(sha):
        raise BadInput("sha256", sha, "64 lower-case hex digits")
    return sha


class Blobs:
    """A folder with one file a blob, named by its SHA-256.

    Parameters
    ----------
    folder : Path
        Made when the first bytes come.
    """

    def __init__(self, folder: Path) -> None:
        self.folder = folder

    def path(self, sha: str) -> Path:
        """Where the bytes lie, or would.

        Raises
        ------
        BadInput
            If `sha` is no SHA-256 in lower-case hex.
        """
        return self.folder / _checked(sha)

    def put(self, content: bytes) -> str:
        """Keep bytes: beside, forced to disk, renamed, read back.

        Returns
        -------
        str
            Their SHA-256. The same bytes again change nothing; bytes found damaged under that name are replaced.

        Raises
        ------
        NotStored
            If the disk refuses, or does not give back what was written.
        """
        sha = hashlib.sha256(content).hexdigest()
        path = self.path(sha)
        if self._sound(path, sha):
            return sha
        try:
            if not self.folder.is_dir():
                self.folder.mkdir(parents=True, exist_ok=True)
                sync_folder(self.folder.parent)
        except OSError as error:
            raise NotStored(str(path), error) from error
        write_whole(path, content)
        if not self._sound(path, sha):
            raise NotStored(str(path), "the disk does not give back the bytes that were written")
        return sha

    @staticmethod
    def _sound(path: Path, sha: str) -> bool:
        try:
            return hashlib.sha256(path.read_bytes()).hexdigest() == sha
        except OSError:
            return False

    def get(self, sha: str) -> bytes | None:
        """The bytes as they lie there, or None. `verify` holds them against their name."""
        try:
            return self.path(sha).read_bytes()
        except FileNotFoundError:
            return None

    def has(self, sha: str) -> bool:
        """Whether bytes lie under that name."""
        return self.path(sha).is_file()


class MemoryBlobs:
    """The same in memory."""

    def __init__(self) -> None:
        self._kept: dict[str, bytes] = {}

    def put(self, content: bytes) -> str:
        """Keep bytes; their SHA-256."""
        sha = hashlib.sha256(content).hexdigest()
        self._kept[sha] = bytes(content)
        return sha

    def get(self, sha: str) -> bytes | None:
        """The bytes, or None."""
        return self._kept.get(_checked(sha))

    def has(self, sha: str) -> bool:
        """Whether they are there."""
        return _checked(sha) in self._kept
