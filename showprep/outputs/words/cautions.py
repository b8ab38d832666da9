"""The usual cautions: of the law, of sedation, and of a virus that a fish may carry."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from showprep.outputs.words.speaker import Sentences

ASK_FIRST = (
    "Whether a touch-up is lawful depends on where you live: in some countries any anaesthesia of "
    "fish, or any cut that is not treatment, is for a vet alone. Ask before, not after."
)

SENTENCES: Sentences = {
    "law": (
        f"{ASK_FIRST} docs/law.md lists what is published, country by country; it is no permission."
    ),
    "law-not-stated": (
        "You have not said that you checked the law, and for which country (touch_up: law_checked "
        "and law_country), so ask a vet."
    ),
    "not-food": "A fish that was sedated is not for eating, neither now nor later.",
    "never-alone": (
        "Never alone, never without a timer, a tub of clean aerated water for waking up, and the "
        "bottle's stated strength. Drops are not a unit. The bath sheet has the figures."
    ),
    "if-the-gills-stop": "If the gills stop: clean aerated water over them at once.",
    "only-a-speck": (
        "Only a superficial speck on a scaled part, smaller than a scale. Stop if it bleeds or "
        "goes deeper, and ask a vet."
    ),
    "gloves": "Gloves and eye protection; cover your own cuts.",
    "may-be-a-carrier": (
        "A fish that lived through KHV can carry it for life and look well. Time apart lowers the "
        "risk, not to nothing."
    ),
    "khv-test": (
        "Only a test tells more, and not all: PCR, by a vet, on samples taken 24 to 72 hours after "
        "netting. Found means that the virus is there; not found does not mean that the fish is "
        "free of it."
    ),
}

ON_PHONE: Sentences = {
    "law": ASK_FIRST,
    "law-not-stated": (
        "You have not said that you checked the law, and for which country, so ask a vet."
    ),
}
