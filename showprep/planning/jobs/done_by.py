"""Which entries of the journal say that a kind of job was done, without naming the job.

A keeper who writes down that the form was sent, or what the scrape showed, has told enough.
"""

from __future__ import annotations

from collections.abc import Collection
from datetime import date, timedelta

from showprep.planning.as_of.records import water_told
from showprep.planning.as_of.state import State

EARLY = timedelta(days=3)  # a job done a few days before its window is that job
EARLY_MOVE = timedelta(days=7)  # a move may be made a week before its window
AGAIN = timedelta(days=6)
_TOUCH_UP = ("touch-up",)
_LOOK = ("clean", "not clean", "closed", "not closed", "mark left")

OF_FISH: dict[str, tuple[str, ...]] = {  # done when each of its fish has such an entry
    "touch-up": _TOUCH_UP,
    "ask-a-vet": _TOUCH_UP,
    "touch-up-kit": _TOUCH_UP,
    "look": _LOOK,  # for a week: what was not clean then wants another look
    "look-back": _LOOK,
    "vet": ("vet",),
    "first-look": ("measure",),
    "write-up": ("result",),
}
OF_WATERS: dict[str, tuple[str, ...]] = {  # done when each of its waters has such an entry
    "parasite-check": ("parasites", "no parasites"),
    "clear-check": ("no parasites",),
    "home-scrape": ("parasites", "no parasites"),
    "home-scrape-again": ("parasites", "no parasites"),
}
TO_WATER = ("to-holding", "move", "vat-back")  # done when each of its fish was moved to its water
OUT_OF_WATER = ("isolation-clear",)  # done when each of its fish was moved out of it
OF_SHOWS: dict[str, tuple[str, ...]] = {"send-entry": ("sent",), "entries-close": ("sent",)}


def is_done(
    state: State,
    kind: str,
    fish: Collection[str],
    show: str | None,
    water: str | None,
    since: date,
) -> bool:
    """Does the journal say that a job of this kind was done, from a few days before `since` on?

    A fish that is sold or lost needs nothing done any more.
    """
    if kind in OF_SHOWS:
        return any(one.word in OF_SHOWS[kind] and one.show == show for one in state.journal)
    first = since - EARLY
    if kind == "look":
        first = max(first, state.on - AGAIN)
    entries = [entry for entry in state.journal if entry.on >= first]
    here = [one for one in fish if one in state.fish and state.fish[one].gone is None]
    if kind in OF_FISH:
        told = {one.fish for one in entries if one.word in OF_FISH[kind]}
        return bool(here) and all(one in told for one in here)
    if kind in (*TO_WATER, *OUT_OF_WATER):
        moved = {
            entry.fish
            for entry in state.journal
            if entry.word == "move"
            and entry.on >= since - (EARLY if kind in OUT_OF_WATER else EARLY_MOVE)
            and (entry.to == water) == (kind in TO_WATER)
        }
        return bool(here) and moved.issuperset(here)
    if kind in OF_WATERS:
        waters = {water} if water else {state.fish[one].water_on(state.on) for one in here}
        of_kind = [one for one in entries if one.word in OF_WATERS[kind]]
        told = {one.water or water_told(one, state.fish) for one in of_kind}
        looked = {one.fish for one in of_kind}
        return (bool(waters) and waters <= told) or (bool(here) and looked.issuperset(here))
    return False
