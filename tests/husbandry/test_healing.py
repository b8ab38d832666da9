"""Healing against the experiments it is derived from."""

from __future__ import annotations

import math
from datetime import date, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from showprep.husbandry.healing import (
    Healing,
    Milestone,
    Unit,
    fin_regrowth,
    healing_days,
    latest_day,
    not_before,
    reached,
    scaled,
    short_days,
)
from showprep.husbandry.thermal_time import BASE_C, CAP_C, CLOCKS, MeanOn, degree_days
from showprep.husbandry.water import YearCurve, steady

NICK = Milestone(100, 180, 320, least_days=7)
NICK_CLOSED = Milestone(1, 2, 4, least_days=1, unit="skin-days")
SCALE_PLATE = Milestone(120, 260, 570, least_days=14)
FLUSH = Milestone(0.5, 1, 3, least_days=1, unit="days")
MAY_DAY = date(2027, 5, 1)
POND = YearCurve.from_monthly_means([4.5, 4.8, 7, 10, 14, 17.5, 19.5, 19, 16, 12, 8, 5.5]).on


def days_after(found: date | None) -> int | None:
    return None if found is None else (found - MAY_DAY).days


# The table's own days at 15, 20 and 25 °C, worked out by hand from the same figures.
@pytest.mark.parametrize(
    ("milestone", "at_15", "at_20", "at_25"),
    [
        (NICK_CLOSED, 2, 2, 2),
        (NICK, 26, 15, 11),
        (SCALE_PLATE, 38, 22, 16),
        (Milestone(80, 160, 300, 7), 23, 14, 10),
        (Milestone(200, 500, 1000, 21), 72, 42, 30),
        (Milestone(600, 1200, 2000, 45), 172, 100, 71),
    ],
)
def test_usual_days(milestone: Milestone, at_15: int, at_20: int, at_25: int) -> None:
    found = [days_after(reached(milestone, "usual", MAY_DAY, steady(c))) for c in (15, 20, 25)]
    assert found == [at_15, at_20, at_25]


# The same table: a slow nick takes 46, 27 and 19 days.
def test_slow_days() -> None:
    found = [days_after(reached(NICK, "high", MAY_DAY, steady(c))) for c in (15, 20, 25)]
    assert found == [46, 27, 19]


# Iranian Scientific Fisheries Journal 2004: carp cut to the muscle at 27 °C, skin over the cut
# within 4 h, normal by day 16. A shallow nick is closed from the first day on, and in a slow case
# clean not long after day 16.
def test_carp_at_27() -> None:
    nick = healing_days(NICK, MAY_DAY, steady(27))
    assert days_after(reached(NICK_CLOSED, "low", MAY_DAY, steady(27))) == 1
    assert days_after(nick.usual_on) == 10
    assert days_after(nick.high_on) == 18
    assert 16 * degree_days(27) == 288


# Smith 1931, goldfish at 24.4 °C (76 F): black pigment comes by day 3 to 4 and the last is gone
# by day 6 to 19. The usual day lies inside, the slow day is the longest seen or a little more.
def test_goldfish_pigment() -> None:
    nick = healing_days(NICK, MAY_DAY, steady(24.4))
    usual, slow = days_after(nick.usual_on), days_after(nick.high_on)
    assert usual is not None
    assert 6 <= usual <= 19
    assert slow == 20


# Anderson & Roberts 1975 support the straight line only. Two studies contradict a hard zero at 8
# °C: goldfish darkened at 6.1 °C (Smith 1931), and the line held down to 5 °C. So both ends are a
# choice.
def test_base_and_cap_are_derived() -> None:
    base, cap = CLOCKS["base"], CLOCKS["cap"]
    assert (BASE_C, CAP_C) == (base.typical, cap.typical) == (8, 26)
    assert {base.grade, cap.grade} == {"derived"}
    assert all("our choice" in one.source for one in (base, cap))
    assert base.low <= 5 < 8 < base.high
    assert cap.low < 26 < cap.high


# Knights & Lasee 1996: in 56 days at 6 °C little healing below the skin.
def test_cold_stops_it() -> None:
    assert healing_days(NICK, MAY_DAY, steady(6)) == Healing("clean", None, None, None)


# Suzuki 1952, goldfish scales: back in about 15 days in summer, more than a month in winter. The
# temperatures are not in print: 25 and 15 °C are taken.
def test_goldfish_scales() -> None:
    assert days_after(reached(SCALE_PLATE, "usual", MAY_DAY, steady(25))) == 16
    winter = days_after(reached(SCALE_PLATE, "usual", MAY_DAY, steady(15)))
    assert winter is not None
    assert winter > 30


