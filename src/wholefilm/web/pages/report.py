"""The report: what to take away, and how another can check it."""

from __future__ import annotations

import re

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse, Response

from wholefilm.base.errors import NotFound

from ..frame import address, job_frame, page
from ..library import Library

_SHA = re.compile(r"^[0-9a-f]{64}$")
_PICTURES = {b"\xff\xd8\xff": "image/jpeg", b"\x89PNG\r\n\x1a\n": "image/png"}


def router(library: Library) -> APIRouter:
    """Routes of the report; they stand before those of the sheets."""
    routes = APIRouter()

    @routes.get("/jobs/{name}/report")
    def report(request: Request, name: str, as_of: str = "") -> HTMLResponse:
        _, frame = job_frame(library, name, as_of, "report")
        links = {"pdf": address(name, "report.pdf", as_of), "record": address(name, "record.jsonl"), "file": f"{file_name(name)}.jsonl"}
        return page(request, "report.html", links=links, **frame)

    @routes.get("/jobs/{name}/report.pdf")
    def pdf(name: str, as_of: str = "") -> Response:
        return Response(library.report(name, as_of or None), media_type="application/pdf", headers=_attached(f"{file_name(name)}.pdf"))

    @routes.get("/jobs/{name}/record.jsonl")
    def record(name: str) -> Response:
        return Response(library.export(name), media_type="application/x-ndjson", headers=_attached(f"{file_name(name)}.jsonl"))

    @routes.get("/jobs/{name}/files/{sha}")
    def blob(name: str, sha: str) -> Response:
        content = library.blob(name, sha) if _SHA.match(sha) else None
        if content is None:
            raise NotFound("file", sha, "a photo or file that this job names and that is here")
        kind = picture_kind(content)
        if kind:
            return Response(content, media_type=kind)
        return Response(content, media_type="application/octet-stream", headers=_attached(f"{sha[:16]}.bin"))

    return routes


def picture_kind(content: bytes) -> str:
    """Media type of a photo by its first bytes; empty for anything else, which is never shown."""
    return next((kind for start, kind in _PICTURES.items() if content.startswith(start)), "")


def file_name(name: str) -> str:
    """A name that every disk takes."""
    return re.sub(r"[^A-Za-z0-9._-]+", "-", name).strip(".-")[:80] or "job"


def _attached(file: str) -> dict[str, str]:
    return {"Content-Disposition": f'attachment; filename="{file}"'}
