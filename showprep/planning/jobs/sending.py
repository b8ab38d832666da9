"""The fish one water sends to one show, and how long they fast for it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

from showprep.husbandry.fasting import Fast
from showprep.husbandry.feeding import fast_days
from showprep.planning.events import Events
from showprep.planning.state import FishState
from showprep.planning.waters import mean_over
from showprep.planning.yard import Yard

REST_AT_HOME = 2  # days without food after coming home, as `refeeding_steps` has it


@dataclass(frozen=True, slots=True)
class Sending:
    """The fish one water sends to one show.

    `there_from` is the day from which the first of them is in that water: fish home from another
    show stay apart before (None: they are there all along).
    """

    events: Events
    water: str
    fish: tuple[FishState, ...]
    there_from: date | None = None

    @property
    def ids(self) -> tuple[str, ...]:
        return tuple(fish.id for fish in self.fish)


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


def fast_from(yard: Yard, sending: Sending) -> date:
    """The first day without food before departure."""
    return sending.events.departure_day - timedelta(days=fast_of(yard, sending).days)


def step_to_show(yard: Yard, sending: Sending) -> float | None:
    """Degrees Celsius from the water the fish leave to the show's; None where it is not known."""
    there = sending.events.record.water_c
    if there is None:
        return None
    return there - yard.waters.of(fasting_water(yard, sending))(sending.events.departure_day)
