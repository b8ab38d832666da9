"""How long a fish takes to go under and to come round."""

from __future__ import annotations

from math import log
from typing import NamedTuple

from showprep.husbandry.figures import FiguresInForce
from showprep.husbandry.plausible import more_than_nothing, water_temperature


class Minutes(NamedTuple):
    """A span of time [min]: the shortest, the usual and the longest to expect."""

    low: float
    typical: float
    high: float


WEAKEST_TRIED, STRONGEST_TRIED = 20.0, 150.0  # mg/L isoeugenol, Gladden et al. 2010
_BELOW_40 = log(22.4 / 7.2) / log(40 / 20)  # 22.4 min at 20 mg/L, 7.2 at 40, same paper


def curve_minutes(mg_per_l: float) -> float:
    """Minutes [min] to loss of balance in 20 to 150 mg/L, through the times found in koi.

    Juvenile koi in isoeugenol at about 20 °C: 22.4 min at 20 mg/L, 7.2 at 40, 1.7 at 150 (Gladden
    et al. 2010); between them a straight line of the logarithms (derived). Raises ValueError
    outside 20 to 150 mg/L, where nothing was tried.
    """
    more_than_nothing(mg_per_l, "bath strength", "mg/L")
    if not WEAKEST_TRIED <= mg_per_l <= STRONGEST_TRIED:
        raise ValueError(
            f"how long a koi takes to roll over in {mg_per_l:g} mg/L was not tried;"
            f" {WEAKEST_TRIED:g} to {STRONGEST_TRIED:g} were"
        )
    return float(7.2 * (40 / mg_per_l) ** (_BELOW_40 if mg_per_l < 40 else 1.1))


def minutes_to_loss_of_balance(mg_per_l: float, water_c: float, figures: FiguresInForce) -> Minutes:
    """Minutes [min] to expect until a fish rolls over, in `mg_per_l` clove oil at `water_c` [°C].

    2 to 7 minutes at 40 mg/L and 20 °C and more (Hajek et al. 2006, Gladden et al. 2010), by the
    curve above for other strengths, and doubled for 10 °C colder (assumption; that colder water
    is slower is from Hikasa et al. 1986). Raises ValueError outside 20 to 150 mg/L.
    """
    slower = _slower(water_c) * curve_minutes(mg_per_l) / curve_minutes(40)
    usual = figures["induction"]
    return Minutes(usual / 2 * slower, usual * slower, max(curve_minutes(40), usual) * slower)


def minutes_to_recover(water_c: float, figures: FiguresInForce) -> Minutes:
    """Minutes [min] to expect until a fish is upright again: 2, 4 and 10 at 20 °C, longer colder.

    About 4 minutes whatever the strength, Hajek et al. 2006; the cold is an assumption.
    """
    slower, usual = _slower(water_c), figures["recovery"]
    return Minutes(min(2.0, usual) * slower, usual * slower, max(10.0, usual) * slower)


def _slower(water_c: float) -> float:
    return float(2 ** (max(0.0, 20 - water_temperature(water_c)) / 10))
