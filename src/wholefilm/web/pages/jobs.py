"""The list of jobs, and the choice of paper."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Form, Request
from fastapi.responses import HTMLResponse, RedirectResponse

from wholefilm.base.errors import BadInput
from wholefilm.drawing.papers import PAPERS

from ..frame import ASSESSMENT_WORDS, address, page
from ..library import Library

YEAR_S = 365 * 24 * 3600


def router(library: Library) -> APIRouter:
    """Routes of the list of jobs."""
    routes = APIRouter()

    @routes.get("/")
    def jobs(request: Request) -> HTMLResponse:
        lines = [(address(x.name), x, ASSESSMENT_WORDS.get(x.assessment, x.assessment)) for x in library.names()]
        return page(request, "jobs.html", lines=lines)

    @routes.post("/paper")
    def choose(paper: Annotated[str, Form()] = "", back: Annotated[str, Form()] = "/") -> RedirectResponse:
        if paper not in PAPERS:
            raise BadInput("paper", paper, ", ".join(PAPERS))
        answer = RedirectResponse(local(back), status_code=303)
        answer.set_cookie("paper", paper, max_age=YEAR_S, httponly=True, samesite="lax")
        return answer

    return routes


def local(back: str) -> str:
    """An address on this site, or the list of jobs: a form cannot send a reader elsewhere."""
    good = back.startswith("/") and not back.startswith("//") and "\\" not in back and back.isprintable() and back.isascii()
    return back if good else "/"
