"""The jobs of a touch-up: who may do it, the fast before it, the kit, and the looks after it.

In 20 °C the plan of the one speck takes it off on Saturday 15 May 2027, the day of the best chance,
27 days before benching.
"""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

import pytest

from showprep.husbandry.reason import Blemish, FishId, Kelvin, reason
from showprep.planning.jobs.draft import FROM_AFAR
from tests.planning.told import codes

ON = date(2027, 4, 1)
DAY = date(2027, 5, 15)
BEN = """\
ben:
  name: Ben
  variety: showa
  lives_in: pond
  merit: 78
  lengths_cm: {2027-03-01: 45}
  defects: [{kind: shimi, where: right flank, seen: 2027-03-01}]
"""


def test_the_jobs_round_one_touch_up(written: Any, job: Any) -> None:
    plan = written.plan(ON)
    kit = job(plan, "kit/aoi/larkfield")
    fast = job(plan, "unfed/aoi/larkfield/pond")
    session = job(plan, "touch-up/aoi/larkfield")
    looks = [job(plan, f"look-back-{number}/aoi/larkfield") for number in (1, 2)]
    assert kit.start == date(2027, 5, 12)  # three days before
    assert (fast.start, fast.end) == (date(2027, 5, 13), date(2027, 5, 14))  # two days unfed
    assert (session.start, session.kind) == (DAY, "touch-up")
    # common practice, no source: a look back one and two weeks after
    assert [look.start for look in looks] == [date(2027, 5, 22), date(2027, 5, 29)]
    assert all(not task.late for task in plan.tasks)


@pytest.mark.parametrize(
    ("touch_up", "kind", "title"),
    [
        ("by: keeper, law_checked: yes, law_country: Ireland", "touch-up", "touch-up"),
        ("by: vet, law_checked: yes, law_country: Ireland", "touch-up", "touch-up-by-vet"),
        (
            "by: keeper, law_checked: no",
            "ask-a-vet",
            "touch-up-if-vet-agrees",
        ),
        (
            "by: keeper, law_checked: yes",  # for which country?
            "ask-a-vet",
            "touch-up-if-vet-agrees",
        ),
        (
            "by: keeper, law_country: Ireland",
            "ask-a-vet",
            "touch-up-if-vet-agrees",
        ),
        ("by: keeper", "ask-a-vet", "touch-up-if-vet-agrees"),
        ("by: vet", "ask-a-vet", "touch-up-if-vet-agrees"),
    ],
)
def test_who_may_do_it(written: Any, job: Any, touch_up: str, kind: str, title: str) -> None:
    written.with_keeper(f"touch_up: {{{touch_up}}}")
    plan = written.plan(ON)
    session = job(plan, "touch-up/aoi/larkfield")
    # a vet is asked for a weekday: the Friday before that Saturday is the best of them
    day = DAY - timedelta(days=1) if "by: vet" in touch_up else DAY
    assert (session.kind, session.start) == (kind, day)
    assert session.title == reason(title, fish=(FishId("aoi"),))
    assert codes(session.cautions) == [
        *(["law-not-stated"] if kind == "ask-a-vet" else []),
        "law",
        "never-alone",
        "if-the-gills-stop",
        "only-a-speck",
        "gloves",
        "not-food",
    ]
    rings = [task for task in plan.tasks if task.kind == "ring-vet"]
    if "by: keeper, law_checked: yes, law_country: Ireland" in touch_up:
        assert not rings
    else:
        assert [task.start for task in rings] == [day - timedelta(days=14)]
        assert rings[0].title == reason("ring-the-vet", fish=(FishId("aoi"),), day=day)


def test_the_row_says_that_the_vet_is_asked(written: Any, verdict: Any) -> None:
    written.with_keeper("touch_up: {by: vet, law_checked: yes, law_country: Ireland}")
    found = verdict(written.plan(ON))
    assert codes(found.reasons)[0] == "asked-of-the-vet"
    assert found.reasons[0]["day"] == found.touch_up.day == date(2027, 5, 14)


