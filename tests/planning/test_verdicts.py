"""Each word of the verdict, with its days worked out by hand in steady water.

Requirements in degree-days (low, usual, slow) of the kinds used here: net mark clean 40, 90, 180;
lost scale clean 250, 500, 900; ulcer closed 200, 500, 1000; incision closed 120, 320, 600. Net mark
and lost scale are closed by days of the film of skin, 1, 2, 4, twice as many from 4 to 8 °C.
Water of 20 °C gives 12 a day above 8 °C and 15 above 5; usual dates are those above 5 °C, where
figures seen at 25 °C are 20/17 of what they are above 8 and those seen at 16 °C (cuts) 11/8. Slow
dates are those above 8 °C. Departure and benching are on 11 June.
"""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from showprep.husbandry.reason import Celsius, Chance, reason
from tests.planning.told import codes

ON = date(2027, 5, 1)
COLD = "waters: {pond: {steady_c: 12}, vat: {steady_c: 22}}"  # 4 degree-days a day


def with_defect(written: Any, *fields: str) -> Any:
    inside = ", ".join(f"{{{one}}}" for one in fields)
    written.fish = written.fish.split("  defects:")[0] + f"  defects: [{inside}]\n"
    return written


def test_ready_with_nothing_on_it(written: Any, verdict: Any) -> None:
    written.fish = written.fish.split("  defects:")[0]
    found = verdict(written.plan(ON))
    assert (found.verdict, found.entered, found.merit) == ("ready", True, 80)
    assert found.reasons == (reason("nothing-to-do"),)
    assert found.touch_up is None


def test_ready_when_it_heals_in_time_in_the_slow_case_too(written: Any, verdict: Any) -> None:
    with_defect(written, "kind: net-mark, where: flank, seen: 2027-05-01")
    found = verdict(written.plan(ON))
    assert found.verdict == "ready"
    closed, clean = found.healing
    assert (closed.milestone, closed.usual_on) == ("closed", date(2027, 5, 3))  # 2 days
    assert closed.high_on == date(2027, 5, 5)  # 4 days
    assert clean.usual_on == date(2027, 5, 9)  # 90 · 20/17 / 15 = 7.06
    assert clean.high_on == date(2027, 5, 16)  # 180 / 12 = 15
    assert clean.short_days is None


@pytest.mark.parametrize(
    ("seen", "word", "chance", "merit"),
    [
        (date(2027, 5, 27), "ready", 0.96, 79.7),  # 15 days
        (date(2027, 5, 31), "ready", 0.85, 79.0),  # 11 days
        (date(2027, 6, 1), "tight", 0.79, 78.5),
        (date(2027, 6, 2), "tight", 0.71, 78.0),  # 9 days
        (date(2027, 6, 4), "as-it-is", 0.49, 76.4),  # 7 days: about as many as it usually takes
    ],
)
def test_a_net_mark_nearer_and_nearer(
    written: Any, verdict: Any, seen: date, word: str, chance: float, merit: float
) -> None:
    """Chances worked out with SciPy over the three bases: see `test_chances_along_courses`."""
    with_defect(written, f"kind: net-mark, where: flank, seen: {seen}, merit_lost: 7")
    found = verdict(written.plan(seen))
    assert found.chance_clean == pytest.approx(chance, abs=0.01)
    assert found.verdict == word
    assert found.merit == merit == round(80 - 7 * (1 - found.chance_clean), 1)


def test_ready_after_touch_up(written: Any, verdict: Any) -> None:
    found = verdict(written.plan(ON))
    assert found.verdict == "ready-after-touch-up"
    assert found.touch_up.day == found.touch_up.best == date(2027, 5, 15)  # 27 days before
    assert found.chance_clean == found.touch_up.chance == pytest.approx(0.918, abs=0.001)
    assert found.merit == round(80 - 5 * (1 - found.chance_clean), 1) == 79.6
    planned = found.reasons[0]
    assert planned == reason(
        "touch-up-planned", day=date(2027, 5, 15), chance=Chance(found.chance_clean)
    )
    closed, clean = found.healing
    assert closed.high_on == date(2027, 5, 19)  # 4 days of film
    assert clean.usual_on == date(2027, 5, 30)  # 180 · 20/17 / 15 = 14.1
    assert clean.high_on == date(2027, 6, 11)  # 320 / 12 = 26.7
    assert clean.start == date(2027, 5, 15)
    assert clean.after_touch_up


