"""Wounds said closed at departure: what came is counted right, and a small run with wide bounds.

The small run says of some 50 wounds that need warmth that they are closed. All statements about a
wound come true or fail together, so the share that comes may lie three standard errors of so many
wounds below 95 of 100, some 9 points; with every requirement doubled it lies lower than that.
The full run is `python -m tests.bench.closed_at_departure`.
"""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import date, timedelta
from statistics import fmean
from typing import TYPE_CHECKING

import pytest

from showprep.planning.chances.limits import CLOSED_LEAST
from tests.bench.closed_at_departure import (
    DAYS_BEFORE,
    OLD,
    Wound,
    closed_of,
    is_closed,
    kinds,
    report,
    run,
)
from tests.bench.open_waters import site_years

if TYPE_CHECKING:
    from tests.conftest import Outside

FRIDAY = date(2027, 7, 2)


def water_c(c: float) -> dict[date, float]:
    return {FRIDAY - timedelta(days=number): c for number in range(90)}


# By hand: 240 degree-days over 8 °C are 20 days of 12, over 2 °C 13 1/3 days of 18, and never fewer
# than the 14 days of a cut; above 26 °C no day gives more; three days of film are six in 6 °C.
@pytest.mark.parametrize(
    ("kind", "base_c", "need", "c", "days"),
    [
        ("incision", 8.0, 240.0, 20.0, 20),
        ("incision", 2.0, 240.0, 20.0, 14),
        ("ulcer", 8.0, 396.0, 29.0, 22),
        ("net-mark", 8.0, 3.0, 20.0, 3),
        ("net-mark", 8.0, 3.0, 6.0, 6),
        ("net-mark", 8.0, 0.5, 20.0, 1),
    ],
)
def test_the_day_a_wound_is_closed(
    kind: str, base_c: float, need: float, c: float, days: int
) -> None:
    came = [
        is_closed(Wound(kind, FRIDAY - timedelta(days=ago), FRIDAY, base_c, need), water_c(c))
        for ago in (days - 1, days)
    ]
    assert came == [False, True]


def test_only_wounds_with_a_figure_and_nothing_to_be_added() -> None:
    assert {"net-mark", "split-fin", "ulcer", "incision"} <= kinds().keys()
    assert not {"shimi", "frayed-fin", "fungus", "red-spots"} & kinds().keys()


def test_a_small_run_and_a_yard_that_heals_half_as_fast(outside: Outside) -> None:
    outside.data_of("aquacrop")
    waters = {(one.site, one.year): one for one in site_years(("tunis",))[:3]}
    told = run(list(waters.values()), 144, "a test")
    for one in told:
        assert 0.0 <= one.said < 1.0
        age = (one.wound.departure - one.wound.happened).days
        assert OLD[0] <= age <= OLD[1] and one.days_before < age
    assert {one.days_before for one in told} == set(DAYS_BEFORE)

    closed = [one for one in told if one.is_closed]
    warm = [one for one in closed if closed_of(one.wound.kind).unit == "degree-days"]
    for some in (closed, warm):
        count = len({one.wound for one in some})
        least = CLOSED_LEAST - 3 * math.sqrt(CLOSED_LEAST * (1 - CLOSED_LEAST) / count)
        assert fmean(one.came for one in some) >= least
    slow = [
        is_closed(replace(one.wound, need=2 * one.wound.need), waters[one.water].water_c)
        for one in warm
    ]
    assert len({one.wound for one in warm}) >= 35
    assert fmean(slow) < least
    said = report(told)
    assert "said closed" in said and "28 days before" in said and "reliability" in said
