"""The company a fish keeps: who is kept apart with whom, what was exposed, who may sign.

Isolation is all in, all out. All of it is read off the courses and the meetings.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import date, timedelta

from msgspec import Struct

from showprep.husbandry.isolation import clear_on, declared_from
from showprep.husbandry.reason import FishId, Reason, ShowId, reason
from showprep.planning.as_of.state import FishState
from showprep.planning.plan import Warning_
from showprep.planning.yard.course import WaterMove
from showprep.planning.yard.events import Events
from showprep.planning.yard.kept_apart import KeptApart
from showprep.planning.yard.yard import Yard

DAY = timedelta(days=1)
NEW_FOR = timedelta(days=366)
"""How long a fish without a test counts as new, whatever a show asks for (assumption)."""
TEST_TAKES = timedelta(days=14)
"""From the swab to the laboratory's answer (assumption)."""


def standing_on(yard: Yard, day: date) -> Iterator[KeptApart]:
    """The groups that are in the isolation vat at the end of `day` and not cleared by then."""
    for group in yard.courses.kept_apart:
        if group.first <= day and (group.clear is None or day < group.clear):
            yield group


def residents(yard: Yard, day: date) -> frozenset[str]:
    """The fish in the isolation vat on `day` that no group holds: it is where they live."""
    isolation = yard.keeper.isolation
    if isolation is None:
        return frozenset()
    here = {fish.id for fish in yard.fish_here()}
    inside = {one for one in here if yard.courses[one].water_on(day) == isolation.water}
    apart = {fish for group in standing_on(yard, day) for fish in group.fish}
    return frozenset(inside - apart)


def places_left(yard: Yard) -> int | None:
    """Places in the isolation vat for fish home from the shows to come; None without a vat.

    Fish that live there and are never shown hold theirs; of the others it shows once the entries
    are chosen who stays (see `company_warnings`).
    """
    isolation = yard.keeper.isolation
    if isolation is None:
        return None
    staying = {one.id for one in yard.fish_here() if one.record.never_show == "all"}
    days = [events.home_day for events in yard.planned()]
    held = max((len(residents(yard, day) & staying) for day in days), default=0)
    return max(0, isolation.holds - held)


def vat_taken(yard: Yard, events: Events) -> Reason | None:
    """Why nobody can come home from a show: those in the vat by then are not cleared."""
    isolation = yard.keeper.isolation
    if isolation is None:
        return None
    for group in standing_on(yard, events.home_day):
        if group.first < events.home_day and events.show not in group.shows:
            fish = tuple(map(FishId, group.fish))
            return reason(
                "vat-taken",
                water=isolation.water,
                fish=fish,
                home=events.home_day,
                until=group.clear,
            )
    return None


def in_the_vat_with(yard: Yard, fish: FishState, events: Events) -> Reason | None:
    """A fish that lives in the isolation vat shares the time apart of those that came into it."""
    isolation, course = yard.keeper.isolation, yard.course(fish)
    if isolation is None:
        return None
    leaves = events.departure_day
    for group in yard.courses.kept_apart:
        cleared = group.clear is not None and group.clear <= leaves
        if fish.id in group.fish or group.first >= leaves or cleared:
            continue
        together = (day for day in _days(group.first, leaves - DAY))
        if any(course.water_on(day) == isolation.water for day in together):
            others = tuple(map(FishId, group.fish))
            return reason("vat-shared", water=isolation.water, fish=others, until=group.clear)
    return None


def _days(first: date, last: date) -> Iterator[date]:
    return (first + timedelta(days=number) for number in range((last - first).days + 1))


class Exposure(Struct, frozen=True):
    """A fish that joined others before its time apart was over, and whom that reached, when."""

    fish: str
    show: str | None
    on: date
    water: str
    reached: Mapping[str, date]
    clear: date | None  # when those are cleared in that water, None for never


def exposures(yard: Yard) -> Iterator[Exposure]:
    """Every fish that was, or is to be, moved among others before its group was cleared."""
    isolation = yard.keeper.isolation
    if isolation is None:
        return
    for group in yard.courses.kept_apart:
        for arrival in group.arrivals:
            for fish in arrival.fish:
                if fish not in yard.courses.by_fish or fish not in yard.state.fish:
                    continue
                left = _left_early(yard, fish, group, arrival.day, isolation.water)
                if left is None:
                    continue
                on, water = left
                reached = yard.courses.meetings.reached_from({fish: on})
                mean_on = yard.waters.of(water)
                clear = clear_on(on, mean_on, arrival.vats, yard.figures)
                yield Exposure(fish, arrival.show, on, water, reached, clear)


def _left_early(
    yard: Yard, fish: str, group: KeptApart, came: date, vat: str
) -> tuple[date, str] | None:
    """When a fish was moved out of the vat before its group was cleared, and into which water."""
    for stay in yard.courses[fish].stays:
        early = group.clear is None or stay.first < group.clear
        if stay.first > came and stay.water not in (None, vat) and early:
            moved = any(one.on == stay.first for one in yard.state.fish[fish].moves)
            return (stay.first, str(stay.water)) if moved else None
    return None


