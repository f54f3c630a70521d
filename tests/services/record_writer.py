"""Child of the kill test: records delays for ever, prints the id of each after its receipt. Killed from outside."""

from __future__ import annotations

import sys

from wholefilm.services.database import open_store
from wholefilm.services.record import record

if __name__ == "__main__":
    store, url = open_store(sys.argv[1])
    print("ready", flush=True)
    n = 0
    while n < int(sys.argv[3]):
        done = record(store, url, sys.argv[2], "delay.noted", [f"reason=gust {n}"], "QC inspector")
        print(done.entry.id, flush=True)
        n += 1
