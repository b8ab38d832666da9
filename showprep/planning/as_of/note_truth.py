"""What speaks against a note: names that do not exist, and things that cannot be true.

Each objection says what stands against the note.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import date, timedelta
from pathlib import Path

from msgspec import Struct

from showprep.husbandry.figures import FiguresInForce
from showprep.husbandry.parasites import clean_scrape_counts_from
from showprep.husbandry.reason import Blemish, Centimetres, FishId, Reason, ShowId, reason
from showprep.planning.as_of import defects as state_defects
from showprep.planning.as_of.state import DefectState, FishState, State, state_of
from showprep.planning.yard.presumed import yard_as_known
from showprep.season.checks.checked import Checked
from showprep.season.checks.fish import MEASURING_ERROR_CM
from showprep.season.checks.journal import JOURNAL_CHECKS
from showprep.season.records import JournalEntry, Season
from showprep.season.values.show_times import day_of

FURTHEST_AHEAD = timedelta(days=366)
MOST_GROWTH = 1.5  # a koi does not grow by half between two measurings of one season (assumption)
LOOKS = ("closed", "not closed", "clean", "not clean", "mark left")
WOUND_OVER = ("closed", "clean", "mark left")


class Note(Struct, frozen=True):
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
    def it(self) -> FishId | None:
        return FishId(self.fish.id) if self.fish else None


def objections(
    season: Season, entry: JournalEntry, folder: Path, today: date
) -> tuple[Reason, ...]:
    """Why `entry` cannot be noted in `season`; none when nothing speaks against it.

    `today` is the latest day that may have come; the journal may hold later entries.
    """
    alone = season.model_copy(update={"journal": (entry,)})
    checked = Checked(alone, max(today, entry.on), folder)
    unknown = [
        reason("file-fault", what=found.what, right=found.right)
        for check in JOURNAL_CHECKS
        for found in check(checked)
        if found is not None and found.severity == "fault"
    ]
    if unknown:
        return tuple(unknown)
    latest = max([today, entry.on, *(told.on for told in season.journal)])
    note = Note(entry, state_of(season, entry.on), state_of(season, latest))
    found = [objection for rule in RULES for objection in rule(note)]
    found += _is_there(season, entry, note.fish)
    if entry.on > today + FURTHEST_AHEAD:
        found.insert(0, reason("too-far-ahead", on=entry.on))
    if entry in season.journal:
        found.append(reason("noted-already"))
    return tuple(found)


def about(season: Season, entry: JournalEntry) -> Iterator[Reason]:
    """Which blemishes a note is taken to be about, where it did not name them all.

    And whether a clean scrape comes too soon to count.
    """
    if entry.saw == "no parasites":
        yield from _too_soon_to_clear(season, entry)
    fish = state_of(season, entry.on).fish.get(entry.fish or "")
    if fish is None or entry.where or not (entry.saw in LOOKS or entry.did in ("touch-up", "vet")):
        return
    found = state_defects.meant(list(fish.defects), entry)
    untouched = [one for one in found if one.kind == state_defects.SPECK and not one.touched]
    if entry.saw == "clean" and untouched:
        yield reason("speck-faded")
    if len(fish.open_defects) > 1 and found:
        yield reason("note-is-about", them=tuple(Blemish(one.kind, one.where) for one in found))


def _too_soon_to_clear(season: Season, entry: JournalEntry) -> Iterator[Reason]:
    noted = season.model_copy(update={"journal": (*season.journal, entry)})
    for find in state_of(noted, entry.on).finds:
        if find.cleared is None and entry.on in find.scrapes:
            doses = [dose.on for dose in find.doses]
            counts = clean_scrape_counts_from(find.seen[-1], doses, season.keeper.figures)
            yield reason("scrape-too-soon", water=find.water, counts=counts)


def advice(entry: JournalEntry, figures: FiguresInForce) -> Iterator[Reason]:
    """What the keeper should know at once, before the next plan is made."""
    if entry.saw == "khv signs":
        yield reason("khv-signs-advice")
    if entry.saw == "khv clear":
        yield reason("khv-clear-advice")
    if entry.saw == "parasites":
        yield reason("parasites-advice")
    if entry.saw in ("new defect", "not closed") and entry.defect in ("ulcer", "raised-scales"):
        yield reason("vet-advice")
    most = figures["clove_block"]
    if (entry.bath_mg_per_l or 0) > most:
        yield reason("strong-bath-advice", mg_per_l=most)


def _gone(note: Note) -> Iterator[Reason]:
    fish = note.fish
    if fish is None or fish.gone is None or note.entry.did == "result":
        return
    assert fish.gone_on is not None
    yield reason("fish-was-gone", fish=note.it, how=fish.gone, on=fish.gone_on)


def _touch_up(note: Note) -> Iterator[Reason]:
    entry, fish = note.entry, note.fish
    if entry.did != "touch-up" or fish is None:
        return
    kind = entry.defect or state_defects.SPECK
    if entry.on in fish.sedations:
        yield reason("touched-up-already", fish=note.it, on=entry.on)
    elif not state_defects.meant(list(fish.defects), entry):
        where = entry.where or None
        yield reason("had-no-such", fish=note.it, kind=kind, where=where, on=entry.on)


def _looks(note: Note) -> Iterator[Reason]:
    entry, fish = note.entry, note.fish
    if entry.saw not in LOOKS or fish is None:
        return
    about = state_defects.meant(list(fish.defects), entry)
    if not about:
        if not _healed(fish, entry):
            yield reason("nothing-to-look-at", fish=note.it, kind=entry.defect)
        return
    for defect in about if entry.saw in WOUND_OVER else ():
        yield from _too_soon(note, defect)


def _healed(fish: FishState, entry: JournalEntry) -> bool:
    return any(
        defect.clean_on is not None and entry.defect in (None, defect.kind)
        for defect in fish.defects
    )


def _too_soon(note: Note, defect: DefectState) -> Iterator[Reason]:
    """Clean on the day of the touch-up or before it. A speck never touched may fade by itself."""
    day, saw = note.entry.on, note.entry.saw
    if defect.touched is not None and day <= defect.touched:
        yield reason("touched-up-only-then", on=defect.touched, saw=saw)
        return
    later = _touched_later(note, defect) if defect.touched is None else None
    if later is not None:
        yield reason("touched-up-later", kind=defect.kind, fish=note.it, on=later)


def _touched_later(note: Note, defect: DefectState) -> date | None:
    found = note.fish_now.defects if note.fish_now else ()
    days = [
        one.touched
        for one in found
        if one.touched and (one.kind, one.where) == (defect.kind, defect.where)
    ]
    return min((day for day in days if day > note.entry.on), default=None)


def _speck_back(note: Note) -> Iterator[Reason]:
    entry, fish = note.entry, note.fish
    if entry.saw != "speck back" or fish is None:
        return
    kind = entry.defect or state_defects.SPECK
    if not any(one.kind == kind and (one.touched or one.clean_on) for one in fish.defects):
        yield reason("none-was-taken-off", fish=note.it, kind=kind)


def _length(note: Note) -> Iterator[Reason]:
    entry, fish = note.entry, note.fish_now
    if entry.measured_cm is None or fish is None:
        return
    size = entry.measured_cm
    before = [(cm, day) for day, cm in fish.lengths if day < entry.on]
    after = [(cm, day) for day, cm in fish.lengths if day > entry.on]
    if before and size < max(before)[0] - MEASURING_ERROR_CM - 1e-9:
        cm, day = max(before)
        yield reason("measured-longer-before", fish=note.it, length=Centimetres(cm), on=day)
    elif before and size > MOST_GROWTH * max(before)[0]:
        cm, day = max(before)
        told, now = Centimetres(cm), Centimetres(size)
        yield reason("grown-too-much", fish=note.it, length=told, on=day, now=now)
    elif after and size > min(after)[0] + MEASURING_ERROR_CM + 1e-9:
        cm, day = min(after)
        yield reason("measured-shorter-later", fish=note.it, length=Centimetres(cm), on=day)


KNOWN = ("home", "move", "warm healing")


def _is_there(season: Season, entry: JournalEntry, fish: FishState | None) -> Iterator[Reason]:
    """Is the fish known to be in that water? What is only presumed may well be written down.

    So may, once after a touch-up, that it stayed where it was and did not go into the vat to heal.
    """
    if entry.did != "move" or fish is None or entry.to is None:
        return
    if fish.sedations and not any(
        move.done and move.on >= fish.sedations[-1] for move in fish.moves
    ):
        return
    stay = yard_as_known(season, entry.on).course(fish).stay_on(entry.on)
    if stay.water == entry.to and stay.grade == "written" and stay.why in KNOWN:
        yield reason("is-there-already", fish=FishId(fish.id), water=entry.to)


def _show(note: Note) -> Iterator[Reason]:
    entry = note.entry
    show = note.then.shows.get(entry.show or "")
    if show is None:
        return
    judging = show.judging.date()
    it = ShowId(entry.show or "")
    if entry.did == "result" and entry.on < judging:
        yield reason("no-result-yet", show=it, on=judging)
    if entry.did in ("cancelled", "postponed") and entry.on > judging:
        yield reason("show-is-over", show=it, on=judging, did=entry.did)
    if entry.did in ("entered", "travelled", "sent") and show.cancelled:
        yield reason("show-was-cancelled", show=it)
    if entry.did == "stayed" and _won_there(note):
        yield reason("won-there", fish=note.it, show=it)
    if entry.did == "postponed" and entry.to_day is not None and day_of(entry.to_day) < entry.on:
        yield reason("day-had-passed", on=day_of(entry.to_day))


def _day_set(note: Note) -> Iterator[Reason]:
    """A day set for a touch-up lies ahead, and of a show before it."""
    day = note.entry.touch_up_on
    if day is None:
        return
    if day < note.entry.on:
        yield reason("day-had-passed", on=day)
    show = note.then.shows.get(note.entry.show or "")
    if show is not None and day >= show.judging.date():
        yield reason("set-after-judging", day=day, show=ShowId(note.entry.show or ""))


def _won_there(note: Note) -> bool:
    fish = note.fish_now
    return fish is not None and any(show == note.entry.show for _, show, _, _ in fish.results)


RULES: tuple[Callable[[Note], Iterator[Reason]], ...] = (
    _gone,
    _touch_up,
    _looks,
    _speck_back,
    _length,
    _show,
    _day_set,
)
