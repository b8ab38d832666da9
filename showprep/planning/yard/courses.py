"""The courses of all fish of a yard, who is kept apart with whom, and who has met.

One place lays them out, from the state of the yard and from what is going on: the journeys made,
presumed and planned, and the wounds that heal in a warm vat. Everything else asks.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import date, timedelta
from functools import cached_property
from math import ceil

from msgspec import Struct
from msgspec.structs import replace

from showprep.husbandry.fasting import Fast, fast_days
from showprep.husbandry.isolation import Vats, clear_on
from showprep.husbandry.thermal_time import MeanOn
from showprep.planning.as_of.state import FishState, State
from showprep.planning.yard.course import (
    Course,
    Grade,
    Journey,
    Ramping,
    WarmHealing,
    course_by_moves,
    course_of,
)
from showprep.planning.yard.events import Events
from showprep.planning.yard.kept_apart import Arrival, KeptApart, groups
from showprep.planning.yard.meetings import Meetings, together
from showprep.planning.yard.waters import Waters, mean_over

DAY = timedelta(days=1)


class Going(Struct, frozen=True):
    """One fish that goes, or went, to one show, and how that is known."""

    fish: str
    show: str
    grade: Grade


class Courses(Struct, frozen=True, dict=True):
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
    kept = _groups(state, waters, events, goings)
    clear = {show: group.clear for group in kept for show in group.shows}
    by_fish = {
        fish.id: course_of(
            fish.record.lives_in,
            fish.moves,
            _journeys(state, waters, fish, events, goings, healing or {}, clear),
            (healing or {}).get(fish.id, ()),
            waters.of,
            _ramping(state),
            state.on,
        )
        for fish in state.fish.values()
    }
    return Courses(by_fish, tuple(goings), kept, _meetings(state, by_fish))


def _ramping(state: State) -> Ramping:
    figures = state.keeper.figures
    return Ramping(figures["step_block"], figures["temp_ramp"])


def _journeys(
    state: State,
    waters: Waters,
    fish: FishState,
    events: Mapping[str, Events],
    goings: Iterable[Going],
    healing: Mapping[str, Sequence[WarmHealing]],
    clear: Mapping[str, date | None],
) -> Sequence[Journey]:
    """The journeys of one fish, by departure; each is laid out from where those before leave it."""
    isolation, holding = state.keeper.isolation, state.keeper.holding
    mine = [one for one in goings if one.fish == fish.id]
    laid: list[Journey] = []
    for one in sorted(mine, key=lambda each: events[each.show].departure):
        this = events[one.show]
        journey = Journey(
            show=this.show,
            departure=this.departure_day,
            home=this.home_day,
            grade=one.grade,
            show_c=this.record.water_c,
            kept_apart_in=isolation.water if isolation is not None else None,
            clear=clear.get(one.show),
        )
        if holding is not None:
            until_then = course_of(
                fish.record.lives_in,
                fish.moves,
                laid,
                healing.get(fish.id, ()),
                waters.of,
                _ramping(state),
                state.on,
            )
            vat, first, held_at_c = _holding(state, waters, until_then, this, holding.water)
            journey = replace(journey, holding=(vat, first), held_at_c=held_at_c)
        laid.append(journey)
    return laid


def _holding(
    state: State, waters: Waters, course: Course, events: Events, vat: str
) -> tuple[str, date, float | None]:
    """The holding vat, the day the fish goes into it, and the warmth it is then brought to [°C].

    `course` is the fish's own up to this journey: what it leaves may be the isolation vat. Into
    the holding vat for the fast, but never before its time apart is over, if that is over in
    time. Where the vat's own warmth is too far from that of the water left, or from the show's, it
    is matched to what the fish leave and brought to the show's with them in it, and they go into
    it as much earlier as that takes.
    """
    departure, figures = events.departure_day, state.keeper.figures
    left = course.water_before(departure - DAY)
    fasts = [fast_before(state, events, one, waters.of(one)) for one in (vat, left)]
    first = departure - timedelta(days=max(fast.days for fast in fasts))
    there = events.record.water_c
    if there is not None:
        left_c, vat_c = course.mean_on(first), waters.of(vat)(first)
        block, rate = figures["step_block"], figures["temp_ramp"]
        near = abs(vat_c - left_c) < block and abs(vat_c - there) < figures["step_warn"]
        if not near and abs(there - left_c) >= block:
            ramp = timedelta(days=ceil(abs(there - left_c) / rate - 1e-9))
            first = min(first, departure - ramp)
        there = None if near else there
    return vat, _not_before_clear(course, first, departure), there


def _not_before_clear(course: Course, first: date, departure: date) -> date:
    """`first`, or the day the time apart is over if that falls between it and departure."""
    apart = course.stay_on(first)
    if apart.why != "kept apart" or apart.toward is not None or apart.last is None:
        return first
    if apart.last + DAY >= departure:
        return first
    return apart.last + DAY


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
        if came is None:
            continue
        belongs = course_by_moves(fish.record.lives_in, fish.moves, state.on)
        if belongs.water_on(came) == vat:
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
