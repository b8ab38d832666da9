"""Each limit on a tiny season whose best plan is worked out by hand, with the limit and without.

Fish are A, B and C; shows are s, t and u. The arithmetic stands beside each number.
"""

from __future__ import annotations

from typing import Any

import pytest
from msgspec.structs import replace

from showprep.selection.choose import choose
from showprep.selection.problem import Instance
from tests.selection.tiny import entry, marks, on, season, touch

THREE = [
    entry("A", "s", 90, length_cm=60.0, kg=4.0, points=4.0, fee=10.0, size_class="5"),
    entry("B", "s", 60, length_cm=40.0, kg=2.5, points=3.0, fee=10.0, size_class="5"),
    entry("C", "s", 50, length_cm=40.0, kg=2.5, points=2.0, fee=10.0, size_class="4"),
]


@pytest.mark.parametrize(
    ("limit", "with_it"),
    [
        ({"fish": 2}, 90 + 60),
        ({"boxes": 1}, 90),
        ({"kg": 5.0}, 60 + 50),  # A is 4.0, and with any other 6.5; B and C are 2.5 + 2.5 = 5.0
        ({"total_cm": 80.0}, 60 + 50),  # A 60, with another 100; B and C 40 + 40 = 80
        ({"total_cm": 100.0}, 90 + 60),  # A and B 60 + 40 = 100, no less than A and C
        ({"points": 5.0}, 60 + 50),  # A 4, with C 6; B and C 3 + 2 = 5
        ({"points": 6.0}, 90 + 50),  # A and C 4 + 2 = 6; A and B would be 7
        ({"entries_per_class": 1}, 90 + 50),  # A and B are of one class
        ({"fish_at_least": 4}, 0),  # there are but three
        ({"total_cm_at_least": 140.0}, 90 + 60 + 50),  # 60 + 40 + 40 = 140
        ({"total_cm_at_least": 140.1}, 0),
    ],
)
def test_a_show_limits_what_is_entered(limit: dict[str, Any], with_it: int) -> None:
    assert marks(season(THREE)) == 90 + 60 + 50
    assert marks(season(THREE, limits={"s": limit})) == with_it


@pytest.mark.parametrize("limit", [{"fish_at_least": 2}, {"total_cm_at_least": 80.0}])
def test_a_show_that_wants_more_gets_nothing_from_one_fish(limit: dict[str, Any]) -> None:
    entries = [entry("A", "s", 90, length_cm=60.0), entry("A", "t", 70, length_cm=60.0)]
    apart = frozenset({("s", "t")})
    assert marks(season(entries, apart=apart)) == 90  # the better of two shows
    assert marks(season(entries, limits={"s": limit}, apart=apart)) == 70  # A alone is too little


def test_a_fish_without_a_class_counts_in_none() -> None:
    entries = [entry("A", "s", 90), entry("B", "s", 60)]
    assert marks(season(entries, limits={"s": {"entries_per_class": 1}})) == 90 + 60


def test_fees_are_paid_for_each_entry_and_once_for_the_show() -> None:
    shows = {"s": {"fee": 20.0}}
    assert marks(season(THREE, limits=shows)) == 90 + 60 + 50
    assert marks(season(THREE, limits=shows, fees=50.0)) == 90 + 60 + 50  # 20 + 3 x 10 = 50
    assert marks(season(THREE, limits=shows, fees=49.99)) == 90 + 60  # 20 + 2 x 10 = 40
    assert marks(season(THREE, limits=shows, fees=29.0)) == 0  # 20 + 10 = 30


def test_a_show_nothing_goes_to_costs_no_fee() -> None:
    entries = [entry("A", "s", 90, fee=10.0), entry("B", "t", 80, fee=10.0)]
    shows = {"s": {"fee": 20.0}, "t": {"fee": 20.0}}
    assert marks(season(entries, limits=shows, fees=60.0)) == 90 + 80  # 2 x (20 + 10) = 60
    assert marks(season(entries, limits=shows, fees=59.0)) == 90  # 20 + 10 = 30


def test_a_fish_rests_between_shows() -> None:
    entries = [entry("A", "s", 90), entry("A", "t", 80)]
    assert marks(season(entries)) == 90 + 80
    for pair in (("s", "t"), ("t", "s")):
        assert marks(season(entries, apart=frozenset({pair}))) == 90


def test_another_fish_goes_where_the_first_must_rest() -> None:
    entries = [entry("A", "s", 90), entry("B", "t", 80)]
    assert marks(season(entries, apart=frozenset({("s", "t")}))) == 90 + 80


