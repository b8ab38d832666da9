"""The choice beside full enumeration of small problems: the same plan, every aim proven."""

from __future__ import annotations

import pytest

from showprep.planning.choice.solve import choose
from tests.planning.choice.checker import check
from tests.planning.choice.enumeration import best, parts
from tests.planning.choice.small_seasons import problem

MOST_PLANS = 10_000  # a problem with more is left to the other solver
NUMBERS = range(440)


def sized(number: int) -> int:
    one, plans = problem(number), 1
    for fish in {entry.fish for entry in one.entries} | {each.fish for each in one.touch_ups}:
        plans *= len(parts(one, fish))
    return plans


@pytest.mark.parametrize("block", range(20))
def test_small_problems_are_solved_as_trying_everything_does(block: int) -> None:
    compared = 0
    for number in NUMBERS[block::20]:
        if sized(number) > MOST_PLANS:
            continue
        one = problem(number)
        solution, expected = choose(one), best(one)
        compared += 1
        if expected is None:
            assert not solution.feasible, number
            assert solution.why_not, number
            continue
        check(one, solution)
        rank, (entries, touch_ups) = expected
        assert solution.merit == rank[0], number
        assert all(aim.proven and aim.value == aim.bound for aim in solution.aims), number
        assert [aim.value for aim in solution.aims[:3]] == [rank[0], -rank[1], -rank[2]], number
        assert (solution.entries, solution.touch_ups) == (entries, touch_ups), number
    assert compared >= 15  # of 20 blocks: 300 and more
