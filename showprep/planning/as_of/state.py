"""The season as it stands on one day: the files and the journal together.

The journal may be written in any order: it is read by date, entries of one day in the order they
stand. Entries later than the day are not known yet, so that a plan made for a past day says what
could be said then.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from datetime import date, datetime, timedelta

from showprep.planning.as_of.fish import fish_state
from showprep.planning.as_of.records import DefectState, FishState, State, WaterOn, water_told
from showprep.season.records import JournalEntry, Season, Show, Window

__all__ = ["DefectState", "FishState", "State", "postponed", "state_of"]


def state_of(season: Season, on: date) -> State:
    """`season` at the end of the day `on`: what had been seen and done by then."""
    entries = tuple(
        sorted((entry for entry in season.journal if entry.on <= on), key=lambda entry: entry.on)
    )
    own: dict[str, list[JournalEntry]] = {}
    for entry in entries:
        own.setdefault(entry.fish or "", []).append(entry)
    treatments = [entry for entry in own.get("", ()) if entry.did == "treatment"]
    fish = {
        fish_id: fish_state(fish_id, record, own.get(fish_id, ()), treatments, on)
        for fish_id, record in sorted(season.fish.items())
    }
    return State(
        on=on,
        keeper=season.keeper,
        shows=_shows(season.shows, entries),
        fish=fish,
        readings=_readings(season, entries, on),
        parasites=_parasites(fish, entries),
        fasting=_fasting(fish, entries),
        fed_again=_fed_again(fish, entries),
        jobs_done={one.job: one.on for one in entries if one.job and one.did != "not done"},
        sent=_sent(entries),
        khv_signs=_khv_signs(fish, entries),
        journal=entries,
    )


def postponed(show: Show, to_day: date | datetime) -> Show:
    """`show` judged on another day, with everything that hangs on it moved by as many days.

    Days by which something has to reach the show move only when they move to an earlier day:
    nobody promises that entries close later because the judging does.
    """
    judging = to_day if isinstance(to_day, datetime) else _at(show.judging, to_day)
    by = timedelta(days=(judging.date() - show.judging.date()).days)
    moved: dict[str, object] = {"judging": judging}
    if show.arrive is not None:
        moved["arrive"] = _moved_window(show.arrive, by)
    for name in ("benching", "check_out"):
        moment: datetime | None = getattr(show, name)
        if moment is not None:
            moved[name] = moment + by
    for name in ("entries_close", "photos_due", "vat_booked_by"):
        day: date | None = getattr(show, name)
        if day is not None:
            moved[name] = min(day, day + by)
    return show.model_copy(update=moved)


def _at(moment: datetime, day: date) -> datetime:
    return moment.replace(year=day.year, month=day.month, day=day.day)


def _moved_window(window: Window, by: timedelta) -> Window:
    return window.model_copy(update={"from_": window.from_ + by, "to": window.to + by})


def _shows(shows: Mapping[str, Show], entries: Iterable[JournalEntry]) -> dict[str, Show]:
    """The shows as last heard of: a later word replaces an earlier one."""
    told = dict(sorted(shows.items()))
    for entry in entries:
        if entry.show is None or entry.show not in told:
            continue
        if entry.did == "cancelled":
            told[entry.show] = told[entry.show].model_copy(update={"cancelled": True})
        elif entry.did == "postponed" and entry.to_day is not None:
            moved = postponed(shows[entry.show], entry.to_day)
            told[entry.show] = moved.model_copy(update={"cancelled": False})
    return told


def _readings(
    season: Season, entries: Iterable[JournalEntry], on: date
) -> dict[str, tuple[tuple[date, float], ...]]:
    read = {
        name: {day: c for day, c in water.readings_c.items() if day <= on}
        for name, water in season.keeper.waters.items()
    }
    for entry in entries:
        if entry.read_c is not None and entry.water in read:
            read[entry.water][entry.on] = entry.read_c
    return {name: tuple(sorted(values.items())) for name, values in read.items()}


def _parasites(
    fish: Mapping[str, WaterOn], entries: Iterable[JournalEntry]
) -> dict[str, tuple[date, date | None]]:
    found: dict[str, tuple[date, date | None]] = {}
    for entry in entries:
        water = water_told(entry, fish)
        if water is None or entry.saw not in ("parasites", "no parasites"):
            continue
        standing = found.get(water)
        if entry.saw == "parasites":
            if standing is None or standing[1] is not None:
                found[water] = (entry.on, None)
        elif standing is not None and standing[1] is None:
            found[water] = (standing[0], entry.on)
    return found


def _fasting(fish: Mapping[str, WaterOn], entries: Iterable[JournalEntry]) -> dict[str, date]:
    unfed: dict[str, date] = {}
    for entry in entries:
        water = water_told(entry, fish)
        if water is None:
            continue
        if entry.did == "stop feeding":
            unfed.setdefault(water, entry.on)
        elif entry.did == "feed again":
            unfed.pop(water, None)
    return unfed


def _fed_again(fish: Mapping[str, WaterOn], entries: Iterable[JournalEntry]) -> dict[str, date]:
    """The day feeding last began again, by water."""
    told = ((water_told(entry, fish), entry.on) for entry in entries if entry.did == "feed again")
    return {water: day for water, day in told if water is not None}


def heard_of_waters(state: State, fish: Mapping[str, WaterOn]) -> State:
    """The state with what was written of a fish set down to the water it was in that day.

    `fish` tells where each one was, by its course: without it a fish counts as where it belongs.
    """
    return replace(
        state,
        parasites=_parasites(fish, state.journal),
        fasting=_fasting(fish, state.journal),
        fed_again=_fed_again(fish, state.journal),
        khv_signs=_khv_signs(fish, state.journal),
    )


def _sent(entries: Iterable[JournalEntry]) -> dict[str, date]:
    sent: dict[str, date] = {}
    for entry in entries:
        if entry.did == "sent" and entry.show is not None:
            sent.setdefault(entry.show, entry.on)
    return sent


def _khv_signs(
    fish: Mapping[str, WaterOn], entries: Iterable[JournalEntry]
) -> tuple[tuple[date, str], ...]:
    """Days on which signs of koi herpesvirus were written down, and the water they were seen in.

    A clear test of the same water, written down later, ends them.
    """
    signs: list[tuple[date, str]] = []
    for entry in entries:
        water = water_told(entry, fish) or "an unnamed water"
        if entry.saw == "khv signs":
            signs.append((entry.on, water))
        elif entry.saw == "khv clear":
            signs = [sign for sign in signs if sign[1] != water]
    return tuple(signs)
