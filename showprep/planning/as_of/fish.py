"""One fish as it stands: its file first, then the journal's entries about it, by date."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import date, timedelta

from showprep.planning.as_of import defects as state_defects
from showprep.planning.as_of.records import DefectState, FishState
from showprep.planning.yard.course import WaterMove
from showprep.season.records import Fish, JournalEntry

SAME_MOVE_DAYS = 30  # a move done this near a planned one to the same water is that move
TO_HEAL = timedelta(days=7)  # a move into the vat so soon after a touch-up is made to heal there


def fish_state(
    fish_id: str,
    fish: Fish,
    own: Sequence[JournalEntry],
    on: date,
    vat: str | None = None,
) -> FishState:
    """`fish_id` on a day, from its own entries by date. What its waters had is added later.

    `vat` is the isolation vat, if the yard has one.
    """
    gone = _last(own, did=("sold", "lost"))
    return FishState(
        id=fish_id,
        record=fish,
        gone=gone.did if gone else None,
        gone_on=gone.on if gone else None,
        defects=_defects(fish, own, on),
        lengths=_dated(fish.lengths_cm, [(e.on, e.measured_cm) for e in own], on),
        weights=_dated(fish.weights_kg, [(e.on, e.weighed_kg) for e in own], on),
        moves=_moves(fish, own, vat),
        sedations=_sedations(own),
        spawned=_spawned(fish, own, on),
        off_food_since=_off_food_since(own),
        treated=(),
        photos=tuple((entry.on, entry.photo) for entry in own if entry.photo),
        results=tuple(
            (entry.on, entry.show or "", entry.result or "", entry.remarks or "")
            for entry in own
            if entry.did == "result"
        ),
        entered=_entered(own),
        travelled=tuple((e.on, e.show) for e in own if e.show and e.did == "travelled"),
        stayed_from=_stayed_from(own),
        days_set=_days_set(fish, own),
    )


def _days_set(fish: Fish, entries: Iterable[JournalEntry]) -> tuple[tuple[str | None, date], ...]:
    """The days set for touch-ups, each for one show or for all (None). A later word for a show
    replaces what was said for it, and one for all replaces everything."""
    told: list[tuple[str | None, date]] = [(None, day) for day in fish.touch_ups_on]
    for entry in entries:
        if entry.touch_up_on is not None:
            told = [one for one in told if entry.show is not None and one[0] != entry.show]
            told.append((entry.show, entry.touch_up_on))
    return tuple(told)


def _entered(entries: Iterable[JournalEntry]) -> frozenset[str]:
    """The shows it is entered in; a later word that it stayed takes one out again."""
    shows: set[str] = set()
    for entry in entries:
        if entry.show and entry.did in ("entered", "travelled"):
            shows.add(entry.show)
        elif entry.show and entry.did == "stayed":
            shows.discard(entry.show)
    return frozenset(shows)


def _stayed_from(entries: Iterable[JournalEntry]) -> frozenset[str]:
    """The shows it stayed away from; that it travelled, or won there, proves the contrary."""
    shows: set[str] = set()
    for entry in entries:
        if entry.show and entry.did == "stayed":
            shows.add(entry.show)
        elif entry.show and entry.did in ("entered", "travelled", "result"):
            shows.discard(entry.show)
    return frozenset(shows)


def _last(entries: Iterable[JournalEntry], did: tuple[str, ...]) -> JournalEntry | None:
    last = None
    for entry in entries:
        if entry.did in did:
            last = entry
    return last


def _defects(fish: Fish, entries: Iterable[JournalEntry], on: date) -> tuple[DefectState, ...]:
    defects = state_defects.found_by(fish, on)
    for entry in entries:
        defects = state_defects.after(defects, entry)
    return tuple(defects)


def _dated(
    in_file: Mapping[date, float], told: Iterable[tuple[date, float | None]], on: date
) -> tuple[tuple[date, float], ...]:
    """File and journal in one; the journal, written on the day, stands where both speak."""
    values = {day: value for day, value in in_file.items() if day <= on}
    values |= {day: value for day, value in told if value is not None}
    return tuple(sorted(values.items()))


def _sedations(entries: Iterable[JournalEntry]) -> tuple[date, ...]:
    """Touch-ups, and whatever else was done in a bath of sedative."""
    return tuple(
        sorted(
            {
                entry.on
                for entry in entries
                if entry.did == "touch-up" or entry.bath_mg_per_l is not None
            }
        )
    )


def _spawned(fish: Fish, entries: Iterable[JournalEntry], on: date) -> date | None:
    days = [entry.on for entry in entries if entry.saw == "spawned"]
    if fish.spawned is not None and fish.spawned <= on:
        days.append(fish.spawned)
    return max(days, default=None)


def _off_food_since(entries: Iterable[JournalEntry]) -> date | None:
    since = None
    for entry in entries:
        if entry.saw == "off food":
            since = since or entry.on
        elif entry.saw == "feeding well":
            since = None
    return since


def _moves(fish: Fish, entries: Sequence[JournalEntry], vat: str | None) -> tuple[WaterMove, ...]:
    """Planned moves, each replaced by the move that was done in its place.

    One into the isolation `vat` on the day of a touch-up, or soon after it, is made to heal there.
    """
    touched = [entry.on for entry in entries if entry.did == "touch-up"]
    planned = [WaterMove(one.on, one.to, False, one.ramp_c_per_day) for one in fish.moves]
    done = []
    for entry in entries:
        if entry.did != "move" or entry.to is None:
            continue
        plan = _planned_for(planned, entry)
        ramp = entry.ramp_c_per_day
        if plan is not None:
            planned.remove(plan)
            ramp = plan.c_per_day if ramp is None else ramp
        since = [entry.on - day for day in touched]
        to_heal = entry.to == vat and any(timedelta(0) <= days <= TO_HEAL for days in since)
        done.append(WaterMove(entry.on, entry.to, True, ramp, to_heal))
    return tuple(sorted([*planned, *done], key=lambda move: move.on))


def _planned_for(planned: Sequence[WaterMove], entry: JournalEntry) -> WaterMove | None:
    near = [
        move
        for move in planned
        if move.to == entry.to and abs((move.on - entry.on).days) <= SAME_MOVE_DAYS
    ]
    return min(near, key=lambda move: abs((move.on - entry.on).days), default=None)
