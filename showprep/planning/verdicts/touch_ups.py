"""The days on which a speck may be taken off: the window for one show, and every fit day.

Each day has a chance that a judge sees nothing: healed by benching, and not back by judging. The
window holds the days whose chance is great enough. Inside it a day is fit only when nothing speaks
against handling this fish on it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date, timedelta
from functools import cached_property
from typing import NamedTuple

from msgspec import Struct

from showprep.husbandry.feeding import fast_days
from showprep.husbandry.figures import FiguresInForce
from showprep.husbandry.healing import Level, latest_day
from showprep.husbandry.healing_base import anchor_of
from showprep.husbandry.reason import Celsius, Chance, Reason, ShowId, reason
from showprep.husbandry.sedation_fit import (
    Fit,
    since_last_sedation,
    since_move,
    since_spawning,
    water_fit,
)
from showprep.husbandry.thermal_time import MeanOn
from showprep.planning.as_of.defects import SPECK
from showprep.planning.as_of.state import DefectState, FishState
from showprep.planning.chances.chances import FishChances
from showprep.planning.chances.limits import CLOSED_LEAST
from showprep.planning.chances.needs import milestones
from showprep.planning.plan import TouchUpChance
from showprep.planning.verdicts.company import standing_on
from showprep.planning.verdicts.wounds import cut_and_never_clean, is_scaleless, ruling
from showprep.planning.yard.events import Events
from showprep.planning.yard.yard import SATURDAY, Yard

LOOK_BACK = timedelta(days=366)
LOOK_BACK_DAYS = (7, 14)  # common practice, no source: one and two weeks after
LOOK_WITHIN = 2  # days before or after that day on which a look still counts as one (our choice)
LOOKED_BACK = timedelta(days=60)  # how far back a day that would have done is looked for
MAY_BE_FIT = 0.2
"""A day may be planned whose water is not expected to be fit, from this chance that it is (a rule
of this program). On open waters 0.1 and 0.3 show as many fish clean, 0.4 fewer."""
SURELY_FIT = 0.8  # below this the doubt is told (our choice)
AFTER_TREATMENT_DAYS = 7  # before the next handling (assumption)


class TouchUpWindow(NamedTuple):
    """The window for one fish and show.

    `earliest` to `latest`: the days from today on whose chance is great enough; where there is
    none, those of the last sixty days. `ahead` are all days from today to departure.
    `usual_by` and `slow_by` are the last days to be clean at the usual pace and in a slow case.
    """

    earliest: date | None
    latest: date | None
    ahead: tuple[TouchUpChance, ...]
    usual_by: date | None
    slow_by: date | None

    @property
    def likeliest(self) -> TouchUpChance | None:
        """The day of the best chance, fit or not."""
        return max(self.ahead, key=lambda one: one.both, default=None)


class TouchUps(Struct, frozen=True, dict=True):
    """Everything about taking the specks off one fish while it heals in one water.

    `chances` are those along the course that `mean_on` is the warmth of.
    """

    yard: Yard
    fish: FishState
    mean_on: MeanOn
    chances: FishChances

    @cached_property
    def specks(self) -> tuple[DefectState, ...]:
        """The specks that may be touched up. One session takes off all of them."""
        return specks_of(self.yard, self.fish)

    def on(self, day: date, events: Events) -> TouchUpChance:
        """The chances of a touch-up on a day for a show."""
        healed, away = self.chances.touch_up(self.specks, events, day)
        return TouchUpChance(day, healed, away)

    def done_on(
        self, days: Mapping[date, TouchUpChance]
    ) -> dict[date, tuple[tuple[date, float], ...]]:
        """For a touch-up planned on each of the fit `days`: when it will really be done.

        Pairs of a day and a chance, 0 to 1. Its water may turn out too cold or too warm on the
        day: then the one of the later days with the best prospects takes its place, and no third
        day is counted on. Water that was read on a day is judged as it is; that the day has come
        is no news by itself, and moves nothing.
        """
        return {day: tuple(self._done_on(day, days)) for day in days}

    def _done_on(
        self, day: date, days: Mapping[date, TouchUpChance]
    ) -> Iterator[tuple[date, float]]:
        limits, warmth = self._limits, self.chances.warmth
        fit = self._chance_fit(day)
        yield day, fit
        if fit == 1:
            return
        then = {
            later: round((1 - fit) * warmth.chance_within_after(day, later, *limits), 4)
            for later in days
            if later > day
        }
        best = max(sorted(then), key=lambda later: then[later] * days[later].both, default=None)
        if best is not None:
            yield best, then[best]

    @property
    def _limits(self) -> tuple[float, float]:
        """The coldest and the warmest water for sedation [°C]."""
        return self._figures["sed_cold_block"], self._figures["sed_hot_block"]

    def _chance_fit(self, day: date) -> float:
        """The chance, 0 to 1, that the water lets a touch-up planned for `day` be done then."""
        if self.read_on(day):
            return 1.0
        return round(self.chances.warmth.chance_within(day, *self._limits), 4)

    def read_on(self, day: date) -> bool:
        """Was the water it is taken from read on `day`?"""
        read = self.yard.waters.readings[self.yard.taken_from(self.fish, day)]
        return any(on == day for on, _ in read)

    def unseen(self, day: date, events: Events) -> list[tuple[float, float]]:
        """Of each speck taken off on a day: what it costs [points], and that it is not seen."""
        every = ((one, self.chances.touch_up((one,), events, day)) for one in self.specks)
        return [(one.merit_lost, round(clean * away, 4)) for one, (clean, away) in every]

    def window(self, events: Events, least: float) -> TouchUpWindow:
        """The window for one show, of days whose chance is `least`, 0 to 1, or more."""
        ahead = self._curve(self.yard.on, events)
        good = [one for one in ahead if one.both >= max(least, 1e-4)]
        if not good:
            first = max(self.chances.warmth.first, self.yard.on - LOOKED_BACK)
            gone = self._curve(first, events, self.yard.on - timedelta(days=1))
            good = [one for one in gone if one.both >= max(least, 1e-4)]
        return TouchUpWindow(
            earliest=good[0].day if good else None,
            latest=good[-1].day if good else None,
            ahead=tuple(ahead),
            usual_by=self._latest(events.benching_day, "usual"),
            slow_by=self._latest(events.benching_day, "high"),
        )

    def _curve(self, first: date, events: Events, last: date | None = None) -> list[TouchUpChance]:
        end = events.departure_day - timedelta(days=1) if last is None else last
        days = (first + timedelta(days=number) for number in range((end - first).days + 1))
        return [self.on(day, events) for day in days]

    def _latest(self, finish_by: date, at: Level) -> date | None:
        days = []
        for speck in self.specks:
            kind = self.yard.facts.kinds[speck.kind]
            for name, milestone in milestones(speck, kind):
                if name == "clean":
                    before, anchor = finish_by - LOOK_BACK, anchor_of(kind.id)
                    days.append(latest_day(milestone, finish_by, self.mean_on, before, at, anchor))
        known = [day for day in days if day is not None]
        return min(known) if known and len(known) == len(days) else None

    def closed_by(self, day: date, events: Events) -> bool:
        """Would a touch-up on `day` be closed by departure, but for 1 case in 20?"""
        return self.chances.closed_after(self.specks, events, day) >= CLOSED_LEAST

    def against(self, day: date, hands: bool = True) -> Reason | None:
        """What speaks against a touch-up on `day`, whatever the show; None: nothing does.

        With `hands` false a day without free hands is not held against it.
        """
        for objection in (
            self._hands(day, hands),
            self._looks(day) if hands else None,
            self._water(day),
            self._fast(day),
            self._since_moved(day),
            self._kept_apart(day),
            self._since_sedated(day),
            self._since_spawned(day),
            self._since_treated(day),
            self._health(day),
        ):
            if objection is not None:
                return objection
        return None

    def against_set(self, day: date) -> Reason | None:
        """The same of a day that the keeper has set: free hands are the keeper's own affair."""
        return self.against(day, hands=False) or self._looks(day)

    def cautions(self, day: date) -> Iterator[Reason]:
        """What does not forbid a touch-up on `day`, but is to be minded."""
        for fit in (water_fit(self.mean_on(day), self._figures), *self._moves_before(day)):
            if fit.level == "warn" and fit.reason is not None:
                yield fit.reason
        fit_then = self._chance_fit(day)
        if fit_then < SURELY_FIT:
            coldest, warmest = map(Celsius, self._limits)
            yield reason(
                "water-may-not-be-fit",
                day=day,
                coldest=coldest,
                warmest=warmest,
                chance=Chance(fit_then),
            )

    @property
    def _figures(self) -> FiguresInForce:
        return self.yard.figures

    def _hands(self, day: date, hands: bool) -> Reason | None:
        if day < self.yard.on:
            return reason("day-has-passed", day=day)
        if self.yard.by_vet and day.weekday() >= SATURDAY:
            return reason("no-weekday", day=day)
        if not hands or self.yard.is_session_day(day):
            return None
        if self.yard.by_vet:
            return reason("nobody-there", day=day)
        return reason("no-work-day", day=day)

    def _looks(self, day: date) -> Reason | None:
        """Nobody is there to look back at it, a week or two later."""
        for days in LOOK_BACK_DAYS:
            due = day + timedelta(days=days)
            if not self.yard.is_here_near(due, LOOK_WITHIN):
                return reason("nobody-to-look", day=due, within=LOOK_WITHIN)
        return None

    def _water(self, day: date) -> Reason | None:
        """Water read on the day is judged as it is, other water by the chance that it is fit."""
        blocked = _blocked(water_fit(self.mean_on(day), self._figures))
        if blocked is not None and not self._may_be_fit(day):
            return blocked
        return self.yard.waters.cold_drop(self.mean_on, day)

    def _may_be_fit(self, day: date) -> bool:
        warmth = self.chances.warmth
        known = 0 <= (day - warmth.first).days < len(warmth.means_c)
        return known and not self.read_on(day) and self._chance_fit(day) >= MAY_BE_FIT

    def _fast(self, day: date) -> Reason | None:
        """Food was stopped too late, by the journal; where it says nothing the plan was kept."""
        first = unfed_from(self.yard, self.mean_on, day)
        water = self.yard.taken_from(self.fish, day)
        stopped = self.yard.state.fasting.get(water)
        fed = self.yard.state.fed_again.get(water)
        if stopped is None and fed is not None and fed >= first:
            return reason("fed-again", water=water, on=fed)
        if first >= self.yard.on or stopped is None or stopped <= first:
            return None
        return reason("fed-until", until=stopped, first=first)

    def _moves_before(self, day: date) -> Iterator[Fit]:
        came = self.fish.record.came
        # The way to a show and into the vat after it count from the way home.
        moves = {
            step.day
            for step in self.yard.course(self.fish).steps
            if step.why not in ("show", "kept apart") and step.from_water != step.to_water
        } | {move.on for move in self.fish.moves}
        every = sorted(moves | ({came} if came is not None else set()))
        return (since_move(moved, day, self._figures) for moved in every)

    def _since_moved(self, day: date) -> Reason | None:
        for fit in self._moves_before(day):
            if (blocked := _blocked(fit)) is not None:
                return blocked
        for events in self.yard.been_to(self.fish):
            home = events.home_day
            # On the way and at the show it is moved as well: the day of the way home counts.
            blocked = _blocked(since_move(min(home, day), day, self._figures))
            if events.departure_day <= day and blocked is not None:
                show, days = ShowId(events.show), blocked["days"]
                return reason("home-from-show", show=show, on=home, days=days)
        return None

    def _kept_apart(self, day: date) -> Reason | None:
        """A net and a bath are company: kept apart, it is handled with its own company alone.

        So while any fish of other company has a speck that may come off, this one waits.
        """
        for group in standing_on(self.yard, day):
            if self.fish.id not in group.fish:
                continue
            others = (one for one in self.yard.fish_here() if one.id not in group.fish)
            if any(defect.kind == SPECK for one in others for defect in one.open_defects):
                return reason("kept-apart-then", day=day)
        return None

    def _since_sedated(self, day: date) -> Reason | None:
        for last in reversed(self.fish.sedations):
            coldest = min(self.mean_on(last), self.mean_on(day))
            fit = since_last_sedation(last, day, coldest, self._figures)
            if (blocked := _blocked(fit)) is not None:
                return blocked
        return None

    def _since_spawned(self, day: date) -> Reason | None:
        spawned = self.fish.spawned
        return None if spawned is None else _blocked(since_spawning(spawned, day, self._figures))

    def _since_treated(self, day: date) -> Reason | None:
        gap = AFTER_TREATMENT_DAYS
        near = [one.on for one in self.fish.treated if 0 <= (day - one.on).days < gap]
        return reason("treated-lately", on=near[-1], days=gap) if near else None

    def _health(self, day: date) -> Reason | None:
        found = self.yard.parasites_on(self.fish)
        if found is not None:
            return reason("parasites-found", water=found.find.water, on=found.find.found)
        return reason("off-its-food") if self.fish.off_food_since is not None else None

    def fit_days(self, window: TouchUpWindow) -> tuple[date, ...]:
        """The fit days inside a window, earliest first."""
        if window.earliest is None or window.latest is None:
            return ()
        first, last = max(window.earliest, self.yard.on), window.latest
        days = (first + timedelta(days=number) for number in range((last - first).days + 1))
        return tuple(day for day in days if self.against(day) is None)


def specks_of(yard: Yard, fish: FishState) -> tuple[DefectState, ...]:
    """The specks of a fish that may be touched up."""
    scaleless = is_scaleless(yard, fish)
    return tuple(
        one
        for one in fish.open_defects
        if ruling(one, yard.facts.kinds[one.kind], scaleless, yard.figures).may == "touch-up"
        and not cut_and_never_clean(fish, one)
    )


def _blocked(fit: Fit) -> Reason | None:
    return fit.reason if fit.level == "block" else None


def sedation_fast_days(yard: Yard, mean_on: MeanOn, day: date) -> int:
    """Days without food before a touch-up on `day`."""
    return fast_days(mean_on(day), "sedation", yard.figures).days


def unfed_from(yard: Yard, mean_on: MeanOn, day: date) -> date:
    """The first day without food before a touch-up on `day`."""
    return day - timedelta(days=sedation_fast_days(yard, mean_on, day))
