"""The strength of the sedative, as the keeper copied it from the label."""

from __future__ import annotations

from showprep.husbandry.strength import Strength, parse_strength
from showprep.season.measures import is_plain_number
from showprep.season.records import TouchUp

PERCENT, MG_PER_ML = "strength_percent", "strength_mg_per_ml"


def product_strength(touch_up: TouchUp) -> Strength | None:
    """The strength stated for the product, or None when none is.

    A bare number has the unit of its key. Raises ValueError in a keeper's words for drops, for
    what can be read in two ways, for a strength given twice, or one in the other key's unit.
    """
    percent, mg_per_ml = touch_up.strength_percent, touch_up.strength_mg_per_ml
    if percent is not None and mg_per_ml is not None:
        raise ValueError(f"the strength is given twice, as {PERCENT} and as {MG_PER_ML}")
    if percent is not None:
        found = parse_strength(f"{percent} %" if is_plain_number(percent) else percent)
        if found.percent_v_v is None and "%" not in percent:
            raise ValueError(f"'{percent}' is not in percent")
        return found
    if mg_per_ml is None:
        return None
    found = parse_strength(f"{mg_per_ml} mg/mL" if is_plain_number(mg_per_ml) else mg_per_ml)
    if found.mg_per_ml is None:
        raise ValueError(f"'{mg_per_ml}' is not in mg per mL")
    return found
