"""Whatever hangs on a fish's water asks where the fish is, not where it belongs."""

from __future__ import annotations

from datetime import date, timedelta
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest

from showprep.husbandry.reason import FishId
from showprep.planning.as_of.note_truth import objections
from showprep.planning.season_plan import worked_out
from showprep.planning.worksheets.bags_season import bag_asks, shows_with_fish
from showprep.season.records import JournalEntry
from tests.planning.told import codes, told

ENTERED = "on: 2027-05-20, did: entered, fish: aoi, show: larkfield"
TRAVELLED = "on: 2027-06-11, did: travelled, fish: aoi, show: larkfield"
LATER = """\
otterby:
  name: Otterby Show
  judging: 2027-09-25 10:00
  check_out: 2027-09-26 14:00
  travel_hours: 1
  vats: own
"""
BEN = "ben:\n  name: Ben\n  variety: showa\n  lives_in: vat\n  merit: 60\n"
CHO = "cho:\n  name: Cho\n  variety: showa\n  lives_in: vat\n  merit: 60\n"


def test_a_wound_heals_in_the_vat_until_it_is_cleared_and_then_in_the_pond(
    written: Any, verdict: Any
) -> None:
    written.with_keeper("waters: {pond: {steady_c: 14}, vat: {steady_c: 22}}")
    written.shows += LATER
    written.noted(TRAVELLED, "on: 2027-06-13, saw: new defect, fish: aoi, defect: lost-scale")
    found = verdict(written.plan(date(2027, 6, 14)), show="otterby")
    scale = [one for one in found.healing if one.defect == "lost-scale"]
    line = next(one for one in scale if one.unit == "degree-days")
    by_day = dict(line.curve)
    gained = {b: round(by_day[b] - by_day[a], 6) for a, b in pairwise(sorted(by_day))}
    # degree-days above 8 °C: 22 - 8 = 14 a day in the vat, 28 days, until 11 July; then the vat is
    # brought to the pond by 1 °C a day, eight days for 8 °C, and 14 - 8 = 6 a day from then on
    clear = date(2027, 7, 11)
    wanted = [14, 14, 13, 12, 11, 10, 9, 8, 7, 6, 6]
    days = [clear + timedelta(number) for number in range(-1, len(wanted) - 1)]
    assert {day: gained[day] for day in days if day in gained} == {
        day: amount for day, amount in zip(days, wanted, strict=True) if day in gained
    }
    assert days[2] in gained  # the ramp is among what was compared


@pytest.mark.parametrize("moved", [True, False])
def test_a_newcomer_bars_those_that_met_whom_it_met(
    written: Any, verdict: Any, moved: bool
) -> None:
    # Ben comes untested into the vat with Cho; Cho goes to the pond in May and meets Aoi there
    written.with_show("declaration_months: 6")
    written.fish += BEN + "  came: 2027-03-20\n" + CHO
    if moved:
        written.fish += "  moves: [{on: 2027-05-01, to: pond}]\n"
    found = verdict(written.plan(date(2027, 4, 1)))
    assert ("other-untested" in codes(found.reasons)) is moved
    if moved:
        assert found.reasons[0]["fish"] == FishId("ben")


@pytest.mark.parametrize("to", ["pond", "vat"])
def test_a_find_follows_the_fish_that_was_in_that_water(
    written: Any, verdict: Any, to: str
) -> None:
    written.noted("on: 2027-05-20, saw: parasites, water: pond")
    if to == "vat":
        written.noted("on: 2027-05-22, did: move, fish: aoi, to: vat")
    found = verdict(written.plan(date(2027, 5, 24)))
    assert found.reasons[0].code == "parasites-not-cleared"
    assert found.reasons[0]["water"] == "pond"


def test_the_bags_hold_the_water_of_the_holding_vat_at_its_warmth(written: Any) -> None:
    # pond and tub 20 °C, the show 26: the tub is brought there, and the bag is filled from it
    written.with_show("water_c: 26").with_keeper(
        "waters: {pond: {steady_c: 20, ph: 8.4}, vat: {steady_c: 22}, "
        "tub: {steady_c: 20, ph: 7.2}}",
        "holding: {water: tub}",
    )
    written.noted(ENTERED)
    yard, plan = worked_out(written.yard(date(2027, 6, 1)), "test")
    (ask,) = bag_asks(yard, shows_with_fish(plan)[0])
    assert (round(ask.water_c, 6), ask.open_ph) == (26, 7.2)


def test_the_way_home_from_the_vat_can_be_noted_although_it_belongs_in_the_pond(
    written: Any,
) -> None:
    written.noted(TRAVELLED)
    season = written.season(date(2027, 7, 12))

    def against(day: str, to: str) -> list[str]:
        entry = JournalEntry.model_validate({"on": day, "did": "move", "fish": "aoi", "to": to})
        return codes(objections(season, entry, Path(), date(2027, 7, 12)))

    assert against("2027-07-11", "pond") == []
    assert against("2027-06-13", "vat") == []
    assert against("2027-05-02", "pond") == ["is-there-already"]


