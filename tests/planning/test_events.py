"""The events of a show: time zones, the change of clocks, and what is taken where nothing is said.

Clock changes as in the IANA time zone database: Dublin goes to summer time on 28 March 2027 at
01:00 and back on 31 October 2027 at 02:00.
"""

from __future__ import annotations

from datetime import date, datetime
from typing import Any

import pytest

ON = date(2027, 3, 1)


def events(written: Any, on: date = ON, show: str = "larkfield") -> Any:
    return written.yard(on).events[show]


def wall(moment: datetime) -> str:
    return moment.strftime("%m-%d %H:%M")


def test_every_event_of_a_show_with_all_its_times(written: Any) -> None:
    found = events(written)
    assert wall(found.departure) == "06-11 11:00"  # two hours before the doors open at 13:00
    assert wall(found.benching) == "06-11 13:00"
    assert wall(found.judging) == "06-12 10:00"
    assert wall(found.home) == "06-13 16:00"  # checked out at 14:00, two hours on the road
    assert found.judging.utcoffset().total_seconds() == 3600  # Irish summer time


def test_benching_said_apart_from_the_doors(written: Any) -> None:
    found = events(written.with_show("benching: 2027-06-12 08:00"))
    assert wall(found.departure) == "06-11 11:00"
    assert found.benching_day == date(2027, 6, 12)
    assert found.departure_day == date(2027, 6, 11)


def test_nothing_said_but_judging_and_travel(written: Any) -> None:
    written.shows = "plain:\n  name: Plain\n  judging: 2027-06-12 10:00\n  travel_hours: 3\n"
    found = events(written, show="plain")
    # assumption: doors from 13:00 to 20:00 the day before, check-out at 13:00 the day after
    assert wall(found.arrive_from) == wall(found.benching) == "06-11 13:00"
    assert wall(found.arrive_to) == "06-11 20:00"
    assert wall(found.departure) == "06-11 09:45"  # three hours, and a stop after two of them
    assert wall(found.check_out) == "06-13 13:00"
    assert wall(found.home) == "06-13 16:15"


@pytest.mark.parametrize(
    ("judging", "arrive", "departure"),
    [
        # 01:00 becomes 02:00: the night is an hour shorter
        ("2027-03-28 12:00", "2027-03-28 10:00", "03-28 00:15"),
        # 02:00 becomes 01:00: the night is an hour longer, and 01:15 is the second of the two
        ("2027-10-31 12:00", "2027-10-31 10:00", "10-31 01:15"),
    ],
)
def test_hours_on_the_road_are_real_hours(
    written: Any, judging: str, arrive: str, departure: str
) -> None:
    hours = 8  # at the wheel; with stops after 2, 4 and 6 of them 8 h 45 in all
    written.shows = (
        f"plain:\n  name: Plain\n  judging: {judging}\n  travel_hours: {hours}\n"
        f"  arrive: {{from: {arrive}, to: {arrive[:10]} 11:00}}\n"
    )
    # 10:00 is 09:00 UTC in spring and 10:00 UTC in autumn: 8 h 45 before, 00:15 and 01:15
    found = events(written, date(2027, 3, 1), "plain")
    assert wall(found.departure) == departure
    utc = [moment.timestamp() for moment in (found.departure, found.arrive_from)]
    assert utc[1] - utc[0] == (hours + 0.75) * 3600


def test_a_show_in_another_zone_keeps_its_own_clock(written: Any) -> None:
    found = events(written.with_show("time_zone: Europe/Berlin"))
    assert found.zone == "Europe/Berlin"
    assert wall(found.judging) == "06-12 10:00"
    assert found.judging.utcoffset().total_seconds() == 7200


def test_a_show_is_planned_until_its_judging_day_is_over(written: Any) -> None:
    for on, standing in ((11, "planned"), (12, "planned"), (13, "past")):
        assert events(written, date(2027, 6, on)).standing == standing, on


def test_past_and_cancelled_shows_are_kept_but_not_planned(written: Any) -> None:
    plan = written.plan(date(2027, 6, 14))
    assert [show.standing for show in plan.shows] == ["past"]
    assert plan.verdicts == ()
    written.with_show("cancelled: yes")
    plan = written.plan(ON)
    assert [show.standing for show in plan.shows] == ["cancelled"]
    assert (plan.verdicts, plan.tasks) == ((), ())


def test_a_postponed_show_takes_everything_with_it(written: Any, verdict: Any) -> None:
    written.noted("on: 2027-03-02, did: postponed, show: larkfield, to_day: 2027-06-26")
    before, after = written.plan(ON), written.plan(date(2027, 3, 2))
    assert wall(after.shows[0].departure) == "06-25 11:00"  # 14 days later, as the judging is
    moved = verdict(after).touch_up.latest - verdict(before).touch_up.latest
    assert moved.days == 14


def test_shows_stand_in_the_order_of_their_departures(written: Any) -> None:
    written.shows += (
        "brook:\n  name: Brook\n  judging: 2027-05-15 10:00\n  travel_hours: 1\n"
        "attic:\n  name: Attic\n  judging: 2027-06-12 10:00\n  travel_hours: 2\n"
    )
    assert list(written.yard(ON).events) == ["brook", "attic", "larkfield"]
