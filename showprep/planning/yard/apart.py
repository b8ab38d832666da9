"""How long fish stay apart when they come home from a show."""

from __future__ import annotations

from datetime import date, timedelta

from msgspec import Struct

from showprep.husbandry.isolation import clear_on, clearing_window_c, days_apart, hides_in
from showprep.husbandry.reason import Celsius, Reason, ShowId, reason
from showprep.planning.yard.events import Events
from showprep.planning.yard.yard import Yard

FOLLOWED = timedelta(days=60)
"""How long after the way home what is undone of it stays in the plan, and longer if still apart."""
AFTER_CLEAR = timedelta(days=30)

QUICKEST_C = 22.0
"""The coolest water in which time apart is shortest [°C]; warmer costs heat and gains nothing."""

UNCLEARED_DAYS = 60  # how long a vat is taken by fish that its cold water cannot clear


class Apart(Struct, frozen=True):
    """The time apart after one show: from home to the last day, or never cleared."""

    home: date
    clear: date | None

    @property
    def last(self) -> date:
        if self.clear is None:
            return self.home + timedelta(days=UNCLEARED_DAYS)
        return self.clear - timedelta(days=1)


def apart_after(yard: Yard, events: Events) -> Apart:
    """How long fish home from this show stay apart, in the isolation vat if there is one.

    With the group they are in, once it is known who goes: all in, all out.
    """
    group = yard.courses.group_of(events.show)
    if group is not None:
        return Apart(events.home_day, group.clear)
    isolation = yard.keeper.isolation
    if isolation is None:
        return Apart(events.home_day, None)
    mean_on = yard.waters.of(isolation.water)
    vats = events.record.vats
    return Apart(events.home_day, clear_on(events.home_day, mean_on, vats, yard.figures))


def followed_until(yard: Yard, events: Events) -> date:
    """The last day on which the jobs after a show are still asked for when they are undone."""
    return max(events.home_day + FOLLOWED, apart_after(yard, events).last + AFTER_CLEAR)


def vat_free_from(yard: Yard, apart: Apart) -> date:
    """The day the vat is empty again: the first day with free hands to move the cleared fish."""
    if apart.clear is None:
        return apart.last + timedelta(days=1)
    days = yard.work_days(apart.clear, apart.clear + timedelta(days=14))
    return days[0] if days else apart.clear


def free_from(yard: Yard, events: Events) -> date:
    """The first day a fish home from this show may leave for another: rested, and not apart."""
    rested = events.home_day + timedelta(days=rest_days(yard))
    return max(rested, apart_after(yard, events).last + timedelta(days=1))


def rest_days(yard: Yard) -> int:
    """Days from home to the next departure of the same fish: the keeper's, or the table's."""
    own = yard.keeper.preferences.days_between_shows
    return own if own is not None else round(yard.figures["days_between_shows"])


def never_clear(yard: Yard, events: Events) -> Reason | None:
    """Why no time in the isolation vat clears fish home from a show, and what heating would save.

    None where it does, and where there is no such vat.
    """
    if yard.keeper.isolation is None or apart_after(yard, events).clear is not None:
        return None
    water, own = yard.keeper.isolation.water, yard.figures
    low, high = map(Celsius, clearing_window_c(own))
    cold, warm = hides_in(events.home_day, yard.waters.of(water), own)
    show, best = ShowId(events.show), Celsius(QUICKEST_C)
    heated = days_apart(QUICKEST_C, events.record.vats, own)
    saved = None
    if cold and heated is not None:
        saved = reason("heating-would-clear", days=heated, quickest=best)
    if cold and warm:
        return reason(
            "vat-by-turns", water=water, show=show, low=low, high=high, quickest=best, saved=saved
        )
    if cold:
        return reason("vat-too-cold", water=water, show=show, low=low, saved=saved)
    if warm:
        return reason("vat-too-warm", water=water, show=show, high=high, quickest=best)
    return reason("vat-never-enough", water=water, show=show)
