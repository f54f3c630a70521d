"""The frame round every page: paper, margin, screens, the time asked for."""

from __future__ import annotations

import re
from typing import Any
from urllib.parse import quote, urlencode

from fastapi import Request
from fastapi.responses import HTMLResponse
from jinja2 import Environment, PackageLoader, StrictUndefined
from markupsafe import Markup, escape

from wholefilm.base import cautions
from wholefilm.base.signs import with_signs
from wholefilm.drawing.papers import PAPERS
from wholefilm.sheets.assessment import WORDS
from wholefilm.sheets.job import job_sheet
from wholefilm.sheets.rows import weighty

from .library import Library, View
from .screens import NAV

PAPER_WORDS = {"book": "Book", "sun": "Sun", "tank": "Tank"}
_ENVIRONMENT = Environment(
    loader=PackageLoader("wholefilm.web"), autoescape=True, undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True
)
# Drawings are our own SVG; every text in them is escaped where it is drawn.
_ENVIRONMENT.filters["drawn"] = Markup
_WHOLE = re.compile(r"[+-]?\d[\d.,]*\s?(?:kV|V|%|m²|µm|mm|m|°C|K|h|Ω)(?![\w])|(?<![\w-])[\w.]{1,12}(?:-[\w.]{1,12}){1,2}(?![\w-])")


def kept_whole(text: object) -> Markup:
    """A text for reading: units with their signs; numbers with their units, dates and names such as ``HV-01`` not torn."""
    said, end, parts = with_signs(str(text)), 0, []
    for found in _WHOLE.finditer(said):
        parts += [escape(said[end : found.start()]), Markup('<span class="nb">{}</span>').format(found[0])]
        end = found.end()
    return Markup("").join([*parts, escape(said[end:])])


_ENVIRONMENT.filters["whole"] = kept_whole
_ENVIRONMENT.filters["signs"] = with_signs
_ENVIRONMENT.tests["weighty"] = weighty
_ENVIRONMENT.globals["cautions"] = cautions
ASSESSMENT_WORDS = {key.value: words for key, words in WORDS.items()}


def paper_of(request: Request) -> str:
    """The paper that a reader chose; the book if none, or one that is not known."""
    chosen = request.cookies.get("paper", "book")
    return chosen if chosen in PAPERS else "book"


def here(request: Request) -> str:
    """Address of this page on this site, to come back to. What a browser would not send there again is left out."""
    return request.url.path + (f"?{request.url.query}" if request.url.query else "")


def page(request: Request, template: str, status: int = 200, **values: Any) -> HTMLResponse:
    """A page from a template, on the reader's paper."""
    text = _ENVIRONMENT.get_template(template).render(paper=paper_of(request), papers=PAPER_WORDS, back=here(request), **values)
    return HTMLResponse(text, status_code=status)


def address(name: str, slug: str = "", as_of: str = "", **more: str | int) -> str:
    """Address of a screen of a job, with the time asked for."""
    query = {k: str(v) for k, v in {"as_of": as_of, **more}.items() if v}
    return f"/jobs/{quote(name, safe='')}" + (f"/{quote(slug, safe='./')}" if slug else "") + (f"?{urlencode(query)}" if query else "")


def job_frame(library: Library, name: str, as_of: str, slug: str) -> tuple[View, dict[str, Any]]:
    """The view of a job and what the frame of its pages needs."""
    view = library.view(name, as_of or None)
    job = job_sheet(view.standing, view.assessment.as_of, view.assessment)
    return view, {
        "name": name,
        "job": job,
        "as_of": as_of,
        "shown": view.assessment.as_of,
        "slug": slug,
        "nav": [(address(name, s, as_of), title, s == slug) for s, title in NAV],
        "now_link": address(name, slug),
        "job_link": address(name, "", as_of),
        "digest": view.digest,
    }
