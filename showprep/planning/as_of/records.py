"""What the files and the journal say together on one day, as frozen records."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from msgspec import Struct

from showprep.planning.yard.course import Course, WaterMove
from showprep.season.records import Fish, JournalEntry, Keeper, Show


class DefectState(Struct, frozen=True):
    """One mark on a fish as it stands.

    A speck touched up twice, or come back, has a chapter for each time; `ended_on` is the day the
    next chapter began. Millimetres; marks of merit; `lost_share` 0 to 1.
    """

    kind: str
    where: str
    size_mm: float | None
    seen: date
    merit_lost: float
    lost_share: float | None = None
    vet: date | None = None
    touched: date | None = None
    clean_on: date | None = None  # the first look that saw nothing; nothing shows from that day
    still_clean_on: date | None = None  # the latest look that saw nothing
    closed_on: date | None = None
    not_closed_on: date | None = None  # the latest look that saw it open
    not_clean_on: date | None = None  # the latest look that still saw it
    mark_left: bool = False  # the wound is over, but a mark will stay
    came_back: bool = False
    ended_on: date | None = None

    @property
    def heals_from(self) -> date:
        """The day healing is counted from: touched up, else seen to by a vet, else found."""
        return self.touched or self.vet or self.seen

    @property
    def open(self) -> bool:
        """Whether it can still be seen (a mark that will stay counts), in its latest chapter."""
        return self.clean_on is None and self.ended_on is None


class Treated(Struct, frozen=True):
    """One treatment that was noted, of a fish or of the water it was in.

    `what` is what was used in the keeper's words, None where they name nothing.
    """

    on: date
    what: str | None
    by_vet: bool = False
    against: str | None = None  # the parasite, where it was told


class Find(Struct, frozen=True):
    """A find of parasites in one water, and what was done about it since. Every tuple is by date.

    `found` is the first day of the find, `seen` all of its days, `doses` the treatments of that
    water noted since, `scrapes` the clean scrapes. `cleared` is the scrape that cleared the water.
    """

    found: date
    seen: tuple[date, ...]
    water: str
    parasite: str | None = None  # None: not told
    fish: frozenset[str] = frozenset()  # those it was seen on, where they were named
    doses: tuple[Treated, ...] = ()
    scrapes: tuple[date, ...] = ()
    cleared: date | None = None


class FishState(Struct, frozen=True):
    """One fish as it stands: its record, and what the journal adds. Every tuple is by date."""

    id: str
    record: Fish
    gone: str | None  # "sold" or "lost"
    gone_on: date | None
    defects: tuple[DefectState, ...]  # all of them, also the healed
    lengths: tuple[tuple[date, float], ...]  # centimetres
    weights: tuple[tuple[date, float], ...]  # kilograms
    moves: tuple[WaterMove, ...]  # planned and done
    sedations: tuple[date, ...]
    spawned: date | None
    off_food_since: date | None
    treated: tuple[Treated, ...]  # the fish itself, or the water it was in
    photos: tuple[tuple[date, str], ...]
    results: tuple[tuple[date, str, str, str], ...]  # day, show, result, remarks
    entered: frozenset[str]
    travelled: tuple[tuple[date, str], ...]  # day, show
    stayed_from: frozenset[str] = frozenset()  # shows it did not leave for after all
    days_set: tuple[tuple[str | None, date], ...] = ()  # for touch-ups, by the keeper; show, day

    def touch_up_days(self, show: str, on: date) -> tuple[date, ...]:
        """The days from `on` that the keeper has set for its touch-ups for a show: those for that
        show, else those for all. Empty where none is set, or all have passed."""
        ahead = sorted((day, of) for of, day in self.days_set if day >= on and of in (show, None))
        own = [day for day, of in ahead if of == show]
        return tuple(dict.fromkeys(own or [day for day, _ in ahead]))

    @property
    def open_defects(self) -> tuple[DefectState, ...]:
        return tuple(defect for defect in self.defects if defect.open)

    def went_to(self, show: str) -> bool:
        """Is it written down that it left for this show, or what it won there?"""
        told = {one for _, one in self.travelled} | {one for _, one, _, _ in self.results}
        return show in told - self.stayed_from


class State(Struct, frozen=True):
    """A season as it stands at the end of one day; what was written for later days is not in it.

    Planned moves and the shows' own dates may lie ahead; everything seen or done may not.
    """

    on: date
    keeper: Keeper
    shows: Mapping[str, Show]  # postponed and cancelled as the journal says
    fish: Mapping[str, FishState]
    readings: Mapping[str, tuple[tuple[date, float], ...]]  # by water, degrees Celsius
    finds: tuple[Find, ...]  # every find of parasites, by day; a water's last one comes last
    fasting: Mapping[str, date]  # by water: the day feeding stopped, where it has not begun again
    fed_again: Mapping[str, date]  # by water: the day feeding last began again
    jobs_done: Mapping[str, date]
    jobs_begun: Mapping[str, date]  # of those that are kept for some days, such as a fast
    sent: Mapping[str, date]  # by show: the day the entry form was sent
    khv_signs: tuple[tuple[date, str], ...]  # day, water
    journal: tuple[JournalEntry, ...]  # the entries known on the day, by date
    taken_back: tuple[JournalEntry, ...] = ()  # those of them that count no longer

    @property
    def parasites(self) -> Mapping[str, Find]:
        """The last find in every water that ever had one."""
        return {find.water: find for find in self.finds}


def water_told(entry: JournalEntry, courses: Mapping[str, Course]) -> str | None:
    """The water an entry is about: the one it names, or the one its fish was in that day."""
    if entry.water is not None:
        return entry.water
    about = courses.get(entry.fish or "")
    return about.water_on(entry.on) if about else None
