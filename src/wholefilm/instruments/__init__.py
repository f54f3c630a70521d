"""Instruments: field checks, certificates, what verified a check, ground points, what a bad instrument puts in question."""
