"""How sure a blemish is closed and clean by a show, and a speck not back: along a fish's course."""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Sequence
from datetime import date
from functools import cached_property

from msgspec import Struct

from showprep.husbandry.chances import (
    WoundChances,
    chance_closed,
    chance_healed,
    chance_still_away,
    chances_of,
    rounded,
)
from showprep.husbandry.no_blemish import chance_no_blemish, chances_of_all
from showprep.husbandry.thermal_time import MeanOn
from showprep.husbandry.warmth_ahead import Warmth
from showprep.husbandry.wound_need import Wound
from showprep.planning.as_of.state import DefectState, FishState
from showprep.planning.chances.needs import Needs
from showprep.planning.chances.warmth import KERNEL, WatersAhead
from showprep.planning.yard.events import Events
from showprep.planning.yard.yard import Yard

USUAL_BASE_C = 5.0

NO_FIGURE = WoundChances(1.0, 0.0, 1.0)
"""A blemish without a figure is taken to show."""


class Chances:
    """Everything that is uncertain in one yard on one day: made once, asked for every fish."""

    def __init__(self, yard: Yard) -> None:
        self._yard = yard
        self.touch_ups: dict[Hashable, tuple[float, float]] = {}
        """Those worked out already: clean and not back, by all they hang on."""
        self._read: dict[Hashable, tuple[Warmth, FishChances]] = {}

    @cached_property
    def needs(self) -> Needs:
        """What blemishes ask for in this yard."""
        yard = self._yard
        return Needs(yard.state, yard.facts.kinds, yard.courses)

    @cached_property
    def waters(self) -> WatersAhead:
        """The waters from the oldest wound that is not clean to the last show.

        One that was first seen clean at a show that is still on was not clean before it.
        """
        yard = self._yard
        ends = [day for one in yard.planned() for day in (one.departure_day, one.benching_day)]
        begun = min([*ends, yard.on])
        starts = [
            one.heals_from
            for fish in yard.fish_here()
            for one in fish.defects
            if one in fish.open_defects or (one.clean_on is not None and one.clean_on > begun)
        ]
        first, last = min([*starts, yard.on]), max([*ends, yard.on])
        return WatersAhead(yard.waters, yard.on, first, last)

    def of_fish(self, fish: FishState) -> FishChances:
        """Chances along the fish's own course."""
        course = self._yard.course(fish)
        return FishChances(self, self.waters.along(course.heals_at, course.heals_in))

    def read(self, known: FishChances, day: date, far: float) -> FishChances:
        """The chances along a course after one more reading on `day`, so `far` from expected.

        `far` in standard deviations, warmer above 0.
        """
        asked = id(known.warmth), day, far
        if asked not in self._read:
            warmth = known.warmth.after_reading(day, far, KERNEL.reading_c)
            self._read[asked] = known.warmth, FishChances(self, warmth)
        return self._read[asked][1]

    def moved(self, fish: FishState, day: date, water: str, mean_on: MeanOn) -> FishChances:
        """Chances of a fish that heals in another water from `day` on, `mean_on` around it."""
        course = self._yard.course(fish)

        def water_on(at: date) -> str | None:
            return water if at >= day else course.water_on(at)

        return FishChances(self, self.waters.along(mean_on, water_on))


class FishChances(Struct, frozen=True):
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

    def closed(self, defect: DefectState, events: Events) -> float:
        """The chance, 0 to 1, that its wound is closed by departure; 1 where it has none."""
        wound = self.yard.needs.wound(defect)
        if wound is not None:
            return self.of(defect, events).closed
        need = self.yard.needs.closed(defect)
        if need is None or (defect.closed_on is not None):
            return 1.0
        by, seen = events.departure_day, defect.not_closed_on
        return rounded(chance_healed(need, defect.heals_from, by, seen, self.warmth))

    def touch_up(
        self, specks: Sequence[DefectState], events: Events, day: date
    ) -> tuple[float, float]:
        """For specks taken off together on `day`: clean by benching, and then not back by judging.

        Both, each of all of them, multiply to the chance that nothing is seen.
        """
        kinds = tuple(one.kind for one in specks)
        # Nothing was seen of a wound to come: alike for all fish of one course.
        asked = id(self.warmth), kinds, events.benching_day, events.judging_day, day
        known = self.yard.touch_ups
        if asked not in known:
            known[asked] = self._touch_up(specks, events, day)
        return known[asked]

    def _touch_up(
        self, specks: Sequence[DefectState], events: Events, day: date
    ) -> tuple[float, float]:
        wounds, seen_on = self._wounds(specks, day), events.judging_day
        if not wounds:
            return NO_FIGURE.clean, NO_FIGURE.not_back
        healed, both = chances_of_all(wounds, events.benching_day, seen_on, self.warmth)
        if len(wounds) > 1 and healed > 0:
            return healed, rounded(both / healed)
        return healed, min(chance_still_away(one, seen_on) for one in wounds)

    def closed_after(self, specks: Sequence[DefectState], events: Events, day: date) -> float:
        """The chance, 0 to 1, that specks taken off on `day` are closed by departure, each."""
        wounds, by = self._wounds(specks, day), events.departure_day
        return min((chance_closed(one, by, self.warmth) for one in wounds), default=1.0)

    def _wounds(self, specks: Sequence[DefectState], day: date) -> list[Wound]:
        found = (self.yard.needs.wound(speck, day) for speck in specks)
        return [wound for wound in found if wound is not None]

    def lost_to(self, specks: Sequence[DefectState], events: Events, day: date) -> dict[str, float]:
        """Of specks taken off on `day`: the share of all cases lost to each doubt, 0 to 1.

        First how slowly the fish heals, over the usual base and the likeliest water; then the
        base; then the water; then the return. With what is left they make 1.
        """
        healed, away = self.touch_up(specks, events, day)
        wound = self.yard.needs.wound(specks[0], day)
        span = (day, events.benching_day)
        if wound is None or (span[1] - day).days < wound.clean.least_days:
            return {"need": 1 - healed, "base": 0.0, "water": 0.0, "return": healed * (1 - away)}
        by_base = {
            base: known.share_below(
                float((span[1] - day).days) if base is None else self.warmth.mean(base, span)
            )
            for base, _, known in wound.clean.cases
        }
        usual = by_base.get(USUAL_BASE_C, sum(by_base.values()) / len(by_base))
        mixed = sum(share * by_base[base] for base, share, _ in wound.clean.cases)
        alone = chance_healed(wound.clean, day, span[1], None, self.warmth)
        lost = {"need": 1 - usual, "base": usual - mixed, "water": mixed - alone}
        scale = (1 - healed) / (1 - alone) if alone < 1 else 1.0  # of several specks
        return {
            **{of: scale * share for of, share in lost.items()},
            "return": healed * (1 - away),
        }

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
