"""How warm each of the keeper's waters is on each day."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, timedelta
from functools import cache, partial

from showprep.husbandry.sedation_fit import cold_drop_block
from showprep.husbandry.thermal_time import MeanOn
from showprep.husbandry.water import (
    BRIDGE_DAYS,
    HALF_LIFE_DAYS,
    PLAUSIBLE_C,
    YearCurve,
    measured,
    moved_on,
    ramped,
    steady,
)
from showprep.season.records import Keeper, Water


class Waters:
    """The daily mean temperature of every water."""

    def __init__(
        self,
        keeper: Keeper,
        readings: Mapping[str, tuple[tuple[date, float], ...]],
        offsets_c: Mapping[str, float] | None = None,
    ) -> None:
        """`offsets_c` raises a water's yearly curve by what its readings have taught [°C].

        `as_written` are the curves that the keeper gave.
        """
        half_life = keeper.preferences.reading_half_life_days or HALF_LIFE_DAYS
        offsets = offsets_c or {}
        self.as_written = {name: _curve(water) for name, water in keeper.waters.items()}
        self.curves = {
            name: _raised(curve, offsets.get(name, 0.0)) for name, curve in self.as_written.items()
        }
        self._steady = {n for n, water in keeper.waters.items() if water.steady_c is not None}
        self.readings = {name: tuple(sorted(readings.get(name, ()))) for name in self.curves}
        self._means: dict[str, MeanOn] = {}
        for name, curve in self.curves.items():
            read = self.readings[name]
            mean_on = measured(curve, read, half_life, BRIDGE_DAYS) if read else curve
            self._means[name] = cache(mean_on)
        # Many fish share a water: what is worked out of it for one holds for all.
        self.moved = cache(self._moved_to)
        self.cold_drop = cache(partial(cold_drop_block, figures=keeper.figures))

    def is_steady(self, water: str) -> bool:
        """Is this water held at one temperature?"""
        return water in self._steady

    def of(self, water: str) -> MeanOn:
        """Daily mean temperature [°C] of a water by name."""
        return self._means[water]

    def _moved_to(self, from_on: MeanOn, to: str, on: date, c_per_day: float | None) -> MeanOn:
        """The temperature around a fish that is moved to `to` on `on`, with or without a ramp."""
        to_on = self.of(to)
        if c_per_day is None:
            return cache(moved_on(from_on, to_on, on))
        return cache(ramped(from_on, to_on, on, c_per_day))


def mean_over(mean_on: MeanOn, first: date, last: date) -> float:
    """Mean temperature [°C] over the days from `first` to `last`, both included."""
    days = max(1, (last - first).days + 1)
    return sum(mean_on(first + timedelta(days=number)) for number in range(days)) / days


def _raised(curve: MeanOn, by_c: float) -> MeanOn:
    if by_c == 0:
        return curve
    return lambda day: min(max(0.0, curve(day) + by_c), PLAUSIBLE_C[1])


def _curve(water: Water) -> MeanOn:
    if water.steady_c is not None:
        return steady(water.steady_c)
    assert water.monthly_c is not None  # checked when the season was read
    return YearCurve.from_monthly_means(water.monthly_c).on
