"""What the site's own people answered to the cautions, in the words that the demo jobs share. Invented, like the rest of a demo."""

from __future__ import annotations

from typing import Any

from wholefilm.proof.setting import is_ac

_SPARK = {
    "by": "J. Osei, permit office",
    "ignition": "one written permission a day; work stops at the gas alarm",
    "operators": "the testers named on the day's permission, nobody else",
    "implants": "asked of everyone at the gate; none comes near",
    "charge": "by our procedure, a trained person with the bonded tool, electrode off",
    "other_face": "closed off and posted before each test",
    "company": "two persons at all times, the second outside with a radio",
    "leads": "looked over before each shift by the tester's holder",
    "devices": "the tester and one lamp of our own; phones and cameras stay outside during a test",
}


def of_site(method: str) -> dict[str, Any]:
    """Answers for the sheet of a method."""
    if "wet sponge" in method:
        return {name: _SPARK[name] for name in ("by", "ignition", "devices")}
    return _SPARK | ({"ozone": "fan on at the manway while the probe is live"} if is_ac(method) else {})