# Fu, Cao & Fu 2013 (carp 47 %, goldfish 24 %) and Yan et al. 2015 (goldfish 60 %): tail fins cut
# at 25 °C, regrown part after 20 days, worked by hand: 50 + share x 290 / the part grown back. A
# small loss waits for the floor, since growth near the tip is slower (Lee et al. 2005, Development
# 132:5173; the size of the floor is a choice): 240 usually, 480 in a slow case.
@pytest.mark.parametrize(
    ("lost", "low", "usual", "high"),
    [(0.1, 98, 240, 480), (0.2, 147, 240, 480), (0.5, 292, 359, 654), (0, 50, 240, 480)],
)
def test_fins(lost: float, low: float, usual: float, high: float) -> None:
    fin = fin_regrowth(lost)
    assert (fin.low, fin.usual, fin.high) == pytest.approx((low, usual, high), abs=0.51)
    assert fin.least_days == 10


def test_fin_published_share_comes_back_on_the_day_it_was_seen() -> None:
    a_day = degree_days(25)
    assert fin_regrowth(0.47).usual == pytest.approx(20 * a_day)
    assert fin_regrowth(0.24).high == 480 > 20 * a_day  # the floor


# The film of skin: whole days from 8 °C on, half days from 4 °C, none in colder water. Bullock,
# Marks & Roberts 1978 saw it at 5 and 10 °C, Andrews et al. 2015 at 4, 10 and 14 °C.
@pytest.mark.parametrize(
    ("water_c", "usual", "high"),
    [(26, 2, 4), (8, 2, 4), (7.9, 4, 8), (4, 4, 8), (3.9, None, None)],
)
def test_the_film_of_skin(water_c: float, usual: int | None, high: int | None) -> None:
    found = healing_days(NICK_CLOSED, MAY_DAY, steady(water_c))
    assert (days_after(found.usual_on), days_after(found.high_on)) == (usual, high)


def test_the_film_waits_for_a_pond_to_warm() -> None:
    def thaw(day: date) -> float:
        return 3.0 if day < date(2027, 5, 4) else 6.0 if day < date(2027, 5, 6) else 10.0

    # 2 and 3 May nothing, 4 and 5 May half each, 6 May a whole one.
    assert NICK_CLOSED.gathered(MAY_DAY, date(2027, 5, 6), thaw) == 2
    assert reached(NICK_CLOSED, "usual", MAY_DAY, thaw) == date(2027, 5, 6)
    assert latest_day(NICK_CLOSED, date(2027, 5, 6), thaw, date(2027, 4, 1), "usual") == date(
        2027, 5, 3
    )


def test_each_unit_has_its_own_clock() -> None:
    until = MAY_DAY + timedelta(days=10)
    plain = Milestone(1, 2, 3, 0, "days")
    warm = Milestone(1, 2, 3, 0)
    film = Milestone(1, 2, 3, 0, "skin-days")
    assert [one.gathered(MAY_DAY, until, steady(6)) for one in (plain, warm, film)] == [10, 0, 5]
    assert [one.gathered(MAY_DAY, until, steady(18)) for one in (plain, warm, film)] == [
        10,
        100,
        10,
    ]
    assert plain.gathered(until, MAY_DAY, steady(18)) == 0
    with pytest.raises(ValueError, match="not a number"):
        film.gathered(MAY_DAY, until, lambda _: math.nan)


@pytest.mark.parametrize("lost", [-0.1, 0.51, 1.0, math.nan])
def test_fin_more_than_half_gone_is_refused(lost: float) -> None:
    with pytest.raises(ValueError, match="not be whole this season"):
        fin_regrowth(lost)


# A stress flush settles in about a day, common practice, no source.
def test_plain_days_do_not_ask_the_water() -> None:
    for water in (steady(4), steady(24)):
        found = healing_days(FLUSH, MAY_DAY, water)
        assert [days_after(day) for day in (found.low_on, found.usual_on, found.high_on)] == [
            1,
            1,
            3,
        ]
    assert latest_day(FLUSH, MAY_DAY, steady(4), date(2027, 1, 1)) == date(2027, 4, 28)
    assert latest_day(FLUSH, MAY_DAY, steady(4), date(2027, 4, 29)) is None
    assert reached(FLUSH, "high", MAY_DAY, steady(4), until=MAY_DAY) is None


def test_part_of_a_day_counts_as_a_day() -> None:
    found = healing_days(Milestone(0.5, 1.2, 3, least_days=0, unit="days"), MAY_DAY, steady(4))
    assert [days_after(day) for day in (found.low_on, found.usual_on, found.high_on)] == [1, 2, 3]


def test_milestone_is_named() -> None:
    found = healing_days(NICK_CLOSED, MAY_DAY, steady(20), milestone_name="closed")
    assert found == Healing("closed", date(2027, 5, 2), date(2027, 5, 3), date(2027, 5, 5))


