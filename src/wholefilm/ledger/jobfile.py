"""The job file: entries in fold order, one a line, and a last line that says what must be there.

A ``.zip`` holds the same lines as ``job.jsonl`` and the photos and files as ``blobs/<sha256>``.
"""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path
from typing import Any

import msgspec

from wholefilm.base.errors import BadInput

from . import bundle
from .chain import Break, Heads, by_arrival, chains_of, firsts_of, heads_of
from .entry import JOB_OPENED, Entry, canonical, is_id, is_sha256, parse_entry
from .order import Ordered, order, order_of

FORMAT = 1
_LAST_FIELDS = ("blobs", "entries", "first", "format", "heads")
_LAST_FORM = "the last line of a job file: a map of " + ", ".join(_LAST_FIELDS)
_HINTS = tuple((name, re.compile(rf'"{name}":"?([0-9a-f-]{{36}}|\d+)'.encode())) for name in ("device", "seq", "id"))


class JobFile(msgspec.Struct):
    """What a job file holds.

    Attributes
    ----------
    entries : list of Entry
        What stands, in the order of the file.
    aside : list of Entry
        Kept aside: a later line with an id or a (device, seq) that an earlier one has, and other bytes.
    whole : bool
        True if it holds the entry that opened the job; otherwise it is a part.
    blobs : dict of str to bytes
        SHA-256 -> bytes; only a ``.zip`` has any.
    trailer : dict
        The last line.
    ordered : Ordered
        The entries in fold order, made again from what stands.
    breaks : list of Break
        Where the file is not intact, lines that are no entry left out.
    """

    entries: list[Entry]
    aside: list[Entry]
    whole: bool
    blobs: dict[str, bytes]
    trailer: dict[str, Any]
    ordered: Ordered
    breaks: list[Break] = []


def last_line(entries: Iterable[Entry], aside: Iterable[Entry] = ()) -> dict[str, Any]:
    """What the last line of a file says of its entries."""
    standing, rest = list(entries), list(aside)
    return {
        "blobs": len({sha for entry in (*standing, *rest) if entry.blobs for sha in entry.blobs}),
        "entries": len(standing) + len(rest),
        "first": firsts_of(standing),
        "format": FORMAT,
        "heads": heads_of(standing),
    }


def write_jobfile(entries: Iterable[Entry], aside: Iterable[Entry] = ()) -> bytes:
    """Write a job, or a part of one.

    Parameters
    ----------
    entries : iterable of Entry
        Of one job, in any order.
    aside : iterable of Entry
        Kept aside by the store; they follow, sorted by hash.

    Returns
    -------
    bytes
        Lines of UTF-8 JSON, each with its line feed, the bytes of every entry as they came.

    Raises
    ------
    BadInput
        If there is no entry, or there are entries of two jobs.
    """
    found = order(entries, aside)
    everything = [*found.entries, *found.aside]
    jobs = sorted({entry.job for entry in everything})
    if len(jobs) != 1:
        raise BadInput("job", ", ".join(jobs) or "no entry", "entries of exactly one job")
    lines = [entry.raw for entry in everything]
    lines.append(canonical(last_line(found.entries, found.aside)))
    return b"\n".join(lines) + b"\n"


def read_jobfile(data: bytes) -> tuple[list[Entry], dict[str, Any]]:
    """Read the lines of a job file, strictly.

    Parameters
    ----------
    data : bytes

    Returns
    -------
    entries : list of Entry
        In the order of the file, those kept aside at the end.
    trailer : dict
        The last line.

    Raises
    ------
    BadInput
        Names the first line that is no entry, or says that the file is cut.
    """
    lines, trailer, breaks = _lines(data)
    if breaks:
        raise BadInput(breaks[0].where, breaks[0].what, _LAST_FORM)
    return [parse_entry(raw, f"line {n}") for n, raw in enumerate(lines, 1)], trailer


