"""From which chance on a word is used, and how a word that was used stays.

A verdict does not flip back and forth for a hundredth: the word of the last plan of an earlier day
stands until the chance has passed the limit by 0.02, or until something was written down about the
fish.
"""

from __future__ import annotations

from datetime import date, timedelta

from msgspec import Struct

from showprep.husbandry.best_touch_up_day import BETTER_BY
from showprep.planning.yard.yard import Yard

CLOSED_LEAST = 0.95
"""A wound open at departure in more than 1 case in 20 keeps the fish at home (assumption)."""

STANDS = timedelta(days=7)
"""So near its day a touch-up stands (a rule of this program)."""

FALLEN = 0.8
"""It stands while its chance is this share, or more, of what was told."""


class ChanceLimits(Struct, frozen=True):
    """The chances, 0 to 1, from which a fish is called ready and a touch-up may be planned.

    `closed`: from which its wounds count as closed; it only ever rises, which is the safe side.
    """

    sure: float
    least: float
    closed: float = CLOSED_LEAST


def limits_of(yard: Yard, fish: str, show: str) -> ChanceLimits:
    """The limits for one fish and show, moved by what the last plan said of it."""
    preferences = yard.keeper.preferences
    sure, least = preferences.sure_enough, preferences.least_chance
    last = yard.last.verdicts.get((fish, show)) if yard.last is not None else None
    if last is None or heard_of(yard, fish):
        return ChanceLimits(sure, least)
    if last.verdict in ("ready", "ready-after-touch-up"):
        return ChanceLimits(sure - BETTER_BY, least)
    if last.verdict == "tight":
        return ChanceLimits(sure + BETTER_BY, least - BETTER_BY)
    if last.verdict == "as-it-is":
        return ChanceLimits(sure, least + BETTER_BY)
    if last.verdict == "too-late":
        return ChanceLimits(sure, least, CLOSED_LEAST + BETTER_BY)
    return ChanceLimits(sure, least)


def heard_of(yard: Yard, fish: str) -> bool:
    """Was anything written down about the fish since the last plan, or taken back?"""
    since = yard.last.planned_on if yard.last is not None else date.min
    state = yard.state
    return any(entry.fish == fish and entry.on >= since for entry in state.journal) or any(
        one.fish == fish and one.undone is not None and one.undone >= since
        for one in state.taken_back
    )


def planned_day(yard: Yard, fish: str, show: str) -> date | None:
    """The touch-up day of the last plan for a fish and show, if it still lies ahead."""
    last = yard.last.verdicts.get((fish, show)) if yard.last is not None else None
    if last is None or last.touch_up_day is None or last.touch_up_day < yard.on:
        return None
    return last.touch_up_day


def stands(yard: Yard, fish: str, show: str, day: date, chance: float) -> bool:
    """Does a touch-up of the last plan stand: near, and no less likely by a fifth?"""
    if planned_day(yard, fish, show) != day or day - yard.on > STANDS or yard.last is None:
        return False
    told = yard.last.verdicts[fish, show].touch_up_chance
    return told is not None and chance >= FALLEN * told
