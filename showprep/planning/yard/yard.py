"""All that the planner looks at on one day: the yard as it stands, the facts, the events."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Mapping
from dataclasses import dataclass, field
from datetime import date, timedelta
from math import ceil
from typing import Any, TypeVar

from msgspec.structs import replace

from showprep.husbandry.figures import FiguresInForce
from showprep.husbandry.reason import Reason
from showprep.husbandry.thermal_time import MeanOn
from showprep.planning.as_of.state import FishState, State, heard_of_waters, state_of
from showprep.planning.entries.records import PresumedForm
from showprep.planning.yard.course import Course, WaterMove
from showprep.planning.yard.courses import Courses, courses_of, goings_by_now
from showprep.planning.yard.events import Events, all_events
from showprep.planning.yard.finds import Carried, carried_by_all, not_clear_on
from showprep.planning.yard.last_plan import HealsIn, LastPlan, PresumedCut
from showprep.planning.yard.own_pace import OwnPace, own_pace
from showprep.planning.yard.waters import Waters
from showprep.season.facts import Facts, after_what_they_hold, facts_for
from showprep.season.records import Keeper, Season
from showprep.season.values.work_days import is_among

WorkedOut = TypeVar("WorkedOut")


SATURDAY = 5


@dataclass(frozen=True, slots=True)
class Yard:
    """One day's view of a season: state, facts, waters and the events of every show."""

    on: date
    keeper: Keeper
    state: State
    facts: Facts
    waters: Waters
    events: dict[str, Events]
    pace: OwnPace
    courses: Courses
    last: LastPlan | None = None  # a plan of an earlier day, where one is remembered
    cuts: tuple[PresumedCut, ...] = ()  # touch-ups whose day passed without a note
    held: Mapping[tuple[str, str], Reason] = field(default_factory=dict)  # entries, by a STOP
    carried: Mapping[str, tuple[Carried, ...]] = field(default_factory=dict)  # of finds, by fish
    infested: Mapping[str, Carried] = field(default_factory=dict)  # not clear by now, by fish
    # By show that was left for: who is taken to have gone, whatever notes say of it since.
    presumed_gone: Mapping[str, frozenset[str]] = field(default_factory=dict)
    # By show whose form is in: who is taken to be on it, where no entry was written down.
    presumed_forms: Mapping[str, PresumedForm] = field(default_factory=dict)
    # By fish and day: where touch-ups done of late, or about now, were planned to heal.
    healed_in: HealsIn = field(default_factory=dict)
    # Never handed on: what was worked out for one yard is not true of another.
    _known: dict[Hashable, Any] = field(default_factory=dict, init=False, repr=False, compare=False)

    def once(self, key: Hashable, work: Callable[[], WorkedOut]) -> WorkedOut:
        """What `work` gives, worked out once for each key while this yard lives."""
        if key not in self._known:
            self._known[key] = work()
        known: WorkedOut = self._known[key]
        return known

    @property
    def figures(self) -> FiguresInForce:
        """The one record of the figures in force, made when the keeper's file was read."""
        return self.keeper.figures

    def days(self, name: str) -> timedelta:
        """A figure in days as a span; part of a day counts whole, which is the safer."""
        return timedelta(days=ceil(self.figures[name] - 1e-9))

    def planned(self) -> tuple[Events, ...]:
        """The shows still to come, earliest departure first."""
        return tuple(events for events in self.events.values() if events.standing == "planned")

    def fish_here(self) -> tuple[FishState, ...]:
        """The fish that are still the keeper's, by id."""
        every = sorted(self.state.fish.items())
        return tuple(fish for _, fish in every if fish.gone is None)

    def been_to(self, fish: FishState) -> tuple[Events, ...]:
        """The shows the fish has left for by now, as written down or presumed."""
        return tuple(
            self.events[one.show]
            for one in self.courses.goings
            if one.fish == fish.id and one.grade != "planned"
        )

    def is_entered(self, fish: FishState, show: str) -> bool:
        """Is it on the form, as written down or presumed?"""
        form = self.presumed_forms.get(show)
        presumed = form is not None and fish.id in form.fish and show not in fish.stayed_from
        return presumed or show in fish.entered

    def form_in_since(self, events: Events) -> date | None:
        """The day its form was sent, or the last day for entries where that is over."""
        closed = events.record.entries_close
        sent = self.state.sent.get(events.show)
        return sent or (closed if closed is not None and closed < self.on else None)

    def is_here(self, day: date) -> bool:
        """Is anybody at the pond at all on `day`?"""
        return not any(away.from_ <= day <= away.to for away in self.keeper.away)

    def course(self, fish: FishState) -> Course:
        """Where the fish is on every day."""
        return self.courses[fish.id]

    def taken_from(self, fish: FishState, day: date) -> str:
        """The keeper's water it is in on the morning of `day`, or was in last before that."""
        return self.courses[fish.id].water_before(day - timedelta(days=1))

    def parasites_on(self, fish: FishState) -> Carried | None:
        """The first find that the fish is not clear of by now; it, or one in its company."""
        return self.infested.get(fish.id)

    def parasites_ahead(self, fish: FishState, day: date) -> Carried | None:
        """The first find that the fish is still to meet by `day`, as it is planned now."""
        ahead = [one for one in self.carried.get(fish.id, ()) if self.on < one.met <= day]
        return min(ahead, key=lambda one: one.met, default=None)

    def mean_on(self, fish: FishState) -> MeanOn:
        """Daily mean temperature [°C] along the fish's course."""
        return self.courses[fish.id].mean_on

    def is_work_day(self, day: date) -> bool:
        """Is somebody at the pond with hands free on `day`?"""
        if not self.is_here(day):
            return False
        return is_among(day, self.keeper.work_days) or day in self.keeper.also_work_on

    @property
    def by_vet(self) -> bool:
        """Does a vet do the touch-ups, on a weekday, whatever days the keeper has free?"""
        return self.keeper.touch_up.by == "vet"

    def is_session_day(self, day: date) -> bool:
        """May a touch-up be on `day`: a work day; by a vet, a weekday on which somebody is here?"""
        if self.by_vet:
            return day.weekday() < SATURDAY and self.is_here(day)
        return self.is_work_day(day)

    def is_here_near(self, day: date, within: int) -> bool:
        """Is somebody here on `day`, or on one of so many days before or after it?"""
        return any(self.is_here(day + timedelta(days=off)) for off in range(-within, within + 1))

    def session_days(self, first: date, last: date) -> tuple[date, ...]:
        """The days from `first` to `last` on which a touch-up may be, both included."""
        every = (first + timedelta(days=number) for number in range((last - first).days + 1))
        return tuple(day for day in every if self.is_session_day(day))

    def work_days(self, first: date, last: date) -> tuple[date, ...]:
        """The work days from `first` to `last`, both included."""
        every = (first + timedelta(days=number) for number in range((last - first).days + 1))
        return tuple(day for day in every if self.is_work_day(day))


