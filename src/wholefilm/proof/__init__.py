"""How the job stands: what a check closes, which panels count, which holidays are closed, which limits are met."""
