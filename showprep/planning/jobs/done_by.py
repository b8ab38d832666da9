"""Which entries of the journal say that a kind of job was done, without naming the job.

A keeper who writes down that the form was sent, or what the scrape showed, has told enough.
"""

from __future__ import annotations

from collections.abc import Collection
from datetime import date, timedelta

from showprep.planning.as_of.records import water_told
from showprep.planning.yard.course import Course
from showprep.planning.yard.yard import Yard

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
    "departure": ("travelled", "stayed"),
    "first-look": ("measure",),
    "write-up": ("result",),
}
OF_WATERS: dict[str, tuple[str, ...]] = {  # done when each of its waters has such an entry
    "parasite-check": ("parasites", "no parasites"),
    "home-scrape": ("parasites", "no parasites"),
    "home-scrape-again": ("parasites", "no parasites"),
}
INTO_VAT = "into-vat"
# Done when each of its fish was moved to its water.
TO_WATER = ("to-holding", "move", INTO_VAT, "vat-back")
OUT_OF_WATER = ("isolation-clear",)  # done when each of its fish was moved out of it
OF_SHOWS: dict[str, tuple[str, ...]] = {"send-entry": ("sent",), "entries-close": ("sent",)}

BEGUN: dict[str, str] = {
    **dict.fromkeys(("stop-feeding", "no-food", "unfed-before-touch-up"), "stop feeding"),
    "feed-again": "feed again",
}
"""What a tick of these tells is that they have begun: they stay in the plan to their last day, so
that nobody feeds the water in between."""

RAMP_KINDS = {
    "holding": "match-water",
    "kept apart": "warm-after-show",
    "home": "way-home",
    "warm healing": "vat-warm",
    "move": "move-ramp",
}
"""By what a change of water is for: its ramp. A tick tells that it has begun: it stays in the plan
to its last day, so that no vat with fish in it is let cool."""
RAMPS = frozenset(RAMP_KINDS.values())

# A tick says that it was looked or measured, not what was seen.
SEEN = frozenset({kind for kind, words in OF_FISH.items() if "clean" in words} | {*OF_WATERS})
MEASURED = frozenset(kind for kind, words in OF_FISH.items() if {*words} & {"measure", "result"})


def told_by_a_tick(
    task: str, kind: str, fish: tuple[str, ...], show: str | None, water: str | None
) -> tuple[dict[str, str], tuple[str, ...]]:
    """What the journal is told, and of which fish, by a tick of a job not in `SEEN` or `MEASURED`.

    In the journal's own words where it has some: a touch-up that is only ticked off as a job
    would leave the speck where it is.
    """
    if kind == "touch-up":
        return {"did": "touch-up"}, fish
    if kind in OF_SHOWS and show:
        return {"did": "sent", "show": show}, ()
    if kind in TO_WATER and water:
        return {"did": "move", "to": water}, fish
    if kind in BEGUN and water:
        return {"did": BEGUN[kind], "water": water, "job": task}, ()
    if kind == "departure" and show:
        return {"did": "travelled", "show": show}, fish
    return {"did": "job", "job": task}, ()


def is_done(
    yard: Yard,
    kind: str,
    fish: Collection[str],
    show: str | None,
    water: str | None,
    since: date,
) -> bool:
    """Does the journal say that a job of this kind was done, from a few days before `since` on?

    A fish that is sold or lost needs nothing done any more.
    """
    state, courses = yard.state, yard.courses.by_fish
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
            and entry.on >= since - _moved_before(kind)
            and (entry.to == water) == (kind in TO_WATER)
        }
        return bool(here) and moved.issuperset(here)
    if kind in OF_WATERS:
        of_kind = [one for one in entries if one.word in OF_WATERS[kind]]
        looked = {(water_told(one, courses), one.on) for one in of_kind}
        if water is not None and water in {where for where, _ in looked}:
            return True
        named = {one.fish for one in of_kind}
        return bool(here) and all(
            one in named if water is not None else _looked_at(courses[one], show, looked, state.on)
            for one in here
        )
    return False


def _moved_before(kind: str) -> timedelta:
    """How long before its window a move of this kind may be made: into the vat to heal, not at all,
    for the fish is touched up first."""
    if kind == INTO_VAT:
        return timedelta(0)
    return EARLY if kind in OUT_OF_WATER else EARLY_MOVE


def _looked_at(
    course: Course, show: str | None, looked: Collection[tuple[str | None, date]], on: date
) -> bool:
    """Was a fish in a water on the day it was looked at, and is it in such a one before `show`?

    Not in the water of the day: that changes on the way to a show and home, and a check that was
    done would be undone by it, or one still to be made settled by a look at another water.
    """
    before = (course.fed_in_before(show) if show is not None else None) or course.water_before(on)
    was_in = any(where is not None and where == course.water_on(day) for where, day in looked)
    return was_in and before in {where for where, _ in looked}


def done_on(
    yard: Yard,
    task: str,
    kind: str,
    fish: Collection[str],
    show: str | None,
    water: str | None,
    since: date,
) -> date | None:
    """The day on which a job that has left the plan was done; None where the journal does not say.

    A job that was named is done on the day of that entry, any other on the last day of what
    settles its kind.
    """
    named = yard.state.jobs_done.get(task) or yard.state.jobs_begun.get(task)
    if named is not None:
        return named
    # A fish that is gone needs nothing more: that is no deed.
    if any(one not in yard.state.fish or yard.state.fish[one].gone is not None for one in fish):
        return None
    if kind == INTO_VAT:  # noted late, it was still done on the day of the touch-up
        since = min([since, *(day for one in fish for day in yard.state.fish[one].sedations[-1:])])
    if not is_done(yard, kind, fish, show, water, since):
        return None
    words = (*OF_FISH.get(kind, ()), *OF_WATERS.get(kind, ()), *OF_SHOWS.get(kind, ()))
    if kind in (*TO_WATER, *OUT_OF_WATER):
        words = ("move",)
    moved = kind in (*TO_WATER, *OUT_OF_WATER)
    first = since - (_moved_before(kind) if moved else EARLY)
    days = [
        entry.on
        for entry in yard.state.journal
        if entry.word in words
        and (kind in OF_SHOWS or entry.on >= first)
        and (entry.fish in fish or entry.show == show or entry.water == water)
    ]
    return max(days, default=None)
