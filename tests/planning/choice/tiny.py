"""Short ways to write tiny problems down: days are counted from 1 May, merits in whole marks."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

from showprep.planning.choice.problem import EntryOption, Problem, ShowLimits, TouchUpOption
from showprep.planning.choice.solve import choose
from tests.planning.choice.checker import check

FIRST = date(2027, 5, 1)


def on(number: int) -> date:
    return FIRST + timedelta(days=number)


def stay(days: tuple[int, int] | None) -> tuple[date, date] | None:
    return None if days is None else (on(days[0]), on(days[1]))


def touch(
    fish: str,
    day: int,
    clean_for: str = "",
    bars: str = "",
    vat: tuple[int, int] | None = None,
    water: str = "pond",
) -> TouchUpOption:
    """`clean_for` and `bars` are shows by one letter each."""
    return TouchUpOption(fish, on(day), water, frozenset(clean_for), frozenset(bars), stay(vat))


def entry(
    fish: str,
    show: str,
    clean: int | None,
    marked: int | None = None,
    vat: tuple[int, int] | None = None,
    **more: Any,
) -> EntryOption:
    """A fish that needs a touch-up if `marked` is given, or said to by `needs_touch_up`."""
    needs = more.pop("needs_touch_up", marked is not None)
    whole = [None if one is None else 100 * one for one in (clean, marked)]
    return EntryOption(fish, show, whole[0], whole[1], needs, vat=stay(vat), **more)


def season(
    entries: list[EntryOption],
    touch_ups: list[TouchUpOption] | None = None,
    limits: dict[str, dict[str, Any]] | None = None,
    **more: Any,
) -> Problem:
    """A problem with limits only where they are given: any other is out of the way."""
    shows = {one.show for one in entries}
    whole: dict[str, Any] = {"fish_per_day": 99, "touch_ups_per_fish": 9, "spacing_default": 1}
    return Problem(
        touch_ups=tuple(touch_ups or ()),
        entries=tuple(entries),
        shows={show: ShowLimits(show, **(limits or {}).get(show, {})) for show in shows},
        **(whole | more),
    )


def marks(problem: Problem) -> int:
    """The greatest merit in whole marks, of a plan that the checker finds nothing against."""
    solution = choose(problem)
    check(problem, solution)
    assert solution.aims[0].proven
    return solution.merit // 100
