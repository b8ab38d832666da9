"""From prospects to the choice problem, and back: who goes where, touched up on which day."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date, timedelta

from msgspec.structs import replace

from showprep.husbandry.best_touch_up_day import BETTER_BY
from showprep.husbandry.healing import reached
from showprep.husbandry.healing_base import anchor_of
from showprep.husbandry.sedation_fit import days_between
from showprep.husbandry.thermal_time import MeanOn
from showprep.planning.as_of.state import DefectState
from showprep.planning.chances.chances import expected_loss
from showprep.planning.chances.limits import planned_day, stands
from showprep.planning.chances.needs import milestones
from showprep.planning.plan import TouchUpChance
from showprep.planning.verdicts.class_points import points_of
from showprep.planning.verdicts.company import places_left
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

VAT_AT_MOST = timedelta(days=70)
"""So long before the journey healing in the vat is tried: a speck may be back after more."""

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
        vat_holds=places_left(yard),
        fees=preferences.fees_at_most,
        fixed=standing(yard, prospects, options),
    )


def _entries(yard: Yard, prospects: Prospects, apart: Aparts) -> Sequence[EntryOption]:
    options = []
    vats = {
        show: (one.home, vat_free_from(yard, one) - timedelta(days=1))
        for show, one in apart.items()
        if yard.keeper.isolation is not None
    }
    for (fish_id, show_id), one in sorted(prospects.items()):
        if one.merit is None:
            continue
        index = class_index(yard, one.events, one.length)
        options.append(
            EntryOption(
                fish=fish_id,
                show=show_id,
                merit=_hundredths(one.merit),
                group=f"{one.fish.record.variety} {'' if index is None else index}",
                price=_price_per_fish(yard, one.events),
                length_cm=one.length.expected if one.length is not None else 0.0,
                points=points_of(yard, one.events, one.length).expected,
                size_class="" if index is None else str(index),
                kg=one.kg or 0.0,
                fee=one.events.record.fee_per_fish,
                must=show_id in one.fish.record.must_show
                or yard.is_entered(one.fish, show_id)
                or one.events in yard.been_to(one.fish),
                vat=vats.get(show_id),
            )
        )
    return options


def _touch_up_options(
    yard: Yard, touch_ups: TouchUps, prospects: Prospects, apart: Aparts
) -> list[TouchUpOption]:
    fish = touch_ups.fish
    done = {defect.touched for defect in fish.defects if defect.touched is not None}
    if not touch_ups.specks or len(done) >= yard.keeper.preferences.touch_up_days_per_fish:
        return []
    mine = [one for (fish_id, _), one in sorted(prospects.items()) if fish_id == fish.id]
    merits = {one.events.show: _merits(yard, one, one.likely, one.merits) for one in mine}
    settled = {one.events.show: _settled_from(yard, touch_ups, one.events, apart) for one in mine}
    options = []
    for day in sorted({day for one in mine for day in one.days}):
        bars = frozenset(_barred(yard, touch_ups, mine, day, settled))
        served = {
            show: found[day] for show, found in merits.items() if day in found and show not in bars
        }
        options.append(TouchUpOption(fish.id, day, yard.taken_from(fish, day), served, bars))
    return options + _vat_options(yard, touch_ups, mine, settled)


def _merits(
    yard: Yard, one: Prospect, likely: Mapping[date, float], expected: Mapping[date, float]
) -> dict[date, int]:
    """What a touch-up on each day gives at a show, in hundredths of a point.

    All but the best day are told in steps of 0.02 of what a touch-up gains, downward: finer steps
    decide nothing, and make the choice long. The day of the last plan stays unless another is
    better by 0.02: until then others give a little less than it.
    """
    found = {day: _hundredths(expected[day]) for day in likely}
    best = max(likely, key=lambda day: likely[day], default=None)  # of equal ones the earliest
    if best is not None:
        step = max(round(BETTER_BY * (found[best] - _hundredths(one.merit or 0.0))), 1)
        found = {
            day: got
            if day == best
            else found[best] - max(-(-(found[best] - got) // step), 1) * step
            for day, got in found.items()
        }
    planned = planned_day(yard, one.fish.id, one.events.show)
    if planned is not None and planned in found:
        enough, most = likely[planned] + BETTER_BY, found[planned] - 1
        for day, chance in likely.items():
            if day != planned and chance < enough:
                found[day] = min(found[day], most)
        found[planned] += 1  # of plans as good as each other the last one stands
    return found


def standing(
    yard: Yard, prospects: Prospects, options: Sequence[TouchUpOption]
) -> frozenset[tuple[str, date, str]]:
    """The touch-ups on days that the keeper has set, as many as there are hands for, and those of
    the last plan that are near, as likely as then but for a fifth. They move for what is better."""
    found = _on_set_days(yard, options)
    for option in options:
        for show in option.merits:
            one = prospects[option.fish, show]
            chance = one.days.get(option.day)
            if option.vat is not None or chance is None:
                continue
            if max(one.likely.values()) >= one.likely[option.day] + BETTER_BY:
                continue
            if stands(yard, option.fish, show, option.day, chance.both):
                found.add(option.key)
    return frozenset(found)


def _on_set_days(yard: Yard, options: Sequence[TouchUpOption]) -> set[tuple[str, date, str]]:
    found: set[tuple[str, date, str]] = set()
    in_vat = {(option.fish, option.day) for option in options if option.vat is not None}
    for option in options:
        fish = yard.state.fish[option.fish]
        is_set = any(option.day in fish.touch_up_days(show, yard.on) for show in option.merits)
        hands = sum(day == option.day for _, day, _ in found) < yard.keeper.touch_up.fish_per_day
        near = any(
            one == option.fish and abs((day - option.day).days) < yard.days("sedation_spacing").days
            for one, day, _ in found
        )
        # Where healing in the vat is likelier in time, the choice settles where it heals.
        if is_set and hands and not near and (option.fish, option.day) not in in_vat:
            found.add(option.key)
    return found


def _barred(
    yard: Yard,
    touch_ups: TouchUps,
    mine: Sequence[Prospect],
    day: date,
    settled: Mapping[str, date],
) -> list[str]:
    """Shows the fish cannot go to when touched up on `day`."""
    gap = yard.days("sedate_to_show_gap")
    barred = []
    for one in mine:
        events = one.events
        if day >= settled[events.show]:
            continue
        if events.record.altered_fish == "excluded" and day <= events.benching_day:
            barred.append(events.show)
        elif day + gap > events.departure_day:
            barred.append(events.show)  # too near the journey, away, or apart after it
        elif not touch_ups.closed_by(day, events):
            barred.append(events.show)
    return barred


def _settled_from(yard: Yard, touch_ups: TouchUps, events: Events, aparts: Aparts) -> date:
    """The first day after a show on which the fish may be touched up.

    It has to settle after the way home, and again after the move out of the vat: longer where
    that is a fall of 8 °C or more, by a ramp or not.
    """
    settle, apart = yard.days("block_after_move"), aparts[events.show]
    isolation, home = yard.keeper.isolation, events.home_day + settle + timedelta(days=1)
    if isolation is None or touch_ups.fish.record.lives_in == isolation.water:
        return max(apart.last + timedelta(days=1), home)
    free = vat_free_from(yard, apart)
    lives_in = yard.waters.of(touch_ups.fish.record.lives_in)
    fall = yard.waters.of(isolation.water)(free) - lives_in(free)
    if fall >= yard.figures["cold_drop"]:
        settle = max(settle, yard.days("cold_drop_days"))
    return max(free + settle, home)


def _vat_options(
    yard: Yard, touch_ups: TouchUps, mine: Sequence[Prospect], settled: Mapping[str, date]
) -> list[TouchUpOption]:
    """Days on which healing in the warmer isolation vat is more likely in time than at home."""
    isolation = yard.keeper.isolation
    if isolation is None or not yard.keeper.preferences.heal_in_vat:
        return []
    options = []
    found = {one.events.show: in_vat(yard, touch_ups, one) for one in mine}
    merits = {
        one.events.show: _merits(
            yard,
            one,
            {day: chance.both for day, chance in found[one.events.show].items()},
            {day: vat_merit(yard, touch_ups, one, day) for day in found[one.events.show]},
        )
        for one in mine
    }
    taken = _nights_taken(yard, touch_ups.fish.id, isolation.water)
    for day in sorted({day for days in found.values() for day in days}):
        there = healing_in_vat(yard, touch_ups, day)
        bars = frozenset(_barred(yard, there, mine, day, settled))
        served = {
            show: some[day] for show, some in merits.items() if day in some and show not in bars
        }
        if served:
            until = max(
                vat_until(yard, there.specks, there.mean_on, yard.events[show], day)
                for show in served
            )
            # The vat is brought to the warmth of one water, and then warmed: all in, all out.
            cohort = f"{yard.taken_from(touch_ups.fish, day)} {day}"
            option = TouchUpOption(
                touch_ups.fish.id, day, isolation.water, served, bars, (day, until), cohort
            )
            if not any(day <= night <= until for night in taken):
                options.append(option)
    return options


def _nights_taken(yard: Yard, fish: str, vat: str) -> frozenset[date]:
    """The nights from today on on which another fish is in the vat, as far as is known."""
    last = max((one.home_day for one in yard.planned()), default=yard.on)
    nights = [yard.on + timedelta(days=number) for number in range((last - yard.on).days + 1)]
    others = [one for one in yard.fish_here() if one.id != fish]
    return frozenset(
        night
        for night in nights
        if any(yard.taken_from(one, night + timedelta(days=1)) == vat for one in others)
    )


def healing_in_vat(yard: Yard, touch_ups: TouchUps, day: date) -> TouchUps:
    """The same fish in the isolation vat from `day` on, warmed by the ramp."""
    key = ("healing in the vat", touch_ups.fish.id, touch_ups.chances, day)
    return yard.once(key, lambda: _healing_in_vat(yard, touch_ups, day))


def _healing_in_vat(yard: Yard, touch_ups: TouchUps, day: date) -> TouchUps:
    isolation = yard.keeper.isolation
    assert isolation is not None
    ramp = yard.figures["temp_ramp"]
    mean_on = yard.waters.moved(touch_ups.mean_on, isolation.water, day, ramp)
    chances = touch_ups.chances.yard.moved(touch_ups.fish, day, isolation.water, mean_on)
    return replace(touch_ups, mean_on=mean_on, chances=chances)


def in_vat(
    yard: Yard, touch_ups: TouchUps, one: Prospect, days: Sequence[date] | None = None
) -> dict[date, TouchUpChance]:
    """Fit days of a touch-up that heals in the vat, with their chances: better ones than at home.

    `days` are those to try; else every work day far enough from the journey.
    """
    if yard.keeper.isolation is None or not touch_ups.specks or one.merit is None:
        return {}  # a fish that is ill, or may not go, is not touched up for this show
    if yard.keeper.touch_up.by == "nobody" or one.events.record.altered_fish == "excluded":
        return {}
    gap = yard.days("sedate_to_show_gap")
    last = one.events.departure_day - gap
    own = touch_ups.fish.touch_up_days(one.events.show, yard.on)
    tried = yard.session_days(max(yard.on, last - VAT_AT_MOST), last) if days is None else days
    if own:
        tried = [day for day in own if days is None or day in days]
    against = touch_ups.against_set if own else touch_ups.against
    found = {}
    best = one.best.both if one.best is not None else 0.0
    for day in tried:
        if day < yard.on or day > last or against(day) is not None:
            continue
        there = healing_in_vat(yard, touch_ups, day)
        chance = replace(there.on(day, one.events), fit=True)
        enough = chance.both >= one.limits.least and chance.both >= best + BETTER_BY
        if enough and there.closed_by(day, one.events):
            found[day] = chance
    return found


def vat_merit(yard: Yard, touch_ups: TouchUps, one: Prospect, day: date) -> float:
    """The merit to expect of a touch-up that heals in the vat."""
    merit = one.fish.record.merit
    others = [view for view in one.outlooks if view.defect not in touch_ups.specks]
    losses = [(view.defect.merit_lost, view.unseen) for view in others]
    unseen = healing_in_vat(yard, touch_ups, day).unseen(day, one.events)
    return merit - expected_loss([*losses, *unseen], merit)


def vat_until(
    yard: Yard, specks: Sequence[DefectState], mean_on: MeanOn, events: Events, day: date
) -> date:
    """The last day in the vat, `mean_on` around it: clean in a slow case, or departure."""
    last = day
    for speck in specks:
        kind = yard.facts.kinds[speck.kind]
        for _, milestone in milestones(speck, kind):
            anchor, end = anchor_of(kind.id), events.departure_day
            last = max(last, reached(milestone, "high", day, mean_on, end, anchor) or end)
    return last


def _limits(yard: Yard, events: Events) -> ShowLimits:
    limits, carrying = events.record.limits, yard.keeper.carrying
    places = [limits.fish] if limits.fish is not None else []
    if (form := yard.presumed_forms.get(events.show)) is not None:
        places.append(len(form.fish))  # a reserve steps in for one of them, and is none besides
    return ShowLimits(
        show=events.show,
        fish=min(places, default=None),
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
