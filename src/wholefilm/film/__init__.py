"""Film thickness: readings, their statistics, acceptance by the one rule that the job names."""
