"""A steady hand: what was planned stands, unless something of weight speaks against it.

Steady water of 20 °C: the best day is 15 May, 27 days before benching on 11 June, with 0.918.
"""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

import pytest

from showprep.planning.season_plan import make_plan
from showprep.planning.yard.last_plan import LastPlan, LastVerdict, last_of
from tests.planning.told import codes
from tests.storms import storm

DAY = timedelta(days=1)
MONTHS = [4.5, 4.8, 7.0, 10.0, 14.0, 17.5, 19.5, 19.0, 16.0, 12.0, 8.0, 5.5]
OPEN = f"waters: {{pond: {{monthly_c: {MONTHS}}}, vat: {{steady_c: 22}}}}"


def told(
    verdict: str, day: date | None, chance: float | None, on: date = date(2027, 5, 1)
) -> LastPlan:
    """An earlier plan that says this of the one fish and show."""
    return LastPlan(on, {}, {("aoi", "larkfield"): LastVerdict(verdict, True, day, chance)})


def after(written: Any, on: date, last: LastPlan | None) -> Any:
    plan = make_plan(written.season(on), on, "test", last=last)
    return next(one for one in plan.verdicts if (one.fish, one.show) == ("aoi", "larkfield"))


@pytest.mark.parametrize(
    ("planned", "stays"),
    [
        (date(2027, 5, 17), True),  # 0.910: less than 0.02 below the best
        (date(2027, 5, 12), True),  # 0.901
        (date(2027, 5, 19), False),  # 0.881
        (date(2027, 5, 8), False),  # 0.850
    ],
)
def test_a_planned_day_moves_only_for_two_points(written: Any, planned: date, stays: bool) -> None:
    on = date(2027, 4, 20)
    found = after(written, on, told("ready-after-touch-up", planned, 0.9, date(2027, 4, 19)))
    assert found.touch_up.best == date(2027, 5, 15)
    assert found.touch_up.day == (planned if stays else date(2027, 5, 15))


@pytest.mark.parametrize(
    ("seen", "before", "word"),
    [
        (1, None, "tight"),  # 0.792
        (1, "ready", "ready"),  # within 0.02 of 0.8
        (1, "tight", "tight"),
        (2, None, "tight"),  # 0.714
        (2, "as-it-is", "as-it-is"),  # not 0.02 above 0.7
        (3, "tight", "as-it-is"),  # 0.612: far below
    ],
)
def test_a_word_changes_only_past_its_limit(
    written: Any, seen: int, before: str | None, word: str
) -> None:
    mark = f"  defects: [{{kind: net-mark, where: flank, seen: 2027-06-0{seen}}}]\n"
    written.fish = written.fish.split("  defects:")[0] + mark
    last = None if before is None else told(before, None, None, date(2027, 6, 2))
    assert after(written, date(2027, 6, 3), last).verdict == word


def test_what_was_written_down_about_the_fish_changes_the_word_at_once(written: Any) -> None:
    mark = "  defects: [{kind: net-mark, where: flank, seen: 2027-06-01}]\n"
    written.fish = written.fish.split("  defects:")[0] + mark
    last = told("ready", None, None, date(2027, 6, 2))
    assert after(written, date(2027, 6, 3), last).verdict == "ready"
    written.noted("on: 2027-06-03, did: measure, fish: aoi, measured_cm: 51")
    assert after(written, date(2027, 6, 3), last).verdict == "tight"


def test_a_wound_called_too_late_is_freed_late(written: Any) -> None:
    """The safe side alone: kept at home until closed in 97 of 100 cases, not in 95."""
    mark = "  defects: [{kind: net-mark, where: flank, seen: 2027-06-07}]\n"
    written.fish = written.fish.split("  defects:")[0] + mark
    on = date(2027, 6, 7)  # four days of film: 0.95
    assert after(written, on, None).verdict == "as-it-is"
    found = after(written, on, told("too-late", None, None, date(2027, 6, 6)))
    assert (found.verdict, found.chance_closed) == ("too-late", 0.95)


def cool_eve(written: Any) -> Any:
    """An open pond, and on the eve of the session a reading 4 °C below its curve."""
    return written.with_keeper(OPEN, "preferences: {least_chance: 0.7}").with_show(
        "judging: 2027-07-10 10:00", "arrive: {from: 2027-07-09 13:00, to: 2027-07-09 20:00}",
        "check_out: 2027-07-11 14:00",
    )  # fmt: skip


def test_one_cool_reading_on_the_eve_takes_no_session_off(written: Any) -> None:
    cool_eve(written)
    first = make_plan(written.season(date(2027, 6, 1)), date(2027, 6, 1), "test")
    (one,) = first.verdicts
    day = one.touch_up.day
    assert day is not None
    eve = day - DAY
    curve = written.yard(eve).waters.curves["pond"]
    written.noted(f"on: {eve}, saw: temperature, water: pond, read_c: {curve(eve) - 3:.2f}")
    found = after(written, eve, last_of(first))
    assert found.touch_up.day == day
    assert found.touch_up.chance < one.touch_up.chance


