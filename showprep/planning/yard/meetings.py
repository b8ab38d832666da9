"""Whom a fish has met: who was in one place on one day, and how far that reaches.

Two fish meet when they are in one water on one day, the days of coming and going counted; at a
show the fish of one yard share its vat. A water, a vat, a net and a bath make no difference here:
what one fish carries, the others are taken to have.
"""

from __future__ import annotations

import heapq
from collections.abc import Callable, Iterable, Iterator, Mapping
from datetime import date, timedelta
from functools import cached_property

from msgspec import Struct

from showprep.planning.yard.course import Course, Stay

Place = tuple[str, str]  # "water" or "show", and its name


class Presence(Struct, frozen=True):
    """One fish in one place from `first` to `last`, the day it leaves included."""

    fish: str
    place: Place
    first: date
    last: date


class Meetings(Struct, frozen=True, dict=True):
    """Who is where with whom. `handled` are fish handled together on one day in one net or bath.

    `gone` tells the last day of fish that were sold or lost, `came` the first of new ones.
    """

    courses: Mapping[str, Course]
    gone: Mapping[str, date]
    came: Mapping[str, date]
    handled: tuple[tuple[date, frozenset[str]], ...] = ()

    @cached_property
    def _presences(self) -> Mapping[Place, tuple[Presence, ...]]:
        found: dict[Place, list[Presence]] = {}
        for fish, course in sorted(self.courses.items()):
            for one in self._of(fish, course):
                found.setdefault(one.place, []).append(one)
        return {place: tuple(some) for place, some in found.items()}

    def _of(self, fish: str, course: Course) -> Iterator[Presence]:
        here_from, here_to = self.came.get(fish, date.min), self.gone.get(fish, date.max)
        for stay in course.stays:
            first = max(stay.first, here_from)
            last = min(_left(stay), here_to)
            if first <= last:
                yield Presence(fish, place_of(stay), first, last)

    def company(self, fish: str, day: date) -> frozenset[str]:
        """The other fish that are in its place on `day`, or leave or join it that day."""
        found = {
            other.fish
            for one in self._of(fish, self.courses[fish])
            if one.first <= day <= one.last
            for other in self._presences[one.place]
            if other.first <= day <= other.last
        }
        for on, together in self.handled:
            if on == day and fish in together:
                found |= together
        return frozenset(found - {fish})

    def in_water(self, water: str, day: date) -> frozenset[str]:
        """The fish in one of the keeper's waters on `day`, those that leave that day among them."""
        some = self._presences.get(("water", water), ())
        return frozenset(one.fish for one in some if one.first <= day <= one.last)

    @cached_property
    def _answers(self) -> dict[tuple[tuple[str, date], ...], Mapping[str, date]]:
        """What was asked before: every fish and day of a plan asks the same few questions."""
        return {}

    def reached_from(self, sources: Mapping[str, date]) -> Mapping[str, date]:
        """Every fish that what the `sources` carry from their days on may have reached, and when.

        Directly or by way of others, forward in time only. The sources are among them.
        """
        key = tuple(sorted(sources.items()))
        if key not in self._answers:
            self._answers[key] = self._spread(sources)
        return self._answers[key]

    def carried_from(
        self, sources: Mapping[str, date], clear: Callable[[str, date], date | None]
    ) -> Mapping[str, date]:
        """The same for what a fish loses again: `clear` gives the day from which a fish that was
        reached on a day carries it no more; None for not yet."""
        return self._spread(sources, clear)

    def _spread(
        self,
        sources: Mapping[str, date],
        clear: Callable[[str, date], date | None] = lambda fish, day: None,
    ) -> dict[str, date]:
        reached: dict[str, date] = {}
        waiting = [(day, fish) for fish, day in sorted(sources.items())]
        heapq.heapify(waiting)
        while waiting:
            day, fish = heapq.heappop(waiting)
            if fish in reached:
                continue
            reached[fish] = day
            until = clear(fish, day) or date.max
            for other, met in self._met_from(fish, day):
                if other not in reached and met < until:
                    heapq.heappush(waiting, (met, other))
        return reached

    def _met_from(self, fish: str, day: date) -> Iterator[tuple[str, date]]:
        """Whom it meets from `day` on, each with the first day of every meeting."""
        for one in self._of(fish, self.courses[fish]):
            if one.last < day:
                continue
            first = max(one.first, day)
            for other in self._presences[one.place]:
                met = max(first, other.first)
                if other.fish != fish and met <= min(one.last, other.last):
                    yield other.fish, met
        for on, together in self.handled:
            if on >= day and fish in together:
                yield from ((other, on) for other in sorted(together) if other != fish)

    def reached_in_water(self, water: str, day: date) -> Mapping[str, date]:
        """Every fish reached by what was found in a water on `day`, from that day on."""
        return self.reached_from(dict.fromkeys(self.in_water(water, day), day))


def place_of(stay: Stay) -> Place:
    """Where a stretch is: a water of the keeper's, or a show."""
    return ("water", stay.water) if stay.water is not None else ("show", stay.show or "")


def _left(stay: Stay) -> date:
    """The day a stretch is left: it still counts."""
    return date.max if stay.last is None else stay.last + timedelta(days=1)


def together(days: Iterable[tuple[date, Iterable[str]]]) -> tuple[tuple[date, frozenset[str]], ...]:
    """Days on which fish were handled together, for `Meetings.handled`."""
    return tuple((day, frozenset(fish)) for day, fish in days)
