"""Ground zones of a film on concrete: in which of them no voltage was found on a made holiday before the sheet.

Where the path back to ground runs through a conductive underlayment or the concrete itself, its resistance differs from zone to
zone; the voltage at which a spark comes every time is found on a made holiday in each (common practice; ASTM D4787, from memory).
"""

from __future__ import annotations

from collections.abc import Sequence

from wholefilm.job.facts import Fact, Job

from .setting import is_spark
from .site import Site
from .states import Line


def zones_untried(job: Job, site: Site, panels: Sequence[str], by: int) -> list[str]:
    """Ground zones that panels hang on and in which no voltage was found by a time.

    Parameters
    ----------
    job : Job
    site : Site
    panels : sequence of str
    by : int
        [ms UTC]

    Returns
    -------
    list of str
        Names of ground points; empty unless the film has a conductive underlayment or holidays were made in it, and more than one
        point, each with what it serves, is proved.
    """
    areas = {site.test_area_of(p) for p in panels}
    by_zones = any(_underlaid(f.body.layers) for f in job.all("system.set") if areas & set(f.body.test_areas))
    points: dict[str, Fact] = {}
    for fact in sorted(job.all("ground.checked"), key=lambda f: (f.start, f.rank)):
        if fact.body.serves and fact.start <= by:
            points[fact.body.point] = fact
    proved = {name: f for name, f in points.items() if f.body.found != "open"}
    if len(proved) < 2 or not (by_zones or job.all("made_holiday.made")):
        return []
    tried = {name for f in job.all("made_holiday.made") if f.body.found_voltage and f.start <= by for name in (f.body.zone, f.body.ground)}
    mine = [name for name, f in proved.items() if any(site.covers(f.body.serves, p) for p in panels)]
    return [name for name in mine if name not in tried]


def zone_lines(job: Job, site: Site) -> list[Line]:
    """A remark for each sheet of a spark test that was set before a voltage was found in each ground zone of its areas."""
    lines = []
    for sheet in job.all("voltage.set"):
        panels = [p.name for _, p in site.panels if p.test_area in sheet.body.test_areas]
        zones = zones_untried(job, site, panels, sheet.start) if is_spark(sheet.body.setting) else []
        if zones:
            says = (
                f"Voltage sheet of {', '.join(sheet.body.test_areas)}: no voltage found on a made holiday in ground zone {', '.join(zones)}"
            )
            lines.append(Line("zone_untried", says, "the resistance to ground differs from zone to zone", False, [sheet.id]))
    return lines


def _underlaid(layers: Sequence[object]) -> bool:
    """Whether a conductive layer lies under one that is not. Layers stand from the substrate outwards."""
    words = [getattr(layer, "conductive", "") for layer in layers]
    return "yes" in words and "no" in words[words.index("yes") :]