def test_near_its_day_it_stands_below_least_chance_but_not_a_fifth_lower(written: Any) -> None:
    cool_eve(written)
    on = date(2027, 6, 12)
    alone = after(written, on, None)
    late = date(2027, 6, 19)
    chance = next(one.both for one in alone.touch_up.curve if one.day == late)
    written.with_keeper(OPEN, "preferences: {least_chance: 0.99, sure_enough: 1}")
    assert after(written, on, None).touch_up.day is None
    kept = after(written, on, told("tight", late, chance / 0.85, on - DAY))
    assert (kept.touch_up.day, kept.verdict) == (late, "tight")
    gone = after(written, on, told("tight", late, chance / 0.75, on - DAY))
    assert gone.touch_up.day != late


def test_far_from_its_day_it_has_no_such_right(written: Any) -> None:
    on, late = date(2027, 5, 10), date(2027, 5, 24)  # two weeks ahead
    assert after(written, on, told("tight", late, 0.71)).touch_up.day == date(2027, 5, 15)


@pytest.mark.parametrize(
    ("late", "stays"),
    [
        (date(2027, 5, 17), True),  # 0.910: less than 0.02 below the best
        (date(2027, 5, 19), False),  # 0.881
    ],
)
def test_near_its_day_too_it_moves_for_two_points(written: Any, late: date, stays: bool) -> None:
    on, best = date(2027, 5, 13), date(2027, 5, 15)
    found = after(written, on, told("ready-after-touch-up", late, 0.9, on - DAY))
    assert found.touch_up.day == (late if stays else best)


@pytest.mark.parametrize(
    "entry",
    [
        "on: 2027-05-14, saw: parasites, water: pond",
        "on: 2027-05-14, saw: off food, fish: aoi",
        "on: 2027-05-14, saw: spawned, fish: aoi",
        "on: 2027-05-14, did: stop feeding, water: pond",  # fed until yesterday
    ],
)
def test_what_the_journal_says_against_it_takes_it_off(written: Any, entry: str) -> None:
    on, day = date(2027, 5, 14), date(2027, 5, 15)
    last = told("ready-after-touch-up", day, 0.9181, date(2027, 5, 13))
    assert after(written, on, last).touch_up.day == day
    written.noted(entry)
    assert after(written, on, last).touch_up.day != day


def test_what_nobody_needs_is_not_done_because_it_was_planned(written: Any) -> None:
    on, day = date(2027, 5, 14), date(2027, 5, 15)
    last = told("ready-after-touch-up", day, 0.9181, date(2027, 5, 13))
    written.with_show("limits: {fish: 0}")
    plan = make_plan(written.season(on), on, "test", last=last)
    assert [one.touch_up.day for one in plan.verdicts] == [None]
    assert "touch-up" not in {task.kind for task in plan.tasks}


@pytest.mark.parametrize("planned", ["aoi", "ben"])
def test_of_two_fish_as_good_as_each_other_the_planned_one_stays(
    written: Any, planned: str
) -> None:
    """One entry, two fish alike but for their names."""
    written.with_show("limits: {fish: 1}")
    written.fish += written.fish.replace("aoi", "ben").replace("Aoi", "Ben")
    day, on = date(2027, 5, 15), date(2027, 4, 20)
    verdicts = {
        (planned, "larkfield"): LastVerdict("ready-after-touch-up", True, day, 0.918),
    }
    last = LastPlan(on - DAY, {}, verdicts)
    plan = make_plan(written.season(on), on, "test", last=last)
    assert [one.fish for one in plan.verdicts if one.entered] == [planned]


def test_without_news_nothing_changes_from_day_to_day(written: Any) -> None:
    """Three fish, two shows, an open pond read now and then, planned every day for ten weeks."""
    written.with_keeper(OPEN)
    ben = written.fish.replace("aoi", "ben").replace("Aoi", "Ben").replace("80", "76")
    cho = written.fish.split("  defects:")[0].replace("aoi", "cho").replace("Aoi", "Cho")
    written.fish += ben + cho
    written.shows = written.shows.replace("2027-06", "2027-07")
    later = written.shows.replace("larkfield", "otterby").replace("Larkfield", "Otterby")
    written.shows += later.replace("2027-07", "2027-08")
    for day, c in (("2027-03-06", 6.5), ("2027-03-20", 9.5), ("2027-03-27", 8.0)):
        written.noted(f"on: {day}, saw: temperature, water: pond, read_c: {c}")
    first = date(2027, 3, 28)
    season, last, before, changed = written.season(first), None, None, []
    for number in range(storm(18, 70)):  # the last 70 days before the first session
        on = first + number * DAY
        plan = make_plan(season, on, "test", last=last, costs=False)
        now = {
            (one.fish, one.show): (one.verdict, one.entered, one.touch_up and one.touch_up.day)
            for one in plan.verdicts
        }
        if before is not None and now != before:
            changed.append(on)
        before, last = now, last_of(plan)
    assert changed == []
    assert any(day for _, _, day in now.values())


def test_looks_that_say_it_is_still_there_are_not_cut_again(written: Any) -> None:
    written.noted("on: 2027-05-01, did: touch-up, fish: aoi")
    written.noted("on: 2027-05-15, saw: not clean, fish: aoi")
    found = after(written, date(2027, 5, 16), None)
    assert found.touch_up is None
    assert "touch-up-planned" not in codes(found.reasons)
