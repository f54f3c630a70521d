"""Each device's chain: numbers without a gap, each entry holding the hash of the one before, every head ever stated."""

from __future__ import annotations

from collections.abc import Iterable

import msgspec

from .entry import JOB_OPENED, Entry

Heads = dict[str, tuple[int, str]]


class Break(msgspec.Struct, frozen=True):
    """A place where a record is not intact.

    Attributes
    ----------
    where : str
        The place: line, device, seq and id as far as they can be read.
    what : str
        A sentence that says what is wrong there.
    sort : str
        What sort of break it is, for who tells it in other words; empty where `what` says all: aside, other_job, not_opened, gap,
        chain, head_gone, head_differs, damaged, twice, order, count, named, end, blob.
    device, seq, id, hash : str, int, str, str
        The entry that is meant, as far as it is known; of a gap the first number that is missing.
    to : int
        Of a gap the last number that is missing; of a line its number; of an end the number of the last entry that is here.
    other : str
        Id of the entry that saw it or stands after it; of a blob its SHA-256.
    """

    where: str
    what: str
    sort: str = ""
    device: str = ""
    seq: int = 0
    id: str = ""
    hash: str = ""
    to: int = 0
    other: str = ""

    def __str__(self) -> str:
        return f"{self.where}: {self.what}"


def by_arrival(entries: Iterable[Entry]) -> tuple[list[Entry], list[Entry]]:
    """Part a sequence into what stands and what is kept aside: the first of an id or of a (device, seq) stands.

    Parameters
    ----------
    entries : iterable of Entry
        In the order in which they arrived. The same bytes twice count once.

    Returns
    -------
    standing, aside : list of Entry
        Both in the order of arrival.
    """
    given = list(entries)
    if len({entry.id for entry in given}) == len({(entry.device, entry.seq) for entry in given}) == len(given):
        return given, []
    ids: set[str] = set()
    numbers: set[tuple[str, int]] = set()
    hashes: set[str] = set()
    standing: list[Entry] = []
    aside: list[Entry] = []
    for entry in given:
        if entry.hash in hashes:
            continue
        hashes.add(entry.hash)
        number = (entry.device, entry.seq)
        if entry.id in ids or number in numbers:
            aside.append(entry)
        else:
            ids.add(entry.id)
            numbers.add(number)
            standing.append(entry)
    return standing, aside


def without_forks(entries: Iterable[Entry]) -> tuple[list[Entry], list[Entry]]:
    """Part a set into what stands and what is kept aside, whatever the order of arrival: the smallest hash stands.

    Returns
    -------
    standing, aside : list of Entry
        Aside is sorted by hash.
    """
    given = list(entries)
    standing, aside = by_arrival(given)
    if not aside:
        return standing, aside
    return by_arrival(sorted(given, key=lambda entry: entry.hash))


def firsts_of(entries: Iterable[Entry]) -> Heads:
    """First entry of each device: device -> (seq, hash)."""
    firsts: Heads = {}
    for entry in entries:
        known = firsts.get(entry.device)
        if known is None or entry.seq < known[0]:
            firsts[entry.device] = (entry.seq, entry.hash)
    return firsts


def heads_of(entries: Iterable[Entry]) -> Heads:
    """Last entry of each device: device -> (seq, hash)."""
    heads: Heads = {}
    for entry in entries:
        known = heads.get(entry.device)
        if known is None or entry.seq > known[0]:
            heads[entry.device] = (entry.seq, entry.hash)
    return heads


def check_chains(entries: Iterable[Entry], whole: bool, aside: Iterable[Entry] = ()) -> list[Break]:
    """Check the chain of every device, and every head that an entry states.

    Parameters
    ----------
    entries : iterable of Entry
        Entries of one job, in any order.
    whole : bool
        True if they are a whole job: then every device starts at 1, joins the entry that opened the job, and every head
        ever stated must be there. False for a part, which may start anywhere.
    aside : iterable of Entry
        Entries known to be kept aside; each is a break too.

    Returns
    -------
    list of Break
        Empty if intact.
    """
    standing, forks = without_forks(entries)
    return chains_of(standing, list({entry.hash: entry for entry in (*forks, *aside)}.values()), whole)


