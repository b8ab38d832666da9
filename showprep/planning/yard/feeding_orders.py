"""What each water is fed on each day: one order, the strictest that holds.

A water is fed as one, so whatever its fish are prepared for, or come home from, binds all that
are in it: the fast before a journey or a sedation, the cuts before a show, the way back to the
full ration, and water too cold to feed in. The orders of all shows and fish are laid over each
other day by day, and the days of one order that follow each other are one stretch.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from datetime import date, timedelta
from typing import Literal

from msgspec import Struct

from showprep.husbandry.feeding import (
    RefeedingStep,
    colour_food_days_before,
    refeeding_steps,
    share_on,
)
from showprep.husbandry.figures import FiguresInForce

Cause = Literal["fast", "cut", "colour", "sedation", "home", "stayed", "cold"]
DAY = timedelta(days=1)
EARLIEST_CUT = timedelta(days=120)
"""Nobody cuts the feed of a show fish earlier than this before judging (assumption)."""


class Because(Struct, frozen=True, order=True):
    """One thing that asks for an order: the show or the session it is for, and what it asks.

    `about` is the show's id, or the session's anchor.
    """

    cause: Cause
    about: str


class Order(Struct, frozen=True):
    """What a water is fed from `first` to `last`: a `share` of the ration, 0 to 1, of what kind.

    `asked` is what makes the order as strict as it is, in the order in which it began.
    """

    water: str
    first: date
    last: date
    share: float
    colour_food: bool
    asked: tuple[Because, ...]

    @property
    def days(self) -> int:
        """How many days it lasts."""
        return (self.last - self.first).days + 1


class Wish(Struct, frozen=True):
    """What one thing asks of one water over a stretch of days, both ends included."""

    water: str
    first: date
    last: date
    share: float
    colour_food: bool
    because: Because


def orders(wishes: Iterable[Wish], too_cold: Callable[[str, date], bool]) -> tuple[Order, ...]:
    """The orders of every water about which something is asked, by water and day.

    `too_cold` tells of a water and a day on which nothing is fed whatever is asked.
    """
    by_water: dict[str, dict[date, list[Wish]]] = {}
    for wish in dict.fromkeys(wishes):  # the fish of one water mostly ask the same
        days = by_water.setdefault(wish.water, {})
        for day in _each(wish.first, wish.last):
            days.setdefault(day, []).append(wish)
    return tuple(
        order
        for water, days in sorted(by_water.items())
        for order in _of_water(water, days, too_cold)
    )


def _of_water(
    water: str, days: Mapping[date, Sequence[Wish]], too_cold: Callable[[str, date], bool]
) -> Iterator[Order]:
    standing: Order | None = None
    for day, wishes in sorted(days.items()):
        order = _on_day(water, day, wishes, too_cold(water, day))
        if order is None:
            continue
        if standing is not None and _goes_on(standing, order):
            asked = dict.fromkeys((*standing.asked, *order.asked))
            standing = Order(
                water, standing.first, day, order.share, order.colour_food, tuple(asked)
            )
            continue
        if standing is not None:
            yield standing
        standing = order
    if standing is not None:
        yield standing


def _on_day(water: str, day: date, wishes: Sequence[Wish], cold: bool) -> Order | None:
    share = min(wish.share for wish in wishes)
    if cold and share > 0:
        # Nothing is fed, so there is nothing to cut; but who is to be fed again has to wait.
        waiting = any(wish.because.cause in ("home", "stayed") for wish in wishes)
        return Order(water, day, day, 0.0, False, (Because("cold", ""),)) if waiting else None
    colour = all(wish.colour_food for wish in wishes)
    binding = [
        wish
        for wish in wishes
        if wish.share == share < 1
        or (not wish.colour_food and share == 1)
        or share == 1 == wish.share
    ]
    return Order(water, day, day, share, colour, _asked(binding))


def _asked(wishes: Iterable[Wish]) -> tuple[Because, ...]:
    found = sorted(wishes, key=lambda one: (one.first, one.because))
    return tuple(dict.fromkeys(wish.because for wish in found))


def _goes_on(standing: Order, order: Order) -> bool:
    return (
        standing.last + DAY == order.first
        and (standing.share, standing.colour_food) == (order.share, order.colour_food)
        and (standing.asked[0].cause == "cold") == (order.asked[0].cause == "cold")
    )


def before_show(
    water_on: Callable[[date], str | None],
    show: str,
    judging: date,
    departure: date,
    fast_from: date,
    since: date,
    figures: FiguresInForce,
) -> Iterator[Wish]:
    """What one fish that goes to a show asks of the waters it is in, from `since` to departure."""
    colour_from = judging - timedelta(days=colour_food_days_before(figures))
    first = max(since, min(colour_from, judging - EARLIEST_CUT))
    for day in _each(first, departure - DAY):
        water = water_on(day)
        if water is None:
            continue
        no_colour = day >= colour_from
        share = 0.0 if day >= fast_from else share_on((judging - day).days, figures)
        if share == 1 and not no_colour:
            continue
        cause: Cause = "fast" if share == 0 else "cut" if share < 1 else "colour"
        yield Wish(water, day, day, share, not no_colour, Because(cause, show))


def after_show(
    water_on: Callable[[date], str | None],
    show: str,
    home: date,
    until: date,
    figures: FiguresInForce,
) -> Iterator[Wish]:
    """The way back to the full ration of one fish that came home, at most up to `until`."""
    yield from _by_steps(water_on, home, until, Because("home", show), refeeding_steps(figures), 0)


def stayed_behind(
    water: str,
    show: str,
    departure: date,
    figures: FiguresInForce,
) -> Iterator[Wish]:
    """The way back to the full ration of a water that fasted with fish which have now left.

    On the day they leave the others are fed again: the two days without food are for fish that
    come home.
    """
    steps = [step for step in refeeding_steps(figures) if step.share > 0]
    start = steps[0].from_day
    last = departure + timedelta(days=steps[-1].from_day - start)
    because = Because("stayed", show)
    yield from _by_steps(lambda day: water, departure, last, because, steps, start)


def _by_steps(
    water_on: Callable[[date], str | None],
    first: date,
    until: date,
    because: Because,
    steps: Sequence[RefeedingStep],
    start: int,
) -> Iterator[Wish]:
    for step in steps:
        begin = first + timedelta(days=step.from_day - start)
        # The full ration is an order for one day, to say so; then nothing is asked any more.
        end = begin if step.to_day is None else first + timedelta(days=step.to_day - start)
        for day in _each(begin, min(end, until)):
            water = water_on(day)
            if water is not None:
                yield Wish(water, day, day, step.share, True, because)


def before_sedation(water: str, day: date, days: int, session: str) -> Wish:
    """The fast of a water before a session on `day`, and the day itself until it is over."""
    return Wish(
        water, day - timedelta(days=days), day - DAY, 0.0, True, Because("sedation", session)
    )


def _each(first: date, last: date) -> Iterator[date]:
    day = first
    while day <= last:
        yield day
        day += DAY
