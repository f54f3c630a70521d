"""The ground floor: quantities, sources, findings, errors. Knows nothing of the job."""
