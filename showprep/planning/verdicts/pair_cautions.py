"""What to mind about one fish at one show: the handling, its size, the season of spawning."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

from showprep.husbandry.bag_size import COLDEST_BAG_C, WARMEST_BAG_C
from showprep.husbandry.heat import care_in
from showprep.husbandry.reason import Celsius, Centimetres, Chance, Reason, reason
from showprep.husbandry.sedation_fit import before_departure
from showprep.husbandry.spawning import after_spawning, is_grown, spawning_weather
from showprep.planning.as_of.state import FishState
from showprep.planning.plan import ExpectedClass, ExpectedLength, TouchUpChance
from showprep.planning.verdicts.eligibility import birth_year, treated_level
from showprep.planning.verdicts.touch_ups import TouchUps
from showprep.planning.worksheets.bags_season import way_there
from showprep.planning.yard.events import Events
from showprep.planning.yard.yard import Yard

MAY_TRAVEL = 0.4
"""How likely water cool enough for the journey must be, where it is expected to be too warm, for
the show to count still (our choice: a fish that stays at home was sedated for nothing)."""


def cautions_of(
    yard: Yard,
    touch_ups: TouchUps,
    events: Events,
    length: ExpectedLength | None,
    classes: ExpectedClass | None,
    best: TouchUpChance | None,
) -> Iterator[Reason]:
    """What to mind about one fish at one show; `best` is the best day it may be touched up on."""
    fish = touch_ups.fish
    if best is not None:
        yield from _touch_up_cautions(yard, touch_ups, events, length, best.day)
    elif _has_wound(yard, fish) and (variety := _darkening(yard, fish)) is not None:
        yield reason("wound-may-darken", variety=variety)
    if classes is not None and classes.near_limit is not None:
        yield classes.near_limit
    elif classes is not None and len(classes.possible) > 1:
        yield reason("class-not-sure", classes=classes.possible)
    if length is None:
        yield reason("never-measured")
    if events.record.limits.oldest is not None and birth_year(fish) is None:
        yield reason("age-not-known", oldest=events.record.limits.oldest)
    if _met_others(yard, fish, events):
        yield reason("may-be-a-carrier")
    if _may_spawn(yard, fish, events, length):
        yield reason("may-spawn")
    if fish.spawned is not None:
        since = (events.departure_day - fish.spawned).days
        if after_spawning(since, yard.figures) == "caution":
            yield reason("spawned-before-show", on=fish.spawned)
    for one in fish.treated:
        if treated_level(yard, one, events) == "warn":
            yield reason(
                "treated-before-show",
                what=one.what,
                on=one.on,
                days=(events.departure_day - one.on).days,
            )
    yield from _journey(yard, fish, events)
    if (doubt := heat_in_doubt(yard, touch_ups, events)) is not None:
        yield doubt
    warmth = yard.mean_on(fish)(events.departure_day)
    if care_in(warmth, yard.figures):
        limit = Celsius(yard.figures["sed_hot_block"])
        on = events.departure_day
        yield reason("leaves-in-heat", on=on, water=Celsius(warmth), limit=limit)


def heat_in_doubt(yard: Yard, touch_ups: TouchUps, events: Events) -> Reason | None:
    """Water expected to be too warm for a bag at departure, but that may well be cooler by then.

    It is no bar yet: what the fish needs before the journey is done, and what is read decides.
    """
    sheet, day = way_there(yard, events, touch_ups.fish.id), events.departure_day
    if sheet is None or sheet.refused is None or sheet.refused.code != "too-warm-to-bag":
        return None
    if day <= yard.on or touch_ups.read_on(day):
        return None
    cooler = touch_ups.chances.warmth.chance_within(day, COLDEST_BAG_C, WARMEST_BAG_C)
    if not MAY_TRAVEL <= cooler < 1:
        return None
    return reason(
        "may-be-too-warm-to-bag",
        on=day,
        water=Celsius(round(sheet.ask.water_c, 1)),
        limit=Celsius(WARMEST_BAG_C),
        chance=Chance(round(cooler, 4)),
    )


def _journey(yard: Yard, fish: FishState, events: Events) -> Iterator[Reason]:
    """A way longer than one bag is good for."""
    sheet = way_there(yard, events, fish.id)
    ways = sheet.ways if sheet is not None else None
    if sheet is None or ways is None:
        return
    how, hours = ways.travels(sheet.ask), sheet.ask.hours
    if how == "change":
        times = len(ways.change_after_h)
        at = ways.change_at[0]
        yield reason("water-changed-on-way", hours=hours, good=ways.good_for_h, times=times, at=at)
    elif how == "tank" and ways.tank is not None:
        yield reason("goes-in-a-tank", hours=hours, good=ways.good_for_h)


def _met_others(yard: Yard, fish: FishState, events: Events) -> bool:
    """Did it come, or come home from another show, within the year before this one?"""
    came = [] if fish.record.came is None else [fish.record.came]
    home = [other.home_day for other in yard.been_to(fish) if other.show != events.show]
    return any(0 <= (events.departure_day - day).days <= 366 for day in (*came, *home))


def _touch_up_cautions(
    yard: Yard, touch_ups: TouchUps, events: Events, length: ExpectedLength | None, day: date
) -> Iterator[Reason]:
    variety = _darkening(yard, touch_ups.fish)
    if variety is not None:
        yield reason("may-darken", variety=variety)
    if events.record.altered_fish == "not stated":
        yield reason("altered-not-stated")
    yield from touch_ups.cautions(day)
    if length is not None and not 15 <= length.expected <= 70:
        yield reason("dose-less-sure", length=Centimetres(length.expected))
    fit = before_departure(day, events.departure_day, yard.figures)
    if fit.reason is not None:
        yield fit.reason


def _darkening(yard: Yard, fish: FishState) -> str | None:
    """The name of a plain variety on which a scratch may stay dark; how often is not known."""
    variety = yard.facts.varieties.get(fish.record.variety)
    return variety.name if variety is not None and variety.darkens else None


def _has_wound(yard: Yard, fish: FishState) -> bool:
    """Has it a wound that heals, or a speck already taken off?"""
    for defect in fish.open_defects:
        kind = yard.facts.kinds[defect.kind]
        if kind.is_wound and (kind.may != "touch-up" or defect.touched is not None):
            return True
    return False


def _may_spawn(yard: Yard, fish: FishState, events: Events, length: ExpectedLength | None) -> bool:
    """Is it a female of spawning size, and the water such that koi spawn?

    The water it leaves, or the show's, which may be the warmer one.
    """
    expected = None if length is None else length.expected
    years = _years(fish.record.born, events.benching_day)
    if fish.record.sex != "female" or not is_grown(expected, yard.figures, years):
        return False
    mean_on = yard.mean_on(fish)
    before = mean_on(events.departure_day - timedelta(days=14))
    there = events.record.water_c
    warmths = (
        (mean_on(events.departure_day), there)
        if there is not None
        else (mean_on(events.departure_day),)
    )
    return any(spawning_weather(warmth, before, yard.figures) for warmth in warmths)


def _years(born: date | int | None, day: date) -> float | None:
    """Age [years] on `day`; a year of birth alone counts from its first day. None if unborn."""
    if born is None:
        return None
    first = date(born, 1, 1) if isinstance(born, int) else born
    return (day - first).days / 365.25 if first <= day else None
