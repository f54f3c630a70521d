"""Pages as they were made, kept until the job changes: a page is made once for a position of the job, an address and a paper."""

from __future__ import annotations

import threading
from collections import OrderedDict
from collections.abc import Callable

from fastapi import Request
from fastapi.responses import HTMLResponse, Response

from .frame import here, paper_of

MOST_BYTES = 64 << 20
"""Of pages kept; the ones not asked for longest go first. [B]"""

_Key = tuple[str, str, str]


class KeptPages:
    """The last pages made, at most `most_bytes` of them.

    Parameters
    ----------
    most_bytes : int, optional
    """

    def __init__(self, most_bytes: int = MOST_BYTES) -> None:
        self._most = most_bytes
        self._pages: OrderedDict[_Key, bytes] = OrderedDict()
        self._bytes = 0
        self._lock = threading.Lock()
        self._making: dict[_Key, threading.Lock] = {}

    def answer(self, request: Request, version: str, make: Callable[[], HTMLResponse]) -> Response:
        """The page of a request for a version of its job; made by one reader, while the others who ask for it wait.

        Notes
        -----
        What `make` raises is raised to each reader, and nothing is kept then.
        """
        key = (version, here(request), paper_of(request))
        body = self._get(key)
        if body is None:
            with self._lock:
                turn = self._making.setdefault(key, threading.Lock())
            with turn:
                body = self._get(key)
                if body is None:
                    try:
                        body = bytes(make().body)
                        self._put(key, body)
                    finally:
                        with self._lock:
                            self._making.pop(key, None)
        return HTMLResponse(body)

    def _get(self, key: _Key) -> bytes | None:
        with self._lock:
            body = self._pages.get(key)
            if body is not None:
                self._pages.move_to_end(key)
            return body

    def _put(self, key: _Key, body: bytes) -> None:
        with self._lock:
            self._bytes += len(body) - len(self._pages.pop(key, b""))
            self._pages[key] = body
            while self._bytes > self._most and self._pages:
                self._bytes -= len(self._pages.popitem(last=False)[1])
