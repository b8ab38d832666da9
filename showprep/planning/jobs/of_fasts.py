"""Jobs of the last days before departure: the fast, the holding vat, the step in temperature.

With a holding vat the entries alone are fasted and the pond goes on eating; without one the whole
water fasts, and what stays at home is fed again when the entries leave.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date, timedelta
from math import ceil

from showprep.husbandry.feeding import refeeding_steps, share_on
from showprep.planning.jobs.draft import Draft, away_text, place
from showprep.planning.jobs.sending import (
    Sending,
    fast_from,
    fast_of,
    fasting_water,
    step_to_show,
)
from showprep.planning.plan import Task
from showprep.planning.words import counted, slug, spoken
from showprep.planning.yard import Yard


def fast_jobs(yard: Yard, sending: Sending, others: Sequence[Sending]) -> Iterator[Task]:
    """The fast before one departure; `others` are the other sendings of the season."""
    events = sending.events
    if events.departure_day < yard.on:
        return
    yield from _fast_jobs(yard, sending)
    if fasting_water(yard, sending) == sending.water:
        yield from _pond_feeds_again(yard, sending, others)
    yield from _match_water(yard, sending)


def _fast_jobs(yard: Yard, sending: Sending) -> Iterator[Task]:
    events, water = sending.events, fasting_water(yard, sending)
    fast = fast_of(yard, sending)
    first = fast_from(yard, sending)
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
            standing=True,
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


def _pond_feeds_again(yard: Yard, sending: Sending, others: Sequence[Sending]) -> Iterator[Task]:
    day = sending.events.departure_day
    stay = [
        fish.id
        for fish in yard.fish_here()
        if fish.id not in sending.ids and fish.water_on(day) == sending.water
    ]
    later = [
        other
        for other in others
        if other.water == sending.water and other.events.departure > sending.events.departure
    ]
    if not stay or any(fast_from(yard, other) <= day for other in later):
        return  # nobody is left to feed, or the next show's fast goes on
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
            note=_back_to(yard, day, later),
            late_cost="The fish that stayed go on losing weight.",
            counts_from="on the day of departure",
            mark="common practice",
        ),
    )
    if task is not None:
        yield task


def _back_to(yard: Yard, day: date, later: Sequence[Sending]) -> str:
    """How the water is fed again: by steps to all of it, or to what the next show leaves."""
    own = yard.keeper.figures
    first = next(step.share for step in refeeding_steps(own) if step.share > 0)
    shares = [(share_on((one.events.judging_day - day).days, own), one) for one in later]
    share, cutting = min(shares, key=lambda pair: pair[0], default=(1.0, None))
    if cutting is None or share >= 1:
        return f"About {round(100 * first)} % of the ration for three days, then by steps to all."
    show = cutting.events.record.name
    if share <= first:
        return f"{round(100 * share)} % of the ration, as {show} asks."
    return (
        f"About {round(100 * first)} % of the ration for three days, then {round(100 * share)} % "
        f"as {show} asks."
    )


def _match_water(yard: Yard, sending: Sending) -> Iterator[Task]:
    step = step_to_show(yard, sending)
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
