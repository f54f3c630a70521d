"""The jobs of a database as the web page sees them: read only, each view made once for a position."""

from __future__ import annotations

import threading
from collections import OrderedDict

import msgspec

from wholefilm.ledger.jobfile import write_jobfile
from wholefilm.ledger.store import Store
from wholefilm.sheets.jobs import JobLine

from .find import find_stored, name_of, row_of
from .report import report_bytes
from .view import View, view_of

KEPT = 24


class Library:
    """Views of the jobs of one store, the last ones kept."""

    def __init__(self, store: Store) -> None:
        self._store = store
        self._views: OrderedDict[tuple[str, str], View] = OrderedDict()
        self._lock = threading.Lock()

    def names(self) -> list[JobLine]:
        """A line a job, from the summary rows; a job without one at its position is assessed first."""
        lines = []
        summaries = self._store.summaries()
        for row in self._store.jobs():
            name = name_of(row)
            position, data = summaries.get(row.id, (0, b""))
            if position != row.position or not data:
                sheet = self.view(row.id).assessment
                data = msgspec.json.encode({"title": sheet.title, "assessment": sheet.assessment, "as_of": sheet.as_of})
                self._store.put_summary(row.id, row.position, data)
            summary = msgspec.json.decode(data)
            lines.append(JobLine(name, summary["title"], row.position, summary["assessment"], summary["as_of"]))
        return sorted(lines, key=lambda x: x.name)

    def version(self, name: str) -> str:
        """Job id and position: what a view was made from."""
        row = row_of(self._store, name)
        return f"{row.id}:{row.position}"

    def view(self, name: str, as_of: str | None = None) -> View:
        """How a job stands, or stood; NotFound or BadInput otherwise."""
        key = (self.version(name), as_of or "")
        with self._lock:
            if key in self._views:
                self._views.move_to_end(key)
                return self._views[key]
        made = view_of(find_stored(self._store, name), as_of)
        with self._lock:
            self._views[key] = made
            while len(self._views) > KEPT:
                self._views.popitem(last=False)
        return made

    def blob(self, name: str, sha: str) -> bytes | None:
        """Bytes of a photo or file that the job names."""
        named = {s for e in self.view(name).entries for s in e.blobs}
        return self._store.blobs.get(sha) if sha in named else None

    def report(self, name: str, as_of: str | None = None) -> bytes:
        """First volume of the report."""
        return report_bytes(self.view(name, as_of))[0]

    def export(self, name: str) -> bytes:
        """The job file."""
        found = find_stored(self._store, name)
        return write_jobfile(found.entries, found.aside)
