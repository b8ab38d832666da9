"""A season looked back on, fish by fish: growth, blemishes and healing, shows, time apart."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from datetime import date, timedelta
from typing import Literal

from msgspec import Struct

from showprep.husbandry.thermal_time import MeanOn, gathered
from showprep.planning.as_of.note_truth import LOOKS
from showprep.planning.as_of.state import DefectState, FishState, State, Treated
from showprep.planning.yard.course import Course
from showprep.planning.yard.own_pace import OwnPace
from showprep.planning.yard.yard import yard_on
from showprep.season.records import JournalEntry, Season

SEEN = (*LOOKS, "speck back", "new defect")  # the words of a look at a fish
Ending = Literal["clean", "mark left", "back", "touched up again", "not clean", "not looked at"]


class BlemishTold(Struct, frozen=True):
    """One blemish, or one chapter of a speck: what was done about it and how it ended.

    `days` [d] and `degree_days` [°C d] run from the touch-up (or from when it was found, or a
    vet dealt with it) to the day of the outcome; None where there is no such day.
    """

    kind: str
    where: str
    seen: date
    touched: date | None
    vet: date | None
    outcome: Ending
    outcome_on: date | None
    clean_on: date | None
    days: int | None
    degree_days: float | None
    bath_mg_per_l: float | None = None
    minutes_to_balance_lost: float | None = None
    minutes_to_recovery: float | None = None


class ShowTold(Struct, frozen=True):
    """One show a fish was entered in or went to."""

    show: str
    name: str
    judging: date
    travelled: bool
    result: str
    remarks: str


class NoteTold(Struct, frozen=True):
    """One entry as it was noted: a look, or a plain note. `undone`: taken back on that day."""

    on: date
    word: str
    fish: str | None
    about: str | None  # the show or water, where it is about one
    kind: str | None
    where: str | None
    note: str | None
    undone: date | None = None


class FishYear(Struct, frozen=True):
    """One fish's season. Lengths in centimetres, weights in kilograms."""

    id: str
    name: str
    variety: str
    gone: str | None
    gone_on: date | None
    lengths: tuple[tuple[date, float], ...]
    grown_cm: float | None
    weights: tuple[tuple[date, float], ...]
    blemishes: tuple[BlemishTold, ...]
    shows: tuple[ShowTold, ...]
    days_apart: int
    treated: tuple[Treated, ...]
    spawned: date | None
    photos: tuple[str, ...]
    looks: tuple[NoteTold, ...]
    notes: tuple[NoteTold, ...]
    taken_back: tuple[NoteTold, ...]


class YearEnd(Struct, frozen=True):
    """A whole season as the journal tells it, up to a day."""

    season: str
    since: date | None  # the first entry of the journal
    on: date
    fish: tuple[FishYear, ...]
    pace: OwnPace
    notes: tuple[NoteTold, ...] = ()  # of no fish
    taken_back: tuple[NoteTold, ...] = ()  # of no fish


def year_end(season: Season, on: date, name: str = "season") -> YearEnd:
    """What became of every fish, by id, as known on the day `on`."""
    yard = yard_on(season, on)
    state = yard.state
    since = min((entry.on for entry in state.journal), default=None)
    fish = tuple(
        _fish_year(state, one, yard.course(one), since or on)
        for _, one in sorted(state.fish.items())
    )
    return YearEnd(
        name,
        since,
        on,
        fish,
        yard.pace,
        notes=_told(state.journal, None, plain=True),
        taken_back=_told(state.taken_back, None),
    )


def _told(
    entries: Iterable[JournalEntry],
    fish: str | None,
    words: Collection[str] = (),
    *,
    plain: bool = False,
) -> tuple[NoteTold, ...]:
    """The entries of one fish, or of none: all, those of some `words`, or those with own words."""
    return tuple(
        NoteTold(
            one.on,
            one.word,
            one.fish,
            one.show or one.water,
            one.defect,
            one.where,
            one.note or one.result or one.treatment,
            one.undone,
        )
        for one in sorted(entries, key=lambda entry: entry.on)
        if one.fish == fish
        and (not words or one.word in words)
        and (not plain or (one.note is not None and one.word not in SEEN))
    )


