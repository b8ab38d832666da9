"""How warm the water may be along a fish's course, on the days ahead: means and departures.

All fish of one water lie under the same weather, and their answers are worked out once.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta
from functools import cache

from showprep.husbandry.thermal_time import MeanOn
from showprep.husbandry.warmth_ahead import Warmth, along_course
from showprep.husbandry.water import PLAUSIBLE_C
from showprep.husbandry.water_departures import Departures, Kernel, departures_given
from showprep.planning.yard.waters import Waters

LOOKED_BACK = timedelta(days=60)
"""Water longer ago than this is taken as it was read or drawn, without a doubt (assumption)."""

KERNEL = Kernel(year_c=0.8)
"""How water strays from the curve that the keeper wrote, which may itself be off all year.

So far off it may well be (our choice): of 0, 0.5, 0.8, 1.2 and 2 °C this foretells four weeks of
open waters about best with the right monthly means and with means 1 °C too high or too low. The
offset that dates are worked out with is not used here: it would count the same readings twice.
"""

WaterOn = Callable[[date], str | None]


class WatersAhead:
    """The waters of a yard from the first day asked about to the last show."""

    def __init__(self, waters: Waters, on: date, first: date, last: date) -> None:
        """`on` is the day of the plan, `first` the day of the oldest wound that is not clean."""
        self._waters = waters
        self.first, self.last = min(first, on), max(last, on)
        numbers = range((self.last - self.first).days + 1)
        self._days = [self.first + timedelta(days=number) for number in numbers]
        self._likeliest = cache(self._worked_out)
        self._uncertain_from = max(self.first, on - LOOKED_BACK)
        self._departures: dict[str, Departures] = {}
        self._known: dict[tuple[object, ...], Warmth] = {}

    def along(self, mean_on: MeanOn, water_on: WaterOn) -> Warmth:
        """The warmth along a course: its daily mean [°C], and in which water it is.

        A day whose water is brought to another's warmth, or is at a show, is taken as planned.
        """
        means: list[float] = []
        waters: list[str | None] = []
        for day in self._days:
            planned, water = mean_on(day), water_on(day)
            own, likeliest = (None, 0.0) if water is None else self._likeliest(water, day)
            strays = own is not None and abs(planned - own) < 1e-9
            waters.append(water if strays else None)
            means.append(likeliest if strays else planned)
        key = (*means, *waters)
        if key not in self._known:
            departures = [None if one is None else self._of(one) for one in waters]
            self._known[key] = along_course(self.first, means, departures)
        return self._known[key]

    def _worked_out(self, water: str, day: date) -> tuple[float | None, float]:
        """The mean [°C] that dates take for a day of a water, and the likeliest one.

        The first is None where the water does not stray from it.
        """
        if day < self._uncertain_from or self._waters.is_steady(water):
            return None, 0.0
        told = self._of(water)
        curve = self._waters.as_written[water](day)
        drawn = max(curve + told.means_c[(day - told.first).days], min(curve, 0.0))
        return self._waters.of(water)(day), min(drawn, max(curve, PLAUSIBLE_C[1]))

    def _of(self, water: str) -> Departures:
        if water not in self._departures:
            curve = self._waters.as_written[water]
            self._departures[water] = departures_given(
                [(day, c - curve(day)) for day, c in self._waters.readings[water]],
                self._uncertain_from,
                self.last,
                KERNEL,
            )
        return self._departures[water]