def test_what_must_go_goes() -> None:
    entries = [entry("A", "s", 90), entry("B", "s", 50)]
    one_box = {"s": {"boxes": 1}}
    assert marks(season(entries, limits=one_box)) == 90
    entries[1] = replace(entries[1], must=True)
    assert marks(season(entries, limits=one_box)) == 50


TWO = [entry("A", "s", 90, 60), entry("B", "s", 90, 60)]
BOTH_ON_ONE_DAY = [touch("A", 0, "s"), touch("B", 0, "s")]


def test_only_so_many_fish_on_a_day() -> None:
    assert marks(season(TWO, BOTH_ON_ONE_DAY, fish_per_day=2)) == 90 + 90
    assert marks(season(TWO, BOTH_ON_ONE_DAY, fish_per_day=1)) == 90 + 60
    another_day = [*BOTH_ON_ONE_DAY, touch("B", 1, "s")]
    assert marks(season(TWO, another_day, fish_per_day=1)) == 90 + 90


TWICE = [entry("A", "s", 90, 60), entry("A", "t", 90, 60)]
TEN_DAYS_ON = [touch("A", 0, "s"), touch("A", 10, "t")]


def test_only_so_many_touch_ups_of_a_fish() -> None:
    assert marks(season(TWICE, TEN_DAYS_ON, touch_ups_per_fish=2)) == 90 + 90
    assert marks(season(TWICE, TEN_DAYS_ON, touch_ups_per_fish=1)) == 90 + 60
    assert marks(season(TWICE, TEN_DAYS_ON, touch_ups_per_fish=0)) == 60 + 60


def test_sedations_of_one_fish_are_spaced() -> None:
    assert marks(season(TWICE, TEN_DAYS_ON, spacing_default=10)) == 90 + 90
    assert marks(season(TWICE, TEN_DAYS_ON, spacing_default=11)) == 90 + 60


def test_spacing_counts_from_the_earlier_day() -> None:
    longer, later = {("A", on(0)): 11}, {("A", on(10)): 11}
    assert marks(season(TWICE, TEN_DAYS_ON, spacing_default=7, spacing_days=longer)) == 90 + 60
    assert marks(season(TWICE, TEN_DAYS_ON, spacing_default=7, spacing_days=later)) == 90 + 90
    shorter = {("A", on(0)): 9}
    assert marks(season(TWICE, TEN_DAYS_ON, spacing_default=20, spacing_days=shorter)) == 90 + 90


def test_another_fish_may_be_sedated_sooner() -> None:
    touch_ups = [touch("A", 0, "s"), touch("B", 1, "s")]
    assert marks(season(TWO, touch_ups, spacing_default=20)) == 90 + 90


def test_a_fish_in_the_vat_is_not_sedated_again() -> None:
    for last, best in ((9, 90 + 90), (10, 90 + 60)):  # in the vat to the day before; to that day
        touch_ups = [touch("A", 0, "s", vat=(0, last)), touch("A", 10, "t")]
        assert marks(season(TWICE, touch_ups)) == best


def test_a_touch_up_bars_a_show() -> None:
    entries = [entry("A", "s", None, 70), entry("A", "t", 90, 50)]
    assert marks(season(entries, [touch("A", 0, "t")])) == 70 + 90
    # Touched up, t alone, 90; left as it is, 70 + 50.
    assert marks(season(entries, [touch("A", 0, "t", bars="s")])) == 70 + 50


def test_a_touch_up_cleans_only_its_own_fish_for_its_own_shows() -> None:
    assert marks(season(TWO, [touch("A", 0, "s")])) == 90 + 60
    assert marks(season(TWICE, [touch("A", 0, "t")])) == 60 + 90


def test_what_cannot_be_shown_marked_goes_clean_or_stays() -> None:
    entries = [entry("A", "s", 90, None, needs_touch_up=True)]
    assert marks(season(entries, [touch("A", 0, "s")])) == 90
    assert marks(season(entries)) == 0


def in_vat(first: int, last: int) -> Instance:
    """A comes home from s to the vat for days 20 to 30, B from t for the days given."""
    return season([entry("A", "s", 90, vat=(20, 30)), entry("B", "t", 80, vat=(first, last))])


@pytest.mark.parametrize(
    ("first", "last", "best"),
    [(31, 40, 90 + 80), (30, 40, 90), (20, 30, 90), (22, 25, 90), (10, 20, 90), (10, 19, 90 + 80)],
)
def test_fish_home_from_two_shows_are_never_in_the_vat_together(
    first: int, last: int, best: int
) -> None:
    assert marks(in_vat(first, last)) == best


