"""Invented seasons of any size, the same for the same number: problems to measure the choice with.

Nothing here is a fact of the trade. The shape is that of a real season: shows on Saturdays from
May to September, hands free at weekends but for a few away, ponds of different warmth, specks of
a few sizes, so that windows follow from pond, show and size; fees, boxes, centimetres, kilograms,
rest between shows and an isolation vat that fish come home to or heal in. The chance that a
touch-up shows clean rises with the days it has and falls with the weeks in which a speck is back;
fish of one variety and size compete; touch-ups, sessions and journeys have the usual prices.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from math import exp
from random import Random

from showprep.selection.problem import EntryOption, Instance, ShowLimits, TouchUpOption

FIRST_DAY, LAST_DAY = date(2027, 3, 6), date(2027, 9, 26)
VARIETIES = ("kohaku", "sanke", "showa", "utsuri", "asagi", "ogon")


@dataclass(frozen=True, slots=True)
class Show:
    name: str
    benching: date
    home: date
    excludes_altered: bool
    isolates: bool


def season(fish: int, shows: int, number: int | str) -> Instance:
    """An invented season of so many fish and shows; `number` tells one from another."""
    draw = Random(f"{fish}/{shows}/{number}")
    going = _shows(draw, shows)
    room = max(3, round(fish / shows / 2.2)) if fish > 60 else 6
    work_days = _work_days(draw)
    touch_ups: list[TouchUpOption] = []
    entries: list[EntryOption] = []
    ponds = [draw.uniform(0.85, 1.25) for _ in range(max(1, fish // 25))]
    for at in range(fish):
        own_entries, own_touch_ups = _fish(draw, f"fish{at:04d}", going, work_days, ponds)
        entries += own_entries
        touch_ups += own_touch_ups
    return Instance(
        touch_ups=tuple(touch_ups),
        entries=tuple(entries),
        shows={show.name: _limits(draw, show, room) for show in going},
        apart=_apart(going),
        fish_per_day=3 if fish < 100 else 8,
        touch_ups_per_fish=2,
        spacing_default=14,
        vat_holds=room + 1,
        fees=round(0.85 * shows * (35 + 12 * room)),
        worth_showing=max((one.merit or 0 for one in entries), default=0) // 2,
        same_class_share=0.5,
        touch_up_price=200,
        session_price=100,
    )


def _shows(draw: Random, shows: int) -> list[Show]:
    first = date(2027, 5, 15)
    step = 133 / max(shows, 1)
    found = []
    for at in range(shows):
        day = first + timedelta(days=round((at + draw.random() * 0.6) * step))
        day += timedelta(days=(5 - day.weekday()) % 7)
        excludes, isolates = draw.random() < 0.1, shows < 10 or draw.random() < 0.35
        found.append(Show(f"show{at:02d}", day, day + timedelta(days=1), excludes, isolates))
    return found


def _work_days(draw: Random) -> list[date]:
    away = {FIRST_DAY + timedelta(days=7 * draw.randrange(29)) for _ in range(4)}
    days = (FIRST_DAY + timedelta(days=n) for n in range((LAST_DAY - FIRST_DAY).days))
    return [
        day
        for day in days
        if day.weekday() >= 5 and day - timedelta(days=(day.weekday() - 5) % 7) not in away
    ]


def _heal_days(day: date, warmth: float, size: float) -> int:
    """Slow in March, quick in July."""
    from_july = abs((day - date(2027, 7, 20)).days)
    return round((13 + from_july * 0.22) / warmth * size)


def _fish(
    draw: Random, name: str, going: list[Show], work_days: list[date], ponds: list[float]
) -> tuple[list[EntryOption], list[TouchUpOption]]:
    merit, length = draw.randrange(4500, 9500, 50), round(draw.uniform(22, 78), 1)
    kg = round(0.0000165 * length**3, 2)
    variety = draw.choice(VARIETIES)
    speck = draw.random() < 0.6
    lost = draw.randrange(200, 1300, 50)
    size, warmth = draw.choice((1.0, 1.0, 1.3, 1.6)), draw.choice(ponds)
    blocked = FIRST_DAY + timedelta(days=draw.randrange(200))
    entries = []
    for show in going:
        if draw.random() < 0.12:
            continue
        here = merit + draw.randrange(-200, 201, 50)
        entries.append(
            EntryOption(
                fish=name,
                show=show.name,
                merit=here - lost if speck else here,
                group=f"{variety} {int(length // 10)}",
                length_cm=length,
                points=1 + int(length // 15),
                size_class=str(int(length // 10)),
                kg=kg,
                fee=12.0,
                price=100,
                vat=(show.home, show.home + timedelta(days=21)) if show.isolates else None,
            )
        )
    if not speck:
        return entries, []
    touch_ups = []
    for day in work_days:
        if abs((day - blocked).days) < 10:
            continue
        in_vat = draw.random() < 0.3
        touch_ups += _touch_ups(entries, day, going, (warmth, size, lost), in_vat)
    return entries, touch_ups


def _touch_ups(
    entries: list[EntryOption],
    day: date,
    going: list[Show],
    pace: tuple[float, float, int],
    in_vat: bool,
) -> list[TouchUpOption]:
    found = []
    marked = {one.show: one.merit or 0 for one in entries}
    warmth_of_pond, size, lost = pace
    for water, warmth in (("pond", warmth_of_pond), ("vat", 1.7)):
        if water == "vat" and not in_vat:
            continue
        heal = _heal_days(day, warmth, size)
        clean_on = day + timedelta(days=heal)
        merits = {
            show.name: marked[show.name] + round(lost * chance)
            for show in going
            if show.name in marked
            and not show.excludes_altered
            and (chance := _chance((show.benching - day).days, heal)) >= 0.7
        }
        closed = timedelta(days=max(7, heal // 2))
        bars = frozenset(
            show.name
            for show in going
            if day - timedelta(days=22) <= show.benching < day + closed
            or (show.excludes_altered and show.benching >= day)
        )
        if merits:
            stay = (day, clean_on) if water == "vat" else None
            found.append(TouchUpOption(entries[0].fish, day, water, merits, bars, stay))
    return found


def _chance(days: int, heal: int) -> float:
    """Healed by then, and not back by then: an invented shape, to a hundredth."""
    if days <= 0:
        return 0.0
    healed = 1 / (1 + exp(-6 * (days / heal - 1)))
    not_back = 1 / (1 + exp(5 * (days / 56 - 1.3)))
    return round(healed * not_back, 2)


def _limits(draw: Random, show: Show, room: int) -> ShowLimits:
    return ShowLimits(
        show=show.name,
        fish=room + draw.randrange(0, 3),
        fish_at_least=2 if draw.random() < 0.3 else None,
        total_cm=round(room * draw.uniform(46, 60), 1) if draw.random() < 0.5 else None,
        points=room * 3 if draw.random() < 0.3 else None,
        entries_per_class=max(2, room // 3) if draw.random() < 0.5 else None,
        boxes=room + 1,
        kg=round(room * draw.uniform(2.5, 4.0), 1) if draw.random() < 0.5 else None,
        fee=35.0,
        price=300 + 200 * draw.randrange(1, 6),
    )


def _apart(going: list[Show]) -> frozenset[tuple[str, str]]:
    return frozenset(
        (one.name, other.name)
        for at, one in enumerate(going)
        for other in going[at + 1 :]
        if abs((other.benching - one.benching).days) < 29
    )
