"""Climate: dew point and spread."""
