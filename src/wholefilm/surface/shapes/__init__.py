"""Shapes from few numbers: each reads `dimensions` into a `Layout`."""
