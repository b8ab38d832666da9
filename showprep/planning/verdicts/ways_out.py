"""What would change a verdict, each way with its dates worked out; none breaks a caution."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date, timedelta

from showprep.husbandry.healing import reached
from showprep.husbandry.healing_base import anchor_of
from showprep.husbandry.reason import Chance, Kelvin, Litres, ShowId, reason
from showprep.husbandry.thermal_time import MeanOn
from showprep.planning.chances.needs import milestones
from showprep.planning.entries.question import in_vat
from showprep.planning.plan import Verdict, WayOut
from showprep.planning.verdicts.one_more_day import free_hands_days
from showprep.planning.verdicts.prospects import Prospect
from showprep.planning.verdicts.touch_ups import TouchUps
from showprep.planning.verdicts.wounds import blemish
from showprep.planning.worksheets.bags_season import way_there
from showprep.planning.yard.apart import apart_after
from showprep.planning.yard.yard import Yard
from showprep.selection.problem import Solution

Prospects = Mapping[tuple[str, str], Prospect]
LEAST_WORTH_TELLING = 0.3
"""A touch-up less likely than this is not told of."""
VAT_TRIED = (14, 21, 28, 35)
"""Days before the last fit day on which healing in the vat is tried."""
BETTER = frozenset({"ready", "ready-after-touch-up"})


def ways_out(
    yard: Yard,
    verdict: Verdict,
    prospects: Prospects,
    touch_ups: TouchUps,
    solution: Solution,
) -> tuple[WayOut, ...]:
    """Every way out for a fish that is too late, tight, or goes with a blemish."""
    one = prospects[verdict.fish, verdict.show]
    way = tuple(_on_the_way(yard, one))
    if verdict.verdict not in ("too-late", "tight", "as-it-is"):
        return way
    found = [
        *_heal_warmer(yard, one, solution),
        *_speck_in_vat(yard, one, touch_ups, solution),
        *_other_day(yard, one, touch_ups),
        *_accept_less(yard, one, touch_ups),
        *_next_show(yard, one, prospects),
        *_as_it_is(one, verdict),
    ]
    return (*found, *way)


def _on_the_way(yard: Yard, one: Prospect) -> Iterator[WayOut]:
    """How it travels where one bag is not good for the way."""
    sheet = way_there(yard, one.events, one.fish.id)
    ways = sheet.ways if sheet is not None else None
    if sheet is None or ways is None:
        return
    if ways.fillings is not None and ways.water_l is not None:
        fresh = Litres(ways.water_l * (ways.fillings - 1))
        yield WayOut(reason("change-water-at", at=ways.change_at, fresh=fresh))
    if ways.tank is not None:
        litres, own = Litres(ways.tank.litres), int(sheet.ask.tank_l is not None)
        changes = ways.tank.fillings - 1
        yield WayOut(reason("take-a-tank", litres=litres, changes=changes, own=own))
    if ways.good_for_h > 0:
        yield WayOut(reason("a-nearer-show", longest=ways.good_for_h))


def _heal_warmer(yard: Yard, one: Prospect, solution: Solution) -> Iterator[WayOut]:
    """A wound healing in the warmer vat, warmed slowly from the next work day."""
    isolation = yard.keeper.isolation
    wounds = [view for view in one.outlooks if view.word in ("too-late", "tight", "as-it-is")]
    wounds = [view for view in wounds if view.may == "heals" and view.healing]
    if isolation is None or not wounds:
        return
    moves = yard.work_days(yard.on, one.events.departure_day - timedelta(days=1))
    if not moves or not vat_free(yard, solution, moves[0], one.events.departure_day):
        return
    mean_on = yard.mean_on(one.fish)
    warm = yard.waters.moved(mean_on, isolation.water, moves[0], yard.figures["temp_ramp"])
    if warm(one.events.departure_day) <= mean_on(one.events.departure_day) + 1:
        return
    for view in wounds:
        for name, milestone in milestones(view.defect, view.kind):
            deadline = one.events.departure_day if name == "closed" else one.events.benching_day
            anchor = anchor_of(view.kind.id)
            there = reached(milestone, "usual", view.defect.heals_from, warm, anchor_c=anchor)
            if there is not None and view.kind.stitched and _too_warm(yard, moves[0], there, warm):
                continue
            here = reached(milestone, "usual", view.defect.heals_from, mean_on, anchor_c=anchor)
            if there is None or there > deadline or (here is not None and here <= deadline):
                continue
            way = reason(
                "heal-warmer",
                water=isolation.water,
                on=moves[0],
                ramp=Kelvin(yard.figures["temp_ramp"]),
                it=blemish(view.defect),
                milestone=name,
                there=there,
                show=ShowId(one.events.show),
            )
            yield WayOut(way, there)


def _too_warm(yard: Yard, first: date, last: date, mean_on: MeanOn) -> bool:
    """Is the water warmer than serves a stitched cut on any day from `first` to `last`?"""
    days = range(first.toordinal(), last.toordinal() + 1)
    limit = yard.figures["stitched_warm"]
    return any(mean_on(date.fromordinal(number)) > limit for number in days)


def vat_free(yard: Yard, solution: Solution, first: date, last: date) -> bool:
    """Is the isolation vat free of fish back from a show from `first` to `last`?"""
    going = {show for _, show, _ in solution.entries}
    stays = [apart_after(yard, yard.events[show]) for show in sorted(going)]
    healing = [
        day for fish, day, water in solution.touch_ups if _heals_in_vat(yard, fish, day, water)
    ]
    busy = any(stay.home <= last and first <= stay.last for stay in stays)
    return not busy and len(healing) < (yard.keeper.isolation.holds if yard.keeper.isolation else 0)


def _heals_in_vat(yard: Yard, fish: str, day: date, water: str) -> bool:
    return water != yard.taken_from(yard.state.fish[fish], day)


def _speck_in_vat(
    yard: Yard, one: Prospect, touch_ups: TouchUps, solution: Solution
) -> Iterator[WayOut]:
    """What healing in the warm vat would gain, where the keeper does not allow it."""
    if one.window is None or yard.keeper.preferences.heal_in_vat or yard.keeper.isolation is None:
        return
    last = one.events.departure_day - yard.days("sedate_to_show_gap")
    work = yard.session_days(yard.on, last)
    tried = {
        max((day for day in work if day <= last - timedelta(days=ago)), default=yard.on)
        for ago in VAT_TRIED
    }
    found = in_vat(yard, touch_ups, one, sorted(tried & set(work)))
    free = {
        day: chance
        for day, chance in found.items()
        if vat_free(yard, solution, day, one.events.departure_day)
    }
    if free:
        best = max(free.values(), key=lambda chance: chance.both)
        here = one.best.both if one.best is not None else touch_ups.on(best.day, one.events).both
        way = reason(
            "heal-speck-in-vat",
            on=best.day,
            water=yard.keeper.isolation.water,
            ramp=Kelvin(yard.figures["temp_ramp"]),
            chance=Chance(best.both),
            here=Chance(here),
        )
        yield WayOut(way, best.day)


def _other_day(yard: Yard, one: Prospect, touch_ups: TouchUps) -> Iterator[WayOut]:
    """A day that is fit but for free hands."""
    if one.window is None or one.days or one.no_day_because is None or one.merit is None:
        return  # among others it is ill, or barred from this show
    if yard.keeper.touch_up.by == "nobody" or one.events.record.altered_fish == "excluded":
        return
    fit = free_hands_days(yard, touch_ups, one)
    if fit:
        day = max(fit, key=lambda each: touch_ups.on(each, one.events).both)
        chance = Chance(touch_ups.on(day, one.events).both)
        yield WayOut(reason("free-hands-on", on=day, chance=chance), day)


def _accept_less(yard: Yard, one: Prospect, touch_ups: TouchUps) -> Iterator[WayOut]:
    """The likeliest fit day, where it is less likely than the keeper asks for."""
    if one.window is None or one.days or one.merit is None or one.window.likeliest is None:
        return
    if yard.keeper.touch_up.by == "nobody" or one.events.record.altered_fish == "excluded":
        return
    last = one.events.departure_day - yard.days("sedate_to_show_gap")
    fit = [
        touch_ups.on(day, one.events)
        for day in yard.session_days(yard.on, last)
        if touch_ups.against(day) is None and touch_ups.closed_by(day, one.events)
    ]
    best = max(fit, key=lambda found: found.both, default=None)
    if best is not None and LEAST_WORTH_TELLING <= best.both < one.limits.least:
        yield WayOut(reason("accept-less", on=best.day, chance=Chance(best.both)), best.day)


def _next_show(yard: Yard, one: Prospect, prospects: Prospects) -> Iterator[WayOut]:
    later = [
        other
        for (fish, _), other in prospects.items()
        if fish == one.fish.id
        and other.events.departure > one.events.departure
        and other.word in BETTER
    ]
    if later:
        first = min(later, key=lambda other: (other.events.departure, other.events.show))
        day = first.events.benching_day
        yield WayOut(reason("next-show", show=ShowId(first.events.show), on=day), day)


def _as_it_is(one: Prospect, verdict: Verdict) -> Iterator[WayOut]:
    if verdict.verdict == "as-it-is" and not verdict.entered and verdict.merit is not None:
        lost = one.fish.record.merit - verdict.merit
        yield WayOut(reason("enter-as-it-is", merit=verdict.merit, lost=lost))