def test_a_move_of_ones_own_is_a_job_and_takes_fast_and_session_with_it(
    written: Any, job: Any, ids: Any
) -> None:
    written.with_keeper("waters: {pond: {steady_c: 20}, vat: {steady_c: 22}, tub: {steady_c: 20}}")
    written.fish += "  moves: [{on: 2027-05-01, to: tub}]\n"
    plan = written.plan(date(2027, 4, 20))
    move = job(plan, "move/aoi/tub")
    assert (move.start, move.water, move.hands) == (date(2027, 5, 1), "tub", True)
    assert {"larkfield/stop-feeding/tub"} <= ids(plan)
    assert not any(one.startswith("larkfield/stop-feeding/pond") for one in ids(plan))
    unfed = [one for one in plan.tasks if one.kind == "unfed-before-touch-up"]
    session = next(one for one in plan.tasks if one.kind == "touch-up")
    assert session.water == ("tub" if session.start > date(2027, 5, 1) else "pond")
    assert {one.water for one in unfed} == {session.water}
    # not within the days that a fish is left alone after a move
    moved = "on: 2027-05-01, did: move, fish: aoi, to: tub"
    assert "move/aoi/tub" not in ids(written.noted(moved).plan(date(2027, 5, 1)))


def test_who_heals_in_the_vat_keeps_its_way_back_until_it_is_noted(
    written: Any, ids: Any, job: Any
) -> None:
    written.with_keeper("waters: {pond: {steady_c: 16}, vat: {steady_c: 22}}")
    written.noted(
        "on: 2027-04-20, did: touch-up, fish: aoi",
        "on: 2027-04-20, did: move, fish: aoi, to: vat, ramp_c_per_day: 1",
    )
    # A speck wants 320 degree-days above 8 °C in a slow case. From 16 °C the ramp brings 9 to 13
    # on the 21st to the 25th, 55 in all, then 14 a day: (320 - 55) / 14 = 18.9, so on 14 May.
    for day in (date(2027, 4, 21), date(2027, 5, 20)):
        back = job(written.plan(day), "vat-back/aoi/larkfield")
        assert back.water == "pond"
        assert back.start == max(date(2027, 5, 14), day)
    written.noted("on: 2027-05-21, did: move, fish: aoi, to: pond")
    assert "vat-back/aoi/larkfield" not in ids(written.plan(date(2027, 5, 21)))


def test_nothing_is_fed_at_home_below_8_degrees(written: Any) -> None:
    written.with_keeper("waters: {pond: {steady_c: 7.9}, vat: {steady_c: 22}}")
    written.noted(ENTERED)
    written.fish += "ben:\n  name: Ben\n  variety: showa\n  lives_in: pond\n  merit: 60\n"
    for day in (date(2027, 4, 1), date(2027, 5, 25), date(2027, 6, 11)):
        plan = written.plan(day)
        fed = [one for one in plan.tasks if one.kind.startswith("feed") and one.water == "pond"]
        assert fed == []


def test_who_fasts_with_those_that_leave_is_said(written: Any, job: Any) -> None:
    def cautions() -> list[str]:
        plan = written.plan(date(2027, 5, 25))
        return [told(plan, one) for one in job(plan, "larkfield/stop-feeding/pond").cautions]

    written.noted(ENTERED)
    assert cautions() == []
    written.fish += "ben:\n  name: Ben\n  variety: showa\n  lives_in: pond\n  merit: 60\n"
    written.fish += "  never_show: all\n"
    assert cautions() == [
        "The whole pond fasts, and 1 fish at home with it; with a holding vat only the "
        "entries would."
    ]


def _home_and_out_again(written: Any, judging: str) -> Any:
    # Home from Larkfield on 13 June, in the vat of 22 °C for 28 days: cleared on 11 July.
    written.with_keeper(
        "waters: {pond: {steady_c: 12}, vat: {steady_c: 22}, tub: {steady_c: 22}}",
        "holding: {water: tub}",
        "preferences: {days_between_shows: 1}",
    )
    written.shows += (
        f"otterby:\n  name: Otterby Show\n  judging: {judging} 10:00\n"
        f"  check_out: {judging} 17:00\n  travel_hours: 2\n  vats: own\n  water_c: 22\n"
    )
    written.noted(TRAVELLED, "on: 2027-06-20, did: entered, fish: aoi, show: otterby")
    yard, _ = worked_out(written.yard(date(2027, 6, 21)), "test")
    return yard.courses["aoi"]


def test_from_the_isolation_vat_the_holding_vat_is_matched_to_what_it_leaves(written: Any) -> None:
    # Noted as gone on 3 July all the same: it leaves from the vat, so the tub of 22 °C is matched
    # to 22 °C, and the pond's 12 °C is nothing to it.
    written.noted("on: 2027-07-03, did: travelled, fish: aoi, show: otterby")
    _home_and_out_again(written, "2027-07-03")
    aoi = written.yard(date(2027, 7, 5)).courses["aoi"]
    (held,) = [one for one in aoi.steps if one.why == "holding" and one.show == "otterby"]
    assert (held.from_water, held.from_c, held.ramp_days) == ("vat", 22, 0)


def test_into_the_holding_vat_not_before_the_time_apart_is_over(written: Any) -> None:
    # It leaves on 14 July, after five days without food at 22 °C: from the 9th, two of them still
    # in the isolation vat.
    aoi = _home_and_out_again(written, "2027-07-15")
    (held,) = [one for one in aoi.steps if one.why == "holding" and one.show == "otterby"]
    assert (held.day, held.from_water, held.from_c) == (date(2027, 7, 11), "vat", 22)
    assert [aoi.water_on(date(2027, 7, day)) for day in (9, 10, 11, 13)] == [
        *("vat", "vat", "tub", "tub")
    ]
    assert aoi.fed_in_before("otterby") == "vat"
