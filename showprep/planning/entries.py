"""From prospects to the choice problem, and back: who goes where, touched up on which day."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date, timedelta

from showprep.husbandry.healing import reached
from showprep.husbandry.sedation_fit import days_between
from showprep.planning.apart import Apart, apart_after, free_from, vat_free_from
from showprep.planning.choice.problem import (
    EntryOption,
    Problem,
    ShowLimits,
    TouchUpOption,
)
from showprep.planning.events import Events
from showprep.planning.lengths import class_index
from showprep.planning.prospects import Prospect
from showprep.planning.touch_ups import TouchUps
from showprep.planning.wounds import milestones
from showprep.planning.yard import Yard

Prospects = Mapping[tuple[str, str], Prospect]
Aparts = Mapping[str, Apart]  # by show


def problem_of(yard: Yard, prospects: Prospects, touch_ups: Mapping[str, TouchUps]) -> Problem:
    """All options and limits of the season, as plain data for the choice."""
    preferences = yard.keeper.preferences
    apart = {events.show: apart_after(yard, events) for events in yard.planned()}
    options = tuple(
        option
        for fish_id in sorted(touch_ups)
        for option in _touch_up_options(yard, touch_ups[fish_id], prospects, apart)
    )
    return Problem(
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
        needs = one.has_speck
        can_be_clean = not needs or bool(one.days or one.tight_days or yard.keeper.isolation)
        index = class_index(yard, one.events, one.length)
        points = one.events.record.limits.points_by_size
        options.append(
            EntryOption(
                fish=fish_id,
                show=show_id,
                merit_clean=_hundredths(one.merit_clean) if can_be_clean else None,
                merit_marked=None if one.merit_marked is None else _hundredths(one.merit_marked),
                needs_touch_up=needs,
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
        clean = frozenset(one.events.show for one in mine if day in _usable(yard, one))
        bars = frozenset(_barred(yard, touch_ups, mine, day, apart))
        options.append(TouchUpOption(fish.id, day, yard.taken_from(fish, day), clean - bars, bars))
    return options + _vat_options(yard, touch_ups, mine, apart)


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
    """Days that are in time only if the nick heals in the warmer isolation vat."""
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
        clean_for = frozenset(clean) - bars
        if clean_for:
            until = max(clean[show] for show in clean_for)
            options.append(
                TouchUpOption(
                    touch_ups.fish.id, day, isolation.water, clean_for, bars, (day, until)
                )
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
    """When the nicks would be clean in the vat in a slow case; None when not in time."""
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
    )


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
