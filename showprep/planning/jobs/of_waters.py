"""Jobs of a water: colour food, the ration by stages, and what the fast and the step cost.

A pond is fed as one water, so what two shows ask of it is one job where their times overlap.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

from showprep.husbandry.feeding import fast_warning, ration
from showprep.planning.events import Events
from showprep.planning.jobs.draft import Draft, away_text, place
from showprep.planning.jobs.of_fasts import fast_jobs
from showprep.planning.jobs.sending import (
    REST_AT_HOME,
    Sending,
    fast_from,
    fast_of,
    fasting_water,
    step_to_show,
)
from showprep.planning.plan import Task, Warning_
from showprep.planning.waters import mean_over
from showprep.planning.words import listed, slug
from showprep.planning.yard import Yard
from showprep.season.quantities import show_temperature


@dataclass(frozen=True, slots=True)
class Spell:
    """A stretch of days in which a water is fed in some way, for one show or several."""

    first: date
    last: date
    shows: tuple[Events, ...]
    fish: tuple[str, ...]


def water_jobs(yard: Yard, sendings: Sequence[Sending]) -> Iterator[Task]:
    """Every feeding job of every water that sends fish to a show."""
    for water in sorted({sending.water for sending in sendings}):
        mine = [sending for sending in sendings if sending.water == water]
        yield from _feed_jobs(yard, water, mine)
    for sending in sendings:
        yield from fast_jobs(yard, sending, [other for other in sendings if other != sending])


def water_warnings(yard: Yard, sending: Sending) -> Iterator[Warning_]:
    """Warnings about a long fast and a step in temperature."""
    events = sending.events
    water = fasting_water(yard, sending)
    warmth = yard.waters.of(water)(events.departure_day)
    at_show = (events.home_day - events.departure_day).days
    fast = fast_of(yard, sending)
    text = fast_warning(fast.days, at_show, REST_AT_HOME, warmth, own=yard.keeper.figures)
    if text is not None:
        yield Warning_("warn", f"{events.record.name}, {water}: {text}.", show=events.show)
    step = step_to_show(yard, sending)
    if step is None or abs(step) < yard.figure("step_warn"):
        return
    assert events.record.water_c is not None  # there would be no step
    units = yard.keeper.units
    here, there = show_temperature(warmth, units), show_temperature(events.record.water_c, units)
    text = f"{events.record.name}: {water} {here}, the show {there}."
    if abs(step) >= yard.figure("step_block") and yard.keeper.holding is None:
        text += " That is too far for a float: bring the entries nearer by 1 °C a day in a vat."
        yield Warning_("stop", text, show=events.show)
    else:
        yield Warning_("warn", f"{text} {_how_to_take(yard, abs(step))}", show=events.show)


def _how_to_take(yard: Yard, step: float) -> str:
    """How the fish take a step [°C] worth a warning, as the sheet of the bags has it."""
    if step < yard.figure("step_block"):
        rate = yard.figure("temper_rate")
        return f"Temper them at {rate:g} °C an hour, do not just float the bags."
    assert yard.keeper.holding is not None
    return f"Bring the {yard.keeper.holding.water} nearer first, by 1 °C a day."


def _feed_jobs(yard: Yard, water: str, sendings: Sequence[Sending]) -> Iterator[Task]:
    for kind, first, last, title, note, late in FEED_STAGES:
        begin, end = round(yard.figure(first)), round(yard.figure(last)) if last else 0
        spells = [
            spell
            for sending in sendings
            if sending.events.departure_day >= yard.on
            and (spell := _spell(sending, begin, end)) is not None
        ]
        for spell in merged(spells):
            if kind in SHARE:
                spell = _after_the_show_before(spell, sendings)
            over = spell.last < yard.on or _fasted(yard, spell, sendings)
            if spell.first <= spell.last and not over:
                yield from _feed_job(yard, water, spell, kind, title, note, late)


def _fasted(yard: Yard, spell: Spell, sendings: Sequence[Sending]) -> bool:
    """Has the fast begun that ends the cut: of the whole water, or in a vat for every show?"""
    begun = [
        fast_from(yard, sending) <= yard.on
        for sending in sendings
        if sending.events in spell.shows and sending.events.departure_day >= yard.on
    ]
    return any(begun) if yard.keeper.holding is None else all(begun)


def _spell(sending: Sending, begin: int, end: int) -> Spell | None:
    """One stage for one show, from the day its fish are in the water; None if over by then."""
    judging = sending.events.judging_day
    first, last = judging - timedelta(days=begin), judging - timedelta(days=end + 1)
    if sending.there_from is not None:
        first = max(first, sending.there_from)
    return Spell(first, last, (sending.events,), sending.ids) if first <= last else None


def _after_the_show_before(spell: Spell, sendings: Sequence[Sending]) -> Spell:
    """A cut for a later show waits while the water is cut or fasted for the one before."""
    begins = [
        sending.events.departure_day
        for sending in sendings
        if sending.events not in spell.shows
        and sending.events.departure < spell.shows[0].departure
        and spell.first <= sending.events.departure_day
    ]
    return replace(spell, first=max([spell.first, *begins]))


def _feed_job(
    yard: Yard, water: str, spell: Spell, kind: str, title: str, note: str, late: str
) -> Iterator[Task]:
    show = spell.shows[0]
    warmth = mean_over(yard.waters.of(water), spell.first, spell.last)
    if warmth < yard.figure("feed_stop_c"):
        return  # nothing is fed in water this cold, so there is nothing to cut
    if kind in SHARE:
        note = f"{_ration_text(yard, warmth, SHARE[kind])} {note}"
    days = (show.judging_day - spell.first).days
    task = place(
        yard,
        Draft(
            id=f"{show.show}/{kind}/{slug(water)}",
            kind=kind,
            title=title.format(water=water, shows=_names(spell.shows)),
            earliest=spell.first,
            ideal=spell.first,
            latest=spell.first,
            days=(spell.last - spell.first).days + 1,
            standing=True,
            fish=spell.fish,
            show=show.show,
            water=water,
            note=note,
            late_cost=late,
            counts_from=away_text(-days, "judging"),
            mark="common practice",
        ),
    )
    if task is not None:
        yield task


def _ration_text(yard: Yard, warmth: float, share: float) -> str:
    """What the share of the ration is at this warmth, in percent of body weight a day."""
    fed = ration(yard.facts.rations, warmth, share)
    at = show_temperature(warmth, yard.keeper.units)
    return (
        f"At about {at} that is {fed.typical:.2g} % of body weight a day ({fed.low:.2g} to "
        f"{fed.high:.2g}; {yard.facts.rations_mark}), {fed.diet}."
    )


def merged(spells: Sequence[Spell]) -> list[Spell]:
    """Spells that overlap or touch become one, named after the earliest show."""
    result: list[Spell] = []
    for spell in sorted(spells, key=lambda one: (one.first, one.shows[0].show)):
        if result and spell.first <= result[-1].last + timedelta(days=1):
            last = result.pop()
            spell = Spell(
                last.first,
                max(last.last, spell.last),
                last.shows + spell.shows,
                tuple(sorted({*last.fish, *spell.fish})),
            )
        result.append(spell)
    return result


def _names(shows: Sequence[Events]) -> str:
    return listed(events.record.name for events in shows)


SHARE = {"feed-half": 0.5, "feed-quarter": 0.25}

# kind, first day and day after the last (figures: days before judging), title, note, cost
FEED_STAGES: tuple[tuple[str, str, str | None, str, str, str], ...] = (
    (
        "colour-food-stop",
        "colour_stop",
        None,
        "Stop colour food in the {water} for {shows}",
        "No colour food until the show is over: it turns white ground pink or yellow. Guides say "
        "30 to 90 days; the plan takes the longer of the two usual ones.",
        "White may still carry a pink or yellow tint on the day. Stop now.",
    ),
    (
        "feed-half",
        "feed_cut_first",
        "feed_cut_second",
        "Half ration in the {water} for {shows}",
        "Half the usual ration. Thin and young fish are excused: feed them apart or leave them "
        "at home.",
        "Go straight to the ration of today's stage; do not make up for it by starving.",
    ),
    (
        "feed-quarter",
        "feed_cut_second",
        None,
        "Quarter ration in the {water} for {shows}",
        "A quarter of the usual ration until the fast. Watch backs and bellies: this is below "
        "what a young fish needs to hold its weight.",
        "Cut to a quarter now; the fast itself is what matters most.",
    ),
)
