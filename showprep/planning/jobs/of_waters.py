"""Jobs of a water: colour food, ration, the fast, and the step to the show's water.

A pond is fed and fasted as one water, so what two shows ask of it is one job where their times
overlap. With a holding vat the entries alone are fasted and the pond goes on eating.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from math import ceil

from showprep.husbandry.fasting import Fast
from showprep.husbandry.feeding import fast_days, fast_warning, ration, refeeding_steps
from showprep.planning.events import Events
from showprep.planning.jobs.draft import Draft, away_text, place
from showprep.planning.plan import Task, Warning_
from showprep.planning.state import FishState
from showprep.planning.waters import mean_over
from showprep.planning.words import counted, listed, slug, spoken
from showprep.planning.yard import Yard
from showprep.season.quantities import show_temperature

REST_AT_HOME = 2  # days without food after coming home, as `refeeding_steps` has it


@dataclass(frozen=True, slots=True)
class Sending:
    """The fish one water sends to one show."""

    events: Events
    water: str
    fish: tuple[FishState, ...]

    @property
    def ids(self) -> tuple[str, ...]:
        return tuple(fish.id for fish in self.fish)


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
        yield from _fast_jobs(yard, sending)
        yield from _match_water(yard, sending)


def fast_of(yard: Yard, sending: Sending) -> Fast:
    """Days without food before departure, by the water the fish are fasted in."""
    water = fasting_water(yard, sending)
    day = sending.events.departure_day
    warmth = mean_over(yard.waters.of(water), day - timedelta(days=7), day - timedelta(days=1))
    return fast_days(
        warmth,
        "show",
        own_rule_days=sending.events.record.fast_days,
        algae_pond=yard.keeper.waters[water].algae,
        own=yard.keeper.figures,
    )


def fasting_water(yard: Yard, sending: Sending) -> str:
    """The holding vat when there is one, else the water the fish live in."""
    return yard.keeper.holding.water if yard.keeper.holding is not None else sending.water


def water_warnings(yard: Yard, sending: Sending) -> Iterator[Warning_]:
    """Warnings about a long fast and a step in temperature."""
    events = sending.events
    water = fasting_water(yard, sending)
    warmth = yard.waters.of(water)(events.departure_day)
    at_show = (events.home_day - events.departure_day).days
    fast = fast_of(yard, sending)
    text = fast_warning(fast.days, at_show, REST_AT_HOME, warmth, own=yard.keeper.figures)
    if text is not None:
        yield Warning_("warn", f"{events.record.name}: {text}.", show=events.show)
    step = _step(yard, sending)
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
        text += " Temper them at 2 °C an hour, do not just float the bags."
        yield Warning_("warn", text, show=events.show)


def _step(yard: Yard, sending: Sending) -> float | None:
    there = sending.events.record.water_c
    if there is None:
        return None
    return there - yard.waters.of(fasting_water(yard, sending))(sending.events.departure_day)


def _feed_jobs(yard: Yard, water: str, sendings: Sequence[Sending]) -> Iterator[Task]:
    for kind, first, last, title, note, late in FEED_STAGES:
        begin, end = round(yard.figure(first)), round(yard.figure(last)) if last else 0
        spells = [
            Spell(
                sending.events.judging_day - timedelta(days=begin),
                sending.events.judging_day - timedelta(days=end + 1),
                (sending.events,),
                sending.ids,
            )
            for sending in sendings
            if sending.events.departure_day >= yard.on
        ]
        for spell in merged(spells):
            yield from _feed_job(yard, water, spell, kind, title, note, late)


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


def _fast_jobs(yard: Yard, sending: Sending) -> Iterator[Task]:
    events, water = sending.events, fasting_water(yard, sending)
    if events.departure_day < yard.on:
        return
    fast = fast_of(yard, sending)
    first = events.departure_day - timedelta(days=fast.days)
    if yard.keeper.holding is not None and water != sending.water:
        yield from _move_to_holding(yard, sending, water, first)
    task = place(
        yard,
        Draft(
            id=f"{events.show}/stop-feeding/{slug(water)}",
            kind="stop-feeding",
            title=f"No food for the {water} until {events.record.name}",
            earliest=first,
            ideal=first,
            latest=first,
            days=fast.days,
            fish=sending.ids,
            show=events.show,
            water=water,
            alarm=True,
            note=f"{counted(fast.days, 'day')} before departure, {fast.why}. Nobody feeds at the "
            "show, and nothing is fed for two days at home.",
            late_cost="Fish travel with food in the gut: more ammonia in the bag and the vat. "
            "Stop now; below the least for the gut, leave them at home.",
            counts_from=away_text(-fast.days, "departure"),
            cautions=(_who_fasts(yard, sending, water),),
            mark=fast.mark,
        ),
    )
    if task is not None:
        yield task
    if water == sending.water:
        yield from _pond_feeds_again(yard, sending)


def _who_fasts(yard: Yard, sending: Sending, water: str) -> str:
    others = [
        fish
        for fish in yard.fish_here()
        if fish.id not in sending.ids and fish.water_on(sending.events.departure_day) == water
    ]
    if yard.keeper.holding is not None:
        return f"Only the entries fast, in the {water}; the {sending.water} goes on eating."
    if others:
        return (
            f"The whole {water} fasts, {counted(len(others), 'fish', 'fish')} that stay at home "
            "with it; with a holding vat only the entries would."
        )
    return f"The whole {water} fasts as one water."


def _move_to_holding(yard: Yard, sending: Sending, vat: str, first: date) -> Iterator[Task]:
    task = place(
        yard,
        Draft(
            id=f"{sending.events.show}/to-holding/{slug(sending.water)}",
            kind="to-holding",
            title=f"Move the entries for {sending.events.record.name} to the {vat}",
            earliest=first - timedelta(days=7),
            ideal=first,
            latest=first,
            fish=sending.ids,
            show=sending.events.show,
            water=vat,
            hands=True,
            note="Same temperature within 2 °C, or warm the vat by 1 °C a day afterwards.",
            late_cost="The pond has to fast with them, or they travel fed.",
            counts_from="the first day of the fast",
            mark="common practice",
        ),
    )
    if task is not None:
        yield task


def _pond_feeds_again(yard: Yard, sending: Sending) -> Iterator[Task]:
    day = sending.events.departure_day
    stay = [
        fish.id
        for fish in yard.fish_here()
        if fish.id not in sending.ids and fish.water_on(day) == sending.water
    ]
    if not stay:
        return
    share = round(100 * next(step.share for step in refeeding_steps() if step.share > 0))
    task = place(
        yard,
        Draft(
            id=f"{sending.events.show}/pond-eats-again/{slug(sending.water)}",
            kind="pond-eats-again",
            title=f"Feed the {sending.water} again",
            earliest=day,
            ideal=day,
            latest=day + timedelta(days=2),
            fish=tuple(stay),
            show=sending.events.show,
            water=sending.water,
            note=f"About {share} % of the ration for three days, then by steps to all of it.",
            late_cost="The fish that stayed go on losing weight.",
            counts_from="on the day of departure",
            mark="common practice",
        ),
    )
    if task is not None:
        yield task


def _match_water(yard: Yard, sending: Sending) -> Iterator[Task]:
    step = _step(yard, sending)
    events = sending.events
    if step is None or abs(step) < yard.figure("step_warn") or yard.keeper.holding is None:
        return
    ramp = yard.figure("temp_ramp")
    days = ceil((abs(step) - yard.figure("step_direct")) / ramp)
    first = events.departure_day - timedelta(days=max(days, 1) + 1)
    vat = yard.keeper.holding.water
    task = place(
        yard,
        Draft(
            id=f"{events.show}/match-water/{slug(vat)}",
            kind="match-water",
            title=f"Bring the {vat} towards {events.record.water_c:g} °C, {ramp:g} °C a day",
            earliest=first - timedelta(days=7),
            ideal=first,
            latest=first,
            days=max(days, 1),
            fish=sending.ids,
            show=events.show,
            water=vat,
            note=f"The show's water is {abs(step):.1f} °C {'warmer' if step > 0 else 'colder'}.",
            late_cost="The step is taken in hours at the show instead of days at home.",
            counts_from=f"so that it is done by departure on {spoken(events.departure_day)}",
            mark="assumption",
        ),
    )
    if task is not None:
        yield task


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
