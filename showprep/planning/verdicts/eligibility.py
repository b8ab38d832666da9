"""What stands against a fish at a show whatever its wounds: rules, size, papers, time apart."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import timedelta
from typing import TypeAlias

from showprep.husbandry.isolation import clear_on, clearing_window_c, declared_from
from showprep.husbandry.reason import Celsius, Centimetres, FishId, Reason, ShowId, reason
from showprep.planning.as_of.state import FishState
from showprep.planning.plan import ExpectedLength
from showprep.planning.yard.apart import free_from
from showprep.planning.yard.events import Events
from showprep.planning.yard.yard import Yard

Size: TypeAlias = ExpectedLength | None
Check = Callable[[Yard, FishState, Events, Size], Iterator[Reason]]


def against_entry(yard: Yard, fish: FishState, events: Events, length: Size) -> tuple[Reason, ...]:
    """Every reason why the fish may not be entered; none when it may."""
    return tuple(reason for check in CHECKS for reason in check(yard, fish, events, length))


def _keepers_word(yard: Yard, fish: FishState, events: Events, length: Size) -> Iterator[Reason]:
    never = fish.record.never_show
    if never == "all" or events.show in never:
        yield reason("not-to-be-shown")


def _size(yard: Yard, fish: FishState, events: Events, length: Size) -> Iterator[Reason]:
    limits = events.record.limits
    if length is None:
        return
    if limits.longest_cm is not None and length.expected > limits.longest_cm:
        most = Centimetres(limits.longest_cm)
        yield reason("too-long", length=Centimetres(length.expected), most=most)
    if limits.shortest_cm is not None and length.expected < limits.shortest_cm:
        least = Centimetres(limits.shortest_cm)
        yield reason("too-short", length=Centimetres(length.expected), least=least)


def _variety(yard: Yard, fish: FishState, events: Events, length: Size) -> Iterator[Reason]:
    allowed = events.record.limits.varieties
    if allowed is None:
        return
    known = yard.facts.varieties

    def same(name: str) -> str:
        return known[name].id if name in known else name

    if same(fish.record.variety) not in {same(name) for name in allowed}:
        yield reason("variety-not-taken", varieties=tuple(allowed))


def _altered(yard: Yard, fish: FishState, events: Events, length: Size) -> Iterator[Reason]:
    if events.record.altered_fish != "excluded":
        return
    touched = [defect.touched for defect in fish.defects if defect.touched is not None]
    if touched:
        yield reason("altered-fish-excluded", on=max(touched))


def _papers(yard: Yard, fish: FishState, events: Events, length: Size) -> Iterator[Reason]:
    months = events.record.declaration_months
    if months is None:
        return
    since = declared_from(events.judging_day, months)
    for other in yard.fish_here():
        came = other.record.came
        if came is None or came < since or other.record.tested:
            continue
        met = yard.courses.meetings.reached_from({other.id: came}).get(fish.id)
        if met is not None and met <= events.departure_day:
            if other.id == fish.id:
                yield reason("came-untested", on=came, months=months)
            else:
                yield reason("other-untested", fish=FishId(other.id), on=came, months=months)


def _new_arrival(yard: Yard, fish: FishState, events: Events, length: Size) -> Iterator[Reason]:
    came = fish.record.came
    if came is None or (events.departure_day - came).days > 366:
        return
    group = yard.courses.group_of_new(fish.id)
    own = clear_on(came, yard.mean_on(fish), "shared", yard.figures)
    clear = own if group is None else group.clear
    if clear is None:
        low, high = map(Celsius, clearing_window_c(yard.figures))
        yield reason("new-never-clear", on=came, low=low, high=high)
    elif clear > events.departure_day:
        yield reason("new-kept-apart", on=came, until=clear)


def _back_from_show(yard: Yard, fish: FishState, events: Events, length: Size) -> Iterator[Reason]:
    for other in yard.been_to(fish):
        earlier = other.show != events.show and other.home_day <= events.departure_day
        if earlier and events.departure_day < (free := free_from(yard, other)):
            show = ShowId(other.show)
            yield reason("rests-after-show", show=show, on=other.home_day, until=free)


def _entries_closed(yard: Yard, fish: FishState, events: Events, length: Size) -> Iterator[Reason]:
    """Once the form is in, or the fish have left, only those written down as entered go."""
    closed = events.record.entries_close
    known = any(events.show in other.entered for other in yard.fish_here())
    if not known or events.show in fish.entered:
        return
    if events.departure_day < yard.on:
        yield reason("left-without-it", on=events.departure_day)
    elif closed is not None and closed < yard.on:
        yield reason("entries-closed", on=closed)


def _parasites(yard: Yard, fish: FishState, events: Events, length: Size) -> Iterator[Reason]:
    found = yard.parasites_on(fish)
    if found is None:
        return
    day, water = found
    gap = round(yard.figures["treatment_warn"])
    gap += round(yard.figures["parasite_clear_check"])
    if events.departure_day < max(day, yard.on) + timedelta(days=gap):
        yield reason("parasites-not-cleared", water=water, on=day)


def _khv(yard: Yard, fish: FishState, events: Events, length: Size) -> Iterator[Reason]:
    for day, water in yard.state.khv_signs:
        yield reason("khv-signs-noted", on=day, water=water)


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
