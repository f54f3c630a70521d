"""The list of jobs, one line a job."""

from __future__ import annotations

import msgspec


class JobLine(msgspec.Struct, frozen=True):
    """A job: name, title, number of entries, assessment as a key, time of the last entry."""

    name: str
    title: str
    position: int
    assessment: str
    as_of: str
