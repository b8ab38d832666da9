"""Small random problems with every kind of limit, the same for the same number."""

from __future__ import annotations

from datetime import date, timedelta
from random import Random
from typing import TypeVar

from showprep.selection.problem import EntryOption, Instance, ShowLimits, TouchUpOption

T = TypeVar("T")
START = date(2027, 5, 1)


def maybe(draw: Random, share: float, value: T) -> T | None:
    return value if draw.random() < share else None


def stay(draw: Random, first: int, longest: int) -> tuple[date, date]:
    begin = START + timedelta(days=first)
    return begin, begin + timedelta(days=draw.randrange(longest))


def problem(number: int) -> Instance:
    """A small problem; every kind of limit comes up in some of them."""
    draw = Random(f"small/{number}")
    fish, shows, days = draw.randrange(2, 5), draw.randrange(1, 4), draw.randrange(1, 5)
    return sized(draw, fish, shows, days)


def medium(number: int) -> Instance:
    """Thirty fish and four shows, with the same kinds of limit."""
    return sized(Random(f"medium/{number}"), 30, 4, 8)


def sized(draw: Random, fish: int, shows: int, days: int) -> Instance:
    musts = 0.2 / fish
    names = [f"f{at}" for at in range(fish)]
    places = [f"s{at}" for at in range(shows)]
    dates = [7 * at for at in range(days)]
    touch_ups = [one for name in names for one in _touch_ups(draw, name, places, dates)]
    known = [(one.fish, one.day, one.water) for one in touch_ups]
    few = draw.random() < 0.15 and known
    return Instance(
        touch_ups=tuple(touch_ups),
        entries=tuple(
            one for name in names for one in _entries(draw, name, places, dates[-1], musts)
        ),
        shows={show: _limits(draw, show) for show in places},
        apart=frozenset((a, b) for a in places for b in places if a < b and draw.random() < 0.3),
        fish_per_day=draw.choice((1, 1, 2, 3)),
        touch_ups_per_fish=draw.choice((1, 1, 2)),
        spacing_default=draw.choice((1, 8, 15)),
        spacing_days={(name, START): draw.choice((1, 8, 22)) for name in names[:1]},
        vat_holds=maybe(draw, 0.7, draw.choice((1, 2))),
        fees=maybe(draw, 0.3, float(draw.randrange(20, 90))),
        fixed=frozenset(draw.sample(known, 1)) if few else frozenset(),
        worth_showing=draw.choice((0, 3000, 6000)),
        same_class_share=draw.choice((0.5, 0.5, 0.25, 1.0)),
        touch_up_price=draw.choice((0, 200)),
        session_price=draw.choice((0, 100)),
    )


def _touch_ups(draw: Random, name: str, places: list[str], dates: list[int]) -> list[TouchUpOption]:
    found = []
    for at in dates:
        for water in ("pond", "vat"):
            if draw.random() < (0.35 if water == "pond" else 0.75):
                continue
            clean_for = [show for show in places if draw.random() < 0.5]
            merits = {show: 50 * draw.randrange(80, 200) for show in clean_for}
            bars = frozenset(show for show in places if draw.random() < 0.2) - set(clean_for)
            vat = stay(draw, at, 20) if water == "vat" else None
            day = START + timedelta(days=at)
            cohort = Random(f"{name} {at}").choice("aab") if water == "vat" else ""
            found.append(TouchUpOption(name, day, water, merits, bars, vat, cohort))
    return found


def _entries(
    draw: Random, name: str, places: list[str], last: int, musts: float
) -> list[EntryOption]:
    merit, length = draw.randrange(40, 95), round(draw.uniform(25, 70), 1)
    found = []
    for number, show in enumerate(places):
        if draw.random() < 0.1:
            continue
        found.append(
            EntryOption(
                fish=name,
                show=show,
                merit=maybe(draw, 0.8, 100 * merit - 50 * draw.randrange(0, 20)),
                group=draw.choice(("", "a", "a", "b")),
                price=draw.choice((0, 100, 250)),
                length_cm=length,
                points=float(draw.randrange(1, 5)),
                size_class=draw.choice(("", "3", "4")),
                kg=round(draw.uniform(0.3, 6), 2),
                fee=float(draw.randrange(0, 15)),
                must=draw.random() < musts,
                vat=maybe(draw, 0.5, stay(draw, last + 5 + 6 * number, 12)),
            )
        )
    return found


def _limits(draw: Random, show: str) -> ShowLimits:
    return ShowLimits(
        show=show,
        fish=maybe(draw, 0.5, draw.randrange(1, 4)),
        fish_at_least=maybe(draw, 0.2, 2),
        total_cm=maybe(draw, 0.3, round(draw.uniform(60, 160), 1)),
        total_cm_at_least=maybe(draw, 0.15, 80.0),
        points=maybe(draw, 0.2, float(draw.randrange(3, 9))),
        entries_per_class=maybe(draw, 0.3, 1),
        boxes=maybe(draw, 0.3, draw.randrange(1, 4)),
        kg=maybe(draw, 0.3, round(draw.uniform(3, 12), 1)),
        fee=float(draw.randrange(0, 30)),
        price=draw.choice((0, 300, 2000)),
        weight=draw.choice((1.0, 1.0, 2.0)),
    )
