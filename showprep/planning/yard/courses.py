"""The courses of all fish of a yard, who is kept apart with whom, and who has met.

One place lays them out, from the state of the yard and from what is going on: the journeys made,
presumed and planned, and the wounds that heal in a warm vat. Everything else asks.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from functools import cached_property
from math import ceil

from showprep.husbandry.fasting import Fast, fast_days
from showprep.husbandry.isolation import Vats, clear_on
from showprep.husbandry.thermal_time import MeanOn
from showprep.planning.as_of.state import FishState, State
from showprep.planning.yard.course import Course, Grade, Journey, Ramping, WarmHealing, course_of
from showprep.planning.yard.events import Events
from showprep.planning.yard.kept_apart import Arrival, KeptApart, groups
from showprep.planning.yard.meetings import Meetings, together
from showprep.planning.yard.waters import Waters, mean_over


@dataclass(frozen=True, slots=True)
class Going:
    """One fish that goes, or went, to one show, and how that is known."""

    fish: str
    show: str
    grade: Grade


@dataclass(frozen=True)
class Courses:
    """Every fish's course, by id; the groups kept apart, in time order; the meetings."""

    by_fish: Mapping[str, Course]
    goings: tuple[Going, ...]
    kept_apart: tuple[KeptApart, ...]
    meetings: Meetings

    @cached_property
    def _group_of(self) -> Mapping[str, KeptApart]:
        return {show: group for group in self.kept_apart for show in group.shows}

    def group_of(self, show: str) -> KeptApart | None:
        """The group in which the fish home from `show` are kept apart; None if nobody went."""
        return self._group_of.get(show)

    def group_of_new(self, fish: str) -> KeptApart | None:
        """The group in which a fish that joined the yard is kept apart; None if it is not."""
        return next(
            (
                group
                for group in self.kept_apart
                for one in group.arrivals
                if one.show is None and fish in one.fish
            ),
            None,
        )

    def __getitem__(self, fish: str) -> Course:
        return self.by_fish[fish]

    def going_to(self, show: str) -> tuple[Going, ...]:
        """Who goes or went to a show, by id."""
        return tuple(one for one in self.goings if one.show == show)

    def grade_of(self, fish: str, show: str) -> Grade | None:
        """How it is known that a fish goes to a show; None if it does not."""
        return next(
            (one.grade for one in self.goings if (one.fish, one.show) == (fish, show)), None
        )


def courses_of(
    state: State,
    waters: Waters,
    events: Mapping[str, Events],
    goings: Sequence[Going],
    healing: Mapping[str, Sequence[WarmHealing]] | None = None,
) -> Courses:
    """Lay out every fish's course; `healing` are wounds in a warm vat, by fish."""
    keeper = state.keeper
    kept = _groups(state, waters, events, goings)
    clear = {show: group.clear for group in kept for show in group.shows}
    ramping = Ramping(keeper.figures["step_block"], keeper.figures["temp_ramp"])
    by_fish = {
        fish.id: course_of(
            fish.record.lives_in,
            fish.moves,
            [
                _journey(state, waters, fish, events[one.show], one.grade, clear.get(one.show))
                for one in goings
                if one.fish == fish.id
            ],
            (healing or {}).get(fish.id, ()),
            waters.of,
            ramping,
            state.on,
        )
        for fish in state.fish.values()
    }
    return Courses(by_fish, tuple(goings), kept, _meetings(state, by_fish))


def _journey(
    state: State,
    waters: Waters,
    fish: FishState,
    events: Events,
    grade: Grade,
    clear: date | None,
) -> Journey:
    keeper = state.keeper
    holding, held_at_c = None, None
    if keeper.holding is not None:
        vat, first, held_at_c = _holding(state, waters, fish, events, keeper.holding.water)
        holding = (vat, first)
    return Journey(
        show=events.show,
        departure=events.departure_day,
        home=events.home_day,
        grade=grade,
        show_c=events.record.water_c,
        holding=holding,
        held_at_c=held_at_c,
        kept_apart_in=keeper.isolation.water if keeper.isolation is not None else None,
        clear=clear,
    )


