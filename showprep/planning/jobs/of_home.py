"""Jobs after a show: apart from the others, fed again by steps, and cleared."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import timedelta

from showprep.husbandry.isolation import (
    clearing_window_c,
    days_apart,
    hides_in,
    litres_needed,
    vat_holds,
)
from showprep.husbandry.reason import Celsius, Reason, ShowId, reason
from showprep.planning.apart import Apart, apart_after
from showprep.planning.cautions import JOINING
from showprep.planning.events import Events
from showprep.planning.jobs.draft import Draft, place
from showprep.planning.lengths import length_on
from showprep.planning.plan import Task, Warning_
from showprep.planning.words import counted, listed
from showprep.planning.yard import Yard
from showprep.season.quantities import show_volume, show_warming

QUICKEST_C = 22.0
"""The coolest water in which time apart is shortest [°C]; warmer costs heat and gains nothing."""


def home_jobs(yard: Yard, events: Events, fish: Sequence[str]) -> Iterator[Task]:
    """Every job after the way home, for the fish that went."""
    apart = apart_after(yard, events)
    if yard.keeper.isolation is None:
        return
    for draft in _isolation(yard, events, fish, apart):
        task = place(yard, draft)
        if task is not None:
            yield task


def home_warnings(yard: Yard, events: Events, fish: Sequence[str]) -> Iterator[Warning_]:
    """What is wrong with the plan for the time apart."""
    name, show = events.record.name, events.show
    isolation = yard.keeper.isolation
    if isolation is None:
        text = f"No isolation vat: fish home from {name} would go straight back to the others."
        yield Warning_("stop", text, show=show)
        return
    if apart_after(yard, events).clear is None:
        yield Warning_("stop", _never_clear(yard, events), show=show)
    if len(fish) > isolation.holds:
        yield Warning_(
            "stop",
            f"{counted(len(fish), 'fish', 'fish')} come home from {name}; the {isolation.water} "
            f"holds {isolation.holds}.",
            show=show,
        )
        return
    yield from _crowded(yard, events, fish)


def _never_clear(yard: Yard, events: Events) -> Reason:
    """Why no time in the isolation vat clears these fish, and what heating it would save."""
    assert yard.keeper.isolation is not None
    water, own = yard.keeper.isolation.water, yard.figures
    low, high = map(Celsius, clearing_window_c(own))
    cold, warm = hides_in(events.home_day, yard.waters.of(water), own)
    show, best = ShowId(events.show), Celsius(QUICKEST_C)
    heated = days_apart(QUICKEST_C, events.record.vats, own)
    saved = None
    if cold and heated is not None:
        saved = reason("heating-would-clear", days=heated, quickest=best)
    if cold and warm:
        return reason(
            "vat-by-turns", water=water, show=show, low=low, high=high, quickest=best, saved=saved
        )
    if cold:
        return reason("vat-too-cold", water=water, show=show, low=low, saved=saved)
    if warm:
        return reason("vat-too-warm", water=water, show=show, high=high, quickest=best)
    return reason("vat-never-enough", water=water, show=show)


def _crowded(yard: Yard, events: Events, fish: Sequence[str]) -> Iterator[Warning_]:
    """Litres for the lengths that come home (assumption: 250, 500 or 1,000 L a fish by length)."""
    assert yard.keeper.isolation is not None
    water = yard.keeper.isolation.water
    litres = yard.keeper.waters[water].litres
    found = [length_on(yard, yard.state.fish[one], events.home_day) for one in fish]
    lengths = [length.expected for length in found if length is not None]
    if litres is None or vat_holds(litres, lengths, yard.figures):
        return
    units = yard.keeper.units
    needed = show_volume(litres_needed(lengths, yard.figures), units)
    yield Warning_(
        "warn",
        f"{counted(len(fish), 'fish', 'fish')} home from {events.record.name} want about {needed} "
        f"(assumption); the {water} has {show_volume(litres, units)}. More water changes, or fewer "
        "fish.",
        show=events.show,
    )


def _how_long(yard: Yard, apart: Apart, style: str) -> str:
    """The days apart, and why they are more than the table says where water hid the disease."""
    assert yard.keeper.isolation is not None
    water, own = yard.keeper.isolation.water, yard.figures
    if apart.clear is None:
        return "No time in this water clears them: see the warning in the plan."
    days = (apart.clear - apart.home).days
    said = f"{counted(days, 'day')} after a show with {style}."
    low, high = clearing_window_c(own)
    cold, warm = hides_in(apart.home, yard.waters.of(water), own, days)
    where = [f"below {low:g}"] * cold + [f"above {high:g}"] * warm
    if not where:
        return said
    return f"{said} A day {listed(where, 'or')} °C starts the count again: KHV hides there."


def _isolation(yard: Yard, events: Events, fish: Sequence[str], apart: Apart) -> list[Draft]:
    assert yard.keeper.isolation is not None
    water, home = yard.keeper.isolation.water, events.home_day
    days = (apart.last - home).days + 1
    style = {"own": "own vats", "shared": "shared vats", "bag": "bags"}[events.record.vats]
    apart_draft = Draft(
        id=f"{events.show}/isolation",
        kind="isolation",
        title=f"Fish back from {events.record.name} stay apart in the {water}",
        earliest=home,
        ideal=home,
        latest=home,
        days=days,
        fish=tuple(fish),
        show=events.show,
        water=water,
        note=f"{_how_long(yard, apart, style)} All in, all out: one more fish starts the count "
        "again. Serve this vat last, with its own net.",
        counts_from="the way home",
        cautions=(
            "White or brown dead gill patches, sunken eyes, many deaths: tell the "
            "authority at once.",
        ),
        mark="derived",
    )
    kept = [apart_draft] if apart.last >= yard.on else []
    if apart.clear is None:
        return kept
    clear_draft = Draft(
        id=f"{events.show}/isolation-clear",
        kind="isolation-clear",
        title=f"Fish back from {events.record.name} may join the others",
        earliest=apart.clear,
        ideal=apart.clear,
        latest=apart.clear + timedelta(days=14),
        fish=tuple(fish),
        show=events.show,
        water=water,
        hands=True,
        note="Only if nothing has died, nobody flashes, and the last scrape was clean. Within "
        f"{show_warming(yard.figures['step_direct'], yard.keeper.units)}, or by a ramp.",
        late_cost="They are crowded for longer than need be.",
        counts_from=f"{counted(days, 'day')} after coming home",
        cautions=JOINING,
        mark="derived",
    )
    return [*kept, clear_draft]
