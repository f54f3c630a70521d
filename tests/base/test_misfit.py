"""What a strict reader refuses, in plain words: the reader is msgspec, whose own sentences never come through."""

from __future__ import annotations

from typing import Annotated, Literal

import msgspec
import pytest
from msgspec import Meta

from wholefilm.base.errors import BadInput
from wholefilm.base.misfit import misfit

DAY = r"^\d{4}-\d\d-\d\d$"


class Coat(msgspec.Struct, forbid_unknown_fields=True):
    batch: str
    day: Annotated[str, Meta(pattern=DAY)] | None = None


class Wet(msgspec.Struct, forbid_unknown_fields=True, tag_field="form", tag="wet"):
    batch: Annotated[str, Meta(min_length=1)]
    nth: Annotated[int, Meta(ge=1)] = 1
    dry: bool = False
    which: Literal["first", "last"] = "first"
    counts: dict[str, int] | None = None
    coats: Annotated[list[Coat], Meta(min_length=1)] | None = None


class Dry(msgspec.Struct, tag_field="form", tag="dry"):
    batch: str


@pytest.mark.parametrize(
    ("given", "says"),
    [
        ({}, "rule.form: nothing is given. Needed: one of wet, dry"),
        ({"form": "damp"}, "rule.form: 'damp' is not accepted. Allowed: one of wet, dry"),
        ({"form": "wet"}, "rule.batch: nothing is given. Needed: a value"),
        ({"form": "wet", "batch": 7}, "rule.batch: '7' is not accepted. Allowed: text: a figure with its unit, or in quotes"),
        ({"form": "wet", "batch": True}, "rule.batch: 'yes' is not accepted. Allowed: text"),
        ({"form": "wet", "batch": ""}, "rule.batch: '' is not accepted. Allowed: text that is not empty"),
        ({"form": "wet", "batch": "K", "nth": 0}, "rule.nth: '0' is not accepted. Allowed: a whole number, 1 or more"),
        ({"form": "wet", "batch": "K", "nth": "two"}, "rule.nth: 'two' is not accepted. Allowed: a whole number"),
        ({"form": "wet", "batch": "K", "dry": "so"}, "rule.dry: 'so' is not accepted. Allowed: true or false"),
        ({"form": "wet", "batch": "K", "which": "mid"}, "rule.which: 'mid' is not accepted. Allowed: one of the words that p.md lists"),
        ({"form": "wet", "batch": "K", "more": [1]}, "rule.more: '[1]' is not accepted. Allowed: a field that p.md lists"),
        ({"form": "wet", "batch": "K", "counts": {"a": "x"}}, """rule.counts: '{"a": "x"}' is not accepted. Allowed: a whole number"""),
        ({"form": "wet", "batch": "K", "coats": []}, "rule.coats: '[]' is not accepted. Allowed: a list of one or more"),
        ({"form": "wet", "batch": "K", "coats": {}}, "rule.coats: '{}' is not accepted. Allowed: a list"),
        ({"form": "wet", "batch": "K", "coats": [{}]}, "rule.coats[0].batch: nothing is given. Needed: a value"),
        (
            {"form": "wet", "batch": "K", "coats": [{"batch": "K", "day": "today"}]},
            "rule.coats[0].day: 'today' is not accepted. Allowed: a calendar day",
        ),
        ("wet", "rule: 'wet' is not accepted. Allowed: fields of its own"),
    ],
)
def test_field_value_and_what_is_allowed(given: object, says: str) -> None:
    with pytest.raises(msgspec.ValidationError) as refused:
        msgspec.convert(given, Wet | Dry)
    made = misfit(refused.value, given, "rule", forms=("wet", "dry"), patterns={DAY: "a calendar day"}, page="p.md")
    assert str(made) == says


def test_any_error_becomes_bad_input() -> None:
    made = misfit(ValueError("something else"), {"a": 1})
    assert isinstance(made, BadInput)
    assert made.field == "value"


def test_known_fields_are_named() -> None:
    with pytest.raises(msgspec.ValidationError) as refused:
        msgspec.convert({"batch": "K", "lot": "L"}, Coat)
    assert str(misfit(refused.value, {"batch": "K", "lot": "L"}, fields=("batch", "day"))) == (
        "lot: 'L' is not accepted. Allowed: one of the fields batch, day"
    )
