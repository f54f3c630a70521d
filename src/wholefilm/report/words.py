"""Words that every report says: cautions, what it is not, what the grades and the signs mean. No figure stands here."""

from __future__ import annotations

from wholefilm.base.cautions import HEART_DEVICES, IGNITION

BRIEF_CAUTIONS = (
    "High voltage: only trained persons work with a spark tester, under the rules of the site.",
    "A spark ignites: no test where gas or vapour may burn; the site's own permission comes first.",
    "Local codes, the site's rules and licensed practice go before anything in this report.",
)

CAUTIONS = (
    "A spark tester puts high voltage on the electrode and on the film. Shock can injure, and a start can lead to a fall: work from a "
    "firm stand, keep one hand away from the steel, and let nobody touch the surface during the sweep.",
    "Film, insulated parts and the tester itself hold charge after the sweep. Earth them, and treat what is not earthed as live.",
    HEART_DEVICES,
    IGNITION + " This record repeats what was written; it gives no permission.",
    "A tank, a pit or a vessel is a confined space: entry, watch and rescue follow the site's rules and the local code.",
    "The ground lead is connected and proved before the tester is switched on. Without a path back the "
    "tester stays silent and finds nothing.",
    "Too high a voltage, a second exposure, a film that is wet, uncured, conductive or has been immersed: the test itself can break "
    "the film down. The coating maker and the engineer answer in writing before the test.",
    "What was tested can be harmed afterwards by scaffold, ladders, hot work and repairs beside. Such areas count as not tested.",
    "Local codes, the site's rules and licensed practice decide. Where this report and they differ, they stand.",
)

IS_NOT = (
    "It is no acceptance. Acceptance, stripping, recoating and concession are signed acts of the persons whom the contract names.",
    "It does not say that the film has no holidays. It says where, when and at what setting it was tested, and what became of each "
    "holiday that was found.",
    "Area that was not tested is not called clean.",
    "It says nothing of adhesion, of cure beyond what was released, or of service life.",
    "The drawn pages are a print of the record. The record itself lies inside this file; the digests in it let the sheets be made "
    "again and compared. That comparison does not prove the drawn page.",
)

GRADES = (
    ("seen", "read in the document itself"),
    ("restated", "read in another text that repeats the document; shown for comparison until confirmed from an own copy"),
    ("memory", "as practitioners remember it, not read; shown for comparison until confirmed from an own copy"),
    ("derived", "worked out from other figures or from a formula that is named"),
    ("entered", "entered by a person of the job from a document that the person had at hand"),
)

ASSESSMENT_WORDS = (
    "The assessment is `does not meet` if any finding is not met, `cannot tell` if any cannot be told, and `meets` otherwise. It speaks of "
    "the limits entered and of nothing else. A concession changes no finding; it stands beside it."
).replace("`", "")

CLIMATE_WORDS = "Values as read. Dew point and spread are worked out from air temperature and humidity. Source of the formula: "
