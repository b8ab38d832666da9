"""The journey: stops, the latest departure, oxygen half-way, nights, and clocks abroad.

Stops of 15 minutes every 2 hours at the wheel are from a national highway code, from memory; the
days and times are worked out by hand. Berlin is an hour ahead of Dublin all year, Tokyo eight in
June (IANA time zone database).
"""

from __future__ import annotations

from datetime import date, datetime
from io import StringIO
from typing import Any
from zoneinfo import ZoneInfo

import pytest
from rich.console import Console

from showprep.husbandry.driving import drive_of, drives_by_night
from showprep.husbandry.figures import SHIPPED
from showprep.outputs.board import print_board
from showprep.outputs.first_screen import print_first_screen
from showprep.outputs.today import today_text
from showprep.outputs.why import print_why
from showprep.outputs.words.answer import ShortAnswer
from showprep.outputs.words.plain import clock
from showprep.outputs.words.speaker import Speaker
from showprep.planning.follow_up.agenda import agenda_of

ON = date(2027, 6, 1)
EARLY = date(2027, 3, 20)


@pytest.mark.parametrize(
    ("hours", "stops", "in_all", "oxygen"),
    [
        (0, 0, 0, None),
        (2, 0, 2, None),
        (2.1, 1, 2.35, None),
        (5, 2, 5.5, None),
        (5.5, 2, 6, 2),  # stops at 2 h and 4 h 15; the middle is 3 h, and 2 h is the nearer
        (8, 3, 8.75, 4.25),  # stops at 2, 4.25 and 6.5 h; the middle is 4.375 h
        (11, 5, 12.25, 6.5),  # 2, 4.25, 6.5, 8.75, 11 h; the middle is 6.125 h
    ],
)
def test_stops_on_the_way(hours: float, stops: int, in_all: float, oxygen: float | None) -> None:
    drive = drive_of(hours, SHIPPED)
    assert (drive.stops, drive.hours) == (stops, pytest.approx(in_all))
    assert drive.oxygen_after_h == oxygen


@pytest.mark.parametrize(
    ("leave", "hours", "night"),
    [("05:00", 4, False), ("04:59", 4, True), ("23:00", 2, True), ("20:00", 4, False)],
)
def test_hours_of_the_night(leave: str, hours: float, night: bool) -> None:
    moment = datetime.fromisoformat(f"2027-06-11T{leave}").replace(tzinfo=ZoneInfo("Europe/Dublin"))
    assert drives_by_night(moment, hours, SHIPPED) is night


def wall(moment: datetime) -> str:
    return moment.strftime("%m-%d %H:%M")


def test_the_latest_departure_still_makes_the_end_of_the_window(written: Any, job: Any) -> None:
    plan = written.with_show("travel_hours: 5").plan(ON)
    (show,) = plan.shows
    # 5 h and stops after 2 and 4 of them: 5 h 30 before 13:00 and before 20:00
    assert (wall(show.departure), wall(show.latest_departure)) == ("06-11 07:30", "06-11 14:30")
    assert wall(show.home) == "06-13 19:30"
    said = Speaker.of(plan).say(job(plan, "larkfield/departure").note)
    assert "5 h at the wheel and 2 stops of 15 minutes" in said
    assert "Leave by Fri 11 June 14:30 at the latest" in said


def test_oxygen_is_renewed_half_way_on_a_long_road(written: Any, job: Any, ids: Any) -> None:
    assert "larkfield/oxygen" not in ids(written.with_show("travel_hours: 5").plan(ON))
    plan = written.with_show("travel_hours: 8").plan(ON)
    # 8 h and three stops are 8 h 45: leave at 04:15, the second stop begins 4 h 15 later
    assert wall(job(plan, "larkfield/departure").start) == "06-11 04:15"
    assert wall(job(plan, "larkfield/oxygen").start) == "06-11 08:30"


def test_before_five_a_second_driver_or_a_later_hour(written: Any, job: Any) -> None:
    plan = written.with_show("travel_hours: 8").plan(ON)
    (caution,) = job(plan, "larkfield/departure").cautions
    said = Speaker.of(plan).say(caution)
    assert "second driver" in said and "leave at 05:00" in said  # 13:45, before 20:00
    written.with_show("arrive: {from: 2027-06-11 13:00, to: 2027-06-11 13:30}")
    (caution,) = job(plan := written.plan(ON), "larkfield/departure").cautions
    assert "the evening before" in Speaker.of(plan).say(caution)  # 05:00 would be 13:45: too late
    assert job(written.with_show("travel_hours: 6").plan(ON), "larkfield/departure").cautions == ()


def test_a_clock_abroad_carries_its_zone_and_the_time_at_home() -> None:
    moment = datetime(2027, 6, 11, 13, tzinfo=ZoneInfo("Europe/Berlin"))
    assert clock(moment, "Europe/Dublin") == "13:00 Europe/Berlin (12:00 at home)"
    assert clock(moment, "Europe/Berlin") == "13:00"
    early = datetime(2027, 6, 12, 6, tzinfo=ZoneInfo("Asia/Tokyo"))
    assert clock(early, "Europe/Dublin") == "06:00 Asia/Tokyo (Fri 11 June 22:00 at home)"


