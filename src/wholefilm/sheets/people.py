"""Who is who: a person by roles, and by the name on the card where the card lies beside the ledger."""

from __future__ import annotations

from typing import Annotated, Any

import msgspec

from wholefilm.job.facts import Job
from wholefilm.proof.people import on_card, qualification
from wholefilm.proof.states import Standing

from .rows import Row, Table, head, table

NOT_STATED = "not stated"


class PersonRow(Row, frozen=True, kw_only=True):
    """A person of the job."""

    roles: Annotated[str, head("Role")]
    name: Annotated[str, head("Name on the card")]
    qualification: Annotated[str, head("Qualification, as stated")]
    valid_until: Annotated[str, head("Valid until")]


class DeviceRow(Row, frozen=True, kw_only=True):
    """A device of the job."""

    letter: Annotated[str, head("Letter")]
    holder: Annotated[str, head("Holder")]
    entries: Annotated[int, head("Entries", True)]


class PeopleSheet(msgspec.Struct, frozen=True):
    """People and devices."""

    people: list[PersonRow]
    devices: list[DeviceRow]

    def tables(self) -> list[Table]:
        """The sheet as tables."""
        return [table("People", PersonRow, self.people), table("Devices", DeviceRow, self.devices)]


def who(job: Job, person: str) -> str:
    """A person for a reader: roles, or the start of the id."""
    return " and ".join(job.roles(person)) or f"person {person[:8]}"


def people_sheet(standing: Standing) -> PeopleSheet:
    """People and devices of a job."""
    job = standing.job
    people = []
    for body in job.people.values():
        given: Any = body
        people.append(
            PersonRow(
                roles=" and ".join(given.roles),
                name=on_card(job, given.card, "name"),
                qualification=qualification(job, given) or NOT_STATED,
                valid_until=getattr(given, "valid_until", None) or "",
            )
        )
    holders = {f.body.device: f.body.holder for f in job.all("device.joined")}
    first = job.opened.body.device if job.opened else ""
    devices = [
        DeviceRow(
            letter=letter,
            holder=holders.get(device, "opened the job" if device == first else ""),
            entries=job.heads.get(device, (0, ""))[0],
        )
        for device, letter in sorted(job.devices.items(), key=lambda x: x[1])
    ]
    return PeopleSheet(people, devices)