def test_a_late_speck_comes_off_as_long_as_it_is_likely_enough(written: Any, verdict: Any) -> None:
    on = date(2027, 5, 23)  # 19 days: above least_chance, below sure_enough
    found = verdict(written.plan(on))
    assert (found.verdict, found.touch_up.day) == ("tight", on)
    assert 0.7 <= found.chance_clean < 0.8
    on = date(2027, 5, 26)
    found = verdict(written.plan(on))
    assert (found.verdict, found.merit, found.touch_up.day) == ("as-it-is", 75, None)
    why = found.reasons[0]
    assert why.code == "speck-stays"
    assert why["why"] == reason("last-day-has-passed", latest=date(2027, 5, 24))
    (way,) = [way for way in found.ways_out if way.reason.code == "accept-less"]
    assert way.on == on
    written.with_keeper("preferences: {least_chance: 0.5}")
    found = verdict(written.plan(on))
    assert (found.verdict, found.touch_up.day) == ("tight", on)


def test_cold_water_where_the_speck_would_be_back_by_the_show(written: Any, verdict: Any) -> None:
    written.with_keeper(COLD)
    found = verdict(written.plan(date(2027, 3, 1)))
    # 12 °C: the best day is 41 days before, with a chance of 0.55, by three bases and the return
    assert (found.touch_up.earliest, found.touch_up.latest) == (None, None)
    assert (found.verdict, found.touch_up.day) == ("as-it-is", None)
    why = found.reasons[0]["why"]
    assert (why.code, why["best"]) == ("no-day-likely-enough", date(2027, 5, 1))
    assert why["chance"].share == pytest.approx(0.554, abs=0.001)


def test_too_late_for_a_wound_that_will_not_be_closed(written: Any, verdict: Any) -> None:
    with_defect(written, "kind: incision, where: flank, seen: 2027-03-26")
    written.with_keeper(COLD)
    found = verdict(written.plan(date(2027, 5, 25)))
    assert (found.verdict, found.entered, found.merit) == ("too-late", False, None)
    closed = found.healing[0]
    assert closed.deadline == date(2027, 6, 11)  # departure
    assert closed.usual_on == date(2027, 5, 28)  # 320 · 11/8 / 7 = 62.9 days
    assert closed.high_on == date(2027, 8, 23)  # 600 / 4 = 150 days
    assert closed.short_days is None  # at the usual pace in time, but not in 19 of 20 cases
    assert found.chance_closed < 0.95
    assert found.first_day == date(2027, 8, 23)
    why = found.reasons[0]
    assert (why.code, why["why"].code) == ("cannot-heal-in-time", "open-at-departure")


def test_a_wound_closed_in_time_but_seen_is_taken_as_it_is(written: Any, verdict: Any) -> None:
    with_defect(written, "kind: lost-scale, where: flank, seen: 2027-05-25, merit_lost: 6")
    found = verdict(written.plan(date(2027, 5, 25)))
    assert (found.verdict, found.merit) == ("as-it-is", 74)
    assert found.healing[0].usual_on == date(2027, 5, 27)  # 2 days
    assert found.healing[1].usual_on == date(2027, 7, 4)  # 500 · 20/17 / 15 = 39.2 days
    assert found.healing[1].short_days == 23


def test_cold_water_is_too_slow_to_plan(written: Any, verdict: Any) -> None:
    # 7 °C: above the usual base, below the slow one. It heals slowly: no "never", no slow day.
    with_defect(written, "kind: net-mark, where: flank, seen: 2027-05-01")
    written.with_keeper("waters: {pond: {steady_c: 7}, vat: {steady_c: 22}}")
    found = verdict(written.plan(ON))
    closed, clean = found.healing
    assert (closed.usual_on, closed.high_on) == (date(2027, 5, 5), date(2027, 5, 9))  # doubled
    assert clean.usual_on == date(2027, 6, 23)  # 90 · 20/17 / 2 = 52.9 days
    assert (clean.high_on, clean.too_slow) == (None, True)
    assert found.reasons[0].code == "heals-late"
    assert 0.2 < found.chance_clean < 0.5
    assert (closed.unit, closed.gathered_by_deadline) == ("skin-days", 20.5)  # 41 days
    assert closed.curve[:3] == ((ON, 0.0), (date(2027, 5, 2), 0.5), (date(2027, 5, 3), 1.0))


STITCHED = "kind: stitches, where: belly, seen: 2027-04-20"