def test_a_show_abroad_is_left_for_by_the_clocks_at_home(written: Any) -> None:
    plan = written.with_show("time_zone: Europe/Berlin").plan(ON)
    (show,) = plan.shows
    # doors at 13:00 in Berlin are 12:00 in Dublin; two hours before that
    assert show.departure.isoformat() == "2027-06-11T10:00:00+01:00"
    assert show.arrive_from.isoformat() == "2027-06-11T13:00:00+02:00"
    assert show.home.isoformat() == "2027-06-13T15:00:00+01:00"  # 14:00 in Berlin and two hours


ABROAD = "10:00 Europe/Berlin (09:00 at home)"  # judging


def test_every_output_says_the_zone(written: Any, capsys: pytest.CaptureFixture[str]) -> None:
    from showprep.outputs.board import print_board
    from showprep.outputs.calendar.jobs import jobs_of
    from showprep.outputs.page.render import render_page
    from showprep.outputs.terminal import plain_console
    from showprep.outputs.today import today_text
    from showprep.outputs.why import print_why
    from showprep.planning.follow_up.agenda import agenda_of

    written.with_show("time_zone: Europe/Berlin")
    plan = written.plan(date(2027, 6, 11))
    print_why(plan, "aoi", "larkfield", plain_console())
    said = " ".join(capsys.readouterr().out.split())
    assert f"judging Sat 12 June {ABROAD}" in said
    print_board(plan)
    assert "Europe/Berlin" in " ".join(capsys.readouterr().out.split())
    assert "Europe/Berlin" in " ".join(today_text(agenda_of(plan), Speaker.of(plan)).split())
    judging = next(one for one in jobs_of(plan, plan.tasks) if "Judging" in one.summary)
    assert ABROAD in judging.description
    assert ABROAD in render_page(plan)


HEAVY = """\
aoi: {name: Aoi, variety: kohaku, lives_in: pond, merit: 80, lengths_cm: {2027-06-01: 76},
  weights_kg: {2027-06-01: 8.0}}
"""


def codes(reasons: Any) -> list[str]:
    return [one.code for one in reasons]


def test_a_way_longer_than_one_bag_stands_in_the_verdict(written: Any, verdict: Any) -> None:
    # 8 h, three stops of 15 minutes, 1.5 h to bag and load, 0.5 h afloat are 10.75 h. A bag of 37 L
    # is good for 4.4 h (0.2162 kg/L at 20 °C), 3.7 h with a fifth in hand: its water is changed at
    # the stops 2, 4.25 and 6.5 h after leaving at 04:15, as none reaches the second from bagging.
    written.fish = HEAVY
    plan = written.with_show("travel_hours: 8").plan(ON)
    one = verdict(plan)
    assert one.entered and codes(one.reasons) == ["water-changed-on-way"]
    (told,) = one.reasons
    assert (told["hours"], told["times"]) == (pytest.approx(10.75), 3)
    assert wall(told["at"]) == "06-11 06:15"
    change, tank, nearer = (way.reason for way in one.ways_out)
    assert [wall(at) for at in change["at"]] == ["06-11 06:15", "06-11 08:30", "06-11 10:45"]
    assert change["fresh"].amount == 3 * 37
    assert tank.code == "take-a-tank" and nearer["longest"] == pytest.approx(4.45, abs=0.05)
    assert any("water is changed 3 times" in Speaker.of(plan).say(w.reason) for w in plan.warnings)
    assert ShortAnswer(plan).cell("aoi", "larkfield").detail == "water changed on the way"
    jobs = [task for task in plan.tasks if task.kind == "change-water"]
    assert [(wall(task.start), task.fish) for task in jobs] == [
        (at, ("aoi",)) for at in ("06-11 06:15", "06-11 08:30", "06-11 10:45")
    ]
    # at 04:15 one does not leave alone: told with the plan, not only in the job
    (night,) = [one.reason for one in plan.warnings if one.reason.code == "night-journey"]
    assert "take a second driver" in Speaker.of(plan).say(night)


def test_too_heavy_for_any_bag_goes_in_a_tank_of_the_keepers_or_not(
    written: Any, verdict: Any
) -> None:
    # 10 kg in 35 L are 0.286 kg/L, above 0.25, the most at 20 °C for any time: no bag at all
    written.fish = HEAVY.replace("8.0", "10.0").replace("76", "82")
    plan = written.plan(ON)
    one = verdict(plan)
    assert (one.verdict, one.entered) == ("not-eligible", False)
    assert codes(one.reasons)[0] == "no-way-to-travel"
    assert codes(way.reason for way in one.ways_out) == ["take-a-tank"]
    assert ShortAnswer(plan).cell("aoi", "larkfield").word == "too far"
    # 4 h bag to vat at pH 8: 10 x 10 x 4 x 0.0381 / 0.02 are 762 L: 800 L do, 300 L only if
    # filled three times in 4 h, which is too often
    for litres, goes in ((800, True), (300, False)):
        written.with_keeper(f"carrying: {{tank_litres: {litres}}}")
        one = verdict(written.plan(ON))
        assert one.entered is goes
        assert ("goes-in-a-tank" in codes(one.reasons)) is goes


