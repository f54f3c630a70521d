"""Where a record is not intact, in words of the trade: which act of which device, and last its id and hash for who looks it up."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any

from wholefilm.base.times import clock
from wholefilm.job.plain import entry_words
from wholefilm.ledger.chain import Break
from wholefilm.ledger.entry import Entry

_NUMBERED = ("number", "letter", "name")


class Places:
    """The entries that are here, and how a reader calls each.

    Parameters
    ----------
    entries : iterable of Entry
        What stands and what is kept aside, in any order.
    file : bool
        Whether they are all that a file holds: a number that is missing there was taken out, and in a database it may still come.
    """

    def __init__(self, entries: Iterable[Entry], *, file: bool = True) -> None:
        self._file = file
        self._by_id: dict[str, Entry] = {}
        self._by_seq: dict[tuple[str, int], Entry] = {}
        self._letters: dict[str, str] = {}
        self._tellers: dict[str, Callable[[Break], str]] = {
            "aside": self._aside,
            "other_job": self._other_job,
            "not_opened": self._not_opened,
            "gap": self._gap,
            "chain": self._chain,
            "head_gone": self._head_gone,
            "head_differs": self._head_differs,
            "damaged": self._damaged,
            "twice": self._twice,
            "order": self._order,
            "count": self._count,
            "named": self._named_files,
            "end": self._end,
            "blob": self._blob,
        }
        for entry in entries:
            self._by_id.setdefault(entry.id, entry)
            self._by_seq.setdefault((entry.device, entry.seq), entry)
            if entry.kind in ("job.opened", "device.joined") and isinstance(entry.body.get("letter"), str):
                self._letters.setdefault(str(entry.body.get("device")), entry.body["letter"])

    def say(self, breaks: Iterable[Break]) -> list[str]:
        """A sentence for each break; what only follows from a damaged line is not said again."""
        given = list(breaks)
        damaged = {(b.device, b.seq) for b in given if b.sort == "damaged" and b.seq}
        return [self._one(b) for b in given if not self._follows(b, damaged)]

    def _follows(self, b: Break, damaged: set[tuple[str, int]]) -> bool:
        if b.sort == "gap":
            return b.to - b.seq < len(damaged) and all((b.device, n) in damaged for n in range(b.seq, b.to + 1))
        return b.sort in ("head_gone", "end") and b.to < b.seq and (b.device, b.seq) in damaged

    def _one(self, b: Break) -> str:
        tell = self._tellers.get(b.sort)
        says = tell(b) if tell is not None else f"{b.where}: {b.what}"
        return says[:1].upper() + says[1:]

    def device(self, device: str) -> str:
        """``device B``, or the start of its id where its letter is not here."""
        return f"device {self._letters[device]}" if device in self._letters else f"device {device[:8]}, whose letter is not here"

    def entry(self, entry: Entry) -> str:
        """``entry 134 of device B (check of HV-01, 2025-06-03 16:55)``."""
        return f"entry {entry.seq} of {self.device(entry.device)} ({self.act(entry)})"

    def act(self, entry: Entry) -> str:
        """``check of HV-01, 2025-06-03 16:55``."""
        happened: Any = entry.body.get("happened")
        when = happened.get("from") if isinstance(happened, dict) else None
        return f"{entry_words(entry.kind, entry.body, self._named)}, {clock(when if isinstance(when, str) else entry.at)}"

    def _named(self, ident: str) -> str:
        """What an id stands for: the number of what it names, a letter, else the kind of act."""
        if ident in self._letters:
            return self._letters[ident]
        entry = self._by_id.get(ident)
        if entry is None:
            return ""
        for field in _NUMBERED:
            if isinstance(entry.body.get(field), str):
                return str(entry.body[field])
        return entry_words(entry.kind, entry.body, self._number)

    def _number(self, ident: str) -> str:
        entry = self._by_id.get(ident)
        number = entry.body.get("number") if entry is not None else None
        return number if isinstance(number, str) else ""

    def _at(self, device: str, seq: int) -> str:
        """The entry with that number: what it is where it is here, else its number alone."""
        entry = self._by_seq.get((device, seq))
        return self.entry(entry) if entry is not None else f"entry {seq} of {self.device(device)}"

    def _seen_by(self, ident: str) -> str:
        entry = self._by_id.get(ident)
        return self.entry(entry) if entry is not None else "another entry"

    def _aside(self, b: Break) -> str:
        mine = self._by_id.get(b.id)
        act = f" ({self.act(mine)})" if mine is not None else ""
        return f"two different entries claim to be entry {b.seq} of {self.device(b.device)}{act}; one is kept aside [{_keys(b.id, b.hash)}]"

    def _other_job(self, b: Break) -> str:
        return f"{self._at(b.device, b.seq)} belongs to another job [{_keys(b.id, '')}]"

    def _not_opened(self, b: Break) -> str:
        return "the entry that opened the job is not here"

    def _gap(self, b: Break) -> str:
        many = b.to > b.seq
        after = f"after {self._at(b.device, b.seq - 1)}" if b.seq > 1 else f"before {self._seen_by(b.other)}"
        numbers = f"entries {b.seq} to {b.to}" if many else f"entry {b.seq}"
        if not self._file:
            gone = "have not come, or were taken out:" if many else "has not come, or was taken out:"
            return f"{numbers} of {self.device(b.device)} {gone} {after} [next here: {_keys(b.other, '')}]"
        lines = f"{b.to - b.seq + 1} lines were" if many else "a line was"
        return f"{lines} taken out {after}: {numbers} {'are' if many else 'is'} missing [next here: {_keys(b.other, '')}]"

    def _chain(self, b: Break) -> str:
        after = f"the entry after it, {self._seen_by(b.other)}, saw"
        if b.seq < 1:
            return f"the entry that opened the job is not what {self._seen_by(b.other)} saw [{_keys(b.other, b.hash)}]"
        return f"{self._at(b.device, b.seq)} is not what {after}: one of the two was changed [{_keys(b.id, b.hash)}]"

    def _head_gone(self, b: Break) -> str:
        return f"{self._at(b.device, b.seq)} is not here, though it was seen by {self._seen_by(b.other)} [seen by {_keys(b.other, '')}]"

    def _head_differs(self, b: Break) -> str:
        return f"{self._at(b.device, b.seq)} is not what {self._seen_by(b.other)} saw: it was changed [seen: {_keys('', b.hash)}]"

    def _damaged(self, b: Break) -> str:
        named = (
            f": entry {b.seq} of {self.device(b.device)} was changed" if b.device and b.seq else ", and which entry it was cannot be read"
        )
        return f"line {b.to} of the file is damaged{named} [{b.what.removeprefix('is damaged. ')}]"

    def _twice(self, b: Break) -> str:
        return f"line {b.to} of the file, {self._at(b.device, b.seq)}, {b.what} [{_keys(b.id, '')}]"

    def _order(self, b: Break) -> str:
        right = self._seen_by(b.other)
        return f"line {b.to} of the file, {self._at(b.device, b.seq)}, is out of order: here belongs {right} [{_keys(b.id, '')}]"

    def _count(self, b: Break) -> str:
        return f"the last line of the file says {b.seq} entries; {b.to} are here"

    def _named_files(self, b: Break) -> str:
        return f"the last line of the file says {b.seq} photos, files and cards; the entries here name {b.to}"

    def _end(self, b: Break) -> str:
        if not b.seq:
            return f"{self.device(b.device)} has entries here, but the last line of the file does not know it [{b.device}]"
        if not b.to:
            return f"no entry of {self.device(b.device)} is here; the last line of the file says that there were {b.seq} [{b.device}]"
        what = "it begins with" if "first entry" in b.what else "it ends with"
        if b.to == b.seq:
            return f"{self._at(b.device, b.seq)} is not the one that the last line of the file states [stated: {_keys('', b.hash)}]"
        return (
            f"the last line of the file says of {self.device(b.device)} that {what} entry {b.seq}; here that is {self._at(b.device, b.to)} "
            f"[stated: {_keys('', b.hash)}]"
        )

    def _blob(self, b: Break) -> str:
        return self.wrong_bytes(b.other)

    def wrong_bytes(self, sha: str) -> str:
        """A photo or file under whose name other bytes lie."""
        mine = next((e for e in self._by_id.values() if sha in e.blobs), None)
        what = self.act(mine) if mine is not None else "a photo or file that no entry here names"
        return f"Other bytes than were recorded lie here for: {what} [blobs/{sha}]"

    def not_here(self, sha: str) -> str:
        """A photo or file that is not here."""
        mine = next((e for e in self._by_id.values() if sha in e.blobs), None)
        return f"not here: {self.act(mine) if mine is not None else 'a photo or file'} [{sha}]"


def _keys(ident: str, digest: str) -> str:
    """Id and hash, as far as they are known."""
    return ", ".join(x for x in (f"id {ident}" if ident else "", f"hash {digest}" if digest else "") if x) or "no id"
