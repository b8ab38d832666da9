"""Every change of water is a step: told from 3 °C, stopped from 6 °C unless it is ramped."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

import pytest

from tests.planning.told import told

ON = date(2027, 5, 1)
ENTERED = "on: 2027-05-20, did: entered, fish: aoi, show: larkfield"
TRAVELLED = "on: 2027-06-11, did: travelled, fish: aoi, show: larkfield"


def steps(plan: Any) -> list[tuple[str, str]]:
    """Level and text of what the plan says of steps other than the one to the show."""
    return [
        (one.level, told(plan, one.reason))
        for one in plan.warnings
        if getattr(one.reason, "code", "") in ("step-too-great", "step-tempered")
    ]


@pytest.mark.parametrize(
    ("vat", "level"),
    [(22.9, None), (23, "warn"), (25.9, "warn"), (26, "stop"), (14, "stop"), (17, "warn")],
)
def test_a_move_of_the_keepers_own(written: Any, vat: float, level: str | None) -> None:
    written.with_keeper(f"waters: {{pond: {{steady_c: 20}}, vat: {{steady_c: {vat}}}}}")
    written.fish += "  never_show: all\n  moves: [{on: 2027-05-10, to: vat}]\n"
    assert [one for one, _ in steps(written.plan(ON))] == ([level] if level else [])


def test_a_move_with_a_ramp_of_its_own_is_no_step(written: Any, job: Any) -> None:
    written.with_keeper("waters: {pond: {steady_c: 14}, vat: {steady_c: 22}}")
    written.fish += "  never_show: all\n"
    written.fish += "  moves: [{on: 2027-05-10, to: vat, ramp_c_per_day: 1}]\n"
    plan = written.plan(ON)
    assert steps(plan) == []
    ramp = job(plan, "aoi/move-ramp/vat")
    # 8 °C at 1 °C a day: 15 °C on the 11th, 22 °C on the 18th
    assert (ramp.start, ramp.end) == (date(2027, 5, 11), date(2027, 5, 18))
    note = told(plan, ramp.note)
    assert "Tue 11 May 15 °C, Wed 12 May 16 °C" in note and "Tue 18 May 22 °C" in note


def test_show_14_degrees_vat_22_is_a_ramp_with_daily_targets(written: Any, job: Any) -> None:
    written.with_show("water_c: 14").noted(TRAVELLED)
    plan = written.plan(date(2027, 6, 12))
    ramp = job(plan, "larkfield/warm-after-show/vat")
    # home on 13 June in water of 14 °C: 8 °C at 1 °C a day, from the 14th to the 21st
    assert (ramp.start, ramp.end) == (date(2027, 6, 14), date(2027, 6, 21))
    assert "Mon 14 June 15 °C" in told(plan, ramp.note)


def test_the_ramp_after_the_show_stays_when_the_journey_is_noted(written: Any, job: Any) -> None:
    written.with_show("water_c: 14").noted(TRAVELLED)
    written.noted("on: 2027-06-13, did: move, fish: aoi, to: vat")
    for day in (13, 14, 20):
        ramp = job(written.plan(date(2027, 6, day)), "larkfield/warm-after-show/vat")
        assert (ramp.start, ramp.end) == (date(2027, 6, 14), date(2027, 6, 21))
        assert not ramp.late


@pytest.mark.parametrize("written_down", [True, False])
def test_the_way_home_to_a_colder_pond_is_a_ramp_whether_the_journey_is_noted_or_not(
    written: Any, job: Any, written_down: bool
) -> None:
    written.with_keeper("waters: {pond: {steady_c: 14}, vat: {steady_c: 22}}")
    written.noted(TRAVELLED if written_down else ENTERED)
    for day in (date(2027, 6, 20), date(2027, 7, 13)):
        ramp = job(written.plan(day), "larkfield/way-home/vat")
        # cleared on 11 July: 8 °C at 1 °C a day, from the 12th to the 19th
        assert (ramp.start, ramp.end) == (date(2027, 7, 12), date(2027, 7, 19))


def test_a_small_step_home_is_none(written: Any, ids: Any) -> None:
    written.noted(ENTERED)  # vat 22 °C, pond 20 °C
    plan = written.plan(ON + timedelta(25))
    assert not [one for one in ids(plan) if "way-home" in one]
    assert steps(plan) == []
    assert written.yard(date(2027, 6, 14)).courses["aoi"].water_on(date(2027, 7, 11)) == "pond"


def test_a_step_that_no_vat_can_ramp_is_stopped(written: Any) -> None:
    # the show has 27 °C and there is no holding vat; the pond has 20
    written.with_show("water_c: 27").noted(ENTERED)
    plan = written.plan(ON)
    assert any(one.level == "stop" and one.show == "larkfield" for one in plan.warnings)