@pytest.mark.parametrize(
    ("pond", "warned", "today"),
    [
        ("{steady_c: 20}", False, False),
        ("{steady_c: 20.1}", True, True),
        ("{steady_c: 19, readings_c: {2027-04-28: 19}}", False, False),
        ("{monthly_c: [5, 5, 8, 12, 17, 22, 24, 23, 19, 14, 9, 6]}", True, False),
    ],
)
def test_a_stitched_fish_in_warm_water_is_warned_about(
    written: Any, pond: str, warned: bool, today: bool
) -> None:
    # Deters et al. 2010, Robinson et al. 2021, Bunnell & Isely 1999: more open cuts, ulcers and
    # lost tags at 17 to 20 °C than at 10 to 13 °C. The limit of 20 °C is a choice.
    with_defect(written, STITCHED)
    written.with_keeper(f"waters: {{pond: {pond}, vat: {{steady_c: 22}}}}")
    told = [one for one in written.plan(ON).warnings if codes([one]) == ["stitched-too-warm"]]
    assert [(one.level, one.fish) for one in told] == ([("warn", "aoi")] if warned else [])
    assert [one.reason["since"] is None for one in told] == ([today] if warned else [])


def test_own_figures_take_no_stitches_out_of_an_open_cut(written: Any) -> None:
    with_defect(written, STITCHED)
    written.with_keeper("defect_kinds: {incision: {closed: {low: 200, usual: 400, high: 800}}}")
    closed = written.yard(ON).facts.kinds["stitches"].closed
    assert (closed.low, closed.usual, closed.high) == (200, 400, 800)


def test_a_keeper_may_lower_the_warmth_for_stitches_and_not_raise_it(written: Any) -> None:
    with_defect(written, STITCHED)
    written.with_keeper(
        "waters: {pond: {steady_c: 19}, vat: {steady_c: 22}}", "figures: {stitched_warm: 18}"
    )
    told = [one.reason for one in written.plan(ON).warnings if "stitched-too-warm" in codes([one])]
    assert [one["limit"] for one in told] == [Celsius(18)]


@pytest.mark.parametrize(("vat_c", "offered"), [(20, True), (22, False)])
def test_no_way_out_warms_a_stitched_cut_above_20(
    written: Any, verdict: Any, vat_c: float, offered: bool
) -> None:
    # In the pond 4 degree-days a day: 80 days. In the vat 11 or 12 after the way up: in time.
    with_defect(written, "kind: incision, where: flank, seen: 2027-04-20")
    written.with_keeper(f"waters: {{pond: {{steady_c: 12}}, vat: {{steady_c: {vat_c}}}}}")
    found = verdict(written.plan(date(2027, 4, 25)))
    assert found.verdict == "too-late"
    assert ("heal-warmer" in codes(found.ways_out)) is offered


def test_vet_first(written: Any, verdict: Any) -> None:
    with_defect(written, "kind: ulcer, where: left flank, seen: 2027-04-01")
    found = verdict(written.plan(ON))
    assert (found.verdict, found.entered, found.merit) == ("vet-first", False, None)


def test_an_ulcer_seen_by_a_vet_heals_by_the_calendar(written: Any, verdict: Any) -> None:
    with_defect(written, "kind: ulcer, where: flank, seen: 2027-03-01, vet: 2027-04-01")
    found = verdict(written.plan(ON))
    closed = found.healing[0]
    assert closed.usual_on == date(2027, 5, 11)  # 500 · 20/17 / 15 = 39.2 days from 1 April
    assert closed.high_on == date(2027, 6, 24)  # 1000 / 12 = 83.3 days: after departure
    assert (found.verdict, found.entered) == ("too-late", False)  # open in 1 of 10 at departure
    assert found.chance_closed == pytest.approx(0.92, abs=0.01)
    written.noted("on: 2027-05-20, saw: closed, fish: aoi")
    found = verdict(written.plan(date(2027, 5, 20)))
    assert found.verdict == "as-it-is"  # clean only after 1500 · 20/17 / 15 = 117.6 days
    assert found.chance_closed == 1


def test_not_eligible(written: Any, verdict: Any) -> None:
    written.fish += "  never_show: [larkfield]\n"
    found = verdict(written.plan(ON))
    assert (found.verdict, found.entered, found.merit) == ("not-eligible", False, None)