def test_on_a_vets_day_that_is_not_free_somebody_has_to_be_there(written: Any, job: Any) -> None:
    vet = "touch_up: {by: vet, law_checked: yes, law_country: Ireland}"
    written.with_keeper(vet, "work_days: [saturday]", "also_work_on: []")
    session = job(written.plan(ON), "touch-up/aoi/larkfield")
    assert session.start.weekday() < 5
    assert codes(session.cautions)[0] == "be-there-for-the-vet"
    assert "no-free-hands-in-window" not in codes(session.cautions)
    written.with_keeper(vet, "work_days: [friday]", "also_work_on: []")
    session = job(written.plan(ON), "touch-up/aoi/larkfield")
    assert session.start == date(2027, 5, 14)
    assert "be-there-for-the-vet" not in codes(session.cautions)


@pytest.mark.parametrize("away", [(10, 12), (10, 17)])
def test_what_falls_on_days_away_is_moved_or_said(written: Any, away: tuple[int, int]) -> None:
    """No job of the pond stands on a day nobody is there without a word about it."""
    first, last = (date(2027, 5, day) for day in away)
    written.with_keeper(f"away: [{{from: {first}, to: {last}}}]")
    plan = written.plan(ON)
    there = [task for task in plan.tasks if task.all_day and first <= task.first_day <= last]
    for task in there:
        said = {"nobody-there-then", "no-free-hands-in-window"} & {*codes(task.cautions)}
        assert said or task.kind in FROM_AFAR, task.id


def test_no_touch_up_whose_looks_nobody_could_make(written: Any, verdict: Any) -> None:
    """Away from 18 to 26 May 2027, a look of the 22nd, two days more or less, can have nobody."""
    written.with_keeper("away: [{from: 2027-05-18, to: 2027-05-26}]")
    plan = written.plan(ON)
    found = verdict(plan)
    fit = {one.day for one in found.touch_up.curve if one.fit}
    # 7 days after: 20 to 24 May has nobody, so 13 to 17 May are out; 14 days after: 6 to 10 May
    assert fit and not fit & {date(2027, 5, day) for day in (8, 9, 15, 16)}
    for task in plan.tasks:
        if task.kind == "look-back":
            assert not date(2027, 5, 18) <= task.start <= date(2027, 5, 26)


@pytest.mark.parametrize("first", range(1, 29))
def test_looks_are_within_two_days_and_on_days_somebody_is_there(written: Any, first: int) -> None:
    """Wherever ten days away lie in May, each look planned stands by the rule."""
    away = (date(2027, 5, first), date(2027, 5, first) + timedelta(days=9))
    written.with_keeper(f"away: [{{from: {away[0]}, to: {away[1]}}}]")
    plan = written.plan(ON)
    session = next((task for task in plan.tasks if task.kind == "touch-up"), None)
    looks = [task for task in plan.tasks if task.kind == "look-back"]
    assert (session is not None) == (len(looks) == 2)
    for look, days in zip(looks, (7, 14), strict=False):
        assert abs((look.start - session.start).days - days) <= 2
        assert not away[0] <= look.start <= away[1]


def test_the_law_not_checked_is_said_and_the_days_are_worked_out(
    written: Any, verdict: Any
) -> None:
    written.with_keeper("touch_up: {by: keeper}")
    plan = written.plan(ON)
    assert verdict(plan).touch_up.day == DAY
    assert "law-not-checked" in codes(plan.warnings)
    assert not any(task.kind == "touch-up" for task in plan.tasks)


def test_nobody_means_nobody(written: Any, verdict: Any) -> None:
    written.with_keeper("touch_up: {by: nobody, law_checked: yes, law_country: Ireland}")
    plan = written.plan(ON)
    found = verdict(plan)
    assert (found.verdict, found.touch_up.day, found.merit) == ("as-it-is", None, 75)
    assert not [task for task in plan.tasks if "touch-up" in task.kind]
    assert found.ways_out == ()


