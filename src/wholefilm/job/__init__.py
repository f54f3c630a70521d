"""The job as recorded: typed bodies of the entries, corrections applied, nothing judged."""
