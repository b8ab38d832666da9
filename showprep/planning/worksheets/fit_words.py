"""What the worksheets say of water and days unfit for sedation; `outputs/words` says the same."""

from __future__ import annotations

from collections.abc import Mapping

from showprep.husbandry.reason import Celsius, Reason
from showprep.season.quantities import Units, show_temperature

WATER: Mapping[str, str] = {
    "water-too-cold": "The water is {water}, below {limit}: too cold to sedate.",
    "water-too-warm": "The water is {water}, above {limit}: too warm to sedate.",
    "water-cold": "The water is {water}, below {limit}: the oil mixes badly, and the fish goes "
    "under and comes round slowly; do not raise the dose to hurry it.",
    "water-warm": "The water is {water}, above {limit}: it holds little oxygen, so aerate well and "
    "keep the time short.",
}


def fit_text(told: Reason | None, units: Units) -> str:
    """The reason of a `Fit` as a sentence."""
    if told is None:
        return ""
    values = {
        name: show_temperature(value.amount, units)
        for name, value in told.values
        if isinstance(value, Celsius)
    }
    return WATER[told.code].format(**values)