def _fish_year(state: State, fish: FishState, course: Course, since: date) -> FishYear:
    first, last = (fish.lengths[0], fish.lengths[-1]) if fish.lengths else (None, None)
    return FishYear(
        id=fish.id,
        name=fish.record.name,
        variety=fish.record.variety,
        gone=fish.gone,
        gone_on=fish.gone_on,
        lengths=fish.lengths,
        grown_cm=round(last[1] - first[1], 1) if first and last and first != last else None,
        weights=fish.weights,
        blemishes=tuple(_blemish(state, fish, defect, course.mean_on) for defect in fish.defects),
        shows=tuple(_shows(state, fish)),
        days_apart=_days_apart(state, fish, course, since),
        treated=fish.treated,
        spawned=fish.spawned,
        photos=tuple(photo for _, photo in fish.photos),
        looks=_told(state.journal, fish.id, SEEN),
        notes=_told(state.journal, fish.id, plain=True),
        taken_back=_told(state.taken_back, fish.id),
    )


def _blemish(state: State, fish: FishState, defect: DefectState, mean_on: MeanOn) -> BlemishTold:
    outcome, day = _outcome(fish, defect)
    begin = defect.heals_from
    bath = _bath(state, fish, defect.touched)
    looked = defect.not_clean_on if outcome == "not clean" else None
    timed = defect.clean_on or looked
    return BlemishTold(
        kind=defect.kind,
        where=defect.where,
        seen=defect.seen,
        touched=defect.touched,
        vet=defect.vet,
        outcome=outcome,
        outcome_on=day,
        clean_on=defect.clean_on,
        days=(timed - begin).days if timed else None,
        degree_days=round(gathered(begin, timed, mean_on)) if timed else None,
        bath_mg_per_l=bath.bath_mg_per_l if bath else None,
        minutes_to_balance_lost=bath.minutes_to_balance_lost if bath else None,
        minutes_to_recovery=bath.minutes_to_recovery if bath else None,
    )


def _outcome(fish: FishState, defect: DefectState) -> tuple[Ending, date | None]:
    if defect.ended_on is not None:
        back = any(one.came_back and one.seen == defect.ended_on for one in fish.defects)
        return ("back" if back else "touched up again"), defect.ended_on
    if defect.mark_left:
        return "mark left", defect.not_clean_on
    if defect.clean_on is not None:
        return "clean", defect.clean_on
    looked = defect.not_clean_on
    if looked is not None and looked >= defect.heals_from:
        return "not clean", looked
    return "not looked at", None


def _bath(state: State, fish: FishState, day: date | None) -> JournalEntry | None:
    return next(
        (
            entry
            for entry in state.journal
            if entry.did == "touch-up" and entry.fish == fish.id and entry.on == day
        ),
        None,
    )


def _shows(state: State, fish: FishState) -> Iterator[ShowTold]:
    """Every show it was entered in, went to or has a result of, by the day of judging."""
    results = {show: (result, remarks) for _, show, result, remarks in fish.results}
    went = {show for _, show in fish.travelled}
    known = [one for one in {*fish.entered, *went, *results} if one in state.shows]
    for one in sorted(known, key=lambda show: (state.shows[show].judging, show)):
        result, remarks = results.get(one, ("", ""))
        show = state.shows[one]
        yield ShowTold(
            one, show.name, show.judging.date(), one in went or one in results, result, remarks
        )


def _days_apart(state: State, fish: FishState, course: Course, since: date) -> int:
    """Days in the isolation water, by what is written down and presumed."""
    isolation = state.keeper.isolation
    if isolation is None:
        return 0
    last = min(state.on, fish.gone_on) if fish.gone_on else state.on
    days = (since + timedelta(days=number) for number in range((last - since).days + 1))
    return sum(course.water_on(day) == isolation.water for day in days)
