"""Words never promise more than the chance."""

from __future__ import annotations

import re
from datetime import date, timedelta

from hypothesis import given
from hypothesis import strategies as st

from showprep.husbandry.reason import Chance, Reason, reason
from showprep.outputs.words.chances import (
    curve_lines,
    doubt_lines,
    in_ten,
    touch_up_lines,
)
from showprep.outputs.words.speaker import Speaker
from showprep.planning.plan import Doubt, PlannedTouchUp, TouchUpChance

ON = date(2027, 5, 1)
shares = st.integers(min_value=0, max_value=9999).map(lambda number: number / 10_000)


def promised(words: str) -> int:
    """The tenths that are promised."""
    if words == "less than 1 in 10":
        return 0
    found = re.fullmatch(r"(\d+) in 10", words)
    assert found is not None, words
    return int(found[1])


@given(shares)
def test_tenths_are_never_rounded_up(share: float) -> None:
    assert promised(in_ten(share)) / 10 <= share + 1e-9 < promised(in_ten(share)) / 10 + 0.1 + 1e-9


def test_ten_in_ten_only_where_nothing_is_uncertain() -> None:
    assert [in_ten(share) for share in (1.0, 0.9999, 0.8, 0.7999, 0.0999)] == [
        "10 in 10",
        "9 in 10",
        "8 in 10",
        "7 in 10",
        "less than 1 in 10",
    ]


@given(shares)
def test_a_reason_says_no_more_than_its_chance(share: float) -> None:
    told: Reason = reason("touch-up-planned", day=ON, chance=Chance(share))
    said = Speaker("metric", ON).text(told)
    assert "%" not in said
    numbers = re.findall(r"(\d+) in 10", said)
    assert numbers and all(int(one) / 10 <= max(share, 0.1) + 1e-9 for one in numbers)


curves = st.lists(st.tuples(shares, shares), min_size=1, max_size=90)


@given(curves, st.lists(st.floats(min_value=-0.02, max_value=0.6), min_size=4, max_size=4))
def test_curve_and_doubts_promise_no_more(
    curve: list[tuple[float, float]], costs: list[float]
) -> None:
    days = tuple(
        TouchUpChance(ON + timedelta(days=number), healed, away, fit=number % 3 == 0)
        for number, (healed, away) in enumerate(curve)
    )
    best = max(days, key=lambda one: one.both)
    of = ("need", "base", "water", "return")
    touch_up = PlannedTouchUp(
        earliest=ON,
        latest=days[-1].day,
        best=best.day,
        day=best.day,
        chance_healed=best.healed,
        chance_not_back=best.not_back,
        curve=days,
        doubts=tuple(Doubt(name, cost) for name, cost in zip(of, costs, strict=True)),
        water="pond",
    )
    chances = [one.both for one in days]
    for line in curve_lines(touch_up):
        bar, tenths = re.search(r"([#.]{10}) (\d+) \(healed", line).groups()  # type: ignore[union-attr]
        assert bar.count("#") == int(tenths)
        assert any(int(tenths) / 10 <= chance + 1e-9 for chance in chances)
        assert int(tenths) < 10
    counts = [int(line.split()[0]) for line in doubt_lines(touch_up)]
    assert counts[0] / 100 <= best.both + 1e-9
    assert sum(counts) == 100 or sum(max(cost, 0) for cost in costs) == 0
    for line in touch_up_lines(Speaker("metric", ON), touch_up):
        assert "%" not in line and "10 in 10" not in line.replace("of 10", "")
