"""The first page of a job, the pages of its sheets, and the same as JSON."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from urllib.parse import quote

import msgspec
from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse, Response

from wholefilm.base.errors import NotFound
from wholefilm.job.kinds import in_words
from wholefilm.sheets.day import days_of
from wholefilm.sheets.days import DaysSheet
from wholefilm.sheets.entry import LinkRow, links

from ..drawings import DrawingRoom
from ..frame import address, job_frame, page
from ..kept import KeptPages
from ..library import Library, View
from ..paging import pages_of
from ..screens import BY_SLUG, Screen, sheet_named
from .report import picture_kind

MOST_PHOTOS = 60
MOST_BEHIND = 20  # entries of one exception on the page; its data has all


def router(library: Library) -> APIRouter:
    """Routes of the sheets."""
    routes = APIRouter()
    room = DrawingRoom()
    kept = KeptPages()

    @routes.get("/jobs/{name}")
    def first(request: Request, name: str, as_of: str = "") -> Response:
        version = library.version(name)
        return kept.answer(request, version, lambda: first_page(request, name, as_of, version))

    def first_page(request: Request, name: str, as_of: str, version: str) -> HTMLResponse:
        view, frame = job_frame(library, name, as_of, "")
        tables = pages_of(frame["job"].tables(), request.query_params)
        turn = turner(name, "", as_of, {})
        return page(request, "job.html", tables=tables, drawings=room.maps(version, as_of, view), turn=turn, **frame)

    @routes.get("/jobs/{name}/{sheet}.json")
    def data(name: str, sheet: str, as_of: str = "") -> Response:
        made = sheet_named(sheet)
        body = msgspec.json.encode(made(library.view(name, as_of or None)), order="deterministic")
        return Response(body, media_type="application/json")

    @routes.get("/jobs/{name}/{sheet}")
    def table(request: Request, name: str, sheet: str, as_of: str = "") -> Response:
        screen = BY_SLUG.get(sheet)
        if screen is None:
            raise NotFound("page", sheet, ", ".join([*BY_SLUG, "report"]))
        version = library.version(name)
        return kept.answer(request, version, lambda: table_page(request, screen, name, sheet, as_of, version))

    def table_page(request: Request, screen: Screen, name: str, sheet: str, as_of: str, version: str) -> HTMLResponse:
        view, frame = job_frame(library, name, as_of, sheet)
        made = screen.sheet(view)
        drawings = None
        if sheet == "readings":
            drawings = room.thickness(version, as_of, view)
        elif sheet in ("test", "holidays", "repairs"):
            drawings = room.maps(version, as_of, view)
        photos = photos_of(library, name, made) if sheet == "days" else []
        days = [(address(name, f"days/{d}", as_of), d) for d in days_of(view.standing.job)] if sheet == "days" else []
        tables = pages_of(made.tables(), request.query_params, choose=True)
        asked = {c.key: c.chosen for t in tables for c in t.choices if c.chosen}
        return page(
            request,
            "sheet.html",
            screen=screen,
            tables=tables,
            asked=asked,
            here=address(name, sheet),
            without=lambda keys: address(name, sheet, as_of, **{k: v for k, v in asked.items() if k not in keys}),
            drawings=drawings,
            photos=photos,
            days=days,
            behind=_behind(name, as_of, view) if sheet == "assessment" else [],
            source=getattr(made, "dew_point_source", ""),
            turn=turner(name, sheet, as_of, asked),
            data_link=address(name, f"{sheet}.json", as_of),
            **frame,
        )

    return routes


def _behind(name: str, as_of: str, view: View) -> list[tuple[str, list[tuple[str, str, str]], int]]:
    """Each exception with links to the first entries that it is about, and how many more there are."""
    found = []
    for line in view.assessment.exceptions:
        shown = links(view.standing, line.entries[:MOST_BEHIND])
        if shown:
            found.append((line.says, steps(name, as_of, shown), len(line.entries[MOST_BEHIND:])))
    return found


def steps(name: str, as_of: str, rows: list[LinkRow]) -> list[tuple[str, str, str]]:
    """Address, number and words of each entry, for a list of links."""
    return [(address(name, f"entries/{r.entry}", as_of), r.number, f"{in_words(r.kind)}, {r.at}, {r.by}") for r in rows]


def turner(name: str, slug: str, as_of: str, asked: Mapping[str, str]) -> Callable[[str, int], str]:
    """Addresses of the other pages of a table; what was chosen stays chosen."""
    return lambda key, number: address(name, slug, as_of, **asked, **{key: number}) + f"#{key}"


def photos_of(library: Library, name: str, days: DaysSheet) -> list[tuple[str, str]]:
    """Address and caption of each photo that is here and that a browser shows."""
    found = []
    for photo in days.photos[:MOST_PHOTOS]:
        content = library.blob(name, photo.sha) if photo.sha else None
        if content is not None and picture_kind(content):
            found.append((f"/jobs/{quote(name, safe='')}/files/{photo.sha}", f"{photo.when} · {photo.about} · {photo.what}"))
    return found
