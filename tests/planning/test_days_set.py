"""A day for a touch-up that the keeper has set: it stands, unless it is unsafe or not lawful.

Steady water of 20 °C: the best day is 15 May, 27 days before benching on 11 June, with 0.918.
"""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from tests.planning.told import codes

ON = date(2027, 4, 20)
BEST = date(2027, 5, 15)
LATER = date(2027, 5, 26)  # 0.70


def in_file(written: Any, *days: date) -> Any:
    written.fish += f"  touch_ups_on: [{', '.join(map(str, days))}]\n"
    return written


def in_journal(written: Any, day: date, on: date = ON, show: str = "") -> Any:
    of = f", show: {show}" if show else ""
    return written.noted(f"on: {on}, fish: aoi, touch_up_on: {day}{of}")


@pytest.mark.parametrize("way", [in_file, in_journal])
def test_the_day_that_was_set_is_planned_and_no_other(written: Any, verdict: Any, way: Any) -> None:
    assert verdict(written.plan(ON)).touch_up.day == BEST
    plan = way(written, LATER).plan(ON)
    found = verdict(plan)
    assert found.touch_up.day == LATER
    assert [task.start for task in plan.tasks if task.kind == "touch-up"] == [LATER]
    told = next(one for one in found.reasons if one.code == "speck-comes-off-on-set-day")
    assert (told["day"], told["best"]) == (LATER, BEST)
    assert told["chance"].share == pytest.approx(found.touch_up.chance)
    assert told["best_chance"].share > told["chance"].share


def test_its_chance_is_the_keepers_affair(written: Any, verdict: Any) -> None:
    """It is planned below `least_chance`, and the word is no better than the chance."""
    found = verdict(in_file(written, date(2027, 6, 1)).plan(ON))
    assert found.touch_up.day == date(2027, 6, 1)
    assert found.touch_up.chance < 0.7
    assert found.verdict == "as-it-is"


def test_a_day_without_free_hands_may_be_set(written: Any, verdict: Any) -> None:
    written.with_keeper("work_days: [saturday]")
    monday = date(2027, 5, 17)
    assert verdict(in_file(written, monday).plan(ON)).touch_up.day == monday


@pytest.mark.parametrize(
    ("keeper", "show", "day", "why"),
    [
        ((), (), date(2027, 6, 8), "journey-too-near"),
        (("waters: {pond: {steady_c: 9.5}, vat: {steady_c: 22}}",), (), LATER, "water-too-cold"),
        (("waters: {pond: {steady_c: 29}, vat: {steady_c: 22}}",), (), LATER, "water-too-warm"),
        (("away: [{from: 2027-05-25, to: 2027-06-09}]",), (), date(2027, 5, 24), "nobody-to-look"),
    ],
)
def test_what_is_unsafe_bars_it_and_nothing_is_cut_instead(
    written: Any, verdict: Any, keeper: Any, show: Any, day: date, why: str
) -> None:
    written.with_keeper(*keeper).with_show(*show)
    plan = in_file(written, day).plan(ON)
    found = verdict(plan).touch_up
    assert found.day is None
    assert not [task for task in plan.tasks if task.kind == "touch-up"]
    assert found.nothing_because.code == "set-day-barred"
    assert found.nothing_because["why"].code == why
    if why == "journey-too-near":
        assert found.nothing_because["best"] == BEST
    assert "set-day-unused" in codes(one.reason for one in plan.warnings)


def test_a_show_without_altered_fish_and_nobody_who_may_do_it_bar_it(
    written: Any, verdict: Any
) -> None:
    in_file(written, LATER)
    written.with_show("altered_fish: excluded")
    assert verdict(written.plan(ON)).touch_up.day is None
    written.with_show("altered_fish: tolerated").with_keeper("touch_up: {by: nobody}")
    assert verdict(written.plan(ON)).touch_up.day is None


def test_the_last_word_stands_and_can_be_taken_back(written: Any, verdict: Any) -> None:
    in_file(written, date(2027, 5, 20))
    in_journal(written, date(2027, 5, 22), date(2027, 4, 10))
    in_journal(written, date(2027, 5, 24), date(2027, 4, 12))
    assert verdict(written.plan(ON)).touch_up.day == date(2027, 5, 24)
    assert verdict(written.plan(date(2027, 4, 11))).touch_up.day == date(2027, 5, 22)
    written.noted(f"on: 2027-04-12, fish: aoi, touch_up_on: 2027-05-24, undone: {ON}")
    assert verdict(written.plan(ON)).touch_up.day == date(2027, 5, 22)


def test_a_day_for_one_show_leaves_the_others_free(written: Any, verdict: Any) -> None:
    written.shows += written.shows.replace("larkfield", "elm").replace("2027-06", "2027-08")
    written.with_keeper("preferences: {touch_up_days_per_fish: 2}")
    in_journal(written, date(2027, 7, 20), show="elm")
    plan = written.plan(ON)
    assert verdict(plan).touch_up.best == BEST
    assert verdict(plan, show="elm").touch_up.best == date(2027, 7, 20)


def test_a_day_that_passed_counts_no_more(written: Any, verdict: Any) -> None:
    in_file(written, date(2027, 4, 1))
    assert verdict(written.plan(ON)).touch_up.day == BEST


def test_two_on_one_day_are_no_more_than_there_are_hands_for(written: Any) -> None:
    written.with_keeper(
        "touch_up: {by: keeper, law_checked: yes, law_country: Ireland, fish_per_day: 1, "
        "bath_litres: 30, strength_percent: 10}"
    )
    in_file(written, LATER)
    written.fish += written.fish.replace("aoi:", "beni:").replace("Aoi", "Beni")
    plan = written.plan(ON)
    on_it = [task.fish for task in plan.tasks if task.kind == "touch-up" and task.start == LATER]
    assert on_it == [("aoi",)]
    unused = [one for one in plan.warnings if one.reason.code == "set-day-unused"]
    assert [one.fish for one in unused] == ["beni"]


def test_a_fish_without_a_speck_is_told(written: Any) -> None:
    written.fish = written.fish.replace("kind: shimi", "kind: scratch")
    plan = in_file(written, LATER).plan(ON)
    (unused,) = (one.reason for one in plan.warnings if one.reason.code == "set-day-unused")
    assert unused["why"].code == "no-speck-to-take"
