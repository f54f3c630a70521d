"""The three papers, and the style of a map on each: as colours for a file of its own, as variables for a page."""

from __future__ import annotations

from wholefilm.base.errors import BadInput

PAPERS = {
    "book": {
        "paper": "#fbf9f3", "ink": "#18222c", "ink-2": "#4a5864", "rule-strong": "#8fa6b5", "hatch": "#6f8794",
        "doubt": "#8a5a00", "margin": "#b3392f",
    },
    "sun": {
        "paper": "#ffffff", "ink": "#000000", "ink-2": "#1c1c1c", "rule-strong": "#000000", "hatch": "#3d4a52",
        "doubt": "#5c3b00", "margin": "#9c0000",
    },
    "tank": {
        "paper": "#101418", "ink": "#f2efe6", "ink-2": "#b9c2c8", "rule-strong": "#52636f", "hatch": "#6d8797",
        "doubt": "#ffc45c", "margin": "#ff8a7a",
    },
}  # fmt: skip
FONTS = '"Atkinson Hyperlegible Next", "DejaVu Sans", "Liberation Sans", sans-serif'

_RULES = """
.wf-back{fill:@paper}
.wf-panel{stroke:@rule-strong;stroke-width:.8}
.wf-not_reached{fill:@paper;stroke:@ink;stroke-width:2}
.wf-not_in_scope{fill:@paper;stroke:@ink-2;stroke-width:1.4;stroke-dasharray:1.5 4;stroke-linecap:round}
.wf-not_yet{fill:@paper}
.wf-h{fill:none;stroke:@hatch;stroke-width:.75}
.wf-a{fill:none;stroke:@hatch;stroke-width:1;stroke-dasharray:5 4}
.wf-w{fill:none;stroke:@doubt;stroke-width:.8}
.wf-seam{fill:none;stroke:@rule-strong;stroke-width:.8}
.wf-girth{fill:none;stroke:@ink-2;stroke-width:1.2}
.wf-frame{fill:none;stroke:@ink;stroke-width:1.5}
.wf-tick{fill:none;stroke:@ink;stroke-width:1.2}
.wf-zero{fill:@ink}
.wf-feature{fill:@paper;stroke:@ink-2;stroke-width:1.4}
.wf-ladder{fill:none;stroke:@ink-2;stroke-width:1;stroke-dasharray:6 3}
.wf-repair{fill:none;stroke:@ink;stroke-width:1;stroke-dasharray:3 2}
.wf-ring{fill:@paper;stroke:@ink;stroke-width:1.8}
.wf-half{fill:@ink}
.wf-disc{fill:@ink;stroke:@paper;stroke-width:1}
.wf-cross{fill:none;stroke:@ink;stroke-width:2}
.wf-lead{fill:none;stroke:@ink;stroke-width:.8}
.wf-tag{fill:@paper}
.wf-text{font-family:@font;fill:@ink-2;font-size:12px}
.wf-name{font-family:@font;fill:@ink-2;font-size:12px;font-weight:400}
.wf-label{font-family:@font;fill:@ink;font-size:12px;font-weight:600}
.wf-spot{fill:@hatch}
.wf-under{fill:@margin;stroke:@paper;stroke-width:.8}
.wf-over{fill:@ink;stroke:@paper;stroke-width:.8}
"""


def colours(paper: str) -> dict[str, str]:
    """Colours of a paper by name; BadInput names the papers there are."""
    if paper not in PAPERS:
        raise BadInput("paper", paper, ", ".join(PAPERS))
    return PAPERS[paper]


def _written(values: dict[str, str], font: str) -> str:
    text = _RULES.strip().replace("@font", font)
    for name in sorted(values, key=len, reverse=True):
        text = text.replace(f"@{name}", values[name])
    return text


def file_style(paper: str) -> str:
    """Style of a map that stands alone, with the colours of its paper written out."""
    return _written(colours(paper), FONTS)


def page_style() -> str:
    """Style of the maps of a page, which takes its colours from the page's paper."""
    return _written({name: f"var(--{name})" for name in PAPERS["book"]}, "var(--font)")
