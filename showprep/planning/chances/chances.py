"""How sure a blemish is closed and clean by a show, and a speck not back: along a fish's course."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from functools import cached_property

from showprep.husbandry.chances import WoundChances, chances_of
from showprep.husbandry.no_blemish import chance_no_blemish
from showprep.husbandry.thermal_time import MeanOn
from showprep.husbandry.warmth_ahead import Warmth
from showprep.planning.as_of.state import DefectState, FishState
from showprep.planning.chances.needs import Needs
from showprep.planning.chances.warmth import WatersAhead
from showprep.planning.yard.events import Events
from showprep.planning.yard.yard import Yard

NO_FIGURE = WoundChances(0.0, 0.0, 1.0)
"""A blemish without a figure is taken to show, and its wound to be open."""


class Chances:
    """Everything that is uncertain in one yard on one day: made once, asked for every fish."""

    def __init__(self, yard: Yard) -> None:
        self._yard = yard

    @cached_property
    def needs(self) -> Needs:
        """What blemishes ask for in this yard."""
        yard = self._yard
        return Needs(yard.state, yard.facts.kinds, yard.courses)

    @cached_property
    def waters(self) -> WatersAhead:
        """The waters from the oldest wound that is not clean to the last show."""
        yard = self._yard
        starts = [one.heals_from for fish in yard.fish_here() for one in fish.open_defects]
        ends = [day for one in yard.planned() for day in (one.departure_day, one.benching_day)]
        first, last = min([*starts, yard.on]), max([*ends, yard.on])
        return WatersAhead(yard.waters, yard.on, first, last)

    def of_fish(self, fish: FishState) -> FishChances:
        """Chances along the fish's own course."""
        course = self._yard.course(fish)
        return FishChances(self, self.waters.along(course.mean_on, course.water_on))

    def moved(self, fish: FishState, day: date, water: str, mean_on: MeanOn) -> FishChances:
        """Chances of a fish that heals in another water from `day` on, `mean_on` around it."""
        course = self._yard.course(fish)

        def water_on(at: date) -> str | None:
            return water if at >= day else course.water_on(at)

        return FishChances(self, self.waters.along(mean_on, water_on))


@dataclass(frozen=True)
class FishChances:
    """What is uncertain of one fish along one course."""

    yard: Chances
    warmth: Warmth

    def of(
        self, defect: DefectState, events: Events, touched_on: date | None = None
    ) -> WoundChances:
        """Closed by departure, clean by benching, not back by judging.

        With `touched_on` as if it were taken off on that day.
        """
        wound = self.yard.needs.wound(defect, touched_on)
        if wound is None:
            return NO_FIGURE
        return chances_of(
            wound, events.departure_day, events.benching_day, events.judging_day, self.warmth
        )

    def none_shows(
        self,
        defects: Iterable[DefectState],
        events: Events,
        touched: Iterable[DefectState] = (),
        touched_on: date | None = None,
    ) -> float:
        """The chance, 0 to 1, that nothing is seen of all these together.

        `touched` are taken off on the day `touched_on`.
        """
        wounds = [self.yard.needs.wound(one) for one in defects]
        wounds += [self.yard.needs.wound(one, touched_on) for one in touched]
        known = [one for one in wounds if one is not None]
        if len(known) < len(wounds):
            return 0.0
        return chance_no_blemish(known, events.benching_day, events.judging_day, self.warmth)


def expected_loss(losses: Sequence[tuple[float, float]], merit: float) -> float:
    """What blemishes cost on average [points], each (points, chance that it is not seen).

    No fish falls below 0: where all of them together cost more than its `merit`, the outcomes are
    averaged one by one.
    """
    if sum(lost for lost, _ in losses) <= merit or not losses:
        return sum(lost * (1 - clean) for lost, clean in losses)
    return merit - _mean_left(merit, losses)


def _mean_left(merit: float, losses: Sequence[tuple[float, float]]) -> float:
    if not losses or merit <= 0:
        return max(merit, 0.0)
    (lost, clean), *rest = losses
    with_it = _mean_left(merit - lost, rest) if clean < 1 else 0.0
    return clean * (_mean_left(merit, rest) if clean > 0 else 0.0) + (1 - clean) * with_it