def exposed(yard: Yard, fish: FishState, events: Events) -> Reason | None:
    """What stands against a fish that met one which was not cleared."""
    for one in exposures(yard):
        met = one.reached.get(fish.id)
        if met is None or met > events.departure_day:
            continue
        if one.clear is None or events.departure_day < one.clear:
            named = FishId(one.fish)
            return reason("exposed", fish=named, on=one.on, water=one.water, until=one.clear)
    return None


def company_warnings(yard: Yard) -> Iterator[Warning_]:
    """What the company of fish makes wrong with the plan, as far as no single entry does."""
    for one in exposures(yard):
        others = tuple(FishId(other) for other in sorted(one.reached) if other != one.fish)
        why = reason(
            "moved-before-clear",
            fish=FishId(one.fish),
            show=ShowId(one.show) if one.show is not None else None,
            on=one.on,
            ahead=int(one.on > yard.on),
            water=one.water,
            others=others,
            until=one.clear,
        )
        yield Warning_("stop", why, fish=None)
    for events in yard.planned():
        yield from _overfull(yard, events)
    for group in yard.courses.kept_apart:
        yield from _grown_groups(yard, group)
    for fish, move in _moves_that_bar(yard):
        yield Warning_("warn", _move_bars(yard, fish, move), fish=fish.id)
    yield from _uncleared_mates(yard)


def _overfull(yard: Yard, events: Events) -> Iterator[Warning_]:
    """Too many in the vat with those who live there: a STOP for those that are worth least."""
    isolation = yard.keeper.isolation
    going = [one.fish for one in yard.courses.going_to(events.show) if one.grade == "planned"]
    if isolation is None or not going:
        return
    inside = residents(yard, events.home_day) | set(going)
    why = reason(
        "more-than-vat-holds",
        fish=len(inside),
        show=ShowId(events.show),
        water=isolation.water,
        holds=isolation.holds,
    )
    by_merit = sorted(going, key=lambda one: (yard.state.fish[one].record.merit, one))
    for fish in by_merit[: max(0, len(inside) - isolation.holds)]:
        yield Warning_("stop", why, fish=fish, show=events.show)


def _grown_groups(yard: Yard, group: KeptApart) -> Iterator[Warning_]:
    """Said beforehand: one more arrival starts the count of all in the vat again."""
    isolation = yard.keeper.isolation
    assert isolation is not None
    if len(group.arrivals) < 2 or (group.clear is not None and group.clear <= yard.on):
        return
    last, earlier = group.arrivals[-1], group.arrivals[:-1]
    why = reason(
        "count-starts-again",
        water=isolation.water,
        fish=tuple(map(FishId, last.fish)),
        show=ShowId(last.show) if last.show is not None else None,
        on=last.day,
        others=tuple(FishId(one) for each in earlier for one in each.fish),
        until=group.clear,
    )
    yield Warning_("warn", why, show=last.show)


def _untested(yard: Yard) -> Iterator[tuple[FishState, date]]:
    """Fish that joined the yard without a test, and when."""
    for fish in yard.fish_here():
        if fish.record.came is not None and not fish.record.tested:
            yield fish, fish.record.came


def _moves_that_bar(yard: Yard) -> Iterator[tuple[FishState, WaterMove]]:
    """Planned moves by which a fish without a test, or not cleared, would meet others."""
    for fish, came in _untested(yard):
        if came < yard.on - NEW_FOR:
            continue
        met_now = yard.courses.meetings.company(fish.id, yard.on)
        for move in fish.moves:
            if move.on <= yard.on:
                continue
            there = yard.courses.meetings.in_water(move.to, move.on) - {fish.id} - met_now
            if there:
                yield fish, move


def _move_bars(yard: Yard, fish: FishState, move: WaterMove) -> Reason:
    there = sorted(yard.courses.meetings.in_water(move.to, move.on) - {fish.id})
    return reason(
        "move-would-bar",
        fish=FishId(fish.id),
        on=move.on,
        water=move.to,
        others=tuple(map(FishId, there)),
    )


def _uncleared_mates(yard: Yard) -> Iterator[Warning_]:
    """Pond-mates of a new fish whose water is too cold to show what it carries, for every show.

    Where a show asks for a declaration it stands against their entry instead.
    """
    for fish, came in _untested(yard):
        if came < yard.on - NEW_FOR or came > yard.on:
            continue
        if yard.courses.group_of_new(fish.id) is not None:
            continue
        clear = clear_on(came, yard.mean_on(fish), "shared", yard.figures)
        reached = yard.courses.meetings.reached_from({fish.id: came})
        others = tuple(FishId(one) for one in sorted(reached) if one != fish.id)
        if others and (clear is None or clear > yard.on):
            why = reason("mates-of-new", fish=FishId(fish.id), on=came, others=others, until=clear)
            yield Warning_("warn", why)


