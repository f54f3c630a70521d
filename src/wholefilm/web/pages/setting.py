"""The voltage of a test area on one page, the pages to print, and the same for a film that is typed, outside any job."""

from __future__ import annotations

from typing import Any

import msgspec
from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse, Response

from wholefilm.base.errors import BadInput
from wholefilm.plan.film import BASES
from wholefilm.plan.methods import ALLOWS
from wholefilm.plan.request import cells, crossed, remarks
from wholefilm.report.pages import page_of, raised
from wholefilm.rules import load
from wholefilm.services.voltage import VoltageAnswer, air_of, work_out
from wholefilm.sheets.setting import SettingSheet, setting_sheet, test_areas

from ..frame import address, job_frame, page
from ..kept import KeptPages
from ..library import Library

AIR = ("pressure", "altitude", "temperature")
FIELDS = (*((name, f"{word[0].upper()}{word[1:]} film") for name, word in BASES.items()),)


def router(library: Library) -> APIRouter:
    """Routes of the voltage of an area."""
    routes = APIRouter()
    kept = KeptPages()

    @routes.get("/jobs/{name}/setting/{area}.json")
    def data(name: str, area: str, as_of: str = "", pressure: str = "", altitude: str = "", temperature: str = "") -> Response:
        air = air_of(pressure or None, altitude or None, temperature or None)
        body = msgspec.json.encode(setting_sheet(library.view(name, as_of or None).standing, area, air), order="deterministic")
        return Response(body, media_type="application/json")

    @routes.get("/jobs/{name}/setting/{what}.pdf")
    def printed(name: str, what: str, as_of: str = "", stage: str = "") -> Response:
        standing = library.view(name, as_of or None).standing
        asked = raised(standing.job, what)
        pdf = page_of(library.view(name, asked).standing if asked and not as_of else standing, what, stage)
        return Response(pdf, media_type="application/pdf")

    @routes.get("/jobs/{name}/setting/{area}")
    def one(
        request: Request, name: str, area: str, as_of: str = "", pressure: str = "", altitude: str = "", temperature: str = ""
    ) -> Response:
        typed = dict(zip(AIR, (pressure, altitude, temperature), strict=True))
        return kept.answer(request, library.version(name), lambda: area_page(request, name, area, as_of, typed))

    def area_page(request: Request, name: str, area: str, as_of: str, typed: dict[str, str]) -> HTMLResponse:
        view, frame = job_frame(library, name, as_of, "voltage")
        sheet = setting_sheet(view.standing, area, air_of(*(typed[a] or None for a in AIR)))
        slug = f"setting/{area}"
        asked = [f.body.number for f in view.standing.job.all("question.raised") if f.body.voltage and area in f.body.voltage.test_areas]
        return page(
            request,
            "setting.html",
            sheet=sheet,
            typed=typed,
            here=address(name, slug),
            voltage_link=address(name, "voltage", as_of),
            data_link=address(name, f"{slug}.json", as_of),
            areas=[(address(name, f"setting/{a}", as_of), a, a == area) for a in test_areas(view.standing)],
            prints=[(address(name, f"setting/{area}.pdf", as_of), f"Voltage sheet of {area}")] * bool(sheet.in_force)
            + [(address(name, f"setting/{q}.pdf", as_of), f"Question {q}") for q in asked],
            **shown(sheet),
            **frame,
        )

    @routes.get("/voltage")
    def typed_film(request: Request) -> HTMLResponse:
        return calculated(request)

    return routes


def shown(sheet: SettingSheet | VoltageAnswer) -> dict[str, Any]:
    """What the tables of rules and methods need."""
    given = [r for r in sheet.rules if r.voltage_v is not None]
    films, rows = crossed(cells(sheet.rules))
    may = {f"{r.document} {r.edition} ({r.id})": r.choosable for r in given}
    return {
        "films": films,
        "rows": [(row, "" if row[0] not in may else "yes" if may[row[0]] else "after you confirm it") for row in rows],
        "steps": list(dict.fromkeys(f"{r.id} ({r.document} {r.edition}): {'; '.join(r.steps)}" for r in given if r.steps)),
        "told": remarks(sheet.rules),
        "allows": ALLOWS,
    }


def calculated(request: Request) -> HTMLResponse:
    """The page of a film that is typed: what documents give, once a thickness is there. A wrong value keeps all that was typed."""
    query = request.query_params
    names = [name for name, _ in FIELDS]
    typed = {name: query.get(name, "").strip() for name in (*names, "substrate", "conductive", "immersed", *AIR)}
    chosen = [r for r in query.getlist("rule") if r]
    answer, refused = None, None
    if any(typed[name] for name in names) or query:
        try:
            answer = _answer({name: typed[name] or None for name in names}, typed, chosen)
        except BadInput as error:
            refused = error
    shelf = [(r.id, f"{r.id}: {r.document}", r.id in chosen) for r in load().values()]
    values = shown(answer) if answer is not None else {"films": [], "rows": [], "steps": [], "told": [], "allows": ALLOWS}
    return page(
        request, "voltage.html", status=422 if refused else 200, sheet=answer, refused=refused, typed=typed, fields=FIELDS, shelf=shelf,
        **values,
    )  # fmt: skip


def _answer(films: dict[str, str | None], typed: dict[str, str], chosen: list[str]) -> VoltageAnswer:
    if typed["immersed"] not in ("", "yes", "no"):
        raise BadInput("immersed", typed["immersed"], "yes or no; left out if nobody knows")
    return work_out(
        films,
        rules=chosen,
        substrate=typed["substrate"],
        conductive=typed["conductive"],
        immersed=typed["immersed"] or "not known",  # type: ignore[arg-type]
        air=air_of(*(typed[a] or None for a in AIR)),
    )
