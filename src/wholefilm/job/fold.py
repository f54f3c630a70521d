"""Entries to a Job: total, pure, the same for any order of arrival."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable

from wholefilm.base.errors import BadInput
from wholefilm.base.times import clock
from wholefilm.ledger.chain import stated_heads
from wholefilm.ledger.entry import Entry
from wholefilm.ledger.order import Ordered, order

from .bodies import type_body
from .corrections import Corrector
from .facts import BlobView, Fact, Job, NoBlobs, Problem, span

LATE_MS = 12 * 3600 * 1000


def fold(entries: Iterable[Entry], blobs: BlobView | None = None, aside: Iterable[Entry] = (), *, cut: bool = False) -> Job:
    """Take entries in the one order and type them; note what is wrong, raise nothing.

    Parameters
    ----------
    entries : iterable of Entry
        Of one job, in any order.
    blobs : BlobView, optional
        Where photos, files and readings can be looked up.
    aside : iterable of Entry
        Kept aside by a store: same identity as a standing entry, other bytes.
    cut : bool
        The record is cut at a time: what an entry states that it saw of another device may lie behind the cut.

    Returns
    -------
    Job
    """
    return fold_ordered(order(entries), blobs, aside, cut=cut)


def fold_ordered(ordered: Ordered, blobs: BlobView | None = None, aside: Iterable[Entry] = (), *, cut: bool = False) -> Job:
    """`fold` for entries that stand in the one order already, as a job file that was read gives them."""
    problems: list[Problem] = []
    job_id = _job_of(ordered.entries)
    facts: dict[str, Fact] = {}
    of: dict[str, list[Fact]] = defaultdict(list)
    versions = {e.id: (e.kind, e.version) for e in ordered.entries}
    unreadable: list[tuple[Entry, str, str]] = []
    for rank, entry in enumerate(ordered.entries):
        if entry.job != job_id:
            problems.append(
                Problem(
                    "other_job",
                    f"entry {entry.seq} of device {_short(entry.device)} belongs to another job and is left out",
                    True,
                    entry.id,
                )
            )
            continue
        try:
            body = type_body(entry.kind, entry.version, entry.body)
            start, end = span(body, entry.ms)
        except BadInput as error:
            what = "unknown_kind" if error.field in ("kind", "version") else "unreadable_body"
            unreadable.append((entry, what, str(error)))
            continue
        facts[entry.id] = fact = Fact(
            entry.id, entry.kind, entry.at, entry.ms, entry.by, entry.device, entry.session, entry.seq, entry.hash, start, end, body, rank,
            (), entry.heads,
        )  # fmt: skip
        of[entry.kind].append(fact)
    opened = facts.get(job_id)
    if opened is None or opened.kind != "job.opened":
        opened = None
        problems.append(Problem("not_opened", "job.opened is not here: what is here is a part of a job", True))
    corrector = Corrector(facts, of, versions, _alone(of))
    corrector.run()
    problems += corrector.problems
    for entry, what, says in unreadable:
        lifted = entry.id in corrector.lifted
        problems.append(
            Problem(
                what,
                f"entry {entry.seq} of device {_short(entry.device)} ({entry.kind}): {says}"
                + ("; withdrawn by agreement" if lifted else ""),
                not lifted,
                entry.id,
            )
        )
    for kind in corrector.withdrawn_of:
        of[kind] = [fact for fact in of[kind] if fact.id in facts]
    kept = list(facts.values())  # in the one order, as they were put in
    forks = [*ordered.aside, *aside]
    settled = {e for f in of.get("duplicate.settled", ()) for e in f.body.entries}
    for entry in forks:
        known = entry.id in settled
        says = f"two different entries claim to be number {entry.seq} of device {_short(entry.device)}; one is kept aside"
        problems.append(Problem("fork", says + (", settled by a person" if known else " until a person settles it"), not known, entry.id))
    problems += [Problem("circle", f"entries wait for one another in a circle; {e} was taken first", True, e) for e in ordered.circles]
    there = {kind: found for kind, found in of.items() if found}
    job = Job(job_id, opened, kept, there, facts, problems, corrector.changes, {}, len(ordered.entries), "", blobs or NoBlobs())
    job.record = ordered.entries
    _devices(job, ordered.entries)
    _seen(job, forks, cut)
    _joined(job)
    _times(job)
    _blobs(job)
    return job


def _short(ident: str) -> str:
    return ident[:8]


def _job_of(entries: list[Entry]) -> str:
    """The job most entries belong to; the smallest id of equals."""
    counts: dict[str, int] = defaultdict(int)
    for entry in entries:
        counts[entry.job] += 1
    return min(counts, key=lambda j: (-counts[j], j)) if counts else ""


def _alone(of: dict[str, list[Fact]]) -> bool:
    people = {f.body.person for kind in ("job.opened", "person.joined") for f in of.get(kind, ())}
    return len(people) <= 1


def _devices(job: Job, entries: list[Entry]) -> None:
    """Heads of each device; gaps and broken chains of each device. In the one order each device stands in its own order."""
    letters = job.devices
    opened = job.opened
    for entry in entries:
        if entry.job != job.id:
            continue
        before = job.heads.get(entry.device)
        seq, digest = before if before is not None else (0, opened.hash if opened and entry.device != opened.device else "")
        if entry.seq != seq + 1:
            _gap(job, entry.device, _absent(letters.get(entry.device, _short(entry.device)), seq + 1, entry.seq - 1))
        elif digest and entry.prev != digest:
            name = letters.get(entry.device, _short(entry.device))
            says = f"device {name}: entry {entry.seq} does not follow from the entry before it"
            job.problems.append(Problem("broken_chain", says, True, entry.id))
        job.heads[entry.device] = (entry.seq, entry.hash)
    job.heads = dict(sorted(job.heads.items()))
    if entries:
        written = [(entry.ms, entry.at) for entry in entries]
        job.last_at, job.first_at = max(written)[1], min(written)[1]
    for device in sorted(set(letters) - set(job.heads)):
        if any(f.body.device == device for f in job.all("device.lost")):
            _gap(job, device, f"device {letters[device]} is lost before anything of it arrived")


def _seen(job: Job, forks: list[Entry], cut: bool) -> None:
    """What entries state that they saw of each device: an end that is not here, and an entry that is not what was seen."""
    if job.opened is None:
        return
    letters, ends, changed = job.devices, dict[str, int](), dict[tuple[str, int], None]()
    for found in stated_heads([e for e in job.record if e.job == job.id], forks, True):
        if found.sort == "head_differs":
            changed[found.device, found.seq] = None
        elif not cut and found.seq > job.heads.get(found.device, (0, ""))[0]:
            ends[found.device] = max(found.seq, ends.get(found.device, 0))
    for device, seq in changed:
        says = f"device {letters.get(device, _short(device))}: entry {seq} is not what others saw of it before"
        job.problems.append(Problem("broken_chain", says, True))
    for device, last in sorted(ends.items()):
        first = job.heads.get(device, (0, ""))[0] + 1
        seen = ", though others saw " + ("it" if first == last else "them")
        _gap(job, device, _absent(letters.get(device, _short(device)), first, last) + seen)


def _absent(letter: str, first: int, last: int) -> str:
    return f"device {letter}: " + (f"entry {first} is not here" if first == last else f"entries {first} to {last} are not here")


def _gap(job: Job, device: str, says: str) -> None:
    """Entries of a device that are not here: they bar, unless the device is lost and its work was done again."""
    lost = next((f for f in job.all("device.lost") if f.body.device == device), None)
    job.problems.append(Problem("gap", says + (f"; the device is lost, done again by {lost.body.redone_by}" if lost else ""), lost is None))


def _joined(job: Job) -> None:
    people, devices = job.people, job.devices
    unknown_people = sorted({f.by for f in job.facts} - people.keys())
    unknown_devices = sorted(set(job.heads) - set(devices))
    for person in unknown_people:
        job.problems.append(Problem("never_joined", f"person {_short(person)} wrote entries and never joined the job", True))
    for device in unknown_devices:
        job.problems.append(Problem("never_joined", f"device {_short(device)} wrote entries and never joined the job", True))
    letters: dict[str, list[str]] = defaultdict(list)
    for device, letter in devices.items():
        letters[letter].append(device)
    for letter, holders in sorted(letters.items()):
        if len(holders) > 1:
            job.problems.append(Problem("letter_twice", f"letter {letter} was given to {len(holders)} devices", True))
    if _alone(job.of) and any(c.alone for c in job.changes):
        job.problems.append(
            Problem("alone", "one person alone on the job removed something that speaks against the work; nobody else agreed", False)
        )


def _times(job: Job) -> None:
    for fact in job.facts:
        if fact.body.happened is None:
            continue
        if fact.end > fact.ms:
            job.problems.append(
                Problem(
                    "happened_later",
                    f"{fact.kind}: happened {clock(fact.until)}, written {clock(fact.at)}, which is before",
                    False,
                    fact.id,
                )
            )
        elif fact.ms - fact.end > LATE_MS:
            job.problems.append(
                Problem(
                    "entered_late", f"{fact.kind} of {clock(fact.when)} was entered {clock(fact.at)}, over 12 hours later", False, fact.id
                )
            )


def _blobs(job: Job) -> None:
    withheld = {f.body.hash: f.body.reason for f in job.all("withheld")}
    for fact in job.all("photo.taken", "file.attached", "readings.loaded", "log.loaded"):
        sha = fact.body.blob
        if not job.blobs.has(sha):
            reason = withheld.get(sha)
            says = f"{fact.kind}: the bytes {sha[:12]} are " + (f"withheld: {reason}" if reason else "not here")
            job.problems.append(Problem("bytes_withheld" if reason else "bytes_missing", says, reason is None, fact.id))
