"""The usual cautions, told wherever something may hurt a fish or a person."""

from __future__ import annotations

from showprep.husbandry.reason import reason

LAW = reason("law")
NOT_STATED = reason("law-not-stated")
NOT_FOOD = reason("not-food")
SEDATION = (
    reason("never-alone"),
    reason("if-the-gills-stop"),
    reason("only-a-speck"),
    reason("gloves"),
)
CARRIER = reason("may-be-a-carrier")
KHV_TEST = reason("khv-test")
JOINING = (CARRIER, KHV_TEST)
USUAL = frozenset({LAW, *SEDATION, NOT_FOOD})  # of every touch-up: printed on its sheet
