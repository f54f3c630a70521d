"""Instruments: what a field check says of a tester."""
