"""From prospects to the choice problem, and back: who goes where, touched up on which day."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import date, timedelta

from showprep.husbandry.healing import reached
from showprep.husbandry.sedation_fit import days_between
from showprep.planning.chances.needs import milestones
from showprep.planning.verdicts.lengths import class_index
from showprep.planning.verdicts.prospects import Prospect
from showprep.planning.verdicts.touch_ups import TouchUps
from showprep.planning.yard.apart import Apart, apart_after, free_from, vat_free_from
from showprep.planning.yard.events import Events
from showprep.planning.yard.yard import Yard
from showprep.selection.problem import (
    EntryOption,
    Instance,
    ShowLimits,
    TouchUpOption,
)

Prospects = Mapping[tuple[str, str], Prospect]
Aparts = Mapping[str, Apart]  # by show


def problem_of(yard: Yard, prospects: Prospects, touch_ups: Mapping[str, TouchUps]) -> Instance:
    """All options and limits of the season, as plain data for the choice."""
    preferences = yard.keeper.preferences
    apart = {events.show: apart_after(yard, events) for events in yard.planned()}
    options = tuple(
        option
        for fish_id in sorted(touch_ups)
        for option in _touch_up_options(yard, touch_ups[fish_id], prospects, apart)
    )
    return Instance(
        worth_showing=_worth_showing(yard),
        same_class_share=preferences.same_class_share,
        touch_up_price=_hundredths(preferences.touch_up_price),
        session_price=_hundredths(preferences.session_price),
        touch_ups=options,
        entries=tuple(_entries(yard, prospects, apart)),
        shows={events.show: _limits(yard, events) for events in yard.planned()},
        apart=_apart_pairs(yard),
        fish_per_day=yard.keeper.touch_up.fish_per_day,
        touch_ups_per_fish=preferences.touch_up_days_per_fish,
        spacing_default=yard.days("sedation_spacing").days,
        spacing_days=_spacings(yard, touch_ups, options),
        vat_holds=yard.keeper.isolation.holds if yard.keeper.isolation is not None else None,
        fees=preferences.fees_at_most,
    )


def _entries(yard: Yard, prospects: Prospects, apart: Aparts) -> Sequence[EntryOption]:
    options = []
    vats = {
        show: (one.home, vat_free_from(yard, one) - timedelta(days=1))
        for show, one in apart.items()
        if yard.keeper.isolation is not None
    }
    for (fish_id, show_id), one in sorted(prospects.items()):
        if one.merit_clean is None:
            continue
        merit = one.merit_marked if one.has_speck else one.merit_clean
        index = class_index(yard, one.events, one.length)
        points = one.events.record.limits.points_by_size
        options.append(
            EntryOption(
                fish=fish_id,
                show=show_id,
                merit=None if merit is None else _hundredths(merit),
                group=f"{one.fish.record.variety} {'' if index is None else index}",
                price=_price_per_fish(yard, one.events),
                length_cm=one.length.expected if one.length is not None else 0.0,
                points=points[index] if points and index is not None and index < len(points) else 0,
                size_class="" if index is None else str(index),
                kg=one.kg or 0.0,
                fee=one.events.record.fee_per_fish,
                must=show_id in one.fish.record.must_show or show_id in one.fish.entered,
                vat=vats.get(show_id),
            )
        )
    return options


def _touch_up_options(
    yard: Yard, touch_ups: TouchUps, prospects: Prospects, apart: Aparts
) -> list[TouchUpOption]:
    if not touch_ups.specks:
        return []
    fish = touch_ups.fish
    mine = [one for (fish_id, _), one in sorted(prospects.items()) if fish_id == fish.id]
    options = []
    for day in sorted({day for one in mine for day in _usable(yard, one)}):
        bars = frozenset(_barred(yard, touch_ups, mine, day, apart))
        merits = _merits(
            one for one in mine if day in _usable(yard, one) and one.events.show not in bars
        )
        options.append(TouchUpOption(fish.id, day, yard.taken_from(fish, day), merits, bars))
    return options + _vat_options(yard, touch_ups, mine, apart)


def _merits(some: Iterable[Prospect]) -> dict[str, int]:
    """What a touch-up gives at each of its shows, in hundredths of a point."""
    return {
        one.events.show: _hundredths(one.merit_clean) for one in some if one.merit_clean is not None
    }


def _usable(yard: Yard, one: Prospect) -> tuple[date, ...]:
    """Fit days; tight ones only where no fit day is left and the keeper accepts them."""
    if one.days:
        return one.days
    return one.tight_days if yard.keeper.preferences.accept_tight else ()


def _barred(
    yard: Yard, touch_ups: TouchUps, mine: Sequence[Prospect], day: date, apart: Aparts
) -> list[str]:
    """Shows the fish cannot go to when touched up on `day`."""
    gap = yard.days("sedate_to_show_gap")
    settle = yard.days("block_after_move")
    barred = []
    for one in mine:
        events = one.events
        away_until = max(apart[events.show].last, events.home_day + settle)
        if day > away_until:
            continue
        if events.record.altered_fish == "excluded" and day <= events.benching_day:
            barred.append(events.show)
        elif day + gap > events.departure_day:
            barred.append(events.show)  # too near the journey, away, or apart after it
        elif not touch_ups.closed_by(day, events.departure_day):
            barred.append(events.show)
    return barred


def _vat_options(
    yard: Yard, touch_ups: TouchUps, mine: Sequence[Prospect], apart: Aparts
) -> list[TouchUpOption]:
    """Days that are in time only if the wound heals in the warmer isolation vat."""
    isolation = yard.keeper.isolation
    if isolation is None or not yard.keeper.preferences.heal_in_vat:
        return []
    options = []
    wanting = [one for one in mine if one.window is not None and one.merit_clean is not None]
    days = {day for one in wanting for day in vat_days(yard, touch_ups, one)}
    for day in sorted(days):
        clean: dict[str, date] = {}
        for one in wanting:
            by = vat_clean_on(yard, touch_ups, one.events, day)
            if by is not None:
                clean[one.events.show] = by
        bars = frozenset(_barred(yard, touch_ups, mine, day, apart))
        merits = _merits(
            one for one in wanting if one.events.show in clean and one.events.show not in bars
        )
        if merits:
            stay = (day, max(clean[show] for show in merits))
            options.append(
                TouchUpOption(touch_ups.fish.id, day, isolation.water, merits, bars, stay)
            )
    return options


def vat_days(yard: Yard, touch_ups: TouchUps, one: Prospect) -> tuple[date, ...]:
    """Work days fit for a touch-up that heals in the vat, for one show."""
    if one.window is None or one.no_day_because is None or one.merit_clean is None:
        return ()  # a fish that is ill, or may not go, is not touched up for this show
    if yard.keeper.touch_up.by == "nobody" or one.events.record.altered_fish == "excluded":
        return ()
    gap = yard.days("sedate_to_show_gap")
    first, last = max(one.window.earliest, yard.on), one.events.departure_day - gap
    return tuple(
        day
        for day in yard.work_days(first, last)
        if touch_ups.against(day) is None
        and vat_clean_on(yard, touch_ups, one.events, day) is not None
    )


def vat_clean_on(yard: Yard, touch_ups: TouchUps, events: Events, day: date) -> date | None:
    """When the wounds would be clean in the vat in a slow case; None when not in time."""
    isolation = yard.keeper.isolation
    if isolation is None or not touch_ups.specks:
        return None
    finish_by = events.benching_day - timedelta(days=yard.keeper.preferences.spare_days)
    if not touch_ups.window(events).earliest <= day <= finish_by:
        return None
    ramp = yard.figures["temp_ramp"]
    mean_on = yard.waters.moved(touch_ups.mean_on, isolation.water, day, ramp)
    last = day
    for speck in touch_ups.specks:
        for name, milestone in milestones(speck, yard.facts.kinds[speck.kind]):
            by = finish_by if name == "clean" else events.departure_day
            on = reached(milestone, "high", day, mean_on, by)
            if on is None:
                return None
            last = max(last, on)
    return last


def _limits(yard: Yard, events: Events) -> ShowLimits:
    limits, carrying = events.record.limits, yard.keeper.carrying
    return ShowLimits(
        show=events.show,
        fish=limits.fish,
        fish_at_least=limits.fish_at_least,
        total_cm=limits.total_cm,
        total_cm_at_least=limits.total_cm_at_least,
        points=limits.points,
        entries_per_class=limits.entries_per_class,
        boxes=carrying.boxes,
        kg=carrying.kilograms,
        fee=events.record.fee,
        price=_journey_price(yard, events),
        weight=events.record.counts,
    )


def _worth_showing(yard: Yard) -> int:
    """From which merit showing is worth it: the keeper's word, or half the best of the yard."""
    told = yard.keeper.preferences.worth_showing
    best = max((fish.record.merit for fish in yard.fish_here()), default=0.0)
    return _hundredths(best / 2 if told is None else told)


