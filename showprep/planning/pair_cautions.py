"""What to mind about one fish at one show: the handling, its size, the season of spawning."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

from showprep.husbandry.sedation import water_fit
from showprep.husbandry.spawning import after_spawning, is_grown, spawning_weather
from showprep.planning.cautions import CARRIER
from showprep.planning.events import Events
from showprep.planning.plan import Length, SizeClass
from showprep.planning.state import FishState
from showprep.planning.words import counted, spoken
from showprep.planning.yard import Yard


def cautions_of(
    yard: Yard,
    fish: FishState,
    events: Events,
    length: Length | None,
    classes: SizeClass | None,
    days: tuple[date, ...],
) -> Iterator[str]:
    """What to mind about one fish at one show; `days` are those on which it may be touched up."""
    if days:
        yield from _touch_up_cautions(yard, fish, events, length, days[-1])
    if classes is not None and classes.near_limit is not None:
        yield classes.near_limit
    elif classes is not None and len(classes.possible) > 1:
        yield f"Size class not sure: {' or '.join(classes.possible)}."
    if length is None:
        yield "Never measured: no size class, and its weight is not known."
    if _met_others(yard, fish, events):
        yield CARRIER
    if _may_spawn(yard, fish, events, length):
        yield "A grown female in spawning weather: she may be heavy with eggs, or spawn in the vat."
    if (
        fish.spawned is not None
        and after_spawning((events.benching_day - fish.spawned).days) != "fit"
    ):
        yield f"It spawned on {spoken(fish.spawned)}; allow 4 to 6 weeks (assumption)."


def _met_others(yard: Yard, fish: FishState, events: Events) -> bool:
    """Did it come, or come home from another show, within the year before this one?"""
    came = [] if fish.record.came is None else [fish.record.came]
    home = [other.home_day for other in yard.been_to(fish) if other.show != events.show]
    return any(0 <= (events.departure_day - day).days <= 366 for day in (*came, *home))


def _touch_up_cautions(
    yard: Yard, fish: FishState, events: Events, length: Length | None, day: date
) -> Iterator[str]:
    variety = yard.facts.varieties.get(fish.record.variety)
    if variety is not None and variety.darkens:
        yield f"A touch-up can leave a dark mark that stays for years on a {variety.name}."
    if events.record.altered_fish == "not stated":
        yield "This show does not say how it sees touched-up fish: ask before you enter."
    fit, reason = water_fit(yard.mean_on(fish)(day), yard.keeper.figures)
    if fit == "warn":
        yield reason
    if length is not None and not 15 <= length.expected <= 70:
        yield "At this size the dose and the minutes in the bath are less sure."
    gap = (events.departure_day - day).days
    if timedelta(days=gap) < yard.days("sedate_to_show_warn"):
        yield f"Only {counted(gap, 'day')} between touch-up and journey."


def _may_spawn(yard: Yard, fish: FishState, events: Events, length: Length | None) -> bool:
    """Is it a female of spawning size, and the water such that koi spawn?"""
    if fish.record.sex != "female" or not is_grown(None if length is None else length.expected):
        return False
    mean_on = yard.mean_on(fish)
    before = mean_on(events.benching_day - timedelta(days=14))
    return spawning_weather(mean_on(events.benching_day), before)