def _lines(data: bytes) -> tuple[list[bytes], dict[str, Any], list[Break]]:
    """Lines of entries, last line, what is wrong with the end of the file."""
    breaks = []
    lines = data.split(b"\n")
    if lines[-1] == b"":
        lines.pop()
    elif lines:
        breaks.append(Break(f"line {len(lines)}", "the file is cut: its last line does not end"))
    where = f"line {len(lines)}, the last"
    if not lines:
        return [], {}, [Break("line 1", "the file is empty")]
    trailer = _trailer(lines[-1])
    if trailer is not None:
        return lines[:-1], trailer, breaks
    if lines[-1].startswith(b'{"blobs":'):
        return lines[:-1], {}, [*breaks, Break(where, f"is damaged: it is not {_LAST_FORM}")]
    return lines, {}, [*breaks, Break(where, "the file is cut: the line that says what must be there is missing")]


def _trailer(raw: bytes) -> dict[str, Any] | None:
    try:
        obj = msgspec.json.decode(raw)
        right = type(obj) is dict and tuple(sorted(obj)) == _LAST_FIELDS and canonical(obj) == raw and obj["format"] == FORMAT
        right = right and all(type(obj[name]) is int for name in ("blobs", "entries", "format"))
        for name in ("first", "heads"):
            for device, pair in obj[name].items() if right else ():
                right = right and is_id(device) and type(pair) is list and len(pair) == 2 and type(pair[0]) is int and is_sha256(pair[1])
    except (msgspec.MsgspecError, UnicodeError, BadInput, AttributeError, ValueError, RecursionError):
        return None
    return obj if right else None


def examine(data: bytes, blobs: Mapping[str, bytes] | None = None) -> tuple[JobFile, list[Break]]:
    """Read as much of a job file as can be read, and say everything that is not intact. Never raises on damaged bytes.

    Parameters
    ----------
    data : bytes
        The lines.
    blobs : mapping of str to bytes, optional
        Photos and files by the SHA-256 that they should have.

    Returns
    -------
    jobfile : JobFile
        What could be read.
    breaks : list of Break
        Empty if the file is intact.
    """
    found, unreadable, breaks = _examine(data, blobs)
    return found, unreadable + breaks


def _examine(data: bytes, blobs: Mapping[str, bytes] | None) -> tuple[JobFile, list[Break], list[Break]]:
    """What could be read, what could not, and what else is not intact."""
    lines, trailer, unreadable = _lines(data)
    breaks: list[Break] = []
    read: list[Entry] = []
    numbers: list[int] = []
    for n, raw in enumerate(lines, 1):
        try:
            read.append(parse_entry(raw, n))
            numbers.append(n)
        except BadInput as error:
            unreadable.append(_damaged(n, raw, error))
    read, numbers, repeated = _once(read, numbers)
    breaks += repeated
    entries, aside = by_arrival(read)
    whole = any(entry.kind == JOB_OPENED for entry in entries)
    ordered = order_of(entries, aside)
    found = JobFile(entries, aside, whole, dict(blobs or {}), trailer, ordered)
    if not lines:
        breaks.append(Break("line 1", "the file holds no entry"))
    breaks += chains_of(entries, aside, whole)
    breaks += _remade(read, ordered, numbers)
    if trailer:
        breaks += _promised(found, len(lines))
    breaks += [_wrong_blob(sha) for sha, content in found.blobs.items() if hashlib.sha256(content).hexdigest() != sha]
    found.breaks = breaks
    return found, unreadable, breaks


def verify(data: bytes, blobs: Mapping[str, bytes] | None = None) -> list[Break]:
    """Everything that is not intact in a job file; empty if nothing is. Never raises on damaged bytes."""
    return examine(data, blobs)[1]


def _wrong_blob(sha: str) -> Break:
    return Break(f"blobs/{sha}", "the bytes there do not have the SHA-256 that is their name", "blob", other=sha)


def _damaged(n: int, raw: bytes, error: BadInput) -> Break:
    """A line that is no entry, with what of its place can still be read."""
    hints = {name: match[1].decode("ascii") for name, pattern in _HINTS if (match := pattern.search(raw))}
    where = ", ".join([f"line {n}", *(f"{name} {value}" for name, value in hints.items())])
    seq = hints.get("seq", "0")
    return Break(
        where, f"is damaged. {error}", "damaged", hints.get("device", ""), int(seq) if len(seq) < 17 else 0, hints.get("id", ""), to=n
    )


