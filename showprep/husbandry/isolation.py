"""How long fish stay apart after a show, and what a vat holds.

The days rest on how long carp shed koi herpesvirus (KHV) and how soon they die of it at 16, 23
and 28 °C: Yuasa, Ito & Sano 2008, Effect of water temperature on mortality and virus shedding in
carp experimentally infected with koi herpesvirus, Fish Pathology 43:83-85 (abstract read, authors
from memory): at 16 °C deaths came as late as day 52. Derived.

No time below 16 or above 28 °C clears a fish, since the virus only hides there. Warm: no or
minimal growth in cells at 30 °C, Gilad et al. 2003, Molecular comparison of isolates of an
emerging fish pathogen, koi herpesvirus, and the effect of water temperature on mortality of
experimentally infected koi, Journal of General Virology 84:2661-2667 (abstract read). Cold: of
carriers kept at 11 °C and warmed to 22 °C 45 % died, and they killed 75 % of the naive fish beside
them, Sunarto et al. 2014, Characteristics of cyprinid herpesvirus 3 in different phases of
infection: implications for disease transmission and control, Virus Research 188:45-53 (abstract
read). A fish that lives through it can stay a carrier at any temperature: koi whose gill swabs were
clean for a month shed virus 8 days after warming, Eide et al. 2011, Investigation of koi
herpesvirus latency in koi, Journal of Virology 85:4954 (abstract read). So days apart lower the
risk, and no number of them ends it.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta
from math import ceil, isfinite
from typing import Literal

from showprep.husbandry.figures import FiguresInForce
from showprep.husbandry.plausible import more_than_nothing
from showprep.husbandry.reason import Celsius, Reason, reason
from showprep.husbandry.thermal_time import MeanOn

Vats = Literal["own", "shared", "bag"]

HORIZON_DAYS = 730
"""How far ahead a clear day is looked for [d]; later is as good as never."""


def clearing_window_c(figures: FiguresInForce) -> tuple[float, float]:
    """The coldest and the warmest water [°C] in which time counts towards clearing: 16 to 28.

    A keeper's own figures can only make the window narrower; then it may be empty.
    """
    return figures["apart_least_c"], figures["apart_most_c"]


def days_apart(water_c: float, vats: Vats, figures: FiguresInForce) -> int | None:
    """Days [d] a fish back from a show stays apart in water of a steady `water_c` [°C].

    `own` vats and closed bags: 28 from 22 to 28 °C, 42 from 18, 60 from 16, None (never clear)
    below 16 and above 28. `shared` vats: 42, 60 and 90, the safer ends of the figures. Raises
    ValueError if the temperature is not a number.
    """
    if not isfinite(water_c):
        raise ValueError("the water temperature of the isolation vat is not a number")
    low, high = clearing_window_c(figures)
    if not low <= water_c <= high:
        return None
    warmth = "warm" if water_c >= 22 else "mild" if water_c >= 18 else "cool"
    style = "shared" if vats == "shared" else "own"
    return ceil(figures[f"apart_{style}_{warmth}"])


def clear_on(home: date, mean_on: MeanOn, vats: Vats, figures: FiguresInForce) -> date | None:
    """First day on which a fish that came home on `home` may join the others, or None.

    In water of changing temperature each day counts as its share of the days needed at that
    day's temperature (derived); a day below 16 or above 28 °C sets the count back to nothing,
    since a fish that fell ill there would do so only afterwards. None if two years do not clear it.
    """
    done = 0.0
    for number in range(1, HORIZON_DAYS + 1):
        day = home + timedelta(days=number)
        needed = days_apart(mean_on(day), vats, figures)
        done = 0.0 if needed is None else done + 1 / needed
        if done >= 1 - 1e-9:
            return day
    return None


def hides_in(
    home: date, mean_on: MeanOn, figures: FiguresInForce, days: int = HORIZON_DAYS
) -> tuple[bool, bool]:
    """Tell whether the water is ever too cold, and ever too warm, for time to count.

    Looks at the `days` [d, 1 or more] after `home`; left out, as far ahead as `clear_on`.
    """
    low, high = clearing_window_c(figures)
    means = [mean_on(home + timedelta(days=number)) for number in range(1, days + 1)]
    return min(means) < low, max(means) > high


def litres_needed(lengths_cm: Sequence[float], figures: FiguresInForce) -> float:
    """Litres [L] that fish of these lengths [cm] need in an isolation vat (assumption).

    1,000 L a fish of 50 cm or more, 500 L from 35 cm, 250 L below.
    """
    return sum(_litres_for(length, figures) for length in lengths_cm)


def _litres_for(length_cm: float, figures: FiguresInForce) -> float:
    more_than_nothing(length_cm, "the length of a fish", "cm")
    if length_cm >= 50:
        return figures["vat_litres_large"]
    if length_cm >= 35:
        return figures["vat_litres_middle"]
    return figures["vat_litres_small"]


def vat_holds(litres: float, lengths_cm: Sequence[float], figures: FiguresInForce) -> bool:
    """Tell whether a vat of `litres` [L] holds fish of these lengths [cm] together."""
    return litres_needed(lengths_cm, figures) <= more_than_nothing(litres, "the isolation vat", "L")


def khv_signs(figures: FiguresInForce) -> Reason:
    """What to look out for, and the temperatures between which koi herpesvirus shows itself."""
    low, high = figures["khv_window_low"], figures["khv_window_high"]
    return reason("khv-signs", low=Celsius(low), high=Celsius(high))


def declared_from(show_day: date, months: int) -> date:
    """First day that a declaration reaching back `months` months from `show_day` covers.

    The same day of the month, or the month's last day where there is none. Raises ValueError
    unless `months` lies between 0 and 120.
    """
    if not 0 <= months <= 120:
        raise ValueError(f"a declaration of {months} months cannot be right; give 0 to 120")
    from dateutil.relativedelta import relativedelta

    return show_day - relativedelta(months=months)
