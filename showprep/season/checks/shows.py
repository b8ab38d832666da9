"""Checks of the shows: their dates in order, their limits and size classes."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, date, datetime
from itertools import pairwise
from zoneinfo import ZoneInfo

from showprep.season.checks.checked import Checked, Finding
from showprep.season.facts import shipped_facts, size_table
from showprep.season.records import Show, SizeTableRecord
from showprep.season.values.quantities import show_length
from showprep.season.values.unit_keys import key_in

Event = tuple[str, tuple[str, ...], datetime]

DRAFT_MARK = "Draft:"  # a note that begins so marks a show whose days are not yet known
LONGEST_SHOW_DAYS = 10  # assumption: from first arrival to check-out


def events_in_order(checked: Checked) -> Iterator[Finding | None]:
    """Arrival, benching, judging and check-out follow each other."""
    for name, show in checked.season.shows.items():
        for one, two in pairwise(_events(show)):
            if two[2] < one[2]:
                what = f"{_told(two)} comes before {_told(one)}"
                yield Finding(("shows", name, *two[1]), what, f"{two[0]} follows {one[0]}")
        if show.arrive is not None and show.arrive.to < show.arrive.from_:
            what = "the arrival window ends before it begins"
            yield Finding(("shows", name, "arrive", "to"), what, "turn the two round")
        elif show.arrive is not None and show.arrive.to > show.judging:
            what = "the arrival window ends after judging has begun"
            yield Finding(("shows", name, "arrive", "to"), what, "put the later one right")


def _told(event: Event) -> str:
    return f"{event[0]} ({event[2]:%Y-%m-%d %H:%M})"


def _events(show: Show) -> list[Event]:
    events: list[Event] = []
    if show.arrive is not None:
        events.append(("arrival", ("arrive", "from"), show.arrive.from_))
    if show.benching is not None:
        events.append(("benching", ("benching",), show.benching))
    events.append(("judging", ("judging",), show.judging))
    if show.check_out is not None:
        events.append(("check-out", ("check_out",), show.check_out))
    return events


def days_before_arrival(checked: Checked) -> Iterator[Finding | None]:
    """What has to reach the show does so before the fish arrive."""
    for name, show in checked.season.shows.items():
        first = _events(show)[0]
        due: tuple[tuple[str, date | None], ...] = (
            ("entries_close", show.entries_close),
            ("photos_due", show.photos_due),
            ("vat_booked_by", show.vat_booked_by),
        )
        for key, day in due:
            if day is not None and day > first[2].date():
                what = f"{day} comes after {first[0]} ({first[2]:%Y-%m-%d})"
                yield Finding(("shows", name, key), what, f"write a day before {first[0]}")


def not_too_long(checked: Checked) -> Iterator[Finding | None]:
    """A show that goes on for weeks is likely a slip of the month."""
    for name, show in checked.season.shows.items():
        events = _events(show)
        days = (events[-1][2] - events[0][2]).days
        if days > LONGEST_SHOW_DAYS:
            what = f"{days} days lie between {events[0][0]} and {events[-1][0]}"
            path = ("shows", name, *events[-1][1])
            yield Finding(path, what, "if a month is a slip, put it right", "warning")


def times_exist(checked: Checked) -> Iterator[Finding | None]:
    """No event lies in the hour that is left out when clocks go forward."""
    for name, show in checked.season.shows.items():
        zone = ZoneInfo(show.time_zone or checked.season.keeper.time_zone)
        for event, path, moment in _events(show):
            there_and_back = moment.replace(tzinfo=zone).astimezone(UTC).astimezone(zone)
            if there_and_back.replace(tzinfo=None) != moment:
                what = f"clocks go forward on {moment:%Y-%m-%d}, so there is no {moment:%H:%M}"
                right = f"if {event} is then, write the hour after"
                yield Finding(("shows", name, *path), what, right, "warning")


def limits_sound(checked: Checked) -> Iterator[Finding | None]:
    """No least limit is above its greatest."""
    units = checked.season.keeper.units
    for name, show in checked.season.shows.items():
        limits = show.limits
        for low, high in (
            ("fish_at_least", "fish"),
            ("total_cm_at_least", "total_cm"),
            ("shortest_cm", "longest_cm"),
        ):
            least, most = getattr(limits, low), getattr(limits, high)
            if least is not None and most is not None and least > most:
                told = [
                    f"{key_in(key, units)} ({show_length(limit, units) if 'cm' in key else limit})"
                    for key, limit in ((low, least), (high, most))
                ]
                what = f"{told[0]} is more than {told[1]}"
                yield Finding(("shows", name, "limits", low), what, "turn the two round")
        if limits.points is not None and limits.points_by_size is None:
            what = "points is given without points_by_size, so no points can be counted"
            right = "write points_by_size, the points of each size class, smallest first"
            yield Finding(("shows", name, "limits", "points"), what, right, "warning")


def varieties_taken_known(checked: Checked) -> Iterator[Finding | None]:
    for name, show in checked.season.shows.items():
        for at, variety in enumerate(show.limits.varieties or ()):
            path = ("shows", name, "limits", "varieties", at)
            yield checked.unknown(path, "variety", variety, shipped_facts().varieties, "warning")


def sizes_sound(checked: Checked) -> Iterator[Finding | None]:
    """A named size table exists; one written out has rising bounds; each class has its points."""
    tables = shipped_facts().size_tables
    own = checked.season.keeper.size_tables
    for name, show in checked.season.shows.items():
        path: tuple[object, ...] = ("shows", name, "sizes")
        if isinstance(show.sizes, str):
            yield checked.unknown(path, "size table", show.sizes, {**tables, **own})
        elif show.sizes is not None:
            try:
                size_table(name, show.sizes)
            except ValueError as error:
                yield Finding(path, str(error), "write the upper bounds from small to large")
        yield _points_fit(checked, name, show)


def _points_fit(checked: Checked, name: str, show: Show) -> Finding | None:
    points = show.limits.points_by_size
    if points is None:
        return None
    path = ("shows", name, "limits", "points_by_size")
    if show.sizes is None:
        return Finding(path, "points_by_size is given without sizes", "write the show's sizes")
    classes = _class_count(checked, show.sizes)
    if classes is None or classes == len(points):
        return None
    what = f"{len(points)} points for {classes} size classes"
    right = "write one for each class, smallest first"
    if len(points) == classes - 1:
        right += ", also for fish beyond the last bound; or above: no in sizes, if there is none"
    return Finding(path, what, right)


def _class_count(checked: Checked, sizes: str | SizeTableRecord) -> int | None:
    table = sizes if isinstance(sizes, SizeTableRecord) else None
    if isinstance(sizes, str):
        table = checked.season.keeper.size_tables.get(sizes)
        shipped = shipped_facts().size_tables.get(sizes)
        if table is None:
            return None if shipped is None else len(shipped.upper) + shipped.above
    return None if table is None else len(table.upper) + table.above


def drafts_confirmed(checked: Checked) -> Iterator[Finding | None]:
    """A show carried over from last season has days that nobody has confirmed."""
    for name, show in checked.season.shows.items():
        if show.note is not None and show.note.startswith(DRAFT_MARK):
            what = "this show is a draft, its days are not confirmed"
            right = "ask the show, put its days and rules right, and take Draft out of its note"
            yield Finding(("shows", name, "note"), what, right, "warning")


SHOW_CHECKS = (
    drafts_confirmed,
    events_in_order,
    days_before_arrival,
    not_too_long,
    times_exist,
    limits_sound,
    varieties_taken_known,
    sizes_sound,
)