def yard_on(
    season: Season,
    on: date,
    presumed: Mapping[str, frozenset[str]] | None = None,
    into_vat: Mapping[str, WaterMove] | None = None,
) -> Yard:
    """The yard as its files and journal show it on day `on`.

    `presumed` are the fish that the plan had chosen for shows now past, by show, and `into_vat` the
    moves to heal that nobody noted, by fish: see `planning/yard/presumed.py`.
    """
    state = _moved(state_of(season, on), into_vat or {})
    facts = facts_for(season.keeper)
    events = all_events(state.shows, season.keeper, on)
    goings = goings_by_now(state, events, presumed or {})
    waters = Waters(season.keeper, state.readings)
    courses = courses_of(state, waters, events, goings)
    pace = own_pace(state, facts.kinds, waters, courses)
    if pace.offsets_c:
        waters = Waters(season.keeper, state.readings, pace.offsets_c)
        courses = courses_of(state, waters, events, goings)
    state = heard_of_waters(state, courses.by_fish)
    carried = carried_by_all(state, courses)
    return Yard(
        on=on,
        keeper=season.keeper,
        state=state,
        facts=replace(facts, kinds=after_what_they_hold(facts.kinds)),
        waters=waters,
        events=events,
        pace=pace,
        courses=courses,
        carried=carried,
        infested=not_clear_on(on, carried, courses),
        presumed_gone=presumed or {},
    )


def _moved(state: State, moves: Mapping[str, WaterMove]) -> State:
    fish = {
        fish_id: replace(one, moves=tuple(sorted([*one.moves, move], key=lambda each: each.on)))
        for fish_id, move in moves.items()
        for one in [state.fish[fish_id]]
    }
    return replace(state, fish={**state.fish, **fish})