def test_fish_home_from_one_show_share_the_vat_while_it_has_places() -> None:
    entries = [entry(fish, "s", 80, vat=(20, 30)) for fish in "ABC"]
    assert marks(season(entries)) == 3 * 80
    assert marks(season(entries, vat_holds=2)) == 2 * 80
    assert marks(season(entries, vat_holds=0)) == 0


def test_the_vat_has_places_for_so_many_fish_healing() -> None:
    touch_ups = [touch("A", 0, "s", vat=(0, 12)), touch("B", 12, "s", vat=(12, 20))]
    assert marks(season(TWO, touch_ups, vat_holds=2)) == 90 + 90
    assert marks(season(TWO, touch_ups, vat_holds=1)) == 90 + 60  # both in it on day 12
    touch_ups[0] = touch("A", 0, "s", vat=(0, 11))
    assert marks(season(TWO, touch_ups, vat_holds=1)) == 90 + 90


@pytest.mark.parametrize(
    ("home", "best"), [((20, 30), 90 + 60), ((20, 24), 90 + 60), ((20, 23), 90 + 80)]
)
def test_fish_home_and_fish_healing_are_never_in_the_vat_together(
    home: tuple[int, int], best: int
) -> None:
    entries = [entry("A", "s", 90, vat=home), entry("B", "t", 80, 60)]
    assert marks(season(entries, [touch("B", 24, "t", vat=(24, 40))], vat_holds=9)) == best


@pytest.mark.parametrize(
    ("cohorts", "first", "best"),
    [("aa", 12, 90 + 90), ("ab", 12, 90 + 60), ("ab", 0, 90 + 60), ("ab", 13, 90 + 90)],
)
def test_two_cohorts_never_heal_in_the_vat_on_one_day(cohorts: str, first: int, best: int) -> None:
    touch_ups = [
        touch("A", 0, "s", vat=(0, 12), cohort=cohorts[0]),
        touch("B", first, "s", vat=(first, 20), cohort=cohorts[1]),
    ]
    assert marks(season(TWO, touch_ups, vat_holds=9)) == best


def test_two_cohorts_that_are_promised_stand_and_no_third_is_added() -> None:
    touch_ups = [touch(fish, 0, "s", vat=(0, 12), cohort=fish) for fish in "ABC"]
    problem = season([*TWO, entry("C", "s", 90, 60)], touch_ups, vat_holds=9)
    assert marks(replace(problem, fixed=promised(("A", 0), ("B", 0)))) == 90 + 90 + 60


def test_a_fish_is_not_home_in_the_vat_and_healing_in_it_either() -> None:
    """Two stays of one fish in the vat, home from a show and healing, are two cohorts as well."""
    entries = [entry("A", "s", 60, vat=(20, 30)), entry("A", "t", 90, 50)]
    assert marks(season(entries, [touch("A", 31, "t", vat=(31, 40))])) == 60 + 90
    # Healing from day 30: t clean alone is 90; s and t marked are 60 + 50.
    assert marks(season(entries, [touch("A", 30, "t", vat=(30, 40))])) == 60 + 50


def promised(*touch_ups: tuple[str, int]) -> frozenset[Any]:
    return frozenset((fish, on(day), "pond") for fish, day in touch_ups)


def test_what_is_promised_is_done_and_bars_what_it_bars() -> None:
    problem = season([entry("A", "s", 90)], [touch("A", 0, bars="s")])
    assert marks(problem) == 90
    assert marks(replace(problem, fixed=promised(("A", 0)))) == 0


def test_what_is_promised_takes_its_place_and_may_be_more_than_is_allowed() -> None:
    entries = [*TWO, entry("C", "s", 90, 60)]
    problem = season(entries, [*BOTH_ON_ONE_DAY, touch("C", 0, "s")], fish_per_day=1)
    assert marks(problem) == 90 + 60 + 60
    # Two are promised where one is allowed: they stand, and no third is added.
    assert marks(replace(problem, fixed=promised(("A", 0), ("B", 0)))) == 90 + 90 + 60


def test_what_is_promised_counts_for_its_fish() -> None:
    problem = season(TWICE, TEN_DAYS_ON, fixed=promised(("A", 0)))
    assert marks(problem) == 90 + 90
    assert marks(replace(problem, touch_ups_per_fish=1)) == 90 + 60
    assert marks(replace(problem, spacing_default=11)) == 90 + 60


def test_a_season_with_nothing_possible_is_an_empty_plan() -> None:
    for problem in (season([]), season([entry("A", "s", None, None)])):
        solution = choose(problem).solution
        assert solution.feasible
        assert (solution.merit, solution.entries, solution.touch_ups) == (0, (), ())