def test_two_fish_on_one_day_are_one_session(written: Any, job: Any, ids: Any) -> None:
    written.fish += BEN
    plan = written.plan(ON)
    session = job(plan, "touch-up/aoi/larkfield")
    assert session.fish == ("aoi", "ben")
    assert session.title == reason("touch-up", fish=(FishId("aoi"), FishId("ben")))
    assert [(one["fish"], one["specks"], one["heals_in"]) for one in session.note["each"]] == [
        (FishId("aoi"), (Blemish("shimi", "left shoulder"),), None),
        (FishId("ben"), (Blemish("shimi", "right flank"),), None),
    ]
    assert not any(task.startswith("touch-up/ben") for task in ids(plan))
    assert job(plan, "look-back-1/aoi/larkfield").fish == ("aoi", "ben")


def test_no_more_fish_a_day_than_the_keeper_handles(written: Any, verdict: Any) -> None:
    written.fish += BEN
    written.with_keeper(
        "touch_up: {by: keeper, law_checked: yes, law_country: Ireland, fish_per_day: 1}"
    )
    plan = written.plan(ON)
    found = [verdict(plan, fish).touch_up for fish in ("aoi", "ben")]
    assert DAY in {one.day for one in found}
    assert found[0].day != found[1].day
    assert min(one.chance for one in found) >= max(one.chance for one in found) - 0.02


def test_fish_of_two_waters_make_one_session_and_both_waters_fast(written: Any, job: Any) -> None:
    written.fish += BEN.replace("pond", "vat")
    written.with_keeper(
        "waters: {pond: {steady_c: 20}, vat: {steady_c: 20}, spare vat: {steady_c: 22}}",
        "isolation: {water: spare vat, holds: 4}",
    )
    plan = written.plan(ON)
    assert job(plan, "touch-up/aoi/larkfield").fish == ("aoi", "ben")
    for water in ("pond", "vat"):
        assert job(plan, f"unfed/aoi/larkfield/{water}").start == date(2027, 5, 13)


def test_in_cold_water_the_fast_is_longer(written: Any, job: Any) -> None:
    # 12 °C: R = 0.060 x exp(3 x ln(0.327 / 0.060) / 17.5) = 0.080 an hour (Garcia & Adelman
    # 1985), ln(100) / 0.080 = 57.4 h: three days
    written.with_keeper(
        "waters: {pond: {steady_c: 12}, vat: {steady_c: 22}}",
        "preferences: {speck_returns_after_weeks: {low: 15, usual: 16, high: 17}}",
    )
    fast = job(written.plan(date(2027, 3, 1)), "unfed/aoi/larkfield/pond")
    # not back before 15 weeks, and the longer it heals the likelier: 97 days before benching
    assert (fast.start, fast.end) == (date(2027, 3, 3), date(2027, 3, 5))


def test_a_done_touch_up_is_looked_back_at(written: Any, job: Any, ids: Any) -> None:
    written.noted("on: 2027-05-08, did: touch-up, fish: aoi")
    plan = written.plan(date(2027, 5, 9))
    assert not any(task.startswith(("touch-up/", "kit/", "unfed/")) for task in ids(plan))
    assert job(plan, "look-back-1/aoi/larkfield").start == date(2027, 5, 15)
    written.noted("on: 2027-05-15, saw: closed, fish: aoi")
    left = ids(written.plan(date(2027, 5, 16)))
    assert "look-back-1/aoi/larkfield" not in left
    assert "look-back-2/aoi/larkfield" in left