def _once(read: list[Entry], numbers: list[int]) -> tuple[list[Entry], list[int], list[Break]]:
    """Entries and the numbers of their lines without those that repeat a line."""
    if len({entry.hash for entry in read}) == len(read):
        return read, numbers, []
    first: dict[str, int] = {}
    entries, breaks = [], []
    for n, entry in zip(numbers, read, strict=True):
        if entry.hash in first:
            what = f"repeats line {first[entry.hash]}"
            breaks.append(Break(f"line {n}, {entry.place}", what, "twice", entry.device, entry.seq, entry.id, to=n))
        else:
            first[entry.hash] = n
            entries.append(entry)
    return entries, list(first.values()), breaks


def _remade(read: list[Entry], ordered: Ordered, numbers: list[int]) -> Iterator[Break]:
    for n, there, right in zip(numbers, read, [*ordered.entries, *ordered.aside], strict=True):
        if there is not right and there.hash != right.hash:
            what = f"is out of order: here belongs {right.place}"
            yield Break(f"line {n}, {there.place}", what, "order", there.device, there.seq, there.id, to=n, other=right.id)
            return


def _promised(found: JobFile, lines: int) -> Iterator[Break]:
    """Hold the last line against what is there."""
    there, said = last_line(found.entries, found.aside), found.trailer
    if said["entries"] != lines:
        what = f"says {said['entries']} entries, the file holds {lines} lines before it"
        yield Break("last line", what, "count", seq=said["entries"], to=lines)
    if said["blobs"] != there["blobs"]:
        what = f"says {said['blobs']} blobs, the entries name {there['blobs']}"
        yield Break("last line", what, "named", seq=said["blobs"], to=there["blobs"])
    for name, end in (("first", "first"), ("heads", "last")):
        stated: Heads = {device: (seq, digest) for device, (seq, digest) in said[name].items()}
        for device in sorted(stated.keys() | there[name].keys()):
            wanted, seen = stated.get(device), there[name].get(device)
            if wanted == seen:
                continue
            if wanted is None:
                what = "has entries here, but the last line does not know it"
                yield Break(f"device {device}", what, "end", device, to=(seen or (0, ""))[0])
            elif seen is None:
                what = "is missing: the last line knows the device, no entry of it is here"
                yield Break(f"device {device}, seq {wanted[0]}", what, "end", device, wanted[0])
            else:
                said_it = f"the last line says that its {end} entry is seq {wanted[0]} with hash {wanted[1]}"
                what = f"{said_it}; here it is seq {seen[0]} with hash {seen[1]}"
                yield Break(f"device {device}, seq {wanted[0]}", what, "end", device, wanted[0], hash=wanted[1], to=seen[0])


def read_path(path: Path) -> JobFile:
    """Read a ``.jsonl`` or ``.zip`` file.

    Raises
    ------
    BadInput
        If the file cannot be read, a line is no entry, the file is cut or its end is damaged, or it holds two jobs.
        Breaks of chain, order or blobs do not raise: `verify_path` names them.
    """
    data, blobs, strays = bundle.read(path)
    if strays:
        raise BadInput(f"{path.name}, {strays[0].where}", strays[0].what, "job.jsonl and blobs/<sha256>")
    found, unreadable, _ = _examine(data, blobs)
    if unreadable:
        read_jobfile(data)  # raises the message that names field and value
        raise BadInput(f"{path.name}, {unreadable[0].where}", unreadable[0].what, _LAST_FORM)
    jobs = sorted({entry.job for entry in (*found.entries, *found.aside)})
    if len(jobs) != 1:
        raise BadInput(path.name, ", ".join(jobs) or "no entry", "entries of exactly one job")
    return found


def verify_path(path: Path) -> list[Break]:
    """Everything that is not intact in a file.

    Raises
    ------
    BadInput
        Only if there is no such file or it may not be read.
    """
    data, blobs, strays = bundle.read(path)
    return strays + verify(data, blobs)


def write_path(path: Path, entries: Iterable[Entry], blobs: Mapping[str, bytes] | None = None, aside: Iterable[Entry] = ()) -> None:
    """Write a ``.jsonl`` or ``.zip`` file: whole, or not at all.

    Raises
    ------
    BadInput
        If the name ends otherwise, blobs are given for a ``.jsonl``, or there is not exactly one job.
    NotStored
        If the disk refuses.
    """
    bundle.write(path, write_jobfile(entries, aside), blobs or {})
