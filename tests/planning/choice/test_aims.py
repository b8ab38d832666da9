"""The aims after merit on tiny seasons worked out by hand, and beside the greedy for stabbing."""

from __future__ import annotations

from random import Random

import pytest

from showprep.planning.choice.problem import Problem, Solution
from showprep.planning.choice.solve import choose
from tests.planning.choice.checker import check
from tests.planning.choice.tiny import entry, on, season, touch


def best(problem: Problem) -> Solution:
    solution = choose(problem)
    check(problem, solution)
    assert all(aim.proven and aim.value == aim.bound for aim in solution.aims)
    return solution


def days(solution: Solution) -> list[tuple[str, int]]:
    return [(fish, (day - on(0)).days) for fish, day, _ in solution.touch_ups]


def aim(solution: Solution, name: str) -> float:
    return next(one.value for one in solution.aims if one.name == name)


def test_one_day_does_for_two_fish_where_it_can() -> None:
    entries = [entry("A", "s", 90, 60), entry("B", "s", 90, 60)]
    touch_ups = [touch("A", 0, "s"), touch("A", 10, "s"), touch("B", 10, "s"), touch("B", 20, "s")]
    solution = best(season(entries, touch_ups))
    assert days(solution) == [("A", 10), ("B", 10)]
    assert (aim(solution, "touch-up days"), aim(solution, "touch-ups")) == (1, 2)


def test_merit_comes_before_days() -> None:
    entries = [entry("A", "s", 90, 60), entry("B", "s", 90, 60)]
    touch_ups = [touch("A", 10, "s"), touch("B", 10, "s"), touch("B", 20, "s")]
    solution = best(season(entries, touch_ups, fish_per_day=1))
    assert days(solution) == [("A", 10), ("B", 20)]  # two days, for 30 marks more


def test_one_touch_up_does_for_two_shows_where_it_can() -> None:
    entries = [entry("A", "s", 90, 60), entry("A", "t", 90, 60)]
    touch_ups = [touch("A", 0, "s"), touch("A", 5, "st"), touch("A", 20, "t")]
    assert days(best(season(entries, touch_ups))) == [("A", 5)]


def test_fewer_days_come_before_fewer_touch_ups() -> None:
    """B takes day 10 and C day 40 in any case. A on both is 2 days and 4 touch-ups; A on day 25
    would be 3 touch-ups, but 3 days."""
    entries = [entry("A", "s", 90, 60), entry("A", "t", 90, 60)]
    entries += [entry("B", "s", 90, 60), entry("C", "t", 90, 60)]
    touch_ups = [touch("A", 10, "s"), touch("A", 25, "st"), touch("A", 40, "t")]
    touch_ups += [touch("B", 10, "s"), touch("C", 40, "t")]
    solution = best(season(entries, touch_ups))
    assert days(solution) == [("A", 10), ("A", 40), ("B", 10), ("C", 40)]
    assert (aim(solution, "touch-up days"), aim(solution, "touch-ups")) == (2, 4)


def test_the_latest_day_is_taken() -> None:
    touch_ups = [touch("A", day, "s") for day in (0, 7, 14)] + [touch("B", 21, "t")]
    entries = [entry("A", "s", 90, 60), entry("B", "t", 90, 60)]
    solution = best(season(entries, touch_ups))
    assert days(solution) == [("A", 14), ("B", 21)]
    assert aim(solution, "days before the last") == 21 - 14


def test_fewer_days_come_before_later_days() -> None:
    touch_ups = [touch("A", 5, "s"), touch("A", 14, "s"), touch("B", 5, "s")]
    entries = [entry("A", "s", 90, 60), entry("B", "s", 90, 60)]
    assert days(best(season(entries, touch_ups))) == [("A", 5), ("B", 5)]


def test_the_latest_days_are_those_of_all_fish_together() -> None:
    """One fish a day: A on 14 and B on 10 is 4 days early; A on 7 and B on 14 would be 7."""
    touch_ups = [touch("A", 7, "s"), touch("A", 14, "s"), touch("B", 10, "s"), touch("B", 14, "s")]
    entries = [entry("A", "s", 90, 60), entry("B", "s", 80, 60)]
    solution = best(season(entries, touch_ups, fish_per_day=1))
    assert days(solution) == [("A", 14), ("B", 10)]
    assert aim(solution, "days before the last") == 4


def test_a_touch_up_that_adds_nothing_is_not_done() -> None:
    entries = [entry("A", "s", 90, 90), entry("B", "s", 90)]
    solution = best(season(entries, [touch("A", 0, "s"), touch("B", 0, "s")]))
    assert solution.touch_ups == ()


def test_a_fish_heals_at_home_where_the_vat_adds_nothing() -> None:
    touch_ups = [touch("A", 10, "s"), touch("A", 14, "s", vat=(14, 20), water="vat")]
    assert days(best(season([entry("A", "s", 90, 60)], touch_ups))) == [("A", 10)]
    needed = [entry("A", "s", 90, 60), entry("A", "t", 90, 60)]
    touch_ups[1] = touch("A", 14, "st", vat=(14, 20), water="vat")
    assert days(best(season(needed, touch_ups))) == [("A", 14)]  # both shows by one touch-up


def intervals(number: int) -> dict[str, tuple[int, int]]:
    """First and last day on which each fish can be touched up."""
    draw = Random(f"intervals/{number}")
    firsts = {f"fish{at:02d}": draw.randrange(60) for at in range(draw.randrange(5, 31))}
    return {fish: (first, first + draw.randrange(1, 25)) for fish, first in firsts.items()}


def earliest_right_end_first(windows: dict[str, tuple[int, int]]) -> int:
    """The fewest days that touch every window, by the greedy known to be best.

    Take the window that ends first, work on its last day, drop every window that holds the day.
    That this is best for intervals: F. Gavril, Algorithms for minimum coloring, maximum clique,
    minimum covering by cliques, and maximum independent set of a chordal graph, SIAM Journal on
    Computing 1 (1972), 180-187 (reference from memory).
    """
    left, count = sorted(windows.values(), key=lambda window: window[1]), 0
    while left:
        day, count = left[0][1], count + 1
        left = [(first, last) for first, last in left if not first <= day <= last]
    return count


@pytest.mark.parametrize("number", range(30))
def test_fewest_days_are_those_of_the_greedy_for_stabbing(number: int) -> None:
    windows = intervals(number)
    entries = [entry(fish, "s", 90, 60) for fish in windows]
    touch_ups = [
        touch(fish, day, "s")
        for fish, (first, last) in windows.items()
        for day in range(first, last + 1)
    ]
    solution = best(season(entries, touch_ups))
    assert solution.merit == 9000 * len(windows)
    assert aim(solution, "touch-up days") == earliest_right_end_first(windows)
    assert aim(solution, "touch-ups") == len(windows)
