"""Water above 28 °C, read or expected, where there are fish: what it wants while it lasts."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

from showprep.husbandry.heat import hot_spells
from showprep.husbandry.reason import Celsius, reason
from showprep.planning.jobs.draft import Draft
from showprep.planning.plan import Warning_
from showprep.planning.yard.yard import Yard
from showprep.season.values.wording import slug

AHEAD = timedelta(days=120)
"""How far ahead the warmth of a water is looked at: a summer."""

Spell = tuple[str, date, date]  # the water, its first and its last hot day


def heat_jobs(yard: Yard) -> Iterator[Draft]:
    """For each water, the spell that holds or comes next: a state to be kept, not a deed."""
    seen: set[str] = set()
    for water, first, last in _spells(yard):
        if water in seen:
            continue
        seen.add(water)
        yield Draft(
            id=f"heat/{slug(water)}",
            kind="heat",
            title=reason("heat", water=water, limit=_limit(yard)),
            earliest=first,
            ideal=first,
            latest=first,
            days=(last - first).days + 1,
            standing=True,
            water=water,
            note=reason("heat-how"),
            counts_from=reason("heat-from", limit=_limit(yard)),
            grade="derived",
        )


def heat_warnings(yard: Yard) -> Iterator[Warning_]:
    """One warning for each spell."""
    for water, first, last in _spells(yard):
        warmest = max(
            yard.waters.of(water)(first + timedelta(days=number))
            for number in range((last - first).days + 1)
        )
        why = reason(
            "heat-warning",
            water=water,
            first=first,
            last=last,
            limit=_limit(yard),
            warmest=Celsius(warmest),
        )
        yield Warning_("warn", why)


def _limit(yard: Yard) -> Celsius:
    return Celsius(yard.figures["sed_hot_block"])


def _spells(yard: Yard) -> Iterator[Spell]:
    """The hot spells from today on of every water in which there is a fish meanwhile."""
    for water in yard.keeper.waters:
        mean_on = yard.waters.of(water)
        for first, last in hot_spells(mean_on, yard.on, yard.on + AHEAD, yard.figures):
            days = (first + timedelta(days=number) for number in range((last - first).days + 1))
            if any(yard.courses.meetings.in_water(water, day) for day in days):
                yield water, first, last
