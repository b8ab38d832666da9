"""Rows that say what is left of the fees buys whole entries only: against every plan there is."""

from __future__ import annotations

from itertools import product
from random import Random

import pytest

from showprep.planning.choice.whole_fees import whole_fees


def test_an_example_worked_by_hand() -> None:
    # 100 to spend, entries at 12, a show at 35: 8 entries without the show (96), 5 with it (95).
    rows = list(whole_fees(dict.fromkeys(range(10), 12000), {10: 35_000}, 100_000))
    assert all(row[10] >= 0 for row, _ in rows)
    most = {gone: min((upper - row[10] * gone) / row[0] for row, upper in rows) for gone in (0, 1)}
    assert most == {0: pytest.approx(8.0), 1: pytest.approx(5.0)}


@pytest.mark.parametrize("number", range(40))
def test_no_plan_within_the_fees_breaks_a_row(number: int) -> None:
    draw = Random(number)
    entries = {at: draw.choice((0, 8_000, 12_000, 12_500)) for at in range(5)}
    shows = {5 + at: draw.choice((20_000, 35_000, 35_250)) for at in range(draw.randrange(4))}
    every = {**entries, **shows}
    most = draw.randrange(10_000, 130_000, 250)
    rows = list(whole_fees(entries, shows, most))
    assert rows or not any(entries.values())
    for chosen in product((0, 1), repeat=len(every)):
        if sum(fee * one for fee, one in zip(every.values(), chosen, strict=True)) > most:
            continue
        for row, upper in rows:
            asked = sum(row.get(at, 0.0) * one for at, one in zip(every, chosen, strict=True))
            assert asked <= upper + 1e-9


def test_no_fees_no_rows() -> None:
    assert list(whole_fees({0: 0, 1: 0}, {2: 30_000}, 50_000)) == []