def test_a_look_back_not_written_down_is_late_and_says_what_that_costs(
    written: Any, job: Any
) -> None:
    written.noted("on: 2027-05-01, did: touch-up, fish: aoi")
    look = job(written.plan(date(2027, 5, 13)), "look-back-1/aoi/larkfield")
    assert (look.late, look.start) == (
        True,
        date(2027, 5, 10),
    )  # due on the 8th, at latest two days later
    assert look.late_cost == reason("look-back-late")


def test_a_second_touch_up_before_one_show_has_ids_of_its_own(written: Any, ids: Any) -> None:
    two = ", ".join(f"{{kind: shimi, where: {w}, seen: 2027-03-01}}" for w in ("flank", "back"))
    written.fish = written.fish.split("  defects:")[0] + f"  defects: [{two}]\n"
    written.noted("on: 2027-04-28, did: touch-up, fish: aoi, where: flank")
    found = ids(written.plan(date(2027, 4, 29)))
    assert {"look-back-2/aoi/larkfield", "look-back-2/aoi/larkfield/2"} <= found
    assert "touch-up/aoi/larkfield/2" in found


def test_a_look_back_is_not_put_on_a_day_nobody_is_there(written: Any, job: Any) -> None:
    written.with_keeper(
        "work_days: [monday]", "away: [{from: 2027-05-15, to: 2027-05-18}]", "also_work_on: []"
    )
    look = job(written.plan(ON), "look-back-1/aoi/larkfield")  # due on 17 May, from 15 to 19 May
    assert look.start == date(2027, 5, 19)
    assert look.cautions == (reason("no-free-hands-in-window"),)


def test_a_touch_up_keeps_its_distance_from_the_journey(written: Any, verdict: Any) -> None:
    # a keeper's own figures, in water so warm that only the week before departure counts
    written.with_keeper(
        "waters: {pond: {steady_c: 25.9}, vat: {steady_c: 22}}",
        "defect_kinds: {shimi: {clean: {low: 50, usual: 100, high: 180, least_days: 1}}}",
    )
    found = verdict(written.plan(date(2027, 6, 1)))
    curve = {one.day: one for one in found.touch_up.curve}
    # seven days before departure on the 11th
    assert [curve[date(2027, 6, day)].fit for day in (4, 5)] == [True, False]
    assert curve[date(2027, 6, 5)].both > 0.5  # 6 days at 17.9 are 107 degree-days


def test_varieties_that_darken_are_warned_about(written: Any, verdict: Any) -> None:
    assert "may-darken" not in codes(verdict(written.plan(ON)).cautions)
    written.fish = written.fish.replace("kohaku", "chagoi")
    plan = written.plan(ON)
    told = reason("may-darken", variety="Chagoi")
    assert told in verdict(plan).cautions
    assert told in [warning.reason for warning in plan.warnings]


def test_a_wound_of_a_variety_that_darkens_is_a_caution_and_no_factor(
    written: Any, verdict: Any
) -> None:
    # A fish vet's note, 2018: on four plain varieties dark marks of scratches sometimes stay for
    # many years. How often is not known: so no date moves.
    graze = f"  defects: [{{kind: net-mark, where: flank, seen: {ON}}}]\n"
    written.fish = written.fish.split("  defects:")[0] + graze
    plain = verdict(written.plan(ON))
    assert "wound-may-darken" not in codes(plain.cautions)
    written.fish = written.fish.replace("kohaku", "chagoi")
    dark = verdict(written.plan(ON))
    assert "wound-may-darken" in codes(dark.cautions)
    assert (dark.verdict, dark.healing) == (plain.verdict, plain.healing)


