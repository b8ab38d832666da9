"""What a long fast, and the step to the show's water, cost the fish that leave."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta

from showprep.husbandry.feeding import fast_warning
from showprep.husbandry.reason import Celsius, Kelvin, Reason, ShowId, reason
from showprep.planning.jobs.sending import (
    REST_AT_HOME,
    Sending,
    fast_of,
    fasting_water,
    step_to_show,
)
from showprep.planning.plan import Warning_
from showprep.planning.verdicts.eligibility import step_too_great
from showprep.planning.yard.yard import Yard


def water_warnings(yard: Yard, sending: Sending) -> Iterator[Warning_]:
    """Warnings about a long fast and a step in temperature."""
    events = sending.events
    water = fasting_water(yard, sending)
    warmth = yard.mean_on(sending.fish[0])(events.departure_day - timedelta(days=1))
    at_show = (events.home_day - events.departure_day).days
    fast = fast_of(yard, sending)
    show = ShowId(events.show)
    long = fast_warning(fast.days, at_show, REST_AT_HOME, warmth, yard.figures)
    if long is not None:
        why = reason("long-fast-for", show=show, water=water, why=long)
        yield Warning_("warn", why, show=events.show)
    taken = step_to_show(yard, sending)
    if taken is None or abs(taken.change_c) < yard.figures["step_warn"]:
        return
    step, here, there = taken.change_c, Celsius(taken.from_c), Celsius(taken.to_c)
    told = reason("step-to-show", show=show, water=water, here=here, there=there)
    if abs(step) >= yard.figures["step_block"] and yard.keeper.holding is None:
        why = step_too_great(yard, events.show, water, taken.from_c, taken.to_c)
        yield Warning_("stop", why, show=events.show)
    else:
        yield Warning_("warn", _how_to_take(yard, abs(step), told), show=events.show)


def _how_to_take(yard: Yard, step: float, told: Reason) -> Reason:
    """How the fish take a step [°C] worth a warning, as the sheet of the bags has it."""
    if step < yard.figures["step_block"]:
        return reason("step-tempered-at", step=told, rate=Kelvin(yard.figures["temper_rate"]))
    assert yard.keeper.holding is not None
    rate = Kelvin(yard.figures["temp_ramp"])
    return reason("step-after-holding", step=told, water=yard.keeper.holding.water, rate=rate)
