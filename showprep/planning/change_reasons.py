"""Why a plan may differ from the one before: what was noted and read since."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass
from datetime import date

from showprep.planning.state import State
from showprep.planning.words import listed, spoken
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
    ) -> str:
        """The reasons in a sentence: what decides first, then what names it, then warmth.

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
        kept = list(dict.fromkeys(reasons))[-MOST_REASONS:]
        sentence = f"{listed(kept)}." if kept else ""
        return sentence[:1].upper() + sentence[1:]

    def decisive(self, show: str | None) -> bool:
        """Has the show itself been moved or called off?"""
        return any(one.word in DECISIVE and one.show == show for one in self.entries if show)

    def _newer(self, entries: Collection[JournalEntry]) -> tuple[JournalEntry, ...]:
        return tuple(entry for entry in entries if entry.on > self.since)

    def _warmth(self, fish: Collection[str], water: str | None) -> list[str]:
        names = {water} | {
            self.state.fish[one].water_on(self.state.on) for one in fish if one in self.state.fish
        }
        latest = {name: (day, c) for name, day, c in self.readings if name in names}
        return [f"the {name} read {c:g} °C on {spoken(day)}" for name, (day, c) in latest.items()]


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


def told(entry: JournalEntry, state: State) -> str:
    """An entry as a reason: `Aoi was sold on Mon 3 May`."""
    return f"{_subject(entry, state)} on {spoken(entry.on)}"


def _subject(entry: JournalEntry, state: State) -> str:
    word = entry.word
    fish = state.fish.get(entry.fish or "")
    who = fish.record.name if fish else ""
    where = entry.water or (fish.water_on(entry.on) if fish else "")
    known = state.shows.get(entry.show or "")
    show = known.name if known else ""
    if word == "postponed" and entry.to_day is not None:
        return f"{show} was moved to {spoken(day_of(entry.to_day))}; heard"
    if word == "job":
        return f"{entry.job} was noted as done"
    if word in _OF_WATERS:
        return _OF_WATERS[word].format(where=where)
    if word in _OF_SHOWS:
        return _OF_SHOWS[word].format(show=show, who=who)
    mark = entry.defect or "mark"
    text = _OF_FISH.get(word, "{who}: " + word)
    return text.format(who=who or where, mark=mark, to=entry.to, what=entry.treatment or "treated")


_OF_WATERS = {
    "parasites": "parasites were found in the {where}",
    "no parasites": "the {where} was seen to be clear of parasites",
    "khv signs": "signs of KHV were noted in the {where}",
    "khv clear": "the {where} was tested clear of KHV",
    "stop feeding": "feeding of the {where} was stopped",
    "feed again": "feeding of the {where} began again",
    "temperature": "the {where} was read",
}
_OF_SHOWS = {
    "cancelled": "{show} was cancelled; heard",
    "sent": "the form for {show} was sent",
    "entered": "{who} was entered for {show}",
    "travelled": "{who} travelled to {show}",
}
_OF_FISH = {
    "sold": "{who} was sold",
    "lost": "{who} was lost",
    "touch-up": "{who} was touched up",
    "treatment": "{who} was treated ({what})",
    "move": "{who} was moved to the {to}",
    "measure": "{who} was measured",
    "vet": "a vet saw {who}",
    "closed": "{who} was seen to be closed",
    "not closed": "{who} was seen not to be closed",
    "clean": "{who} was seen clean",
    "not clean": "{who} was seen not to be clean yet",
    "mark left": "a mark was seen to stay on {who}",
    "speck back": "a speck was seen back on {who}",
    "new defect": "a new {mark} was seen on {who}",
    "spawned": "{who} spawned",
    "off food": "{who} was off its food",
    "feeding well": "{who} was feeding well",
}


def names_of(fish: Iterable[str], state: State) -> Iterator[str]:
    for one in fish:
        yield state.fish[one].record.name if one in state.fish else one
