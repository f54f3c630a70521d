"""Voltage rules that a job cites: from the shelf, confirmed from an own copy or not, or entered from an own copy."""

from __future__ import annotations

import json
import tomllib
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from wholefilm.base.errors import BadInput
from wholefilm.ledger.store import Store
from wholefilm.rules import rule as of_shelf
from wholefilm.rules.bodies import as_body, user_rule
from wholefilm.rules.document import Rule

from .record import Recorded, record


def cite(
    store: Store, url: str, name: str, rule: Rule, edition: str, by: str, *, confirmed: dict[str, str] | None = None, clause: str = "",
    applies_to: Sequence[str] = (), at_site: str | None = None,
) -> Recorded:  # fmt: skip
    """Note a voltage rule, whole, as one that the job cites.

    Parameters
    ----------
    store : Store
    url, name : str
    rule : Rule
        Of the shelf, or entered by the user.
    edition, by : str
    confirmed : dict, optional
        `page`, `who`, `when` of the user's own copy.
    clause : str
        Clause of the contract that cites it.
    applies_to : sequence of str
        Test areas; all if empty.
    at_site : str, optional

    Returns
    -------
    Recorded
    """
    whole = as_body(rule, edition, confirmed)
    grade = (whole["source"] or {}).get("grade", "entered")
    body: dict[str, Any] = {
        "topic": "voltage", "document": rule.document, "edition": edition, "grade": grade, "says": rule.title, "rule": whole,
    }  # fmt: skip
    if clause:
        body["clause"] = clause
    if applies_to:
        body["applies_to"] = list(applies_to)
    return record(store, url, name, "requirement.noted", (), by, at_site, json.dumps(body))


def shelf_rule(said: str) -> tuple[Rule, str]:
    """A rule of the shelf as ``ID:EDITION``. The edition never defaults.

    Raises
    ------
    NotFound, UnknownEdition, BadInput
    """
    ident, _, edition = said.partition(":")
    found = of_shelf(ident.strip())
    if not edition.strip():
        raise BadInput("RULE", said, f"{found.id}:EDITION, one of {'; '.join(found.editions) or 'the edition of your own copy'}")
    return found, found.check_edition(edition.strip())


def confirmation(page: str | None, who: str | None, when: str | None) -> dict[str, str] | None:
    """Page, reader and day of an own copy: all three or none.

    Raises
    ------
    BadInput
    """
    given = {"--page": page, "--read-by": who, "--read-on": when}
    if not any(given.values()):
        return None
    for option, value in given.items():
        if not value:
            raise BadInput(option, "nothing", "page, who read it and on which day: all three of --page, --read-by, --read-on")
    return {"page": str(page), "who": str(who), "when": str(when)}


def rule_of_file(path: Path, edition: str | None) -> tuple[Rule, str]:
    """The rule of a TOML file that a user typed from an own copy, and its edition.

    Parameters
    ----------
    path : Path
        One rule, laid out as in docs/reference/own-rules.md.
    edition : str or None
        Needed where the file names several.

    Raises
    ------
    BadInput
        Names the key, what stands there and what is allowed.
    """
    try:
        document: dict[str, Any] = tomllib.loads(path.read_text(encoding="utf-8"))
    except OSError as error:
        raise BadInput("FILE", str(path), f"a file that can be read ({error.strerror})") from error
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as error:
        raise BadInput("FILE", str(path), f"a TOML file in UTF-8: {error}") from error
    found = user_rule(document)
    if edition is None and len(found.editions) != 1:
        raise BadInput("--edition", "nothing", f"one of {'; '.join(found.editions)}")
    return found, found.check_edition(edition or found.editions[0])
