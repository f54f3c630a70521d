"""Forms of requirements about what surrounds a test: permissions, people, rate, roles."""

from __future__ import annotations

from typing import Annotated, Literal

import msgspec
from msgspec import Meta

from wholefilm.base.errors import BadInput
from wholefilm.base.quantity import quantity
from wholefilm.job.kinds.instruments import Topic

NEED_OF_TOPIC = {"ignition_source": "permission", "other": "other_permission"}
"""Need that a topic of the site's permissions stands for, where it is not called the same."""
Words = Annotated[list[Annotated[str, Meta(min_length=1)]], Meta(min_length=1)]


class Permissions(msgspec.Struct, frozen=True, tag_field="form", tag="permissions", forbid_unknown_fields=True, rename={"for_": "for"}):
    """What the site's own people have noted before a test; no value of theirs is judged here."""

    topics: Annotated[list[Topic], Meta(min_length=1)]
    for_: Literal["spark", "any"] = "any"
    not_older_than: str | None = None


class People(msgspec.Struct, frozen=True, tag_field="form", tag="people", forbid_unknown_fields=True):
    """What the operator of a tester has: a qualification, in the contract's words, and the site's authorisation."""

    operator: Annotated[str, Meta(min_length=1)] | None = None
    authorised: bool = False


class Rate(msgspec.Struct, frozen=True, tag_field="form", tag="rate", forbid_unknown_fields=True):
    """The most area that a test may take in a time, such as ``40 m2/h``; more is a remark."""

    most: str


class Roles(msgspec.Struct, frozen=True, tag_field="form", tag="roles", forbid_unknown_fields=True):
    """Whose role decides, releases hold points and concedes, by the contract; another's word is a remark."""

    decides: Words | None = None
    releases: Words | None = None
    concedes: Words | None = None


def check_asked(rule: object) -> None:
    """Refuse a rule of these forms that asks for nothing or whose figure cannot be read.

    Raises
    ------
    BadInput
    """
    age = rule.not_older_than if isinstance(rule, Permissions) else None
    if age is not None and quantity(age, "time", "rule.not_older_than").si <= 0:
        raise BadInput("rule.not_older_than", age, "more than zero, such as 4 h")
    if isinstance(rule, Rate) and quantity(rule.most, "area_rate", "rule.most").si <= 0:
        raise BadInput("rule.most", rule.most, "more than zero, such as 40 m2/h")
    if isinstance(rule, People) and not (rule.operator or rule.authorised):
        raise BadInput("rule", "people", "operator='the qualification in the contract's words', authorised=yes, or both")
    if isinstance(rule, Roles) and not (rule.decides or rule.releases or rule.concedes):
        raise BadInput("rule", "roles", "decides, releases or concedes, each a list of roles")
