"""One verb a file: the only rooms that see store, clock and disk."""
