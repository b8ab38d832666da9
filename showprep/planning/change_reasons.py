"""Why a plan may differ from the one before: what was noted and read since."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from datetime import date

from showprep.husbandry.reason import Celsius, FishId, Reason, ShowId, reason
from showprep.planning.state import State
from showprep.season.records import JournalEntry
from showprep.season.show_times import day_of

MOST_REASONS = 3
# Said of a whole water or season: they can move jobs of fish that they do not name.
# What decides by itself: beside it nothing else is a reason.
DECISIVE = ("sold", "lost", "cancelled", "postponed")
FAR_REACHING = (
    "sold",
    "lost",
    "cancelled",
    "postponed",
    "parasites",
    "no parasites",
    "khv signs",
    "khv clear",
)
# Written down for the record: no date hangs on them.
WITHOUT_EFFECT = (
    *("weigh", "measure", "result", "job", "sent", "entered", "temperature"),
    *("stop feeding", "feed again", "closed"),
)


@dataclass(frozen=True, slots=True)
class News:
    """What has come in since the last plan."""

    state: State
    since: date  # the day of the last plan
    entries: tuple[JournalEntry, ...]
    readings: tuple[tuple[str, date, float], ...]  # water, day, degrees Celsius

    def about(
        self, fish: Collection[str], show: str | None, water: str | None
    ) -> tuple[JournalEntry, ...]:
        """The entries that name one of these fish, the show, or a water that they are in."""
        waters = {water} | {
            self.state.fish[one].water_on(self.state.on) for one in fish if one in self.state.fish
        }
        return tuple(
            entry
            for entry in self.entries
            if entry.fish in fish
            or (entry.show is not None and entry.show == show and entry.fish is None)
            or (entry.water is not None and entry.water in waters)
        )

    def why(
        self,
        fish: Collection[str],
        show: str | None,
        water: str | None,
        *,
        of_others: bool = False,
    ) -> tuple[Reason, ...]:
        """The reasons: what decides first, then what names it, then warmth.

        Entries of the last plan's own day were most likely in it: they count only where nothing
        newer does. `of_others`: failing that, what became of other fish may be the reason.
        """
        of_it = [one for one in self.about(fish, show, water) if one.word not in WITHOUT_EFFECT]
        far = [
            one
            for one in self.entries
            if one.word in FAR_REACHING or (of_others and one.word not in WITHOUT_EFFECT)
        ]
        decisive = [one for one in of_it if one.word in DECISIVE]
        found = next((some for some in map(self._newer, (decisive, of_it, far)) if some), ())
        reasons = [told(entry, self.state) for entry in found]
        reasons = reasons or [told(entry, self.state) for entry in decisive or of_it or far]
        reasons += self._warmth(fish, water) if not decisive else []
        return tuple(dict.fromkeys(reasons))[-MOST_REASONS:]

    def decisive(self, show: str | None) -> bool:
        """Has the show itself been moved or called off?"""
        return any(one.word in DECISIVE and one.show == show for one in self.entries if show)

    def _newer(self, entries: Collection[JournalEntry]) -> tuple[JournalEntry, ...]:
        return tuple(entry for entry in entries if entry.on > self.since)

    def _warmth(self, fish: Collection[str], water: str | None) -> list[Reason]:
        names = {water} | {
            self.state.fish[one].water_on(self.state.on) for one in fish if one in self.state.fish
        }
        latest = {name: (day, c) for name, day, c in self.readings if name in names}
        return [
            reason("water-read", water=name, read=Celsius(c), on=day)
            for name, (day, c) in latest.items()
        ]


def news_since(state: State, last: date) -> News:
    """Entries and readings of the days since the last plan, its own day included."""
    readings = (
        (water, day, c)
        for water, found in sorted(state.readings.items())
        for day, c in found
        if day >= last
    )
    entries = (entry for entry in state.journal if entry.on >= last)
    return News(state, last, tuple(entries), tuple(readings))


def told(entry: JournalEntry, state: State) -> Reason:
    """An entry as a reason: what was noted, of whom or of which water, and when."""
    fish = state.fish.get(entry.fish or "")
    where = entry.water or (fish.water_on(entry.on) if fish else None)
    return reason(
        "noted",
        word=entry.word,
        on=entry.on,
        fish=FishId(fish.id) if fish else None,
        show=ShowId(entry.show) if entry.show else None,
        water=where,
        to=day_of(entry.to_day) if entry.to_day is not None else entry.to,
        what=entry.job or entry.treatment,
        kind=entry.defect,
    )
