"""What a voltage sheet lacks when it is written, and which film it is not for: asked at the form, before anything is stored."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from math import ceil, floor
from typing import Any

from wholefilm.base.errors import BadInput
from wholefilm.base.quantity import Quantity
from wholefilm.instruments.field_check import read_setting
from wholefilm.job.facts import Fact, Job

from .assessment import Ground
from .needs import PRACTICE
from .setting import is_ac, is_spark, outside, sheet_lacks
from .states import Unmet
from .zones import zones_untried

SPARK = ("ignition", "operators", "implants", "charge", "other_face", "company", "leads", "devices")
SPONGE = ("ignition", "devices")
"""What the site's own people answer before a sheet stands; a high-frequency AC spark asks for `ozone` too."""
_SUPPLY = "site.by='NAME, ROLE' " + " ".join(f"site.{topic}='...'" for topic in SPARK)


def asked_of_site(method: str, setting: str) -> tuple[str, ...]:
    """Names of the cautions that the site answers for a method and setting: fields of `SiteAnswers`."""
    if not is_spark(setting):
        return SPONGE
    return (*SPARK, "ozone") if is_ac(method) else SPARK


def voltage_set(job: Job, draft: Fact) -> list[Unmet]:
    """What a voltage sheet lacks as it is written."""
    body, ground = draft.body, Ground(job)
    found = [_lack(lack) for lack in sheet_lacks(job, draft)]
    answered = {name for name in getattr(body.site, "__struct_fields__", ()) if (getattr(body.site, name) or "").strip()}
    missing = [name for name in asked_of_site(body.method, body.setting) if name not in answered]
    if missing:
        says = f"the site's own answers to the cautions are not entered: {', '.join(missing)} (fields of site, and site.by who answered)"
        found.append(Unmet("site", says, PRACTICE, False, supply=f"add {_SUPPLY}"))
    found += [_lack(lack) for lack in _found_lacks(job, draft)]
    panels = [p.name for _, p in ground.site.panels if p.test_area in body.test_areas]
    zones = zones_untried(job, ground.site, panels, draft.start) if is_spark(body.setting) else []
    if zones:
        found.append(Unmet("voltage", f"no voltage found on a made holiday in ground zone {', '.join(zones)}", PRACTICE))
    return found


def _lack(says: str) -> Unmet:
    return Unmet("voltage", f"the voltage sheet: {says}", PRACTICE, False)


def _found_lacks(job: Job, draft: Fact) -> list[str]:
    """Found voltages that no made holiday of the record bears out."""
    lacks = []
    for one in draft.body.found or []:
        made = job.get(one.made_holiday, "made_holiday.made")
        if made is None:
            lacks.append(f"the found voltage of {one.zone} names no made holiday of this job")
        elif one.zone not in (made.body.zone, made.body.ground):
            lacks.append(f"the found voltage of {one.zone} names {made.body.number}, which was made in {made.body.zone}")
        elif made.body.found_voltage is None or _si(made.body.found_voltage) != _si(one.voltage):
            lacks.append(f"{made.body.number} in {one.zone}: {made.body.found_voltage or 'no voltage'} was found, not {one.voltage}")
    return lacks


def _si(text: str) -> tuple[str, Fraction]:
    read = read_setting(text)
    return read.dimension, read.exact(_UNIT[read.dimension])


_UNIT = {"voltage": "V", "length": "mm", "resistance": "ohm"}


def check_steps(body: Any) -> None:
    """Refuse a setting that the tester as entered cannot be brought to from what was chosen.

    Parameters
    ----------
    body : VoltageSet

    Raises
    ------
    BadInput
        If setting, chosen value, range and step are not of one kind; the setting lies outside the range, or it is not the
        chosen value brought onto a step the stated way.
    """
    steps = body.steps
    if body.tolerance and not body.tolerance_source:
        raise BadInput("tolerance_source", "nothing", "document and clause, or who said so: a tolerance has a source")
    if body.chosen and steps is None and _si(body.chosen) != _si(body.setting):
        raise BadInput("setting", body.setting, f"{body.chosen} as chosen, or steps.step and steps.rounded that lead to it")
    if steps is None:
        return
    kind = read_setting(body.setting, "setting").dimension
    given = {"chosen": body.chosen, "steps.step": steps.step, "steps.low": steps.low, "steps.high": steps.high}
    read: dict[str, Quantity] = {name: read_setting(text, name) for name, text in given.items() if text}
    for name, one in read.items():
        if one.dimension != kind or one.number <= 0:
            raise BadInput(name, one.text, f"a {kind.replace('length', 'spark length')} more than zero, as the setting is")
    unit = _UNIT[kind]
    setting, step = read_setting(body.setting).exact(unit), read["steps.step"].exact(unit)
    if "steps.low" in read and setting < read["steps.low"].exact(unit):
        raise BadInput("setting", body.setting, f"at least {steps.low}, where the tester begins")
    if "steps.high" in read and setting > read["steps.high"].exact(unit):
        raise BadInput("setting", body.setting, f"at most {steps.high}, where the tester ends")
    start = read["chosen"].exact(unit) if "chosen" in read else setting
    right = (ceil if steps.rounded == "up" else floor)(start / step) * step
    if right != setting:
        wanted = f"{float(right):g} {unit}: {body.chosen or body.setting} brought {steps.rounded} onto a step of {steps.step}"
        raise BadInput("setting", body.setting, wanted)


def film_outside_for_test(ground: Ground, panel: str, stage: str, start: int) -> list[Unmet]:
    """Readings made since the sheet that lie outside its thickness basis, on the panel's test area."""
    area = ground.site.test_area_of(panel)
    sheet = ground.needs.sheet(area, stage, start)
    if sheet is None:
        return []
    new = ground.needs.thickness.between(area, sheet.start, start)
    wrong = [um for um in new if outside(sheet, f"{um:.6f} um")]
    if not wrong:
        return []
    says = f"{len(wrong)} of {len(new)} readings of {area} made since its voltage sheet lie outside {_span(sheet)}: a new sheet"
    return [Unmet("voltage", says, PRACTICE)]


def film_outside_for_retest(ground: Ground, panels: Sequence[str], stage: str, film: str, start: int) -> list[Unmet]:
    """A local film of a retest outside the thickness basis of the sheet in force there."""
    found = []
    for area in dict.fromkeys(ground.site.test_area_of(p) for p in panels):
        sheet = ground.needs.sheet(area, stage, start)
        says = outside(sheet, film) if sheet is not None else ""
        if sheet is not None and says:
            text = f"local film {film} lies {says}: the voltage sheet of {area} is for {_span(sheet)}; another thickness, another sheet"
            found.append(Unmet("voltage", text, PRACTICE))
    return found


def _span(sheet: Fact) -> str:
    return " to ".join(x for x in (sheet.body.basis.low, sheet.body.basis.high) if x)
