"""The one order of a job's entries, whatever the order in which they came, and the record as of a time or an entry."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Iterator
from functools import cached_property
from heapq import heappop, heappush
from operator import attrgetter

import msgspec

from wholefilm.base.errors import BadInput, NotFound
from wholefilm.base.times import utc_ms

from .chain import without_forks
from .entry import Entry


class Ordered(msgspec.Struct):
    """A job's entries in fold order.

    Attributes
    ----------
    entries : list of Entry
        What stands, in order.
    aside : list of Entry
        Kept aside: same id or same (device, seq) as one that stands, other bytes. Sorted by hash.
    circles : list of str
        Ids of the entries that were let through because they lay on a circle, each waiting for the next.
    """

    entries: list[Entry]
    aside: list[Entry]
    circles: list[str]


def order(entries: Iterable[Entry], aside: Iterable[Entry] = ()) -> Ordered:
    """Put the entries of one job into fold order. Never raises; the order in which they are given does not matter.

    Parameters
    ----------
    entries : iterable of Entry
        The same bytes twice count once. Of a fork the smallest hash stands.
    aside : iterable of Entry
        Entries already kept aside elsewhere (a store keeps the later one). They are handed on and take no part.

    Returns
    -------
    Ordered

    Notes
    -----
    The queues of the devices are merged. An entry is ready when its present predecessor on its device and every present
    entry that it refers to are taken: those whose id stands as a value in its line, and all up to the heads that it
    states. The smallest ready by (`ms`, `device`, `seq`) goes first. If none is ready, the smallest of all queue fronts
    that lie on a circle of "waits for" goes and is reported.
    """
    standing, forks = without_forks(entries)
    return order_of(standing, [*forks, *aside])


def order_of(standing: list[Entry], aside: list[Entry]) -> Ordered:
    """`order` for entries that are parted already into what stands and what is kept aside."""
    kept = {entry.hash: entry for entry in aside}
    merge = _Merge(standing)
    return Ordered(merge.run(), [kept[digest] for digest in sorted(kept)], merge.circles)


class _Merge:
    """The queues, by number of device in the order of their ids; `taken` counts what each has given."""

    def __init__(self, standing: list[Entry]) -> None:
        queues: dict[str, list[Entry]] = {}
        for entry in standing:
            queues.setdefault(entry.device, []).append(entry)
        devices = sorted(queues)
        self.number = {device: q for q, device in enumerate(devices)}
        self.queues = [sorted(queues[device], key=attrgetter("seq")) for device in devices]
        self.untaken = {entry.id for entry in standing}
        self.taken = [0] * len(devices)
        self.ready: list[tuple[int, int]] = []  # the number of the device stands for device and seq: one front a device
        self.waiting: dict[str, list[int]] = {}  # id of the first entry that a front lacks -> the queues that wait for it
        self.circles: list[str] = []

    @cached_property
    def queue_of(self) -> dict[str, int]:
        """Number of the queue of each entry; asked for only when there is a circle."""
        return {entry.id: q for q, queue in enumerate(self.queues) for entry in queue}

    def run(self) -> list[Entry]:
        found: list[Entry] = []
        queues, taken, ready, waiting, untaken = self.queues, self.taken, self.ready, self.waiting, self.untaken
        left = sum(map(len, queues))
        for q in range(len(queues)):
            self._ask(q)
        while len(found) < left:
            if ready:
                q = heappop(ready)[1]
            else:
                q = self._on_circle()
                self.circles.append(queues[q][taken[q]].id)
                self._forget(q)
            queue = queues[q]
            while True:  # as long as the next of this device is the smallest, it need not go through the heap
                entry = queue[taken[q]]
                found.append(entry)
                untaken.discard(entry.id)
                taken[q] += 1
                if waiting:
                    for other in waiting.pop(entry.id, ()):
                        self._ask(other)
                if taken[q] == len(queue):
                    break
                front = queue[taken[q]]
                if front.heads or not untaken.isdisjoint(front.refs) or (ready and ready[0] < (front.ms, q)):
                    self._ask(q)
                    break
        return found

    def _ask(self, q: int) -> None:
        """Put the front of a queue among the ready, or let it wait for the first entry that it lacks."""
        if self.taken[q] == len(self.queues[q]):
            return
        front = self.queues[q][self.taken[q]]
        lacking = next(self._lacks(front), None)
        if lacking is None:
            heappush(self.ready, (front.ms, q))
        else:
            self.waiting.setdefault(lacking, []).append(q)

    def _lacks(self, front: Entry) -> Iterator[str]:
        """Ids of the entries that a front waits for."""
        if not self.untaken.isdisjoint(front.refs):
            for ref in front.refs:
                if ref in self.untaken:
                    yield ref
        for device, (seq, _) in (front.heads or {}).items():
            other = self.number.get(device)
            if other is not None:
                queue = self.queues[other]
                last = bisect_right(queue, seq, key=attrgetter("seq")) - 1
                if last >= self.taken[other] and queue[last] is not front:
                    yield queue[last].id

    def _forget(self, q: int) -> None:
        for lacking, queues in list(self.waiting.items()):
            if q in queues:
                queues.remove(q)
                if not queues:
                    del self.waiting[lacking]

    def _on_circle(self) -> int:
        """Queue of the smallest front from which "waits for" leads back to itself. None is ready, so there is one."""
        fronts = [(queue[n].ms, q) for q, (queue, n) in enumerate(zip(self.queues, self.taken, strict=True)) if n < len(queue)]
        edges = {q: {self.queue_of[lacking] for lacking in self._lacks(self.queues[q][self.taken[q]])} for _, q in fronts}
        for _, start in sorted(fronts):
            seen: set[int] = set()
            todo = list(edges[start])
            while todo:
                q = todo.pop()
                if q == start:
                    return start
                if q not in seen:
                    seen.add(q)
                    todo += edges.get(q, ())
            del edges[start]  # on no circle: no later search needs to pass it
        raise AssertionError("a finite graph in which every front waits has a circle")


def as_of(entries: Iterable[Entry], time: str | None = None, entry_id: str | None = None) -> list[Entry]:
    """The record as it stood at a time, or as the writer of an entry had seen it.

    Parameters
    ----------
    entries : iterable of Entry
        Entries of one job.
    time : str, optional
        ``YYYY-MM-DDThh:mm:ss.sss+hh:mm``: each device up to its last entry with `at` not later.
    entry_id : str, optional
        The heads stated there, its own device up to the entry itself; if it states none, everything before it in
        fold order, and itself.

    Returns
    -------
    list of Entry
        In the order given. With neither time nor id, all.

    Raises
    ------
    BadInput
        If the time is malformed, or both are given.
    NotFound
        If no entry has that id.
    """
    given = list(entries)
    if time is not None and entry_id is not None:
        raise BadInput("as of", f"{time} and {entry_id}", "a time or an entry, not both")
    if time is not None:
        latest = utc_ms(time, "as of")
        last: dict[str, int] = {}
        for entry in given:
            if entry.ms <= latest and entry.seq > last.get(entry.device, 0):
                last[entry.device] = entry.seq
        return [entry for entry in given if entry.seq <= last.get(entry.device, 0)]
    if entry_id is None:
        return given
    found = order(given)
    stated = next((entry for entry in found.entries if entry.id == entry_id), None)
    if stated is None:
        raise NotFound("as of", entry_id, "the id of an entry of this job")
    if stated.heads is None:
        ids = {entry.id for entry in found.entries[: found.entries.index(stated) + 1]}
        return [entry for entry in given if entry.id in ids]
    seen = {device: seq for device, (seq, _) in stated.heads.items()}
    seen[stated.device] = stated.seq
    return [entry for entry in given if entry.seq <= seen.get(entry.device, 0)]
