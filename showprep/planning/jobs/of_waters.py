"""What a long fast, and the step to the show's water, cost the fish that leave."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta

from showprep.husbandry.feeding import fast_warning
from showprep.planning.jobs.sending import (
    REST_AT_HOME,
    Sending,
    fast_of,
    fasting_water,
    step_to_show,
)
from showprep.planning.plan import Warning_
from showprep.planning.yard import Yard
from showprep.season.quantities import show_temperature, show_warming


def water_warnings(yard: Yard, sending: Sending) -> Iterator[Warning_]:
    """Warnings about a long fast and a step in temperature."""
    events = sending.events
    water = fasting_water(yard, sending)
    warmth = yard.mean_on(sending.fish[0])(events.departure_day - timedelta(days=1))
    at_show = (events.home_day - events.departure_day).days
    fast = fast_of(yard, sending)
    text = fast_warning(fast.days, at_show, REST_AT_HOME, warmth, yard.figures)
    if text is not None:
        yield Warning_("warn", f"{events.record.name}, {water}: {text}.", show=events.show)
    taken = step_to_show(yard, sending)
    if taken is None or abs(taken.change_c) < yard.figures["step_warn"]:
        return
    step, units = taken.change_c, yard.keeper.units
    here, there = show_temperature(taken.from_c, units), show_temperature(taken.to_c, units)
    text = f"{events.record.name}: {water} {here}, the show {there}."
    if abs(step) >= yard.figures["step_block"] and yard.keeper.holding is None:
        ramp = show_warming(yard.figures["temp_ramp"], units)
        text += f" That is too far for a float: bring the entries nearer by {ramp} a day in a vat."
        yield Warning_("stop", text, show=events.show)
    else:
        yield Warning_("warn", f"{text} {_how_to_take(yard, abs(step))}", show=events.show)


def _how_to_take(yard: Yard, step: float) -> str:
    """How the fish take a step [°C] worth a warning, as the sheet of the bags has it."""
    if step < yard.figures["step_block"]:
        rate = yard.figures["temper_rate"]
        return f"Temper them at {rate:g} °C an hour, do not just float the bags."
    assert yard.keeper.holding is not None
    ramp = show_warming(yard.figures["temp_ramp"], yard.keeper.units)
    return f"Bring the {yard.keeper.holding.water} nearer first, by {ramp} a day."