def _journey_price(yard: Yard, events: Events) -> int:
    """What going costs, whatever goes: the journey both ways, and the show's fee if it counts."""
    preferences = yard.keeper.preferences
    price = preferences.journey_price
    road = price.show + 2 * events.record.travel_hours * price.hour
    return _hundredths(road + preferences.fees_in_points * events.record.fee)


def _price_per_fish(yard: Yard, events: Events) -> int:
    preferences = yard.keeper.preferences
    fee = preferences.fees_in_points * events.record.fee_per_fish
    return _hundredths(preferences.journey_price.fish + fee)


def _apart_pairs(yard: Yard) -> frozenset[tuple[str, str]]:
    planned = yard.planned()
    pairs = set()
    for first in planned:
        free = free_from(yard, first)
        for later in planned:
            follows = later.show != first.show and first.departure <= later.departure
            if follows and later.departure_day < free:
                pairs.add((first.show, later.show))
    return frozenset(pairs)


def _spacings(
    yard: Yard, touch_ups: Mapping[str, TouchUps], options: Sequence[TouchUpOption]
) -> dict[tuple[str, date], int]:
    return {
        (option.fish, option.day): days_between(
            touch_ups[option.fish].mean_on(option.day), yard.figures
        )
        for option in options
    }


def _hundredths(merit: float) -> int:
    return round(merit * 100)