def test_a_nick_in_july_and_in_april() -> None:
    july, april = date(2027, 7, 1), date(2027, 4, 1)
    summer = reached(NICK, "usual", july, POND)
    spring = reached(NICK, "usual", april, POND)
    assert summer is not None
    assert spring is not None
    assert (summer - july).days <= 17
    assert (spring - april).days > 42


def test_latest_day_for_a_june_show() -> None:
    benching = date(2027, 6, 11)
    high = latest_day(NICK, benching, POND, date(2027, 1, 1), "high")
    usual = latest_day(NICK, benching, POND, date(2027, 1, 1), "usual")
    low = latest_day(NICK, benching, POND, date(2027, 1, 1), "low")
    assert high is not None
    assert usual is not None
    assert low is not None
    assert high < usual < low <= benching - timedelta(days=7)
    assert latest_day(NICK, benching, POND, high + timedelta(days=1)) is None
    assert latest_day(NICK, benching, POND, high) == high


# Macan & Maudsley 1966, Hydrobiologia 27:1-22: in a small water, over seven years, most
# temperatures were reached at dates at least four weeks apart. A year 1.5 °C colder or warmer is
# well inside that, and moves a slow case by a week and a half.
def test_a_colder_year_is_late() -> None:
    def year(offset_c: float) -> MeanOn:
        return lambda day: POND(day) + offset_c

    nick = date(2027, 4, 15)
    here, cold = (reached(NICK, "high", nick, year(off)) for off in (0, -1.5))
    assert here is not None
    assert cold is not None
    assert (cold - here).days == 11
    reach_12 = [
        next(day for n in range(200) if year(off)(day := date(2027, 1, 1) + timedelta(n)) >= 12)
        for off in (1.5, -1.5)
    ]
    assert (reach_12[1] - reach_12[0]).days < 28


def test_short_days() -> None:
    assert short_days(NICK, MAY_DAY, MAY_DAY + timedelta(days=10), steady(20)) == 5
    assert short_days(NICK, MAY_DAY, MAY_DAY + timedelta(days=15), steady(20)) == 0
    assert short_days(NICK, MAY_DAY, MAY_DAY + timedelta(days=15), steady(20), "high") == 12
    assert short_days(NICK, MAY_DAY, MAY_DAY, steady(8)) is None


def test_a_slow_yard() -> None:
    slow = scaled(NICK, 1.25)
    assert slow == Milestone(125, 225, 400, least_days=7)
    assert scaled(FLUSH, 2).unit == "days"
    for wrong in (0, -1, math.nan, math.inf):
        with pytest.raises(ValueError, match="factor"):
            scaled(NICK, wrong)


def test_stitches_wait_for_the_cut_they_hold() -> None:
    cut, stitches = Milestone(120, 320, 600, 14), Milestone(170, 250, 350, 10)
    assert not_before(stitches, cut) == Milestone(170, 320, 600, 14)
    assert not_before(cut, cut) == cut
    with pytest.raises(ValueError, match="cannot be compared"):
        not_before(stitches, FLUSH)


@pytest.mark.parametrize("figures", [(2, 1, 3), (-1, 1, 3), (1, 2, math.nan), (1, 2, math.inf)])
def test_figures_out_of_order_are_refused(figures: tuple[float, float, float]) -> None:
    with pytest.raises(ValueError, match="must rise"):
        Milestone(*figures, least_days=1)


def test_negative_least_days_are_refused() -> None:
    with pytest.raises(ValueError, match="least days"):
        Milestone(1, 2, 3, least_days=-1)


figures = st.lists(st.floats(0, 400), min_size=3, max_size=3).map(sorted)


@settings(derandomize=True, max_examples=60, deadline=None)
@given(
    figures,
    st.integers(0, 30),
    st.integers(0, 364),
    st.floats(1, 2),
    st.sampled_from(["degree-days", "days", "skin-days"]),
)
def test_levels_keep_their_order_and_slow_fish_heal_later(
    needs: list[float], least: int, start: int, factor: float, unit: Unit
) -> None:
    milestone = Milestone(needs[0], needs[1], needs[2], least, unit)
    day = date(2027, 1, 1) + timedelta(days=start)
    found = healing_days(milestone, day, POND)
    assert found.low_on is not None
    assert found.usual_on is not None
    assert found.high_on is not None
    assert day + timedelta(days=least) <= found.low_on <= found.usual_on <= found.high_on
    slower = reached(scaled(milestone, factor), "high", day, POND)
    assert slower is not None
    assert slower >= found.high_on
    assert latest_day(milestone, found.high_on, POND, day) is not None
