"""What stands against a fish at a show whatever its wounds: rules, size, papers, time apart."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import date, timedelta

from showprep.husbandry.isolation import clear_on, clearing_window_c, declared_from
from showprep.planning.apart import free_from
from showprep.planning.events import Events
from showprep.planning.plan import Length
from showprep.planning.state import FishState
from showprep.planning.words import counted, listed, spoken, spoken_with_year
from showprep.planning.yard import Yard
from showprep.season.quantities import show_length

Check = Callable[[Yard, FishState, Events, Length | None], Iterator[str]]


def against_entry(
    yard: Yard, fish: FishState, events: Events, length: Length | None
) -> tuple[str, ...]:
    """Every reason, in a sentence, why the fish may not be entered; none when it may."""
    return tuple(reason for check in CHECKS for reason in check(yard, fish, events, length))


def _keepers_word(
    yard: Yard, fish: FishState, events: Events, length: Length | None
) -> Iterator[str]:
    never = fish.record.never_show
    if never == "all" or events.show in never:
        yield "You marked it as not to be shown here."


def _size(yard: Yard, fish: FishState, events: Events, length: Length | None) -> Iterator[str]:
    limits, units = events.record.limits, yard.keeper.units
    if length is None:
        return
    if limits.longest_cm is not None and length.expected > limits.longest_cm:
        yield (
            f"About {show_length(length.expected, units)} on the day; the show takes fish up to "
            f"{show_length(limits.longest_cm, units)}."
        )
    if limits.shortest_cm is not None and length.expected < limits.shortest_cm:
        yield (
            f"About {show_length(length.expected, units)} on the day; the show takes fish from "
            f"{show_length(limits.shortest_cm, units)}."
        )


def _variety(yard: Yard, fish: FishState, events: Events, length: Length | None) -> Iterator[str]:
    allowed = events.record.limits.varieties
    if allowed is None:
        return
    known = yard.facts.varieties

    def same(name: str) -> str:
        return known[name].id if name in known else name

    if same(fish.record.variety) not in {same(name) for name in allowed}:
        yield f"The show takes {listed(allowed, 'or')} only."


def _altered(yard: Yard, fish: FishState, events: Events, length: Length | None) -> Iterator[str]:
    if events.record.altered_fish != "excluded":
        return
    touched = [defect.touched for defect in fish.defects if defect.touched is not None]
    if touched:
        yield (
            f"It was touched up on {spoken_with_year(max(touched))}, and the show excludes "
            "altered fish."
        )


def _papers(yard: Yard, fish: FishState, events: Events, length: Length | None) -> Iterator[str]:
    months = events.record.declaration_months
    if months is None:
        return
    since = declared_from(events.judging_day, months)
    for other in yard.fish_here():
        came = other.record.came
        if came is None or came < since or other.record.tested:
            continue
        if _together(fish, other, (came, events.departure_day)) and came <= events.departure_day:
            whose = "It" if other.id == fish.id else f"{other.record.name}, in the same water,"
            yield (
                f"{whose} came untested on {spoken_with_year(came)}, inside the "
                f"{counted(months, 'month')} of the show's declaration."
            )


def _together(fish: FishState, other: FishState, days: tuple[date, ...]) -> bool:
    """Are the two in one water on any of the days?"""
    return other.id == fish.id or any(fish.water_on(day) == other.water_on(day) for day in days)


def _new_arrival(
    yard: Yard, fish: FishState, events: Events, length: Length | None
) -> Iterator[str]:
    came = fish.record.came
    if came is None or (events.departure_day - came).days > 366:
        return
    clear = clear_on(came, yard.mean_on(fish), "shared", yard.keeper.figures)
    if clear is None:
        low, high = clearing_window_c(yard.keeper.figures)
        yield (
            f"It came on {spoken(came)} and cannot be cleared in its water: time apart counts "
            f"only from {low:g} to {high:g} °C, since KHV hides in colder and in warmer water."
        )
    elif clear > events.departure_day:
        yield f"New since {spoken(came)}: in isolation until {spoken(clear)}."


def _back_from_show(
    yard: Yard, fish: FishState, events: Events, length: Length | None
) -> Iterator[str]:
    for other in yard.been_to(fish):
        earlier = other.show != events.show and other.home_day <= events.departure_day
        if earlier and events.departure_day < (free := free_from(yard, other)):
            yield (
                f"Home from {other.record.name} on {spoken(other.home_day)}; it rests and stays "
                f"apart until {spoken(free)}."
            )


def _entries_closed(
    yard: Yard, fish: FishState, events: Events, length: Length | None
) -> Iterator[str]:
    """Once the form is in, or the fish have left, only those written down as entered go."""
    closed = events.record.entries_close
    known = any(events.show in other.entered for other in yard.fish_here())
    if not known or events.show in fish.entered:
        return
    if events.departure_day < yard.on:
        yield f"The entries left on {spoken(events.departure_day)} without it."
    elif closed is not None and closed < yard.on:
        yield f"Entries closed on {spoken(closed)}, and it was not among those entered."


def _parasites(yard: Yard, fish: FishState, events: Events, length: Length | None) -> Iterator[str]:
    water = fish.water_on(yard.on)
    found = yard.state.parasites.get(water)
    if found is None:
        return
    day, cleared = found
    if cleared is None:
        gap = round(yard.facts.figures["last_bath_treatment"].low)
        gap += round(yard.figure("parasite_clear_check"))
        if events.departure_day < max(day, yard.on) + timedelta(days=gap):
            yield (
                f"Parasites were found in the {water} on {spoken(day)} and no clear check is "
                "written down: every fish of that water stays at home."
            )


def _khv(yard: Yard, fish: FishState, events: Events, length: Length | None) -> Iterator[str]:
    for day, water in yard.state.khv_signs:
        yield (
            f"Signs of KHV were written down on {spoken_with_year(day)} ({water}). Move no fish, "
            "call a vet and tell the authority at once."
        )


CHECKS: tuple[Check, ...] = (
    _keepers_word,
    _khv,
    _size,
    _variety,
    _altered,
    _papers,
    _new_arrival,
    _back_from_show,
    _entries_closed,
    _parasites,
)
