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
CHARGED = (
    "A film keeps charge after the test, and waiting does not take it away. Before anyone touches it a trained person discharges it with a "
    "bonded tool, the electrode off, by the site's procedure. Bond and ground the item."
)
OTHER_FACE = "The other face of the wall, and whatever touches it, is clear of people, vapour and hot work before and during the test."
TWO = "Nobody tests alone; on a scaffold or a ladder both hands and feet are held before the electrode is live."
LEADS = "Look over the leads and the electrode before each use: damaged insulation gives a shock where nobody expects it."
DEVICES = "The tester is an ignition source, and so are lamps, phones and cameras: the site says which devices may enter."
OZONE = "A high-frequency AC spark makes ozone: ventilate, and follow the maker's instructions."
FIRST = "Local codes, licensed practice and the site's permission come first; this list gives no permission."

BEFORE_A_TEST = (IGNITION, SHOCK, HEART_DEVICES, FIRST)
"""What stands under a ready-to-test list."""

FOR_A_VOLTAGE = (IGNITION, SHOCK, HEART_DEVICES, CHARGED, OTHER_FACE, TWO, LEADS, DEVICES)
"""What stands under a voltage sheet; `OZONE` beside it for a high-frequency AC spark, `FIRST` last."""

TOPICS = {
    "ignition": "permission for an ignition source, and what stops the work",
    "operators": "who may hold the tester",
    "implants": "pacemakers and other implants",
    "charge": "how the film is discharged, by whom, with what",
    "other_face": "the other face of the wall",
    "company": "who is there beside the operator, and footing at height",
    "leads": "leads and electrode looked over",
    "devices": "devices that may enter",
    "ozone": "ventilation against ozone",
}
"""What the site's own people answer before a voltage sheet stands, by field of its answers, in words for a reader."""
