"""What a strict reader of data says in a program's words, told in plain ones: the field, the value, what is allowed there."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping

from .errors import BadInput

_WHERE = re.compile(r" - at `(?:key` in `)?\$\.?([^`]*)`$")
_NAMED = re.compile(r"`([^`]+)`")
_STEP = re.compile(r"[^.\[\]]+")
_LEAST = re.compile(r"(of length )?>= (\d+)")
_MOST = re.compile(r"(of length )?<= (\d+)")
_FORM = re.compile(r"matching regex '(.*)'")
_TYPES = {
    "str": "text",
    "int": "a whole number",
    "float": "a number",
    "bool": "true or false",
    "array": "a list",
    "object": "fields of its own",
    "null": "nothing",
}
_DOCS = "the documentation"


def misfit(
    error: Exception,
    given: object,
    path: str = "",
    *,
    fields: Iterable[str] = (),
    forms: Iterable[str] = (),
    patterns: Mapping[str, str] | None = None,
    page: str = _DOCS,
) -> BadInput:
    """What was wrong with data that a strict reader refused.

    Parameters
    ----------
    error : Exception
        What `msgspec` raised: its text names one place and what it expected there.
    given : object
        The data that was refused; the value is looked up in it.
    path : str
        Where `given` stands, put before the field with a dot.
    fields, forms : iterable of str
        Names of the fields that are known at the top, and of the forms that may be chosen, where the caller knows them.
    patterns : mapping of str to str, optional
        A pattern of text to what it means in words.
    page : str
        Where a reader finds what is allowed.

    Returns
    -------
    BadInput
        Always one, for any error.
    """
    says = str(error)
    match = _WHERE.search(says)
    steps = match[1].replace("[...]", "") if match else ""
    says = says[: match.start()] if match else says
    at = ".".join(x for x in (path, steps) if x)
    named = _NAMED.findall(says)
    if says.startswith("Object missing required field") and named:
        return BadInput(_under(at, named[0]), None, _forms(forms) if forms and named[0] == "form" else "a value")
    if says.startswith("Object contains unknown field") and named:
        known = "" if steps else ", ".join(fields)
        return BadInput(
            _under(at, named[0]),
            value_at(given, f"{steps}.{named[0]}"),
            f"one of the fields {known}" if known else f"a field that {page} lists",
        )
    value = value_at(given, steps)
    if says.startswith(("Invalid value", "Invalid enum value")):
        return BadInput(at or "value", value, _forms(forms) if forms and steps.endswith("form") else f"one of the words that {page} lists")
    if says.startswith("Expected") and named:
        return BadInput(at or "value", value, _allowed(says, named[0], value, patterns or {}, page))
    return BadInput(at or "value", value, f"what {page} gives")


def value_at(given: object, steps: str) -> object:
    """The value at a path such as ``limits[0].form``; as deep as it goes."""
    for step in _STEP.findall(steps):
        if isinstance(given, Mapping) and step in given:
            given = given[step]
        elif isinstance(given, list | tuple) and step.isdigit() and int(step) < len(given):
            given = given[int(step)]
    return given


def _under(path: str, name: str) -> str:
    return f"{path}.{name}" if path else name


def _forms(forms: Iterable[str]) -> str:
    return "one of " + ", ".join(forms)


def _allowed(says: str, expected: str, value: object, patterns: Mapping[str, str], page: str) -> str:
    """What was expected, in words."""
    form = _FORM.search(says)
    if form:
        meanings = {repr(pattern)[1:-1]: meaning for pattern, meaning in patterns.items()}  # as the error prints a pattern
        return meanings.get(form[1], f"text of the form that {page} gives")
    kinds = [_TYPES.get(kind, f"what {page} gives") for kind in re.split(r" \| ", expected) if kind != "null"]
    words = " or ".join(dict.fromkeys(kinds)) or "nothing"
    if words == "text" and isinstance(value, int) and not isinstance(value, bool):
        return "text: a figure with its unit, or in quotes"
    for pattern, end in ((_LEAST, "or more"), (_MOST, "or less")):
        bound = pattern.search(says)
        if bound and not bound[1]:
            return f"{words}, {bound[2]} {end}"
        if bound and bound[2] == "1":
            return f"{words} that is not empty" if words == "text" else f"{words} of one or more"
        if bound:
            return f"{words} of {bound[2]} {end}"
    return words
