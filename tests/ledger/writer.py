"""Child of the kill test: appends entries for ever, prints job and id of each after its receipt. Killed from outside."""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent.parent))

from ledger.book import START, Book, at
from wholefilm.ledger.store import Store

if __name__ == "__main__":
    store = Store.open(sys.argv[1])
    book = Book(seed=1000 + int(sys.argv[2]))
    print("ready", flush=True)
    written = book.entries[0]
    while True:
        receipt = store.append([written], at(START))[0]
        print(book.job, receipt.id, flush=True)
        written = book.write(book.random.choice(book.devices), {"note": "x"})
