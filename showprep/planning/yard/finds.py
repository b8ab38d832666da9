"""Which fish a find of parasites has reached, and when each of them is clear of it.

A find reaches all that were in that water on the day and whom they met, until they are clear. A
fish is clear by a clean scrape of itself, or of the water it is in that day, late enough after the
find and after the last dose that it had. One still in company that is not clear is not clear.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date

from msgspec import Struct

from showprep.husbandry.parasites import clean_scrape_counts_from, cleared_on
from showprep.planning.as_of.records import Find, State, water_told
from showprep.planning.yard.courses import Courses
from showprep.season.records import JournalEntry


class Carried(Struct, frozen=True):
    """What one fish carries of one find, from the day it `met` it; `clear` None: not yet clear.

    `scrape_from` is the first day on which a clean scrape would clear it.
    """

    find: Find
    met: date
    clear: date | None
    scrape_from: date

    def on(self, day: date) -> bool:
        """Does the fish carry it at the end of `day`?"""
        return self.met <= day and (self.clear is None or self.clear > day)


def carried_by_all(state: State, courses: Courses) -> Mapping[str, tuple[Carried, ...]]:
    """By fish: what it carries of every find, known on the day of the state or planned."""
    found: dict[str, list[Carried]] = {}
    for find in state.finds:
        for fish, one in _of_find(state, courses, find):
            found.setdefault(fish, []).append(one)
    return {fish: tuple(some) for fish, some in found.items()}


def not_clear_on(
    day: date, carried: Mapping[str, tuple[Carried, ...]], courses: Courses
) -> Mapping[str, Carried]:
    """By fish: the first find that it, or one in its company on `day`, is not clear of."""
    own = {fish: one for fish, some in carried.items() for one in reversed(some) if one.on(day)}
    found = dict(own)
    for fish in sorted(own):
        for other in courses.meetings.company(fish, day):
            found.setdefault(other, own[fish])
    return found


def _of_find(state: State, courses: Courses, find: Find) -> Iterator[tuple[str, Carried]]:
    sources = _came_into(courses, find)
    there = courses.meetings.in_water(find.water, find.found)
    sources |= dict.fromkeys(sorted(there | (find.fish & set(state.fish))), find.found)
    carried: dict[tuple[str, date], Carried] = {}

    def clear(fish: str, met: date) -> date | None:
        carried[fish, met] = one = _carried(state, courses, find, fish, met)
        return one.clear

    for fish, met in courses.meetings.carried_from(sources, clear).items():
        yield fish, carried[fish, met]


def _came_into(courses: Courses, find: Find) -> dict[str, date]:
    """Who came into the water after the find and before it was clear, even into an empty one."""
    until = find.cleared or date.max
    return {
        fish: stay.first
        for fish, course in sorted(courses.by_fish.items())
        for stay in reversed(course.stays)
        if stay.water == find.water and find.found <= stay.first < until
    }


def _carried(state: State, courses: Courses, find: Find, fish: str, met: date) -> Carried:
    about = [one for one in state.journal if one.on >= met and _is_about(one, courses, fish)]
    seen = [met, *(one.on for one in about if one.saw == "parasites")]
    scrapes = [one.on for one in about if one.saw == "no parasites"]
    doses = [one.on for one in state.fish[fish].treated if one.on >= met]
    figures = state.keeper.figures
    least = clean_scrape_counts_from(max(seen), doses, figures)
    return Carried(find, met, cleared_on(seen, doses, scrapes, figures), least)


def _is_about(entry: JournalEntry, courses: Courses, fish: str) -> bool:
    if entry.fish == fish:
        return True
    water = water_told(entry, courses.by_fish)
    return water is not None and water == courses[fish].water_on(entry.on)
