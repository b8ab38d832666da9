"""The choice as it is made by hand: the best fish first, each on the last weekend that fits.

Fish are taken by their best merit; each is put into its shows, the best first, touched up as late
as is allowed, or entered marked where no day is left. A show that then has too few fish is given
up. Nothing is ever taken back for the sake of another fish, and that is what it loses.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from dataclasses import dataclass, field
from datetime import date, timedelta
from operator import attrgetter

from showprep.selection.problem import EntryOption, Instance, ShowLimits, TouchUpOption

Stay = tuple[date, date] | None


@dataclass(slots=True)
class Vat:
    """Who is in the isolation vat on each day: which cohort, and how many."""

    holds: int | None
    cohort: dict[date, str] = field(default_factory=dict)
    inside: Counter[date] = field(default_factory=Counter)

    def takes(self, stay: Stay, cohort: str) -> bool:
        return all(
            self.cohort.get(day, cohort) == cohort
            and (self.holds is None or self.inside[day] < self.holds)
            for day in _days(stay)
        )

    def put(self, stay: Stay, cohort: str) -> None:
        for day in _days(stay):
            self.cohort[day] = cohort
            self.inside[day] += 1


def _days(stay: Stay) -> list[date]:
    if stay is None:
        return []
    return [stay[0] + timedelta(days=n) for n in range((stay[1] - stay[0]).days + 1)]


class ByHand:
    """A plan being made, one fish after another."""

    def __init__(self, problem: Instance) -> None:
        self.problem = problem
        self.vat = Vat(problem.vat_holds)
        self.going: dict[str, list[tuple[EntryOption, int]]] = defaultdict(list)  # by show
        self.shows_of: dict[str, set[str]] = defaultdict(set)
        self.done: dict[str, list[TouchUpOption]] = defaultdict(list)  # by fish
        self.a_day: Counter[date] = Counter()
        self.paid = 0.0
        self.touch_ups: dict[str, list[TouchUpOption]] = defaultdict(list)
        for one in sorted(problem.touch_ups, key=attrgetter("key"), reverse=True):
            self.touch_ups[one.fish].append(one)  # the last day first

    def enter(self, entry: EntryOption) -> None:
        if not self._room(entry):
            return
        merit = entry.merit
        for one in self.done[entry.fish]:
            got = one.merits.get(entry.show)
            if got is not None and (merit is None or got > merit):
                merit = got
        touch_up = self._touch_up(entry, merit)
        if touch_up is not None:
            self.vat.put(touch_up.vat, "healing")
            self.done[entry.fish].append(touch_up)
            self.a_day[touch_up.day] += 1
            merit = touch_up.merits[entry.show]
        if merit is not None and self.value(entry, merit) > entry.price:
            self._go(entry, merit)

    def value(self, entry: EntryOption, merit: int) -> float:
        return (merit - self.problem.worth_showing) * self.problem.shows[entry.show].weight

    def _touch_up(self, entry: EntryOption, before: int | None) -> TouchUpOption | None:
        """The last day of the best merit there is, if it gains more than a touch-up's price."""
        as_is = max(self.value(entry, before), entry.price) if before is not None else entry.price
        every = [one for one in self.touch_ups[entry.fish] if entry.show in one.merits]
        for one in sorted(every, key=lambda one: -one.merits[entry.show]):
            if self.value(entry, one.merits[entry.show]) - as_is <= self.problem.touch_up_price:
                return None
            if self._may(one, entry):
                return one
        return None

    def _go(self, entry: EntryOption, merit: int) -> None:
        if not self.going[entry.show]:
            self.paid += self.problem.shows[entry.show].fee
        self.paid += entry.fee
        self.going[entry.show].append((entry, merit))
        self.shows_of[entry.fish].add(entry.show)
        self.vat.put(entry.vat, entry.show)

    def _room(self, entry: EntryOption) -> bool:
        problem, limits = self.problem, self.problem.shows[entry.show]
        here = [one for one, _ in self.going[entry.show]]
        fee = entry.fee + (0.0 if here else limits.fee)
        apart = problem.apart
        return (
            _fits(limits, [*here, entry])
            and (problem.fees is None or self.paid + fee <= problem.fees)
            and not any(
                (entry.show, other) in apart or (other, entry.show) in apart
                for other in self.shows_of[entry.fish]
            )
            and not any(entry.show in one.bars for one in self.done[entry.fish])
            and self.vat.takes(entry.vat, entry.show)
        )

    def _may(self, one: TouchUpOption, entry: EntryOption) -> bool:
        own = self.done[one.fish]
        crowded = entry.vat is not None and one.vat is not None
        return (
            self.a_day[one.day] < self.problem.fish_per_day
            and len(own) < self.problem.touch_ups_per_fish
            and not any(self._near(one, other) for other in own)
            and not (one.bars & (self.shows_of[one.fish] | {entry.show}))
            and self.vat.takes(one.vat, "healing")
            and not (crowded and set(_days(one.vat)) & set(_days(entry.vat)))
        )

    def _near(self, one: TouchUpOption, other: TouchUpOption) -> bool:
        first, second = sorted((one, other), key=attrgetter("key"))
        gap = self.problem.spacing_days.get((first.fish, first.day), self.problem.spacing_default)
        in_vat = first.vat is not None and second.day <= first.vat[1]
        return (second.day - first.day).days < max(gap, 1) or in_vat

    def worth(self) -> float:
        """What the shows that have fish enough are worth, in hundredths of a point."""
        problem, total = self.problem, 0.0
        for show, here in self.going.items():
            limits, cm = problem.shows[show], sum(one.length_cm for one, _ in here)
            if len(here) < (limits.fish_at_least or 0) or cm < (limits.total_cm_at_least or 0):
                continue
            total -= limits.price
            rank: Counter[str] = Counter()
            for one, merit in sorted(here, key=lambda pair: -pair[1]):
                value = self.value(one, merit)
                if one.group and value > 0:
                    value *= problem.same_class_share ** rank[one.group]
                    rank[one.group] += 1
                total += value - one.price
        done = [one for own in self.done.values() for one in own]
        total -= problem.touch_up_price * len(done)
        return total - problem.session_price * len({one.day for one in done})


def _fits(limits: ShowLimits, here: list[EntryOption]) -> bool:
    classes = Counter(one.size_class for one in here if one.size_class)
    for most, value in (
        (limits.fish, len(here)),
        (limits.boxes, len(here)),
        (limits.total_cm, sum(one.length_cm for one in here)),
        (limits.points, sum(one.points for one in here)),
        (limits.kg, sum(one.kg for one in here)),
        (limits.entries_per_class, max(classes.values(), default=0)),
    ):
        if most is not None and value > most + 0.0005:
            return False
    return True


def by_hand(problem: Instance) -> ByHand:
    """The plan made by hand; touch-ups promised and entries that must be made are not heeded."""

    def best(entry: EntryOption) -> int:
        """What it could have, by one of the touch-ups there are."""
        gained = [one.merits.get(entry.show, 0) for one in plan.touch_ups[entry.fish]]
        return max([entry.merit or 0, *gained])

    plan = ByHand(problem)
    of_fish: dict[str, int] = defaultdict(int)
    for entry in problem.entries:
        of_fish[entry.fish] = max(of_fish[entry.fish], best(entry))
    for entry in sorted(
        problem.entries, key=lambda e: (-of_fish[e.fish], e.fish, -best(e), e.show)
    ):
        plan.enter(entry)
    return plan
