"""The page of one day of a job: its report from the entries, and the same as JSON."""

from __future__ import annotations

import msgspec
from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse, Response

from wholefilm.sheets.day import day_sheet

from ..frame import address, job_frame, page
from ..kept import KeptPages
from ..library import Library
from ..paging import pages_of
from .job import turner


def router(library: Library) -> APIRouter:
    """Routes of the days."""
    routes = APIRouter()
    kept = KeptPages()

    @routes.get("/jobs/{name}/days/{date}.json")
    def data(name: str, date: str, as_of: str = "") -> Response:
        body = msgspec.json.encode(day_sheet(library.view(name, as_of or None).standing, date), order="deterministic")
        return Response(body, media_type="application/json")

    @routes.get("/jobs/{name}/days/{date}")
    def one(request: Request, name: str, date: str, as_of: str = "") -> Response:
        return kept.answer(request, library.version(name), lambda: day_page(request, name, date, as_of))

    def day_page(request: Request, name: str, date: str, as_of: str) -> HTMLResponse:
        slug = f"days/{date}"
        view, frame = job_frame(library, name, as_of, slug)
        day = day_sheet(view.standing, date)
        tables = pages_of(day.tables(), request.query_params)
        turn, link = turner(name, slug, as_of, {}), address(name, f"{slug}.json", as_of)
        return page(request, "day.html", day=day, tables=tables, turn=turn, data_link=link, all_days=address(name, "days", as_of), **frame)

    return routes
