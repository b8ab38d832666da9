"""What is drawn of a fish's season is what its course says, also where nobody wrote it down."""

from __future__ import annotations

from datetime import date
from typing import Any

from showprep.planning.plan import Plan

HOME, CLEAR = date(2027, 6, 13), date(2027, 7, 11)  # 28 days from own vats in water of 22 °C


def drawn(plan: Plan, kind: str) -> list[tuple[date, date]]:
    return [(one.start, one.end) for one in plan.spans if one.kind == kind]


def test_a_planned_journey_and_the_time_apart_are_drawn(written: Any) -> None:
    plan = written.plan(date(2027, 5, 1))
    assert drawn(plan, "at-show") == [(date(2027, 6, 11), HOME)]
    assert drawn(plan, "isolation") == [(HOME, date(2027, 7, 10))]


def test_a_presumed_one_is_drawn_too(written: Any) -> None:
    plan = written.plan(date(2027, 6, 20))  # nothing was noted
    assert drawn(plan, "at-show") == [(date(2027, 6, 11), HOME)]
    assert drawn(plan, "isolation") == [(HOME, date(2027, 7, 10))]


def test_who_stayed_is_not_drawn_away(written: Any) -> None:
    written.noted("on: 2027-06-12, did: stayed, fish: aoi, show: larkfield")
    plan = written.plan(date(2027, 6, 20))
    assert drawn(plan, "at-show") == drawn(plan, "isolation") == []


def test_the_ramp_home_belongs_to_the_time_apart(written: Any) -> None:
    # Pond 14, vat 22: from 11 July 1 °C a day, in the pond on the 19th.
    written.with_keeper("waters: {pond: {steady_c: 14}, vat: {steady_c: 22}}")
    plan = written.plan(date(2027, 5, 1))
    assert drawn(plan, "isolation") == [(HOME, date(2027, 7, 18))]
