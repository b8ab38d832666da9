"""The days a speck may come off, with the arithmetic of steady water beside each day."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

import pytest

from showprep.husbandry.reason import Celsius, Kelvin, reason
from showprep.planning.entries.question import problem_of
from showprep.planning.season_plan import make_plan
from showprep.planning.verdicts.prospects import prospects_of, touch_ups_of
from showprep.planning.worksheets.bath_season import baths
from showprep.planning.yard.last_plan import last_of
from tests.planning.told import codes

DAY = timedelta(days=1)
EARLY = date(2027, 3, 1)


def window(written: Any, on: date = EARLY, least: float = 0.7) -> Any:
    touch_ups = written.touch_ups(on)
    return touch_ups.window(touch_ups.yard.events["larkfield"], least)


def water(written: Any, c: float) -> Any:
    return written.with_keeper(f"waters: {{pond: {{steady_c: {c}}}, vat: {{steady_c: 22}}}}")


@pytest.mark.parametrize(
    ("c", "days", "chance"),
    [
        (12, 41, 0.55),
        (14, 36, 0.72),
        (16, 32, 0.82),
        (18, 29, 0.88),
        (20, 27, 0.92),
        (22, 25, 0.94),
        (25, 23, 0.965),
    ],
)
def test_the_best_day_in_steady_water(written: Any, c: float, days: int, chance: float) -> None:
    """Best days and chances worked out for three bases with SciPy, judging the day after."""
    likeliest = window(water(written, c)).likeliest
    assert likeliest.day == date(2027, 6, 11) - days * DAY
    assert likeliest.both == pytest.approx(chance, abs=0.006)


def test_the_window_in_steady_water_of_20_degrees(written: Any) -> None:
    found = window(written)
    # Taken off on 29 April it has 44 days to judging: not back in 7 of 10 cases, and healed.
    # On 24 May it has 18 days: healed in 7 of 10, and not back but in 1 case of 1,000.
    assert (found.earliest, found.latest) == (date(2027, 4, 29), date(2027, 5, 24))
    # usual, base 5: 180 · 20/17 = 211.8 at 15 a day: 15 days before 11 June
    assert found.usual_by == date(2027, 5, 27)
    # slow case, base 8: 320 / 12 = 26.7: 27 days
    assert found.slow_by == date(2027, 5, 15)


@pytest.mark.parametrize(
    ("least", "earliest", "latest"),
    [(0.9, date(2027, 5, 12), date(2027, 5, 18)), (0.5, date(2027, 4, 17), date(2027, 5, 27))],
)
def test_who_asks_for_more_has_fewer_days(
    written: Any, least: float, earliest: date, latest: date
) -> None:
    found = window(written, least=least)
    assert (found.earliest, found.latest) == (earliest, latest)
    chances = {one.day: one.both for one in found.ahead}
    assert chances[earliest] >= least > chances[earliest - DAY]
    assert chances[latest] >= least > chances[latest + DAY]


@pytest.mark.parametrize(
    ("steady", "slow_by"),
    [
        (15, date(2027, 4, 26)),  # 320 / 7 = 45.7: 46 days before 11 June
        (18, date(2027, 5, 10)),  # 320 / 10 = 32 days
        (26, date(2027, 5, 24)),  # 320 / 18 = 17.8: 18 days
        (30, date(2027, 5, 24)),  # no more credit above 26 °C
        (8, None),  # no degree-days at all above 8 °C
    ],
)
def test_warmer_water_lets_the_speck_come_off_later(
    written: Any, steady: float, slow_by: date | None
) -> None:
    assert window(water(written, steady)).slow_by == slow_by


@pytest.mark.parametrize(("low", "usual", "days"), [(4, 8, 27), (8, 14, 38), (3, 6, 23)])
def test_how_soon_a_speck_is_back_moves_the_best_day(
    written: Any, low: float, usual: float, days: int
) -> None:
    weeks = f"{{low: {low}, usual: {usual}, high: {usual * usual / low:.4f}}}"
    written.with_keeper(f"preferences: {{speck_returns_after_weeks: {weeks}}}")
    assert window(written).likeliest.day == date(2027, 6, 11) - days * DAY


def test_one_number_of_weeks_has_half_and_twice_beside_it(written: Any) -> None:
    written.with_keeper("preferences: {speck_returns_after_weeks: 8}")
    one = window(written)
    written.with_keeper("preferences: {speck_returns_after_weeks: {low: 4, usual: 8, high: 16}}")
    assert window(written) == one


def test_the_last_day_that_would_have_done_is_told(written: Any) -> None:
    found = window(written, date(2027, 5, 28))
    assert found.latest == date(2027, 5, 24)
    assert found.ahead[0].day == date(2027, 5, 28)


def test_two_specks_come_off_in_one_session_and_the_slower_decides(written: Any) -> None:
    written.fish = written.fish.replace(
        "defects: [", "defects: [{kind: shimi, where: right flank, seen: 2027-03-01}, "
    )
    touch_ups = written.touch_ups(EARLY)
    assert [speck.where for speck in touch_ups.specks] == ["right flank", "left shoulder"]
    show = touch_ups.yard.events["larkfield"]
    both = touch_ups.on(date(2027, 5, 15), show)
    one = touch_ups.chances.of(touch_ups.specks[0], show, date(2027, 5, 15))
    assert one.clean**2 < both.healed < one.clean  # one fish, one water, one pace: not independent
    assert one.not_back**2 < both.not_back < one.not_back


def test_work_days_that_recur_by_a_rule(written: Any) -> None:
    """Every second Saturday from 1 May 2027."""
    written.with_keeper(
        'work_days: [monday, {rule: "FREQ=WEEKLY;INTERVAL=2;BYDAY=SA", from: 2027-05-01}]'
    )
    yard = written.yard(date(2027, 4, 20))
    assert [f"{day:%m-%d}" for day in yard.work_days(date(2027, 4, 24), date(2027, 5, 18))] == [
        *("04-26", "05-01", "05-03", "05-10", "05-15", "05-17"),
    ]


def test_only_work_days_at_home_are_fit(written: Any) -> None:
    written.with_keeper(
        "work_days: [saturday]",
        "away: [{from: 2027-05-01, to: 2027-05-02}]",
        "also_work_on: [2027-05-05]",
    )
    touch_ups = written.touch_ups(EARLY)
    days = touch_ups.fit_days(touch_ups.window(touch_ups.yard.events["larkfield"], 0.7))
    # Saturdays from 29 April to 24 May: (1 May away), 8, 15, 22 May; and 5 May by hand
    assert [f"{day:%m-%d}" for day in days] == ["05-05", "05-08", "05-15", "05-22"]


def test_days_gone_by_are_not_offered(written: Any) -> None:
    touch_ups = written.touch_ups(date(2027, 5, 5))
    days = touch_ups.fit_days(touch_ups.window(touch_ups.yard.events["larkfield"], 0.7))
    assert (days[0], days[-1]) == (date(2027, 5, 5), date(2027, 5, 24))


@pytest.mark.parametrize(
    ("entry", "day", "code"),
    [
        ("did: touch-up, fish: aoi, defect: deep-shimi", date(2027, 5, 1), "sedated-lately"),
        ("did: move, fish: aoi, to: pond", date(2027, 5, 3), "moved-lately"),  # 14 days
        ("saw: spawned, fish: aoi", date(2027, 5, 3), "spawned-lately"),  # 14 days
        (
            "did: treatment, water: pond, treatment: salt",
            date(2027, 4, 26),
            "treated-lately",
        ),  # 7 days
        ("did: treatment, fish: aoi, treatment: salt", date(2027, 4, 26), "treated-lately"),
    ],
)
def test_what_was_done_lately_speaks_against_a_day(
    written: Any, entry: str, day: date, code: str
) -> None:
    written.fish = written.fish.replace(
        "defects: [",
        "defects: [{kind: deep-shimi, where: back, seen: 2027-03-01}, ",
    )
    done = date(2027, 4, 19)
    written.noted(f"on: {done}, {entry}")
    touch_ups = written.touch_ups(done)
    against = touch_ups.against(day - DAY)
    assert (against.code, against["on"]) == (code, done)
    assert touch_ups.against(day) is None


@pytest.mark.parametrize(
    ("entry", "cleared", "day"),
    [
        ("saw: off food, fish: aoi", "saw: feeding well, fish: aoi", 21),
        # a clean scrape counts from 3 May, 14 days after the find
        ("saw: parasites, water: pond", "saw: no parasites, water: pond", 33),
    ],
)
def test_a_fish_not_well_is_not_touched_up(
    written: Any, entry: str, cleared: str, day: int
) -> None:
    written.noted(f"on: 2027-04-19, {entry}")
    assert written.touch_ups(date(2027, 4, 20)).against(date(2027, 5, 5)) is not None
    seen = date(2027, 3, 31) + timedelta(days=day)
    written.noted(f"on: {seen}, {cleared}")
    assert written.touch_ups(seen).against(date(2027, 5, 5)) is None


def test_parasites_in_another_water_do_not_count(written: Any) -> None:
    written.noted("on: 2027-04-19, saw: parasites, water: vat")
    assert written.touch_ups(date(2027, 4, 20)).against(date(2027, 5, 5)) is None


def test_a_fish_new_in_the_yard_is_left_for_two_weeks(written: Any) -> None:
    written.fish += "  came: 2027-04-20\n"
    touch_ups = written.touch_ups(date(2027, 4, 21))
    assert touch_ups.against(date(2027, 5, 3)) is not None  # 13 days
    assert touch_ups.against(date(2027, 5, 4)) is None  # 14 days


def test_for_a_month_after_a_move_the_keeper_is_cautioned(written: Any) -> None:
    written.fish += "  came: 2027-04-20\n"
    touch_ups = written.touch_ups(date(2027, 4, 21))
    told = reason("moved-not-long-ago", on=date(2027, 4, 20), days=30)
    assert told in touch_ups.cautions(date(2027, 5, 19))  # 29 days
    assert told not in touch_ups.cautions(date(2027, 5, 20))  # 30 days
    assert told not in touch_ups.cautions(date(2027, 5, 3))  # too soon: not cautioned but barred


def test_a_fish_home_from_a_show_is_left_for_two_weeks(written: Any) -> None:
    written.shows += (
        "early:\n  name: Early Show\n  judging: 2027-04-17 10:00\n  travel_hours: 1\n"
        "  check_out: 2027-04-18 14:00\n"
    )
    written.noted("on: 2027-04-16, did: travelled, fish: aoi, show: early")
    touch_ups = written.touch_ups(date(2027, 4, 19))
    assert touch_ups.against(date(2027, 5, 1)) is not None  # home on 18 April: 13 days
    assert touch_ups.against(date(2027, 5, 2)) is None  # 14 days


def test_water_unfit_for_sedation(written: Any) -> None:
    for steady, fit in ((9.9, False), (10, True), (14, True), (28, True), (28.5, False)):
        written.with_keeper(f"waters: {{pond: {{steady_c: {steady}}}, vat: {{steady_c: 22}}}}")
        assert (written.touch_ups(EARLY).against(date(2027, 5, 5)) is None) is fit, steady


def test_a_keepers_stricter_figure_holds(written: Any) -> None:
    written.with_keeper("figures: {sed_cold_block: 21}")
    assert written.touch_ups(EARLY).against(date(2027, 5, 5)) == reason(
        "water-too-cold", water=Celsius(20), limit=Celsius(21)
    )
    written.with_keeper("figures: {block_after_spawn: 30}")
    written.noted("on: 2027-04-10, saw: spawned, fish: aoi")
    against = written.touch_ups(date(2027, 4, 11)).against(date(2027, 5, 5))
    assert against == reason("spawned-lately", on=date(2027, 4, 10), days=30)


def test_a_cold_snap_speaks_against_the_five_weeks_after_it(written: Any) -> None:
    written.with_keeper("waters: {pond: {steady_c: 20}, brook tank: {steady_c: 11}}")
    written.with_keeper("isolation: {water: pond, holds: 4}")
    written.fish += "  moves: [{on: 2027-04-01, to: brook tank}]\n"
    touch_ups = written.touch_ups(EARLY)  # 20 to 11 °C: 9 °C, more than 8
    # the last warm day is 31 March: 35 days later is 5 May, and 6 May is free of it
    assert touch_ups.against(date(2027, 5, 5)) == reason(
        "cold-drop", fall=Kelvin(9), days=35, limit=Kelvin(8)
    )
    assert touch_ups.against(date(2027, 5, 6)) is None


def test_the_fish_must_have_been_unfed(written: Any) -> None:
    today = date(2027, 5, 5)  # at 20 °C a gut needs two days: unfed from 3 May
    written.noted("on: 2027-05-04, did: stop feeding, water: pond")
    assert written.touch_ups(today).against(today) == reason(
        "fed-until", until=date(2027, 5, 4), first=date(2027, 5, 3)
    )
    assert written.touch_ups(today).against(today + DAY) is None
    written.noted("on: 2027-05-05, did: feed again, water: pond")
    assert written.touch_ups(today).against(today + DAY) == reason(
        "fed-again", water="pond", on=today
    )
    assert written.touch_ups(today).against(today + 3 * DAY) is None


def test_a_fast_that_the_journal_does_not_tell_of_is_asked_about(written: Any, job: Any) -> None:
    plan = written.plan(date(2027, 5, 16))  # the best day left: unfed from the 14th, not noted
    cautions = job(plan, "touch-up/aoi/larkfield").cautions
    assert cautions[0] == reason("only-if-unfed", water="pond", since=date(2027, 5, 14))


def test_a_day_whose_water_may_be_too_warm_gives_way_to_a_surer_one(written: Any) -> None:
    """The pond nears 28 °C by June: so many of the likeliest days would find it too warm."""
    months = "[14, 14, 16, 22, 27, 27.5, 27, 27, 25, 22, 18, 15]"
    written.with_keeper(
        f"waters: {{pond: {{monthly_c: {months}}}, vat: {{steady_c: 22}}}}",
        "carrying: {tank_litres: 4000}",
    )
    (one,) = written.prospects(EARLY).values()
    likeliest = max(one.days.values(), key=lambda found: found.both)
    assert one.best.day < likeliest.day
    assert one.best.both < likeliest.both
    assert one.likely[one.best.day] > one.likely[likeliest.day]
    for day, found in one.days.items():
        assert one.likely[day] <= max(each.both for each in one.days.values())
        assert one.likely[day] > found.both / 2 or day > likeliest.day
    # That the day has come is no news; a reading on it is, and is judged as it is.
    (there,) = written.prospects(one.best.day).values()
    assert there.likely[one.best.day] == one.likely[one.best.day] < there.days[one.best.day].both
    written.with_keeper(
        f"waters: {{pond: {{monthly_c: {months}, readings_c: {{{one.best.day}: 24}}}},"
        " vat: {steady_c: 22}}",
        "carrying: {tank_litres: 4000}",
    )
    (read,) = written.prospects(one.best.day).values()
    assert read.likely[one.best.day] == read.days[one.best.day].both


def test_water_that_is_surely_fit_takes_nothing_off_a_day(written: Any) -> None:
    (one,) = written.prospects(EARLY).values()
    assert one.likely == {day: found.both for day, found in one.days.items()}
    assert one.best.both == max(found.both for found in one.days.values())


HOT = "[24, 25, 26.5, 28.2, 28.4, 28.4, 28, 28, 27, 25, 24, 24]"


def hot(written: Any, read: str = "") -> Any:
    """A pond near 28.3 °C all spring: no day is expected to be fit, many may be."""
    return written.with_keeper(
        f"waters: {{pond: {{monthly_c: {HOT}, readings_c: {{{read}}}}}, vat: {{steady_c: 22}}}}",
        "carrying: {tank_litres: 4000}",
        "preferences: {touch_up_price: 1}",
    )


def test_a_day_may_be_planned_whose_water_is_not_expected_to_be_fit(
    written: Any, job: Any, verdict: Any
) -> None:
    plan = hot(written).plan(EARLY)
    found = verdict(plan)
    day = found.touch_up.day
    expected = written.touch_ups(EARLY).mean_on(day)
    assert 28 < expected < 29
    told = next(one for one in found.cautions if one.code == "water-may-not-be-fit")
    assert 0.2 <= told["chance"].share < 0.5
    session = job(plan, "touch-up/aoi/larkfield")
    assert session.cautions[0] == reason(
        "only-if-water-fits",
        water="pond",
        coldest=Celsius(10),
        warmest=Celsius(28),
        expected=Celsius(round(expected, 1)),
    )
    # It is not called ready on the strength of a day that the weather will rather take away.
    assert found.touch_up.chance > 0.9
    assert found.verdict == "tight"
    # The sheet gives no dose for the water that is expected.
    (bath,) = baths(written.yard(EARLY), plan)
    assert bath.dose is None
    assert [one.code for one in bath.refused] == ["water-too-warm"]


@pytest.mark.parametrize(("read", "done"), [(28.0, True), (28.1, False), (26, True), (31, False)])
def test_what_is_read_on_the_day_decides(
    written: Any, verdict: Any, read: float, done: bool
) -> None:
    day = verdict(hot(written).plan(EARLY)).touch_up.day
    hot(written, f"{day}: {read}")
    assert (written.touch_ups(day).against(day) is None) is done
    plan = written.plan(day)
    assert (verdict(plan).touch_up.day == day) is done
    assert not done or "only-if-water-fits" not in codes(
        caution for task in plan.tasks for caution in task.cautions if task.kind == "touch-up"
    )


def test_that_an_unread_day_has_come_takes_it_off_no_more_than_it_puts_it_on(
    written: Any, verdict: Any
) -> None:
    first = hot(written).plan(EARLY)
    day = verdict(first).touch_up.day
    eve = make_plan(written.season(day - DAY), day - DAY, "test", last=last_of(first))
    there = make_plan(written.season(day), day, "test", last=last_of(eve))
    assert verdict(eve).touch_up.day == verdict(there).touch_up.day == day


def test_water_that_will_hardly_be_fit_bars_a_day(written: Any) -> None:
    day = date(2027, 5, 15)
    for steady, fit in ((28.3, True), (30.5, False)):
        months = [steady] * 12
        written.with_keeper(f"waters: {{pond: {{monthly_c: {months}}}, vat: {{steady_c: 22}}}}")
        assert (written.touch_ups(EARLY).against(day) is None) is fit


@pytest.mark.parametrize(("pond", "settles"), [(20, 14), (14, 35)])
def test_out_of_a_vat_that_is_much_warmer_it_settles_for_longer(
    written: Any, pond: int, settles: int
) -> None:
    """Home on 13 June, 28 days in 23 °C, on 11 July in the pond again: 9 °C are a shock."""
    written.with_keeper(
        f"waters: {{pond: {{steady_c: {pond}}}, vat: {{steady_c: 23}}}}",
        "preferences: {least_chance: 0}",
    )
    later = written.shows.replace("larkfield", "otterby").replace("Larkfield", "Otterby")
    for day, then in (("06-11", "08-27"), ("06-12", "08-28"), ("06-13", "08-29")):
        later = later.replace(f"2027-{day}", f"2027-{then}")
    written.shows += later
    yard = written.yard(date(2027, 5, 1))
    touch_ups = touch_ups_of(yard)
    found = problem_of(yard, prospects_of(yard, touch_ups), touch_ups)
    days = {one.day: "larkfield" in one.bars for one in found.touch_ups}
    free = date(2027, 7, 11) + timedelta(days=settles)
    assert days[free - DAY] and not days[free]