def test_the_worst_defect_decides(written: Any, verdict: Any) -> None:
    speck = "kind: shimi, where: flank, seen: 2027-03-01"
    with_defect(written, speck, "kind: lump, where: back, seen: 2027-03-01")
    found = verdict(written.plan(ON))
    assert found.verdict == "vet-first"
    assert found.touch_up.day is None
    assert found.reasons[0]["it"].kind == "lump"
    assert found.ways_out == ()


def test_an_ill_fish_is_offered_no_touch_up(written: Any, verdict: Any) -> None:
    speck = "kind: shimi, where: flank, seen: 2027-03-01"
    with_defect(written, speck, "kind: ulcer, where: back, seen: 2027-04-20, vet: 2027-05-10")
    found = verdict(written.plan(date(2027, 5, 10)))  # 500 / 12: closed on 21 June, too late
    assert found.verdict == "too-late"
    assert found.touch_up.day is None
    assert not {"free-hands-on", "heal-speck-in-vat"} & set(codes(found.ways_out))


def test_marks_add_up(written: Any, verdict: Any) -> None:
    with_defect(
        written,
        "kind: carp-pox, where: tail, seen: 2027-03-01, merit_lost: 4",
        "kind: secondary-hi, where: flank, seen: 2027-03-01, merit_lost: 9",
    )
    found = verdict(written.plan(ON))
    assert (found.verdict, found.merit) == ("as-it-is", 67)  # 80 - 4 - 9
    assert found.touch_up is None


def test_seen_clean_and_seen_still_there(written: Any, verdict: Any) -> None:
    with_defect(written, "kind: net-mark, where: flank, seen: 2027-05-01")
    written.noted("on: 2027-05-09, saw: not clean, fish: aoi")  # the usual day: a slow case then
    clean = verdict(written.plan(date(2027, 5, 9))).healing[-1]
    assert clean.usual_on == clean.high_on == date(2027, 5, 16)
    written.noted("on: 2027-05-17, saw: not clean, fish: aoi")  # slower than slow: no day is known
    found = verdict(written.plan(date(2027, 5, 17)))
    assert (found.reasons[0].code, found.healing[-1].usual_on) == ("still-seen", None)
    assert found.chance_clean == found.reasons[0]["chance"].share
    # nine cases of ten by benching, 25 days on; the day before the look it was surer
    before = verdict(written.plan(date(2027, 5, 16)))
    assert 0.85 < found.chance_clean < before.chance_clean
    written.noted("on: 2027-05-24, saw: clean, fish: aoi")
    assert verdict(written.plan(date(2027, 5, 24))).verdict == "ready"


def test_off_its_food_a_vet_comes_first(written: Any, verdict: Any) -> None:
    written.noted("on: 2027-04-30, saw: off food, fish: aoi")
    found = verdict(written.plan(ON))
    assert found.verdict == "vet-first"
    assert found.touch_up.day is None


OTTERBY = """\
otterby:
  name: Otterby Show
  judging: 2027-06-19 10:00
  travel_hours: 1
  altered_fish: excluded
"""


def test_a_touch_up_for_one_show_bars_from_another(written: Any, verdict: Any) -> None:
    written.shows += (
        OTTERBY + "  counts: 0.1\n"
    )  # so that the touch-up is worth more than this show
    found = verdict(written.plan(ON), show="otterby")
    assert found.entered is False
    assert found.reasons[0] == reason("altered-for-another-show", on=date(2027, 5, 15))


def test_another_mark_stays_seen_when_the_speck_heals_in_the_vat(
    written: Any, verdict: Any
) -> None:
    speck, pox = "kind: shimi, where: flank", "kind: carp-pox, where: tail, merit_lost: 4"
    with_defect(written, f"{speck}, seen: 2027-03-01", f"{pox}, seen: 2027-03-01")
    written.with_keeper(COLD, "preferences: {heal_in_vat: yes}")
    found = verdict(written.plan(date(2027, 4, 1)))
    assert found.touch_up.water == "vat"
    assert found.verdict == "as-it-is"
    assert found.merit == round(80 - 4 - 5 * (1 - found.touch_up.chance), 1)
    planned = found.reasons[0]
    assert (planned.code, planned["day"], planned["water"]) == (
        "touch-up-planned-in-vat",
        found.touch_up.day,
        "vat",
    )


def test_no_first_day_where_healing_is_not_what_is_short(written: Any, verdict: Any) -> None:
    written.with_show("altered_fish: excluded")
    assert verdict(written.plan(ON)).first_day is None
