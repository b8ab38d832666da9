"""Which water counts for a fish on which day, and how warm it is."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

import pytest

ON = date(2027, 4, 1)
DAY = timedelta(days=1)


def means(written: Any, first: date, days: int, on: date = ON) -> list[float]:
    mean_on = written.touch_ups(on).mean_on
    return [round(mean_on(first + number * DAY), 3) for number in range(days)]


def test_a_fish_moved_is_in_the_new_water_from_that_day(written: Any) -> None:
    written.fish += "  moves: [{on: 2027-04-10, to: vat}]\n"
    assert means(written, date(2027, 4, 8), 4) == [20, 20, 22, 22]
    aoi = written.yard(ON).courses["aoi"]
    assert [aoi.water_on(date(2027, 4, day)) for day in (9, 10)] == ["pond", "vat"]


def test_a_ramp_warms_by_its_steps(written: Any) -> None:
    written.fish += "  moves: [{on: 2027-04-10, to: vat, ramp_c_per_day: 0.5}]\n"
    # from 20 °C by half a degree a day to 22 °C: there on the fourth day
    assert means(written, date(2027, 4, 9), 7) == [20, 20, 20.5, 21, 21.5, 22, 22]


def test_two_moves_come_after_each_other(written: Any) -> None:
    written.with_keeper("waters: {pond: {steady_c: 20}, vat: {steady_c: 22}, tub: {steady_c: 17}}")
    written.fish += "  moves: [{on: 2027-04-10, to: vat}, {on: 2027-04-12, to: tub}]\n"
    assert means(written, date(2027, 4, 9), 5) == [20, 22, 22, 17, 17]


def test_a_move_written_in_the_journal_counts(written: Any) -> None:
    written.noted("on: 2027-04-05, did: move, fish: aoi, to: vat")
    assert means(written, date(2027, 4, 4), 3, on=date(2027, 4, 6)) == [20, 22, 22]
    assert means(written, date(2027, 4, 4), 3, on=date(2027, 4, 4)) == [20, 20, 20]  # not known yet


def test_a_reading_pulls_the_water_and_fades(written: Any) -> None:
    written.with_keeper("preferences: {reading_half_life_days: 10}")
    written.noted("on: 2027-04-01, saw: temperature, water: pond, read_c: 16")
    there, later = means(written, ON, 1)[0], means(written, ON + 10 * DAY, 1)[0]
    assert there == pytest.approx(16, abs=0.01)  # as read
    assert later == pytest.approx(18, abs=0.01)  # half of the 4 °C is left after one half-life


def test_colder_readings_move_the_touch_up_earlier(written: Any) -> None:
    on = date(2027, 5, 15)
    warm = written.touch_ups(on)
    before = warm.window(warm.yard.events["larkfield"], 0.7)
    for day in ("05", "10", "15"):
        written.noted(f"on: 2027-05-{day}, saw: temperature, water: pond, read_c: 15")
    cold = written.touch_ups(on)
    after = cold.window(cold.yard.events["larkfield"], 0.7)
    assert after.latest < before.latest and after.slow_by < before.slow_by
    assert after.likeliest.both < before.likeliest.both