def chains_of(standing: list[Entry], aside: list[Entry], whole: bool) -> list[Break]:
    """`check_chains` for entries that are parted already into what stands and what is kept aside."""
    forks = sorted(aside, key=lambda entry: entry.hash)
    what = "kept aside: another entry has the same id or number and other bytes"
    breaks = [Break(e.place, f"{what} (hash {e.hash})", "aside", e.device, e.seq, e.id, e.hash) for e in forks]
    queues: dict[str, list[Entry]] = {}
    opening = ""
    jobs: set[str] = set()
    for entry in standing:
        queues.setdefault(entry.device, []).append(entry)
        jobs.add(entry.job)
        if entry.kind == JOB_OPENED:
            opening = entry.hash
    if len(jobs) > 1:
        others = [e for e in standing if e.job != min(jobs)]
        breaks += [Break(e.place, f"belongs to another job, {e.job}", "other_job", e.device, e.seq, e.id) for e in others]
    if whole and not opening:
        breaks.append(Break("job", f"the entry {JOB_OPENED} that starts it is not there", "not_opened"))
    for device in sorted(queues):
        queues[device].sort(key=lambda entry: entry.seq)
        breaks += _one_chain(queues[device], whole, opening)
    return breaks + stated_heads(standing, forks, whole)


def _one_chain(queue: list[Entry], whole: bool, opening: str) -> list[Break]:
    breaks = []
    seq, prev, ident = (0, opening, "") if whole else (queue[0].seq - 1, opening if queue[0].seq == 1 else "", "")
    for entry in queue:
        if entry.seq != seq + 1:
            missing = f"seq {seq + 1}" if entry.seq == seq + 2 else f"seq {seq + 1} to {entry.seq - 1}"
            what = f"before it, {missing} of device {entry.device} is missing"
            breaks.append(Break(entry.place, what, "gap", entry.device, seq + 1, to=entry.seq - 1, other=entry.id))
        elif prev and entry.prev != prev and entry.kind != JOB_OPENED:
            before = "the entry that opened the job" if entry.seq == 1 else f"seq {seq} of its device"
            what = f"holds the hash {entry.prev} of the entry before, but {before} has {prev}"
            breaks.append(Break(entry.place, what, "chain", entry.device, seq, ident, prev, other=entry.id))
        seq, prev, ident = entry.seq, entry.hash, entry.id
    return breaks


def stated_heads(standing: list[Entry], forks: list[Entry], whole: bool) -> list[Break]:
    """Hold every head that an entry states against what is here; what is not here is a break of a whole job only."""
    stating = [entry for entry in (*standing, *forks) if entry.heads]
    if not stating:
        return []
    named = {(device, seq) for entry in stating for device, (seq, _) in (entry.heads or {}).items()}
    hashes: dict[tuple[str, int], set[str]] = {}
    for entry in (*standing, *forks):
        place = (entry.device, entry.seq)
        if place in named:
            hashes.setdefault(place, set()).add(entry.hash)
    breaks = []
    for entry in stating:
        for device, (seq, digest) in (entry.heads or {}).items():
            there = hashes.get((device, seq))
            if there is None:
                if whole:
                    what = f"is missing, but the entry at {entry.place} states that it was seen"
                    breaks.append(Break(f"device {device}, seq {seq}", what, "head_gone", device, seq, other=entry.id))
            elif digest not in there:
                what = f"has another hash than the entry at {entry.place} states, which saw {digest}"
                breaks.append(Break(f"device {device}, seq {seq}", what, "head_differs", device, seq, hash=digest, other=entry.id))
    return breaks
