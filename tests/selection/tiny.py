"""Short ways to write tiny problems down: days are counted from 1 May, merits in whole marks."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

from msgspec.structs import replace

from showprep.selection.choose import choose
from showprep.selection.problem import EntryOption, Instance, ShowLimits, TouchUpOption
from tests.selection.checker import check

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
    cohort: str = "",
) -> TouchUpOption:
    """`clean_for` and `bars` are shows by one letter each; `entry` fills in the merits."""
    merits = dict.fromkeys(clean_for, 0)
    return TouchUpOption(fish, on(day), water, merits, frozenset(bars), stay(vat), cohort)


class Entry(EntryOption, frozen=True):
    """An entry that knows what a touch-up would make of it."""

    clean: int | None = None


def entry(
    fish: str,
    show: str,
    clean: int | None,
    marked: int | None = None,
    vat: tuple[int, int] | None = None,
    **more: Any,
) -> Entry:
    """A fish that is worth `clean` if touched up and `marked` if not, where that is given."""
    needs = more.pop("needs_touch_up", marked is not None)
    merit = marked if needs else clean
    return Entry(
        fish,
        show,
        None if merit is None else 100 * merit,
        vat=stay(vat),
        clean=100 * clean if needs and clean is not None else None,
        **more,
    )


def season(
    entries: list[Entry],
    touch_ups: list[TouchUpOption] | None = None,
    limits: dict[str, dict[str, Any]] | None = None,
    **more: Any,
) -> Instance:
    """A problem with limits only where they are given: any other is out of the way."""
    shows = {one.show for one in entries}
    clean = {one.key: one.clean for one in entries if one.clean is not None}
    options = [
        replace(one, merits={s: clean[one.fish, s] for s in one.merits if (one.fish, s) in clean})
        for one in touch_ups or ()
    ]
    whole: dict[str, Any] = {"fish_per_day": 99, "touch_ups_per_fish": 9, "spacing_default": 1}
    return Instance(
        touch_ups=tuple(options),
        entries=tuple(entries),
        shows={show: ShowLimits(show, **(limits or {}).get(show, {})) for show in shows},
        **(whole | more),
    )


def marks(problem: Instance) -> int:
    """The greatest merit in whole marks, of a plan that the checker finds nothing against."""
    solution = choose(problem).solution
    check(problem, solution)
    assert solution.proven
    return solution.merit // 100
