"""What leaving a fish out costs, and what one more of a limit gains, against solving afresh."""

from __future__ import annotations

from dataclasses import replace

from showprep.planning.choice.explain import MOST_PAIRS, cost_of, explain
from showprep.planning.choice.problem import Problem
from showprep.planning.choice.solve import choose
from tests.planning.choice.small_seasons import problem as small_season
from tests.planning.choice.tiny import entry, season, touch


def forced(problem: Problem, fish: str, show: str) -> Problem:
    entries = tuple(
        replace(one, must=True) if (one.fish, one.show) == (fish, show) else one
        for one in problem.entries
    )
    return replace(problem, entries=entries)


def test_the_cost_is_what_solving_with_the_fish_forced_in_loses() -> None:
    compared = 0
    for number in range(60):
        problem = small_season(number)
        best = choose(problem)
        if not best.feasible:
            continue
        left_out, _ = explain(problem, best)
        going = {(fish, show) for fish, show, _ in best.entries}
        assert {(one.fish, one.show) for one in left_out}.isdisjoint(going)
        for one in left_out:
            other = choose(forced(problem, one.fish, one.show))
            if one.cost is None:
                assert not other.feasible, (number, one)
                continue
            compared += 1
            assert one.cost == (best.merit - other.merit) / 100, (number, one)
            assert set(one.gives_way) <= going
    assert compared >= 60


def test_one_more_box_by_hand() -> None:
    # Two boxes for fish worth 80, 70 and 60: 150. A third box takes the third along: 60 more.
    entries = [entry("a", "A", 80), entry("b", "A", 70), entry("c", "A", 60)]
    problem = season(entries, limits={"A": {"boxes": 2}})
    left_out, binding = explain(problem, choose(problem), names={"c": "Cho", "A": "Ash Show"})
    assert [(one.fish, one.cost, one.gives_way) for one in left_out] == [("c", 10, (("b", "A"),))]
    assert "boxes for Ash Show" in left_out[0].because
    assert [(one.limit, one.gain) for one in binding] == [("boxes A", 60)]
    assert "Ash Show" in binding[0].text


def test_one_more_fish_a_day_by_hand() -> None:
    # One day serves both specks and takes one fish: 80 + 50 is 130. Two a day: 80 + 70, 20 more.
    entries = [entry("a", "A", 80, 60), entry("b", "A", 70, 50)]
    days = [touch("a", 3, "A"), touch("b", 3, "A")]
    problem = season(entries, days, fish_per_day=1)
    best = choose(problem)
    assert best.merit == 13000
    _, binding = explain(problem, best)
    assert [(one.limit, one.gain) for one in binding] == [("fish per day", 20)]


def test_a_limit_that_does_not_bind_gains_nothing() -> None:
    problem = season([entry("a", "A", 80)], limits={"A": {"boxes": 2, "fish": 1}})
    assert explain(problem, choose(problem)) == ((), ())


def test_a_large_season_is_reckoned_pair_by_pair() -> None:
    # One place for many: no cost is told of each, and the cost of one is told when asked.
    many = [entry(f"f{number:03}", "A", 50 + number % 40) for number in range(MOST_PAIRS + 5)]
    problem = season(many, limits={"A": {"fish": 1}})
    best = choose(problem)
    left_out, _ = explain(problem, best)
    assert len(left_out) == MOST_PAIRS + 4
    assert all(one.cost is None and "used up" in one.because for one in left_out)
    told = cost_of(problem, best, "f000", "A")
    assert told is not None and told.cost == 39  # 89 for the best, 50 for this one
    going = best.entries[0][0]
    assert cost_of(problem, best, going, "A") is None