def test_a_speck_in_cold_water_may_heal_in_the_warm_vat(
    written: Any, verdict: Any, job: Any
) -> None:
    written.with_keeper(
        "waters: {pond: {steady_c: 12}, vat: {steady_c: 22}}", "preferences: {heal_in_vat: yes}"
    )
    plan = written.plan(ON)
    found = verdict(plan)
    assert (found.verdict, found.touch_up.water) == ("ready-after-touch-up", "vat")
    # in a slow case, base 8: 13 to 22 °C by 1 °C a day gives 5 + 6 + ... + 14 = 95 by day 10, then
    # 14 a day: (320 - 95) / 14 = 16.1: 27 days, all of them in the vat
    assert found.touch_up.day == date(2027, 5, 15)
    (clean,) = [one for one in found.healing if one.milestone == "clean"]
    assert clean.high_on == date(2027, 6, 11)
    at_home = [one.both for one in found.touch_up.curve if one.day != found.touch_up.day]
    assert found.touch_up.chance == pytest.approx(0.92, abs=0.005)
    assert max(at_home) < 0.56
    (aoi,) = job(plan, "touch-up/aoi/larkfield").note["each"]
    assert (aoi["heals_in"], aoi["rate"]) == ("vat", Kelvin(1))


def test_vets_are_rung_at_once(written: Any, job: Any) -> None:
    written.fish = written.fish.replace("kind: shimi", "kind: ulcer")
    vet = job(written.plan(date(2027, 3, 1)), "vet/aoi/ulcer/left-shoulder")
    assert (vet.start, vet.late) == (date(2027, 3, 2), False)
    vet = job(written.plan(date(2027, 3, 3)), "vet/aoi/ulcer/left-shoulder")
    assert (vet.late, vet.late_cost) == (True, reason("ill-now"))


def test_a_fish_off_its_food_is_a_job_for_a_vet(written: Any, job: Any, ids: Any) -> None:
    written.noted("on: 2027-04-01, saw: off food, fish: aoi")
    assert job(written.plan(ON), "vet/aoi/off-food").start == date(2027, 4, 2)
    written.noted("on: 2027-04-05, saw: feeding well, fish: aoi")
    assert "vet/aoi/off-food" not in ids(written.plan(date(2027, 4, 5)))


def test_a_find_of_parasites_asks_for_a_clear_check(written: Any, job: Any) -> None:
    written.noted("on: 2027-04-01, saw: parasites, water: pond")
    check = job(written.plan(ON), "clear-check/pond")
    assert (check.start, check.water) == (date(2027, 4, 15), "pond")  # 14 days after


def test_a_healing_mark_is_looked_at_when_it_should_be_clean(written: Any, job: Any) -> None:
    written.fish = written.fish.replace("kind: shimi", "kind: net-mark")
    look = job(written.plan(date(2027, 3, 1)), "look/aoi/net-mark/left-shoulder")
    assert look.start == date(2027, 3, 9)  # 90 / 12 = 7.5 days from 1 March


def test_a_speck_that_is_likely_back_is_looked_at(written: Any) -> None:
    """Back after 4, 8 and 16 weeks (5, 50 and 95 % points): one in five after
    8 · exp(-0.842 · ln 2 / 1.645) = 5.61 weeks, 39.3 days, so on the 40th, 11 May.

    Seen clean then (0.788 are), a fifth of those are back on the 49th: 8 · exp(-0.333 · 0.421) is
    6.95 weeks, as 1 - 0.8 · 0.788 = 0.37. The normal's points are those of any table.
    """
    written.journal = (
        "- {on: 2027-04-01, did: touch-up, fish: aoi}\n"
        "- {on: 2027-04-16, saw: clean, fish: aoi, defect: shimi}\n"
    )

    def looks(on: date) -> list[Any]:
        return [one.start for one in written.plan(on).tasks if one.kind == "look"]

    assert looks(date(2027, 4, 20)) == [date(2027, 5, 11)]
    written.journal += "- {on: 2027-05-11, saw: clean, fish: aoi, defect: shimi}\n"
    (again,) = looks(date(2027, 5, 12))
    assert abs((again - date(2027, 5, 20)).days) <= 1  # this yard's own looks move it a little
    written.journal += "- {on: 2027-05-24, saw: clean, fish: aoi, defect: shimi}\n"
    assert looks(date(2027, 5, 25)) == []  # go or stay comes first
