"""The book: entries, their chains, their order, the job file, the store. Knows no kind of entry but the first."""
