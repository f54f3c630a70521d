"""The page of one entry of a job, and the same as JSON."""

from __future__ import annotations

import msgspec
from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse, Response

from wholefilm.job.kinds import in_words
from wholefilm.sheets.entry import entry_sheet

from ..frame import address, job_frame, page
from ..library import Library
from ..paging import pages_of
from .job import steps, turner


def router(library: Library) -> APIRouter:
    """Routes of the entries."""
    routes = APIRouter()

    @routes.get("/jobs/{name}/entries/{ident}.json")
    def data(name: str, ident: str, as_of: str = "") -> Response:
        body = msgspec.json.encode(entry_sheet(library.view(name, as_of or None).standing, ident), order="deterministic")
        return Response(body, media_type="application/json")

    @routes.get("/jobs/{name}/entries/{ident}")
    def one(request: Request, name: str, ident: str, as_of: str = "") -> HTMLResponse:
        slug = f"entries/{ident}"
        view, frame = job_frame(library, name, as_of, slug)
        entry = entry_sheet(view.standing, ident)
        fields = pages_of(entry.tables()[:1], request.query_params)[0]
        named = [("Names", steps(name, as_of, entry.names)), ("Named by", steps(name, as_of, entry.named_by))]
        turn, link = turner(name, slug, as_of, {}), address(name, f"{slug}.json", as_of)
        return page(
            request, "entry.html", entry=entry, kind=in_words(entry.kind), fields=fields, named=named, turn=turn, data_link=link, **frame
        )

    return routes
