"""Time apart against the published course of koi herpesvirus, and months against a library."""

from __future__ import annotations

from datetime import date, timedelta
from math import nan

import pytest
from dateutil.relativedelta import relativedelta
from hypothesis import given, settings
from hypothesis import strategies as st

from showprep.husbandry.isolation import (
    clear_on,
    days_apart,
    declared_from,
    khv_window_words,
    litres_needed,
    vat_holds,
)

HOME = date(2027, 6, 13)


@pytest.mark.parametrize("vats", ["own", "shared", "bag"])
@pytest.mark.parametrize(
    ("water_c", "last_death", "last_shedding"), [(16, 52, 40), (23, 20, 14), (28, 14, 14)]
)
def test_no_fish_is_cleared_while_carp_still_died_or_shed(
    vats, water_c: float, last_death: int, last_shedding: int
) -> None:
    # Fish Pathology 43:83, 2008: days from exposure to death and days of shedding.
    days = days_apart(water_c, vats)
    assert days is not None
    assert days > last_death
    assert days > last_shedding


def test_cold_water_clears_nothing() -> None:
    # Journal of General Virology 2003: no deaths at 13 °C, but rapid ones after 13 to 23 °C.
    assert days_apart(13, "own") is None
    assert days_apart(15.9, "shared") is None
    assert clear_on(HOME, lambda _: 13.0, "own") is None


@pytest.mark.parametrize(
    ("water_c", "own", "shared"),
    [(25, 28, 42), (22, 28, 42), (21.9, 42, 60), (18, 42, 60), (17.9, 60, 90), (16, 60, 90)],
)
def test_the_days_by_temperature(water_c: float, own: int, shared: int) -> None:
    assert days_apart(water_c, "own") == days_apart(water_c, "bag") == own
    assert days_apart(water_c, "shared") == shared


def test_a_keeper_can_only_wait_longer() -> None:
    assert days_apart(22, "own", {"apart_own_warm": 42}) == 42
    assert days_apart(22, "own", {"apart_own_warm": 14}) == 28
    assert days_apart(17, "own", {"apart_least_c": 18}) is None


@pytest.mark.parametrize(("water_c", "days"), [(22, 28), (20, 42), (17, 60)])
def test_steady_water_clears_on_the_day(water_c: float, days: int) -> None:
    assert clear_on(HOME, lambda _: water_c, "own") == HOME + timedelta(days)


def test_changing_water_counts_by_shares_of_days() -> None:
    # 14 days at 22 °C are half of 28, 21 days at 20 °C half of 42.
    def mean(day: date) -> float:
        return 22.0 if day <= HOME + timedelta(14) else 20.0

    assert clear_on(HOME, mean, "own") == HOME + timedelta(35)


def test_the_clock_starts_again_after_a_cold_day() -> None:
    cold = HOME + timedelta(20)
    assert clear_on(HOME, lambda day: 15.0 if day == cold else 22.0, "own") == cold + timedelta(28)


@settings(derandomize=True, max_examples=40, deadline=None)
@given(st.lists(st.floats(14, 28), min_size=30, max_size=30), st.floats(0, 5))
def test_warmer_water_never_clears_later(means: list[float], more: float) -> None:
    def mean(day: date) -> float:
        number = (day - HOME).days - 1
        return means[number] if number < 30 else 22.0

    plain = clear_on(HOME, mean, "own")
    warmer = clear_on(HOME, lambda day: mean(day) + more, "own")
    assert plain is not None
    assert warmer is not None
    assert warmer <= plain


def test_a_temperature_that_is_no_number_is_refused() -> None:
    with pytest.raises(ValueError, match="not a number"):
        days_apart(nan, "own")


def test_what_a_vat_holds() -> None:
    # An assumption, within what keepers' pages say: 190 L for one or two small koi up to 3,800 L
    # and more for several large ones.
    assert litres_needed([55, 36, 20]) == 1750
    assert litres_needed([50, 35, 34.9]) == 1750
    assert vat_holds(2000, [60, 52])
    assert not vat_holds(1999, [60, 52])
    assert vat_holds(500, [])
    with pytest.raises(ValueError, match="length of a fish"):
        vat_holds(2000, [0])
    with pytest.raises(ValueError, match="isolation vat"):
        vat_holds(0, [60])


def test_the_disease_is_described_with_its_window() -> None:
    # Fish Health Inspectorate, England and Wales: 16 to 28 °C, notifiable.
    words = khv_window_words()
    assert "16 and 28 °C" in words
    assert "report it at once" in words
    assert khv_window_words(20) == words
    assert "may look well" in khv_window_words(13)
    assert "may look well" in khv_window_words(30)


@settings(derandomize=True, max_examples=200, deadline=None)
@given(st.dates(date(2000, 1, 1), date(2060, 12, 31)), st.integers(0, 120))
def test_months_are_counted_back_as_the_dateutil_package_does(day: date, months: int) -> None:
    assert declared_from(day, months) == day - relativedelta(months=months)


def test_a_senseless_number_of_months_is_refused() -> None:
    assert declared_from(date(2027, 8, 31), 6) == date(2027, 2, 28)
    for months in (-1, 121):
        with pytest.raises(ValueError, match="months cannot be right"):
            declared_from(HOME, months)
