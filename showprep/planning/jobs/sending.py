"""The fish one water sends to one show, and how long they fast for it."""

from __future__ import annotations

from datetime import date, timedelta

from msgspec import Struct

from showprep.husbandry.fasting import Fast
from showprep.planning.as_of.state import FishState
from showprep.planning.yard.course import Step
from showprep.planning.yard.courses import fast_before
from showprep.planning.yard.events import Events
from showprep.planning.yard.yard import Yard

REST_AT_HOME = 2  # days without food after coming home, as `refeeding_steps` has it


class Sending(Struct, frozen=True):
    """The fish one water sends to one show, and the water they are in when they leave it.

    `there_from` is the day from which the first of them is in that water: fish home from another
    show stay apart before (None: they are there all along).
    """

    events: Events
    water: str
    fish: tuple[FishState, ...]
    there_from: date | None = None
    fasts_in: str = ""

    @property
    def ids(self) -> tuple[str, ...]:
        return tuple(fish.id for fish in self.fish)


def fast_of(yard: Yard, sending: Sending) -> Fast:
    """Days without food before departure, along the way of the fish that needs longest."""
    fasts = [
        fast_before(yard.state, sending.events, sending.fasts_in, yard.mean_on(fish))
        for fish in sending.fish
    ]
    return max(fasts, key=lambda fast: fast.days)


def fasting_water(yard: Yard, sending: Sending) -> str:
    """The water the fish are in when they leave: the holding vat where there is one."""
    return sending.fasts_in


def fast_from(yard: Yard, sending: Sending) -> date:
    """The first day without food before departure."""
    return sending.events.departure_day - timedelta(days=fast_of(yard, sending).days)


def step_to_show(yard: Yard, sending: Sending) -> Step | None:
    """The greatest step from the water the fish leave into the show's; None if it is not known."""
    steps = [yard.course(fish).leaving_for(sending.events.show) for fish in sending.fish]
    known = [step for step in steps if step is not None and not step.unknown]
    return max(known, key=lambda step: abs(step.change_c), default=None)