def _holding(
    state: State, waters: Waters, fish: FishState, events: Events, vat: str
) -> tuple[str, date, float | None]:
    """The holding vat, the day the fish goes into it, and the warmth it is then brought to [°C].

    Into the vat for the fast. Where its own warmth is too far from the pond's, or from the show's,
    it is matched to the pond and brought to the show's with the fish in it, and the fish goes
    into it as much earlier as that takes.
    """
    pond, figures = fish.water_on(events.departure_day), state.keeper.figures
    fasts = [fast_before(state, events, one, waters.of(one)) for one in (vat, pond)]
    first = events.departure_day - timedelta(days=max(fast.days for fast in fasts))
    there = events.record.water_c
    if there is None:
        return vat, first, None
    pond_c, vat_c = waters.of(pond)(first), waters.of(vat)(first)
    block, rate = figures["step_block"], figures["temp_ramp"]
    if abs(vat_c - pond_c) < block and abs(vat_c - there) < figures["step_warn"]:
        return vat, first, None
    if abs(there - pond_c) >= block:
        ramp = timedelta(days=ceil(abs(there - pond_c) / rate - 1e-9))
        first = min(first, events.departure_day - ramp)
    return vat, first, there


def fast_before(state: State, events: Events, water: str, mean_on: MeanOn) -> Fast:
    """Days without food before departure for fish in one of the keeper's waters."""
    day = events.departure_day
    return fast_days(
        mean_over(mean_on, day - timedelta(days=7), day - timedelta(days=1)),
        "show",
        state.keeper.figures,
        own_rule_days=events.record.fast_days,
        algae_pond=state.keeper.waters[water].algae,
    )


def _groups(
    state: State, waters: Waters, events: Mapping[str, Events], goings: Iterable[Going]
) -> tuple[KeptApart, ...]:
    isolation = state.keeper.isolation
    if isolation is None:
        return ()
    mean_on = waters.of(isolation.water)
    fish_of: dict[str, list[str]] = {}
    for one in goings:
        fish_of.setdefault(one.show, []).append(one.fish)
    home = [
        Arrival(events[show].home_day, show, tuple(sorted(fish)), events[show].record.vats)
        for show, fish in fish_of.items()
    ]

    def clear(day: date, vats: Vats) -> date | None:
        return clear_on(day, mean_on, vats, state.keeper.figures)

    return groups([*home, *_new_fish(state, isolation.water)], clear)


def _new_fish(state: State, vat: str) -> Iterable[Arrival]:
    """Fish that joined the yard by way of the vat."""
    for fish in state.fish.values():
        came = fish.record.came
        if came is not None and fish.water_on(came) == vat:
            yield Arrival(came, None, (fish.id,), "shared")


def _meetings(state: State, by_fish: Mapping[str, Course]) -> Meetings:
    handled: dict[date, set[str]] = {}
    for fish in state.fish.values():
        for day in fish.sedations:
            handled.setdefault(day, set()).add(fish.id)
    return Meetings(
        by_fish,
        gone={fish.id: fish.gone_on for fish in state.fish.values() if fish.gone_on is not None},
        came={
            fish.id: fish.record.came
            for fish in state.fish.values()
            if fish.record.came is not None
        },
        handled=together(sorted(handled.items())),
    )


def goings_by_now(
    state: State, events: Mapping[str, Events], presumed: Mapping[str, frozenset[str]]
) -> tuple[Going, ...]:
    """Who has left for which show by the day of the state.

    A journey is written down where it, or a result, was noted. Otherwise a fish that was entered,
    or that the plan had chosen (`presumed`, by show), is presumed to have gone, unless it was
    noted that it stayed.
    """
    found = []
    for one in events.values():
        if one.standing == "cancelled" or one.departure_day > state.on:
            continue
        for fish in state.fish.values():
            grade = _grade(fish, one, presumed.get(one.show, frozenset()))
            if grade is not None:
                found.append(Going(fish.id, one.show, grade))
    return _one_at_a_time(found, events)


def _grade(fish: FishState, events: Events, presumed: frozenset[str]) -> Grade | None:
    if fish.went_to(events.show):
        return "written"
    if events.show in fish.stayed_from:
        return None
    if fish.gone_on is not None and fish.gone_on < events.departure_day:
        return None
    return "presumed" if events.show in fish.entered or fish.id in presumed else None


def _one_at_a_time(found: Sequence[Going], events: Mapping[str, Events]) -> tuple[Going, ...]:
    """A fish is at one show at a time: of two that overlap, what is written down holds."""
    kept: list[Going] = []
    order = {"written": 0, "presumed": 1, "planned": 2}
    for one in sorted(found, key=lambda each: (order[each.grade], events[each.show].departure)):
        mine = [events[other.show] for other in kept if other.fish == one.fish]
        this = events[one.show]
        if all(other.home < this.departure or this.home < other.departure for other in mine):
            kept.append(one)
    return tuple(sorted(kept, key=lambda each: (events[each.show].departure, each.show, each.fish)))
