"""The season as it stands on one day: the files and the journal together.

The journal may be written in any order: it is read by date, entries of one day in the order they
stand. Entries later than the day are not known yet, so that a plan made for a past day says what
could be said then.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date, datetime, timedelta

from msgspec.structs import replace

from showprep.husbandry.figures import FiguresInForce
from showprep.husbandry.parasites import cleared_on
from showprep.planning.as_of.fish import fish_state
from showprep.planning.as_of.records import (
    DefectState,
    Find,
    FishState,
    State,
    Treated,
    water_told,
)
from showprep.planning.yard.course import Course, course_by_moves
from showprep.season.records import JournalEntry, Season, Show, Window

__all__ = ["DefectState", "Find", "FishState", "State", "Treated", "postponed", "state_of"]


OF_FEEDING = ("stop feeding", "feed again")
FAST_HOLDS_DAYS = 21
"""How long a fast that was noted is taken to go on [d]: longer than any before a show or a session
(a rule of this program). After that it is asked about anew, the safe side."""

HOME_WITHIN_DAYS = 60
"""How long after a find on a fish that is away its way home is looked for [d]."""


def state_of(season: Season, on: date) -> State:
    """`season` at the end of the day `on`: what had been seen and done by then."""
    entries = tuple(
        sorted((entry for entry in season.journal if entry.on <= on), key=lambda entry: entry.on)
    )
    own: dict[str, list[JournalEntry]] = {}
    for entry in entries:
        own.setdefault(entry.fish or "", []).append(entry)
    vat = season.keeper.isolation.water if season.keeper.isolation is not None else None
    fish = {
        fish_id: fish_state(fish_id, record, own.get(fish_id, ()), on, vat)
        for fish_id, record in sorted(season.fish.items())
    }
    state = State(
        on=on,
        keeper=season.keeper,
        shows=_shows(season.shows, entries),
        fish=fish,
        readings=_readings(season, entries, on),
        finds=(),
        fasting={},
        fed_again={},
        jobs_done={
            one.job: one.on
            for one in entries
            if one.job and one.did not in ("not done", *OF_FEEDING)
        },
        jobs_begun={one.job: one.on for one in entries if one.job and one.did in OF_FEEDING},
        sent=_sent(entries),
        khv_signs=(),
        journal=entries,
        taken_back=tuple(
            one for one in season.taken_back if one.on <= on and (one.undone or on) <= on
        ),
    )
    by_moves = {
        one.id: course_by_moves(one.record.lives_in, one.moves, on) for one in fish.values()
    }
    return heard_of_waters(state, by_moves)


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


def _finds(
    courses: Mapping[str, Course], entries: Iterable[JournalEntry], figures: FiguresInForce
) -> tuple[Find, ...]:
    """Every find of parasites. A find in a water that is clear again begins anew."""
    over: list[Find] = []
    standing: dict[str, Find] = {}
    for entry in entries:
        water = _water_of_find(entry, courses)
        if water is None:
            continue
        find = standing.get(water)
        if entry.saw == "parasites":
            if find is not None and find.cleared is not None:
                over.append(find)
                find = None
            find = find or Find(entry.on, (), water)
            find = replace(
                find,
                seen=(*find.seen, entry.on),
                parasite=entry.parasite or find.parasite,
                fish=find.fish | ({entry.fish} if entry.fish is not None else set()),
            )
        elif find is not None and entry.saw == "no parasites":
            find = replace(find, scrapes=(*find.scrapes, entry.on))
        elif find is not None and entry.did == "treatment":
            find = replace(find, doses=(*find.doses, _treatment(entry)))
        if find is not None:
            standing[water] = _judged(find, figures)
    return tuple(sorted([*over, *standing.values()], key=lambda find: (find.found, find.water)))


def _water_of_find(entry: JournalEntry, courses: Mapping[str, Course]) -> str | None:
    """The water it is about; of a find on a fish that is away, the one it comes home to."""
    told = water_told(entry, courses)
    about = courses.get(entry.fish or "")
    if told is None and entry.saw == "parasites" and about is not None:
        days = (entry.on + timedelta(days=number) for number in range(1, HOME_WITHIN_DAYS + 1))
        waters = (about.water_on(day) for day in days)
        return next((water for water in waters if water is not None), None)
    return told


def _judged(find: Find, figures: FiguresInForce) -> Find:
    doses = [dose.on for dose in find.doses]
    return replace(find, cleared=cleared_on(find.seen, doses, find.scrapes, figures))


def _treatment(entry: JournalEntry) -> Treated:
    return Treated(entry.on, entry.treatment, entry.by_vet or False, entry.parasite)


def _fasting(
    courses: Mapping[str, Course], entries: Iterable[JournalEntry], on: date
) -> dict[str, date]:
    """The day feeding stopped, by water, where it has not begun again as far as is known: after
    the day of a touch-up there the fish are fed, whether that is noted or not."""
    unfed: dict[str, date] = {}
    holds = timedelta(days=FAST_HOLDS_DAYS)
    for entry in entries:
        water = water_told(entry, courses)
        if water is None:
            continue
        if entry.did == "stop feeding":
            if water not in unfed or entry.on - unfed[water] > holds:
                unfed[water] = entry.on
        elif entry.did == "feed again" or (entry.did == "touch-up" and entry.on < on):
            unfed.pop(water, None)
    return {water: day for water, day in unfed.items() if on - day <= holds}


def _fed_again(courses: Mapping[str, Course], entries: Iterable[JournalEntry]) -> dict[str, date]:
    """The day feeding last began again, by water."""
    told = (
        (water_told(entry, courses), entry.on) for entry in entries if entry.did == "feed again"
    )
    return {water: day for water, day in told if water is not None}


def heard_of_waters(state: State, courses: Mapping[str, Course]) -> State:
    """The state with what was written of a fish set down to the water it was in that day.

    And what was written of a water to the fish in it. `courses` tell where each one was.
    """
    return replace(
        state,
        fish={
            one.id: replace(one, treated=_treated(one, courses[one.id], state.journal))
            for one in state.fish.values()
        },
        finds=_finds(courses, state.journal, state.keeper.figures),
        fasting=_fasting(courses, state.journal, state.on),
        fed_again=_fed_again(courses, state.journal),
        khv_signs=_khv_signs(courses, state.journal),
    )


def _treated(
    fish: FishState, course: Course, entries: Iterable[JournalEntry]
) -> tuple[Treated, ...]:
    """What the fish was treated with, by itself or with the water it was in."""
    return tuple(
        _treatment(entry)
        for entry in entries
        if entry.did == "treatment"
        and (entry.fish == fish.id or (entry.fish is None and _in_it(fish, course, entry)))
    )


def _in_it(fish: FishState, course: Course, entry: JournalEntry) -> bool:
    gone = fish.gone_on is not None and fish.gone_on < entry.on
    return not gone and entry.water is not None and course.water_on(entry.on) == entry.water


def _sent(entries: Iterable[JournalEntry]) -> dict[str, date]:
    sent: dict[str, date] = {}
    for entry in entries:
        if entry.did == "sent" and entry.show is not None:
            sent.setdefault(entry.show, entry.on)
    return sent


def _khv_signs(
    courses: Mapping[str, Course], entries: Iterable[JournalEntry]
) -> tuple[tuple[date, str], ...]:
    """Days on which signs of koi herpesvirus were written down, and the water they were seen in.

    A clear test of the same water, written down later, ends them.
    """
    signs: list[tuple[date, str]] = []
    for entry in entries:
        water = water_told(entry, courses) or "an unnamed water"
        if entry.saw == "khv signs":
            signs.append((entry.on, water))
        elif entry.saw == "khv clear":
            signs = [sign for sign in signs if sign[1] != water]
    return tuple(signs)
