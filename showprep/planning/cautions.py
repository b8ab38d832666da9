"""The usual cautions, said wherever something may hurt a fish or a person."""

from __future__ import annotations

LAW = (
    "Whether a touch-up is lawful depends on where you live: in some countries any anaesthesia of "
    "fish, or any cut that is not treatment, is for a vet alone. Ask before, not after."
)
NOT_STATED = "You have not said that you checked the law (touch_up: law_checked), so ask a vet."
SEDATION = (
    "Never alone, never without a timer, a tub of clean aerated water for waking up, and the "
    "bottle's stated strength. Drops are not a unit. `showprep bath` has the sheet.",
    "If the gills stop: clean aerated water over them at once.",
    "Only a superficial speck on a scaled part, smaller than a scale. Stop if it bleeds or goes "
    "deeper, and ask a vet.",
    "Gloves and eye protection; cover your own cuts.",
)
UNPROVEN = (
    "Healing times are derived from carp and other fish, not measured on koi: look at the fish, "
    "not at the date."
)
SEASON = (UNPROVEN, LAW)
USUAL = frozenset({LAW, *SEDATION})  # of every touch-up: printed on its sheet
