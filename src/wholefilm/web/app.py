"""The page as an application over a library of jobs."""

from __future__ import annotations

import logging
import secrets
from datetime import datetime
from importlib.resources import files
from typing import Any

from fastapi import FastAPI, Request
from fastapi.exceptions import RequestValidationError
from fastapi.responses import JSONResponse, Response
from fastapi.staticfiles import StaticFiles
from starlette.exceptions import HTTPException

from wholefilm.base.errors import BadInput, NotFound, WholefilmError

from .frame import page
from .library import Library
from .pages import day, entry, job, jobs, report, setting

HEADERS = {
    "Content-Security-Policy": "default-src 'none'; style-src 'self'; img-src 'self'; font-src 'self'; form-action 'self'; "
    "base-uri 'none'; frame-ancestors 'none'",
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "DENY",
    "Referrer-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Permissions-Policy": "camera=(), geolocation=(), microphone=()",
}

# Title, and what to do next.
WORDS = {
    400: ("This cannot be read", "Go back, mend the value named here, and send it again."),
    404: ("Nothing by that name", "Look whether the address was typed whole, or begin again with the list of jobs."),
    409: ("The record is not whole", "Load the record again from where it came, or ask the person who keeps it."),
    500: (
        "This page could not be made",
        "The program made a mistake. Nothing was changed: pages only read the record. Go back and try once more; if it comes "
        "again, tell whoever looks after the program the mark and the time below.",
    ),
}
LOG = logging.getLogger("wholefilm.web")


class _Headers:
    """Adds the headers to every answer; pages are asked for anew each time, what lies in `static` is kept an hour."""

    def __init__(self, app: Any) -> None:
        self._app = app

    async def __call__(self, scope: Any, receive: Any, send: Any) -> None:
        if scope["type"] != "http":
            await self._app(scope, receive, send)
            return
        kept = "public, max-age=3600" if scope["path"].startswith("/static/") else "no-cache"
        extra = [(k.lower().encode(), v.encode()) for k, v in {**HEADERS, "Cache-Control": kept}.items()]

        async def answer(message: Any) -> None:
            if message["type"] == "http.response.start":
                message = {**message, "headers": [*message["headers"], *extra]}
            await send(message)

        await self._app(scope, receive, answer)


def create_app(library: Library) -> FastAPI:
    """The page over a library. It reads only; nothing in it comes from elsewhere.

    Parameters
    ----------
    library : Library
        Jobs by name.

    Returns
    -------
    FastAPI
        Application with sync handlers, no page of its own interface, no address outside this site.
    """
    app = FastAPI(title="wholefilm", docs_url=None, redoc_url=None, openapi_url=None)
    app.mount("/static", StaticFiles(directory=str(files("wholefilm.web") / "static")), name="static")
    for room in (jobs, report, day, entry, setting, job):
        app.include_router(room.router(library))
    app.add_middleware(_Headers)
    app.add_exception_handler(WholefilmError, _refused)
    app.add_exception_handler(RequestValidationError, _unreadable)
    app.add_exception_handler(HTTPException, _http)
    app.add_exception_handler(Exception, _unexpected)
    return app


def _refused(request: Request, error: Exception) -> Response:
    if isinstance(error, BadInput):
        return _answer(request, 404 if isinstance(error, NotFound) else 400, error.field, str(error.value), error.allowed)
    return _answer(request, 409, "record", str(error), "a record that is whole")


def _unreadable(request: Request, error: Exception) -> Response:
    first = error.errors()[0] if isinstance(error, RequestValidationError) and error.errors() else {}
    field = str((first.get("loc") or ("form",))[-1])
    return _answer(request, 400, field, str(first.get("input", "")), str(first.get("msg", "a value of the right form")))


def _http(request: Request, error: Exception) -> Response:
    status = error.status_code if isinstance(error, HTTPException) else 500
    allowed = "the list of jobs at /, or a page that it leads to" if status == 404 else "GET for every page, POST for the choice of paper"
    return _answer(request, status, "address" if status == 404 else "request", f"{request.method} {request.url.path}", allowed)


def _answer(request: Request, status: int, field: str, value: str, allowed: str) -> Response:
    if len(value) > 120:
        value = value[:117] + "..."
    if request.url.path.endswith(".json"):
        return JSONResponse({"field": field, "value": value, "allowed": allowed}, status_code=status)
    title, do = WORDS.get(status, ("This is not offered here", "Go back, or begin again with the list of jobs."))
    rows = [("Field", field), ("Given", value), ("Allowed", allowed)]
    return page(request, "error.html", status=status, title=title, do=do, rows=rows)


def _unexpected(request: Request, error: Exception) -> Response:
    """An error of the program: the reader is told what to do, the detail goes to the log under the same mark."""
    mark = secrets.token_hex(4)
    LOG.error("page error %s at %s %s", mark, request.method, request.url.path, exc_info=error)
    when = datetime.now().astimezone().strftime("%Y-%m-%d %H:%M %z")
    if request.url.path.endswith(".json"):
        said = {"field": "program", "value": f"page error {mark}", "allowed": "try again; the log of the program has the detail"}
        answer: Response = JSONResponse(said, status_code=500)
    else:
        rows = [("Page", request.url.path[:120]), ("When", when), ("Mark in the log", mark)]
        title, do = WORDS[500]
        answer = page(request, "error.html", status=500, title=title, do=do, rows=rows)
    # This answer is made outside the room that adds the headers to all others.
    answer.headers.update({**HEADERS, "Cache-Control": "no-cache"})
    return answer