class Standing(Struct, frozen=True):
    """One fish that stands against a declaration: it came without a test, and whom that reached.

    `reached` has the day of each, its own the day it came. `move` is a planned move without which
    none of the others would have met it.
    """

    fish: str
    came: date
    reached: Mapping[str, date]
    move: WaterMove | None

    def others(self, first: date, last: date) -> tuple[str, ...]:
        """The others that it reached from `first` to `last`, by id."""
        found = (one for one, day in sorted(self.reached.items()) if first <= day <= last)
        return tuple(one for one in found if one != self.fish)


def against_declaration(yard: Yard, events: Events) -> tuple[Standing, ...]:
    """What stands against an honest signature, for whichever fish of the yard were entered."""
    months = events.record.declaration_months
    if months is None:
        return ()
    since = declared_from(events.judging_day, months)
    found = []
    for fish, came in _untested(yard):
        if came < since:
            continue
        reached = yard.courses.meetings.reached_from({fish.id: came})
        met = [one for one in sorted(reached) if _by(reached, one, events)]
        if met:
            move = _only_move(yard, fish, met, events)
            found.append(Standing(fish.id, came, {one: reached[one] for one in met}, move))
    return tuple(found)


def _by(reached: Mapping[str, date], fish: str, events: Events) -> bool:
    return fish in reached and reached[fish] <= events.departure_day


def _only_move(yard: Yard, fish: FishState, met: list[str], events: Events) -> WaterMove | None:
    """The planned move by which alone it, or one it has met, comes to some of the others."""
    meetings = yard.courses.meetings
    reached = meetings.reached_from({fish.id: fish.record.came or yard.on})
    others = [one for one in met if one != fish.id]
    for move in fish.moves:
        if not yard.on < move.on <= events.departure_day:
            continue
        before = [one for one in others if reached[one] < move.on]
        later = meetings.reached_from(dict.fromkeys(before, move.on + DAY))
        after = [one for one in others if reached[one] >= move.on]
        if after and not any(_by(later, one, events) for one in after):
            return move
    return None


def declaration(yard: Yard, events: Events) -> tuple[Reason, ...]:
    """May the declaration of a show be signed, and if not, the ways out, the cheapest first.

    Nothing where the show asks for none.
    """
    months = events.record.declaration_months
    if months is None:
        return ()
    since = declared_from(events.judging_day, months)
    standing = against_declaration(yard, events)
    signs = [day for day, _ in yard.state.khv_signs if day >= since]
    if not standing and not signs:
        return (reason("may-sign", months=months, since=since),)
    going = {one.fish for one in yard.courses.going_to(events.show)}
    free = going - {fish for one in standing for fish in one.reached}
    if going and free == going and not signs:
        return (
            reason("may-sign-for", fish=tuple(map(FishId, sorted(going)))),
            *_rest(yard, events, standing, since),
        )
    if signs:  # no way out of these: a vet speaks first
        return (
            *(reason("signs-against", on=day) for day in signs),
            *(_stands(yard, one, since) for one in standing),
        )
    return tuple(_rest(yard, events, standing, since))


def _stands(yard: Yard, one: Standing, since: date) -> Reason:
    """What one fish does to a signature: whom it has met by today, and whom it is still to meet."""
    ahead = one.others(yard.on + DAY, date.max)
    return reason(
        "stands-against",
        fish=FishId(one.fish),
        on=one.came,
        since=since,
        others=tuple(map(FishId, one.others(date.min, yard.on))),
        ahead=tuple(map(FishId, ahead)),
        first=min((one.reached[each] for each in ahead), default=None),
    )


def _rest(
    yard: Yard, events: Events, standing: Sequence[Standing], since: date
) -> Iterator[Reason]:
    """What stands against the others, and the ways out, the cheapest first.

    To drop a move costs nothing; a test costs a vet, and may come too late; to stay at home costs
    the show.
    """
    yield from (_stands(yard, one, since) for one in standing)
    by = (events.record.entries_close or events.departure_day) - TEST_TAKES
    late = by < yard.on
    drops = [
        reason(
            "drop-move",
            fish=FishId(one.fish),
            on=one.move.on,
            water=one.move.to,
            frees=_freed(one, standing, itself=False),
        )
        for one in standing
        if one.move is not None
    ]
    tests = [
        reason(
            "test-by",
            fish=FishId(one.fish),
            by=max(by, yard.on),
            late=int(late),
            frees=_freed(one, standing, itself=True),
        )
        for one in standing
    ]
    left = sorted({other for one in standing for other in one.reached})
    home = [reason("leave-at-home", fish=tuple(map(FishId, left)))] if left else []
    ways = [*drops, *home, *tests] if late else [*drops, *tests, *home]
    for number, way in enumerate(ways):
        yield reason("way-to-sign", way=way, cheapest=int(number == 0))


def _freed(one: Standing, standing: Sequence[Standing], *, itself: bool) -> tuple[FishId, ...]:
    """Whom it frees that this fish no longer stands in the way: those no other has reached."""
    reached = {fish for other in standing if other is not one for fish in other.reached}
    kept = reached if itself else reached | {one.fish}
    if not itself and one.move is not None:
        kept |= {fish for fish, met in one.reached.items() if met < one.move.on}
    return tuple(FishId(fish) for fish in sorted(one.reached) if fish not in kept)
