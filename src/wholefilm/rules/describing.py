"""A rule in rows of label and text, each figure with its grade."""

from __future__ import annotations

from .document import Rule
from .forms import Bounds, Figure, FindOnMadeHoliday, Fixed, Limit, Linear, Power, Span, Table
from .ranges import worded

METHODS = {"wet_sponge": "wet sponge", "spark": "spark", "ac_spark": "ac spark", "found_voltage": "spark, voltage found on a made holiday"}


def described(rule: Rule) -> list[tuple[str, str]]:
    """Rows of label and text for printing one rule."""
    rows = [
        ("id", rule.id),
        ("title", rule.title),
        ("document", rule.document),
        ("editions", "; ".join(rule.editions) or "none read: name that of your own copy"),
        ("clause", rule.clause),
        ("method", METHODS[rule.method]),
        ("only for", rule.only_for),
        ("thickness", rule.thickness_basis),
        ("written for", _bounds(rule.thickness_range)),
        ("further range", _bounds(rule.extended_range)),
        *_form(rule),
        *((one.what.replace("_", " "), f"{one.value} [{one.grade.value}]") for one in rule.procedure),
        *(("doubt", doubt) for doubt in rule.doubts),
        ("superseded by", rule.superseded_by),
        ("note", rule.note),
        ("to choose it", "as it stands" if rule.choosable else _first(rule)),
    ]
    if rule.entered is not None:
        rows.append(("entered", f"p. {rule.entered.page}, {rule.entered.who}, {rule.entered.when}"))
    return [(label, text) for label, text in rows if text]


def figures(rule: Rule) -> str:
    """The figures of a rule in one line, each with its grade."""
    return "; ".join(f"{label} {text}" for label, text in _form(rule) if text)


def _first(rule: Rule) -> str:
    return "confirm it from your own copy first" if rule.grade else "enter the figures from your own copy first"


def _bounds(bounds: Bounds | None) -> str:
    if bounds is None:
        return ""
    says = [worded(bounds), f"[{bounds.grade.value}]", bounds.says, f"needs {bounds.needs}" if bounds.needs else ""]
    return " ".join(one for one in says if one)


def _figure(figure: Figure | None) -> str:
    return f"{figure.value} [{figure.grade.value}]" if figure else ""


def _form(rule: Rule) -> list[tuple[str, str]]:
    form = rule.form
    match form:
        case Power():
            name = f"sqrt(t / {form.unit})" if form.exponent == "0.5" else f"(t / {form.unit})^{form.exponent}"
            by = " / class" if form.classes else ""
            rows = [("formula", f"V = {b.k} {name}{by}, {worded(b)} [{b.grade.value}]") for b in form.branches]
            rows += [("class", f"{k.name}: {k.says}, divide by {k.divisor} [{k.grade.value}]") for k in form.classes]
            if form.span:
                rows.append(("span", f"{form.span.low} to {form.span.high} [{form.span.grade.value}]"))
            return rows
        case Linear():
            slopes = " to ".join(_figure(one) for one in (form.slope, form.to) if one)
            rows = [("slope", f"{slopes} each {form.each}" + (", a least voltage" if form.minimum else ""))]
            return rows + [(label, _figure(f)) for label, f in (("base", form.base), ("floor", form.floor), ("cap", form.cap))]
        case Table():
            rows = [("row", f"{r.from_} to {r.to}: {r.volts} [{r.grade.value}]") for r in form.rows]
            return [*rows, ("rounded up to", _figure(form.rounded_up_to))]
        case Fixed():
            return [("voltage", " to ".join(_figure(f) for f in (form.volts, form.to) if f)), ("tolerance", _figure(form.tolerance))]
        case Span():
            return [("allowed at least", _figure(form.low)), ("allowed at most", _figure(form.high))]
        case FindOnMadeHoliday():
            return [("procedure", f"{form.procedure} [{form.grade.value}]"), ("one for each", form.zone)]
        case Limit():
            names = ("at_least", "at_most", "below", "trip", "trip_tolerance", "check_resistor")
            return [(name.replace("_", " "), _figure(getattr(form, name))) for name in names]
        case _:
            return [("figures", "none shipped")]
