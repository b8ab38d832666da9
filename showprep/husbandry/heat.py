"""Water so warm that fish are short of oxygen: the spans of days above 28 °C.

Derived, the same limit as for sedation (`sed_hot_block`): water holds less oxygen the warmer it is
(7.8 mg/L at 28 °C, against 9.1 at 20 °C), while the fish use more.
"""

from __future__ import annotations

from datetime import date, timedelta
from typing import Literal

from showprep.husbandry.figures import FiguresInForce
from showprep.husbandry.plausible import water_temperature
from showprep.husbandry.thermal_time import MeanOn

Care = Literal["more air", "feed less", "no handling"]
IN_HEAT: tuple[Care, ...] = ("more air", "feed less", "no handling")


def care_in(water_c: float, figures: FiguresInForce) -> tuple[Care, ...]:
    """What fish in water of `water_c` [°C] want: nothing more up to 28 °C, all three above.

    Raises ValueError for a temperature that koi water cannot have.
    """
    return IN_HEAT if water_temperature(water_c) > figures["sed_hot_block"] else ()


def hot_spells(
    mean_on: MeanOn, first: date, last: date, figures: FiguresInForce
) -> tuple[tuple[date, date], ...]:
    """The spans of days from `first` to `last` on which the water's mean is above 28 °C.

    Each span is its first and its last day, both included.
    """
    spells: list[tuple[date, date]] = []
    for number in range((last - first).days + 1):
        day = first + timedelta(days=number)
        if not care_in(mean_on(day), figures):
            continue
        if spells and spells[-1][1] == day - timedelta(days=1):
            spells[-1] = (spells[-1][0], day)
        else:
            spells.append((day, day))
    return tuple(spells)
