"""What speaks against a note: names that do not exist, and things that cannot be true.

Each objection is a sentence for the keeper that says what stands against the note.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from pathlib import Path

from showprep.husbandry.figures import setting
from showprep.planning import state_defects
from showprep.planning.state import DefectState, FishState, State, state_of
from showprep.planning.words import listed, spoken_with_year
from showprep.season.check_fish import MEASURING_ERROR_CM
from showprep.season.check_journal import JOURNAL_CHECKS
from showprep.season.checked import Checked
from showprep.season.records import JournalEntry, Season
from showprep.season.show_times import day_of

FURTHEST_AHEAD = timedelta(days=366)
MOST_GROWTH = 1.5  # a koi does not grow by half between two measurings of one season (assumption)
LOOKS = ("closed", "not closed", "clean", "not clean", "mark left")
WOUND_OVER = ("closed", "clean", "mark left")


@dataclass(frozen=True, slots=True)
class Note:
    """One note against the season as it stood at the end of its day, and as it stands now."""

    entry: JournalEntry
    then: State
    now: State

    @property
    def fish(self) -> FishState | None:
        return self.then.fish.get(self.entry.fish or "")

    @property
    def fish_now(self) -> FishState | None:
        return self.now.fish.get(self.entry.fish or "")

    @property
    def name(self) -> str:
        return self.fish.record.name if self.fish else ""


def objections(season: Season, entry: JournalEntry, folder: Path, today: date) -> tuple[str, ...]:
    """Why `entry` cannot be noted in `season`; none when nothing speaks against it.

    `today` is the latest day that may have come; the journal may hold later entries.
    """
    alone = season.model_copy(update={"journal": (entry,)})
    checked = Checked(alone, max(today, entry.on), folder)
    unknown = [
        f"{found.what}; {found.right}"
        for check in JOURNAL_CHECKS
        for found in check(checked)
        if found is not None and found.severity == "fault"
    ]
    if unknown:
        return tuple(unknown)
    latest = max([today, entry.on, *(told.on for told in season.journal)])
    note = Note(entry, state_of(season, entry.on), state_of(season, latest))
    found = [objection for rule in RULES for objection in rule(note)]
    if entry.on > today + FURTHEST_AHEAD:
        found.insert(0, f"{spoken_with_year(entry.on)} is more than a year ahead")
    if entry in season.journal:
        found.append("the journal says this already")
    return tuple(found)


def about(season: Season, entry: JournalEntry) -> Iterator[str]:
    """Which marks a note is taken to be about, where it did not name them all."""
    fish = state_of(season, entry.on).fish.get(entry.fish or "")
    if fish is None or entry.where or not (entry.saw in LOOKS or entry.did in ("touch-up", "vet")):
        return
    marks = state_defects.meant(list(fish.defects), entry)
    untouched = [one for one in marks if one.kind == state_defects.SPECK and not one.touched]
    if entry.saw == "clean" and untouched:
        yield "No touch-up is noted, so the speck is taken to have faded by itself."
    if len(fish.open_defects) > 1 and marks:
        named = listed(f"{mark.kind} ({mark.where})" if mark.where else mark.kind for mark in marks)
        yield f"This is about: {named}. Name another with --defect and --where."


def advice(entry: JournalEntry) -> Iterator[str]:
    """What the keeper should know at once, before the next plan is made."""
    if entry.saw == "khv signs":
        yield (
            "These may be signs of a notifiable disease. Move no fish, water or net off the place; "
            "call your fish health authority and a vet today."
        )
    if entry.saw == "khv clear":
        yield "Only a laboratory's negative test clears a water; keep its paper with the journal."
    if entry.saw == "parasites":
        yield "A find means the whole water, not one fish. Ask a vet before you treat."
    if entry.saw in ("new defect", "not closed") and entry.defect in ("ulcer", "raised-scales"):
        yield "This is for a vet to look at."
    most = setting("clove_block")
    if (entry.bath_mg_per_l or 0) > most:
        yield f"A bath above {most:g} mg/L can kill a koi. Watch the gills; ask a vet."


def _gone(note: Note) -> Iterator[str]:
    fish = note.fish
    if fish is None or fish.gone is None or note.entry.did == "result":
        return
    assert fish.gone_on is not None
    yield f"{note.name} was {fish.gone} on {spoken_with_year(fish.gone_on)}"


def _touch_up(note: Note) -> Iterator[str]:
    entry, fish = note.entry, note.fish
    if entry.did != "touch-up" or fish is None:
        return
    kind = entry.defect or state_defects.SPECK
    if entry.on in fish.sedations:
        yield f"{note.name} was touched up on {spoken_with_year(entry.on)} already"
    elif not state_defects.meant(list(fish.defects), entry):
        where = f" at {entry.where}" if entry.where else ""
        yield (
            f"{note.name} had no {kind}{where} on {spoken_with_year(entry.on)}; "
            "note it first with --saw 'new defect'"
        )


def _looks(note: Note) -> Iterator[str]:
    entry, fish = note.entry, note.fish
    if entry.saw not in LOOKS or fish is None:
        return
    about = state_defects.meant(list(fish.defects), entry)
    if not about:
        if not _healed(fish, entry):
            yield f"{note.name} has no {entry.defect or 'mark'} to look at on that day"
        return
    for defect in about if entry.saw in WOUND_OVER else ():
        yield from _too_soon(note, defect)


def _healed(fish: FishState, entry: JournalEntry) -> bool:
    return any(
        defect.clean_on is not None and entry.defect in (None, defect.kind)
        for defect in fish.defects
    )


def _too_soon(note: Note, defect: DefectState) -> Iterator[str]:
    """Clean on the day of the touch-up or before it. A speck never touched may fade by itself."""
    day, saw = note.entry.on, note.entry.saw
    if defect.touched is not None and day <= defect.touched:
        yield f"it was only touched up on {spoken_with_year(defect.touched)}; it cannot be {saw}"
        return
    later = _touched_later(note, defect) if defect.touched is None else None
    if later is not None:
        when = spoken_with_year(later)
        yield f"the {defect.kind} of {note.name} was only touched up on {when}, after that"


def _touched_later(note: Note, defect: DefectState) -> date | None:
    marks = note.fish_now.defects if note.fish_now else ()
    days = [
        one.touched
        for one in marks
        if one.touched and (one.kind, one.where) == (defect.kind, defect.where)
    ]
    return min((day for day in days if day > note.entry.on), default=None)


def _speck_back(note: Note) -> Iterator[str]:
    entry, fish = note.entry, note.fish
    if entry.saw != "speck back" or fish is None:
        return
    kind = entry.defect or state_defects.SPECK
    if not any(one.kind == kind and (one.touched or one.clean_on) for one in fish.defects):
        yield f"{note.name} has had no {kind} taken off; write --saw 'new defect' instead"


def _length(note: Note) -> Iterator[str]:
    entry, fish = note.entry, note.fish_now
    if entry.measured_cm is None or fish is None:
        return
    size = entry.measured_cm
    before = [(cm, day) for day, cm in fish.lengths if day < entry.on]
    after = [(cm, day) for day, cm in fish.lengths if day > entry.on]
    if before and size < max(before)[0] - MEASURING_ERROR_CM - 1e-9:
        cm, day = max(before)
        yield f"{note.name} measured {cm:g} cm on {spoken_with_year(day)}; fish do not shrink"
    elif before and size > MOST_GROWTH * max(before)[0]:
        cm, day = max(before)
        yield f"{note.name} measured {cm:g} cm on {spoken_with_year(day)}; {size:g} cm is too much"
    elif after and size > min(after)[0] + MEASURING_ERROR_CM + 1e-9:
        cm, day = min(after)
        yield f"{note.name} measured {cm:g} cm on {spoken_with_year(day)}, which is later"


def _move(note: Note) -> Iterator[str]:
    entry, fish = note.entry, note.fish
    if entry.did == "move" and fish is not None and fish.water_on(entry.on) == entry.to:
        yield f"{note.name} is in the {entry.to} already"


def _show(note: Note) -> Iterator[str]:
    entry = note.entry
    show = note.then.shows.get(entry.show or "")
    if show is None:
        return
    judging = show.judging.date()
    day = spoken_with_year(judging)
    if entry.did == "result" and entry.on < judging:
        yield f"{show.name} is judged on {day}; there is no result before that"
    if entry.did in ("cancelled", "postponed") and entry.on > judging:
        yield f"{show.name} was judged on {day}; it cannot be {entry.did} after that"
    if entry.did in ("entered", "travelled", "sent") and show.cancelled:
        yield f"{show.name} was cancelled"
    if entry.did == "travelled" and entry.on > judging:
        yield f"{show.name} was judged on {day}, before that journey"
    if entry.did == "postponed" and entry.to_day is not None and day_of(entry.to_day) < entry.on:
        yield f"{spoken_with_year(day_of(entry.to_day))} had gone by when this was heard"


RULES: tuple[Callable[[Note], Iterator[str]], ...] = (
    _gone,
    _touch_up,
    _looks,
    _speck_back,
    _length,
    _move,
    _show,
)