def test_a_tank_that_carries_it_all_the_way_comes_before_a_change(
    written: Any, verdict: Any
) -> None:
    # 8 kg x 10 mg x 10.75 h x 0.0381 / 0.02 are 1 640 L at pH 8: 1 700 L do in one filling
    written.fish = HEAVY
    written.with_show("travel_hours: 8").with_keeper("carrying: {tank_litres: 1700}")
    plan = written.plan(ON)
    assert codes(verdict(plan).reasons) == ["goes-in-a-tank"]
    assert "change-water" not in {task.kind for task in plan.tasks}
    written.with_keeper("carrying: {tank_litres: 1600}")
    plan = written.plan(ON)
    assert codes(verdict(plan).reasons) == ["water-changed-on-way"]
    assert "change-water" in {task.kind for task in plan.tasks}


def test_a_short_way_says_nothing_of_it(written: Any, verdict: Any) -> None:
    one = verdict(plan := written.plan(ON))
    assert not {"change-water"} & {task.kind for task in plan.tasks}
    assert "night-journey" not in codes(warning.reason for warning in plan.warnings)
    assert not {"water-changed-on-way", "no-way-to-travel"} & {*codes(one.reasons)}
    assert not one.ways_out or "take-a-tank" not in codes(w.reason for w in one.ways_out)


def printed(output: Any, *args: Any) -> str:
    out = Console(width=80, file=StringIO())
    output(*args, out)
    return " ".join(out.file.getvalue().split())  # type: ignore[attr-defined]


def test_the_board_and_why_say_the_latest_departure_and_the_zone(written: Any) -> None:
    # 2 h without a stop: from 13:00 and 20:00 in Berlin, which are 12:00 and 19:00 in Dublin
    plan = written.with_show("time_zone: Europe/Berlin").plan(ON)
    for told in (printed(print_board, plan), printed(print_why, plan, "aoi", "larkfield")):
        assert "leave Fri 11 June 10:00, by 17:00 at the latest" in told
        assert "benching Fri 11 June 13:00 Europe/Berlin (12:00 at home)" in told
    day = written.plan(date(2027, 6, 11))
    told = printed(print_first_screen, day)
    assert "10:00 Leave for Larkfield, by 17:00 at the latest" in told
    assert "13:00 Europe/Berlin (12:00 at home) Arrive" in told
    assert "by 17:00 at the latest" in " ".join(today_text(agenda_of(day), Speaker.of(day)).split())
    # without a window there is no later time to tell of
    written.with_show("arrive: {from: 2027-06-11 13:00, to: 2027-06-11 13:00}")
    assert "at the latest" not in printed(print_board, written.plan(ON))


def warm_june(written: Any, c: float, read: str = "", steady: bool = False) -> Any:
    months = [24, 24, 25, 25, 26, c, c, c, 26, 25, 24, 24]
    open_pond = f"{{monthly_c: {months}, readings_c: {{{read}}}}}"
    pond = f"{{steady_c: {c}}}" if steady else open_pond
    return written.with_keeper(
        f"waters: {{pond: {pond}, vat: {{steady_c: 22}}}}", "carrying: {tank_litres: 4000}"
    )


def test_heat_that_may_pass_bars_no_journey_months_ahead(written: Any, verdict: Any) -> None:
    """Above 30 °C no koi is bagged; weeks ahead nobody knows whether it will be 29 or 31."""
    found = verdict(warm_june(written, 30.6).plan(EARLY))
    (told,) = [one for one in found.reasons if one.code == "may-be-too-warm-to-bag"]
    assert told["water"].amount > 30 and 0.4 <= told["chance"].share < 0.5
    assert (found.verdict, found.entered) == ("tight", True)
    # Held at that warmth it is certain.
    held = verdict(warm_june(written, 31.5, steady=True).plan(EARLY))
    assert (held.verdict, held.reasons[0].code) == ("not-eligible", "too-warm-to-bag")
    # Not for a chance of 1 in 3: it would be sedated for a show that it then misses.
    for too_warm in (31.5, 36):
        hot = verdict(warm_june(written, too_warm).plan(EARLY))
        assert (hot.verdict, hot.reasons[0].code) == ("not-eligible", "too-warm-to-bag")


@pytest.mark.parametrize(("read", "goes"), [(30.2, False), (29.8, True)])
def test_what_is_read_at_departure_decides(
    written: Any, verdict: Any, read: float, goes: bool
) -> None:
    leaves = date(2027, 6, 11)
    found = verdict(warm_june(written, 31.5, f"{leaves}: {read}").plan(leaves))
    assert ("too-warm-to-bag" in codes(found.reasons)) is not goes
    assert (found.verdict != "not-eligible") is goes
    assert "may-be-too-warm-to-bag" not in codes(found.reasons)
