"""Repeat doses, clean scrapes and baths too near a show, by days worked out by hand.

No published trial on koi was found; the days are keepers' and traders', named in the module.
"""

from __future__ import annotations

from datetime import date, timedelta
from math import nan
from typing import get_args

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from showprep.husbandry.figures import SHIPPED, FiguresInForce
from showprep.husbandry.parasites import (
    SCHEDULES,
    Parasite,
    after_bath_treatment,
    clean_scrape_counts_from,
    cleared_on,
    days_to_next_dose,
    repeat_doses,
    substance_in,
)
from showprep.season.checks.own_figures import fault_in_own_value

FIRST = date(2027, 5, 1)


def after(days: int) -> date:
    return FIRST + timedelta(days)


@pytest.mark.parametrize(
    ("against", "water_c", "days"),
    [
        ("white spot", 25, [4, 8]),  # a UK trade page of 2007: 25 °C 4 days, 18 °C 6, 10 °C 10
        ("white spot", 18, [6, 12]),
        ("white spot", 10, [10, 20]),
        ("white spot", 30, [4, 8]),
        ("flukes", 20, [5]),  # a keepers' forum: above 16 °C after 5 to 7 days
        ("flukes", 16, [7]),
        ("anchor worm", 20, [7]),  # two keepers' pages
        ("fish lice", 20, [14]),  # eggs hatch in about 2 weeks
    ],
)
def test_doses_in_steady_water(against: Parasite, water_c: float, days: list[int]) -> None:
    assert repeat_doses(against, FIRST, lambda _: water_c) == tuple(map(after, days))


@pytest.mark.parametrize(
    ("against", "water_c"),
    [("flukes", 15.9), ("white spot", 9.9), ("anchor worm", 12), ("fish lice", 15)],
)
def test_in_cold_water_no_day_is_named(against: Parasite, water_c: float) -> None:
    assert days_to_next_dose(against, water_c) is None
    assert set(repeat_doses(against, FIRST, lambda _: water_c)) == {None}


def test_changing_water_counts_by_shares() -> None:
    # White spot: 3 days at 18 °C are half of 6, 2 days at 25 °C half of 4.
    def mean(day: date) -> float:
        return 18.0 if day <= after(3) else 25.0

    assert repeat_doses("white spot", FIRST, mean) == (after(5), after(9))


def test_cold_days_in_between_count_nothing() -> None:
    # Flukes at 20 °C: 2 days, ten cold ones, and then the other 3 of 5.
    def mean(day: date) -> float:
        return 12.0 if after(2) < day <= after(12) else 20.0

    assert repeat_doses("flukes", FIRST, mean) == (after(15),)


def test_the_eggs_of_flukes_have_hatched_and_not_yet_laid() -> None:
    # At 20 °C eggs hatch in about 4 days (the forum): a dose on the day before would leave them.
    days = days_to_next_dose("flukes", 20)
    assert days is not None and 4 < days <= 7


@settings(derandomize=True, max_examples=100, deadline=None)
@given(st.sampled_from(get_args(Parasite)), st.floats(-2, 40), st.floats(0, 10))
def test_warmer_water_never_waits_longer(against: Parasite, water_c: float, more: float) -> None:
    cold, warm = (days_to_next_dose(against, min(40, one)) for one in (water_c, water_c + more))
    if cold is None:
        return
    assert warm is not None and warm <= cold
    steps = SCHEDULES[against].days
    assert steps[-1][1] <= warm <= cold <= steps[0][1]


def test_a_temperature_that_cannot_be_is_refused() -> None:
    for water_c in (nan, 60):
        with pytest.raises(ValueError, match="water temperature"):
            days_to_next_dose("flukes", water_c)


def test_a_clean_scrape_counts_14_days_after_the_last_dose() -> None:
    assert clean_scrape_counts_from(FIRST, [], SHIPPED) == after(14)
    assert clean_scrape_counts_from(FIRST, [after(-3)], SHIPPED) == after(
        14
    )  # a dose before the find
    assert clean_scrape_counts_from(FIRST, [after(1), after(8)], SHIPPED) == after(22)
    assert clean_scrape_counts_from(
        FIRST, [after(8)], FiguresInForce({"parasite_clear_check": 28})
    ) == after(36)
    assert clean_scrape_counts_from(
        FIRST, [after(8)], FiguresInForce({"parasite_clear_check": 7})
    ) == after(22)
    assert fault_in_own_value("parasite_clear_check", 7) is not None


def test_clear_is_a_clean_scrape_late_enough() -> None:
    doses = [after(1), after(8)]
    assert cleared_on([FIRST], doses, [], SHIPPED) is None
    assert cleared_on([FIRST], doses, [after(15), after(21)], SHIPPED) is None
    assert cleared_on([FIRST], doses, [after(30), after(21), after(22)], SHIPPED) == after(22)
    assert (
        cleared_on([FIRST], [*doses, after(25)], [after(22)], SHIPPED) is None
    )  # dosed again since
    assert cleared_on([FIRST, after(40)], doses, [after(22)], SHIPPED) is None  # found again since
    assert cleared_on([FIRST, after(40)], doses, [after(22), after(54)], SHIPPED) == after(54)
    with pytest.raises(ValueError, match="nothing was found"):
        cleared_on([], doses, [], SHIPPED)


@pytest.mark.parametrize(
    ("words", "substance"),
    [
        ("Potassium permanganate, by the vet's recipe", "permanganate"),
        ("KMnO4", "permanganate"),
        ("formalin and malachite", "formalin"),
        ("Formaldehyde", "formalin"),
        ("formalin, then permanganate", "permanganate"),
        ("praziquantel", "worm medicine"),
        ("Flubendazole 5 %", "worm medicine"),
        ("diflubenzuron", "insecticide"),
        ("salt", "other"),
        ("", "other"),
    ],
)
def test_what_was_used(words: str, substance: str) -> None:
    assert substance_in(words) == substance


@pytest.mark.parametrize(
    ("days", "substance", "by_vet", "level"),
    [
        (0, "permanganate", False, "block"),
        (6, "permanganate", False, "block"),
        (6, "formalin", False, "block"),
        (6, "formalin", True, "warn"),
        (7, "formalin", False, "warn"),
        (13, "permanganate", False, "warn"),
        (14, "permanganate", False, "fit"),
        (0, "other", False, "warn"),
        (13, "worm medicine", False, "warn"),
        (14, "other", False, "fit"),
    ],
)
def test_a_bath_too_near_the_show(days: int, substance, by_vet: bool, level: str) -> None:
    assert after_bath_treatment(days, substance, SHIPPED, by_vet=by_vet) == level


def test_a_bath_after_the_departure_is_refused() -> None:
    with pytest.raises(ValueError, match="after the departure"):
        after_bath_treatment(-1, "other", SHIPPED)
