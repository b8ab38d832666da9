"""The days on which a speck may be taken off: the window for one show, and every fit day.

The window runs from the day from which the speck would be back by benching, to the last day from
which the wound is clean by benching, less the spare days. Inside it a day is fit only when nothing
speaks against handling this fish on it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date, timedelta
from functools import cached_property
from typing import NamedTuple

from showprep.husbandry.feeding import fast_days
from showprep.husbandry.figures import FiguresInForce
from showprep.husbandry.healing import Level, latest_day, reached
from showprep.husbandry.reason import Reason, ShowId, reason
from showprep.husbandry.sedation_fit import (
    Fit,
    since_last_sedation,
    since_move,
    since_spawning,
    water_fit,
)
from showprep.husbandry.thermal_time import MeanOn
from showprep.planning.as_of.state import DefectState, FishState
from showprep.planning.chances.needs import milestones
from showprep.planning.verdicts.wounds import is_scaleless, ruling
from showprep.planning.yard.events import Events
from showprep.planning.yard.yard import Yard

LOOK_BACK = timedelta(days=366)
AFTER_TREATMENT_DAYS = 7  # before the next handling (assumption)


class TouchUpWindow(NamedTuple):
    """The window for one fish and show; `latest` at the high, `latest_if_usual` at the usual."""

    earliest: date
    latest: date | None
    latest_if_usual: date | None


@dataclass(frozen=True)
class TouchUps:
    """Everything about taking the specks off one fish while it heals in one water.

    `show` is the show they are weighed for (None: any still to come).
    """

    yard: Yard
    fish: FishState
    mean_on: MeanOn
    show: Events | None = None

    def facing(self, show: Events) -> TouchUps:
        """The same, weighed for one show."""
        return replace(self, show=show)

    @cached_property
    def specks(self) -> tuple[DefectState, ...]:
        """The specks that may be touched up: open now, or back by the show as far as is known.

        One session takes off all of them.
        """
        return tuple(one for one in (*self.fish.open_defects, *self.back) if self._may(one))

    @cached_property
    def back(self) -> tuple[DefectState, ...]:
        """Specks once taken off that are likely back by the show, as they will then be found."""
        shows = (self.show,) if self.show is not None else self.yard.planned()
        by = max((show.benching_day for show in shows), default=None)
        found = ((one, self._back_on(one)) for one in self.fish.defects)
        return tuple(
            replace(
                one,
                seen=on,
                touched=None,
                clean_on=None,
                still_clean_on=None,
                closed_on=None,
                not_closed_on=None,
                not_clean_on=None,
                came_back=True,
            )
            for one, on in found
            if on is not None and by is not None and on <= by
        )

    def _back_on(self, defect: DefectState) -> date | None:
        """The day from which a speck taken off may be back.

        None for one that never went, or was seen to stay away.
        """
        if defect.touched is None or defect.ended_on is not None or defect.mark_left:
            return None
        if self._never_went(defect):
            return None
        on = defect.touched + self.yard.speck_returns
        seen = defect.still_clean_on
        return on if seen is None or seen < on else None

    def _never_went(self, defect: DefectState) -> bool:
        """Was it still seen when even a slow case should have been clean?"""
        looked = defect.not_clean_on
        if looked is None or defect.clean_on is not None:
            return False
        clean = self.yard.facts.kinds[defect.kind].clean
        slow = reached(clean, "high", defect.heals_from, self.mean_on) if clean else None
        return slow is None or looked >= slow

    def _may(self, defect: DefectState) -> bool:
        kind = self.yard.facts.kinds[defect.kind]
        return (
            ruling(defect, kind, is_scaleless(self.yard, self.fish), self._figures).may
            == "touch-up"
        )

    def window(self, events: Events) -> TouchUpWindow:
        """The window for one show, whatever day it is today."""
        finish_by = events.benching_day - timedelta(days=self.yard.keeper.preferences.spare_days)
        # What is not back yet cannot be taken off.
        back = [one.seen for one in self.facing(events).back]
        return TouchUpWindow(
            earliest=max([events.benching_day - self.yard.speck_returns, *back]),
            latest=self._latest(finish_by, "high"),
            latest_if_usual=self._latest(finish_by, "usual"),
        )

    def _latest(self, finish_by: date, at: Level) -> date | None:
        days = []
        for speck in self.specks:
            for name, milestone in milestones(speck, self.yard.facts.kinds[speck.kind]):
                if name == "clean":
                    not_before = finish_by - LOOK_BACK
                    days.append(latest_day(milestone, finish_by, self.mean_on, not_before, at))
        known = [day for day in days if day is not None]
        return min(known) if known and len(known) == len(days) else None

    def closed_by(self, day: date, deadline: date) -> bool:
        """Would a touch-up on `day` be closed by `deadline`, in the slow case too?"""
        for speck in self.specks:
            for name, milestone in milestones(speck, self.yard.facts.kinds[speck.kind]):
                if name == "closed":
                    latest = latest_day(milestone, deadline, self.mean_on, day, "high")
                    if latest is None:
                        return False
        return True

    def against(self, day: date, hands: bool = True) -> Reason | None:
        """What speaks against a touch-up on `day`, whatever the show; None: nothing does.

        With `hands` false a day without free hands is not held against it.
        """
        for objection in (
            self._hands(day) if hands or day < self.yard.on else None,
            self._water(day),
            self._fast(day),
            self._since_moved(day),
            self._since_sedated(day),
            self._since_spawned(day),
            self._since_treated(day),
            self._health(day),
        ):
            if objection is not None:
                return objection
        return None

    def cautions(self, day: date) -> Iterator[Reason]:
        """What does not forbid a touch-up on `day`, but is to be minded."""
        for fit in (water_fit(self.mean_on(day), self._figures), *self._moves_before(day)):
            if fit.level == "warn" and fit.reason is not None:
                yield fit.reason

    @property
    def _figures(self) -> FiguresInForce:
        return self.yard.figures

    def _hands(self, day: date) -> Reason | None:
        if day < self.yard.on:
            return reason("day-has-passed", day=day)
        return None if self.yard.is_work_day(day) else reason("no-work-day", day=day)

    def _water(self, day: date) -> Reason | None:
        blocked = _blocked(water_fit(self.mean_on(day), self._figures))
        return blocked or self.yard.waters.cold_drop(self.mean_on, day)

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

    def window_days(self, window: TouchUpWindow, tight: bool) -> tuple[date, ...]:
        """The fit days inside a window, earliest first; `tight` allows the usual requirement."""
        last = window.latest_if_usual if tight else window.latest
        if last is None or last < window.earliest:
            return ()
        first = max(window.earliest, self.yard.on)
        days = (first + timedelta(days=number) for number in range((last - first).days + 1))
        return tuple(day for day in days if self.against(day) is None)


def _blocked(fit: Fit) -> Reason | None:
    return fit.reason if fit.level == "block" else None


def sedation_fast_days(yard: Yard, mean_on: MeanOn, day: date) -> int:
    """Days without food before a touch-up on `day`."""
    return fast_days(mean_on(day), "sedation", yard.figures).days


def unfed_from(yard: Yard, mean_on: MeanOn, day: date) -> date:
    """The first day without food before a touch-up on `day`."""
    return day - timedelta(days=sedation_fast_days(yard, mean_on, day))
