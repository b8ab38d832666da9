"""Lifted covers (E. Balas, Facets of the knapsack polytope, 1975) against every plan."""

from __future__ import annotations

from itertools import product
from random import Random

from showprep.selection.covers import covers
from showprep.selection.linear import Linear
from showprep.selection.problem import Limit
from tests.storms import storm

LIMIT = Limit("total-cm", "s")


def test_a_cover_worked_out_by_hand() -> None:
    """60, 50 and 40 cm of 100: any two of them but 60 with 50; 90 cm counts for both that fit."""
    linear = Linear()
    fish = [linear.column() for _ in range(4)]
    linear.at_most(list(zip(fish, (60, 50, 40, 90), strict=True)), 100, LIMIT)
    (row, *_) = covers(linear, [1.0, 0.8, 0.0, 0.0])
    assert dict(row.terms) == {fish[0]: 1.0, fish[1]: 1.0, fish[3]: 1.0}
    assert row.upper == 1.0


def test_no_plan_breaks_a_row_and_the_relaxed_values_do() -> None:
    rows = 0
    for number in range(storm(150, 2000)):
        draw, linear = Random(number), Linear()
        fish = [linear.column() for _ in range(draw.randrange(3, 9))]
        cm = [draw.randrange(1, 60) for _ in fish]
        journey = linear.column() if draw.random() < 0.6 else None
        room = draw.randrange(20, 150)
        linear.at_most(list(zip(fish, cm, strict=True)), room, LIMIT, journey)
        values = [draw.choice((0.0, 1.0, draw.random())) for _ in range(linear.columns)]
        for row in covers(linear, values):
            rows += 1
            assert sum(count * values[at] for at, count in row.terms) > row.upper
            for plan in product((0, 1), repeat=linear.columns):
                there = 1 if journey is None else plan[journey]
                if sum(each * plan[at] for at, each in zip(fish, cm, strict=True)) <= room * there:
                    assert sum(count * plan[at] for at, count in row.terms) <= row.upper
    assert rows > 50
