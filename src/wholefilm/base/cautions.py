"""The cautions that every part of the program says in the same words. No figure stands here, and none is compared."""

from __future__ import annotations

HEART_DEVICES = (
    "People with a pacemaker or another implant stay away from the test unless their physician and the maker of the implant have "
    "answered in writing; no distance is given here."
)
SHOCK = (
    "The electrode, its lead, the film and metal that is not grounded can give a shock; a start of fright can lead to a fall. Only trained "
    "persons hold the tester."
)
IGNITION = (
    "A spark lights gas, vapour and dust. No test where any may be present: the permission of the site and its own reading decide, before "
    "and during the work."
)
FIRST = "Local codes, licensed practice and the site's permission come first; this list gives no permission."

BEFORE_A_TEST = (IGNITION, SHOCK, HEART_DEVICES, FIRST)
"""What stands under a ready-to-test list."""
