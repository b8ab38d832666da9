"""What keeps a fish at home, in days worked out by hand; and no fish goes beside a STOP.

The pond of the written season has 20 °C, its vat 22; departure is on 11 June 2027.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Mapping
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest

from showprep.husbandry.reason import Celsius, FishId
from showprep.outputs.words.speaker import Speaker
from showprep.planning.plan import Plan
from showprep.planning.season_plan import worked_out
from showprep.planning.worksheets.bags_season import journeys
from showprep.planning.yard.presumed import yard_as_known
from showprep.planning.yard.yard import Yard
from showprep.season.reading import read_season
from tests.storms import rounds

ON = date(2027, 4, 1)
YARDS = rounds(30, 600)
RED = "on: 2027-06-01, saw: new defect, fish: aoi, defect: red-spots"


def codes(plan: Plan, level: str) -> list[str]:
    return [one.reason.code for one in plan.warnings if one.level == level]


def test_red_spots_are_looked_at_after_three_days_and_then_go_to_a_vet(
    written: Any, job: Any, ids: Any, verdict: Any
) -> None:
    written.fish = written.fish.split("  defects")[0]
    written.noted(RED)
    plan = written.plan(date(2027, 6, 1))
    assert job(plan, "red-spots/aoi/somewhere").start == date(2027, 6, 4)
    # 90 degree-days at 12 a day are 7.5 days, 200 in a slow case 17: tight for the 11th
    assert verdict(plan).verdict == "tight"
    written.noted("on: 2027-06-03, saw: not clean, fish: aoi")  # two days: still a flush
    plan = written.plan(date(2027, 6, 3))
    assert "red-spots/aoi/somewhere" in ids(plan) and verdict(plan).verdict != "vet-first"
    written.noted("on: 2027-06-04, saw: not clean, fish: aoi")
    plan = written.plan(date(2027, 6, 4))
    found = verdict(plan)
    assert (found.verdict, found.entered) == ("vet-first", False)
    assert found.reasons[0]["why"].code == "red-spots-stay"
    assert job(plan, "vet/aoi/red-spots/somewhere").start == date(2027, 6, 5)
    assert "red-spots/aoi/somewhere" not in ids(plan)
    written.noted("on: 2027-06-05, did: vet, fish: aoi")
    assert verdict(written.plan(date(2027, 6, 5))).verdict != "vet-first"


def test_red_spots_written_down_again_are_still_there(written: Any, verdict: Any) -> None:
    written.noted(RED, RED.replace("06-01", "06-05"))
    assert verdict(written.plan(date(2027, 6, 5))).verdict == "vet-first"
    written.journal = ""
    written.noted(RED, "on: 2027-06-05, saw: clean, fish: aoi, defect: red-spots")
    assert verdict(written.plan(date(2027, 6, 5))).verdict != "vet-first"


BEN = """\
ben: {name: Ben, variety: showa, lives_in: LIVES, merit: 70, lengths_cm: {2027-03-01: 40}}
"""


def test_red_spots_on_two_fish_of_one_water_are_one_matter(
    written: Any, job: Any, ids: Any
) -> None:
    alone = written.fish = written.fish.split("  defects")[0]
    written.fish = alone + BEN.replace("LIVES", "pond")
    written.noted(RED, RED.replace("aoi", "ben").replace("06-01", "06-02"))
    plan = written.plan(date(2027, 6, 2))
    (told,) = [one.reason for one in plan.warnings if one.reason.code == "red-spots-on-several"]
    assert (told["fish"], told["water"]) == ((FishId("aoi"), FishId("ben")), "pond")
    look = job(plan, "red-spots/aoi/somewhere")
    assert (look.start, look.fish) == (date(2027, 6, 4), ("aoi", "ben"))
    assert "Aoi and Ben, pond" in Speaker.of(plan).say(look.title)
    assert "red-spots/ben/somewhere" not in ids(plan)
    written.noted(
        "on: 2027-06-05, saw: not clean, fish: aoi", "on: 2027-06-05, saw: not clean, fish: ben"
    )
    plan = written.plan(date(2027, 6, 5))
    vet = job(plan, "vet/aoi/red-spots/somewhere")  # four days, and three
    assert (vet.start, vet.fish) == (date(2027, 6, 6), ("aoi", "ben"))
    assert not {"vet/ben/red-spots/somewhere", "red-spots/ben/somewhere"} & ids(plan)
    # in two waters they are two matters
    written.fish, written.journal = alone + BEN.replace("LIVES", "vat"), ""
    written.noted(RED, RED.replace("aoi", "ben"))
    plan = written.plan(date(2027, 6, 2))
    assert "red-spots-on-several" not in codes(plan, "warn")
    assert {"red-spots/aoi/somewhere", "red-spots/ben/somewhere"} <= ids(plan)


@pytest.mark.parametrize(
    ("pond", "vat", "show", "told"),
    [
        (20, 22, 20, set()),  # 2 K: a float
        (20, 22, 17, {"step-tempered"}),  # 5 K on the way home
        (20, 22, 16, {"vat-meets-show"}),  # 6 K: by a ramp in the vat
        (28, 22, 24, set()),
        (28.5, 22, 25, {"way-into-heat", "step-tempered"}),  # home to it by a ramp, into heat
    ],
)
def test_the_way_home_is_looked_at(
    written: Any, pond: float, vat: float, show: float, told: set[str]
) -> None:
    written.fish = small(written).fish.split("  defects")[0]
    written.with_keeper(f"waters: {{pond: {{steady_c: {pond}}}, vat: {{steady_c: {vat}}}}}")
    plan = written.with_show(f"water_c: {show}").plan(ON)
    found = {*codes(plan, "warn"), *codes(plan, "stop")}
    assert found & {"step-tempered", "vat-meets-show", "way-into-heat", "step-too-great"} == told


def test_heat_is_told_as_it_is_read_and_as_it_is_expected(written: Any, job: Any) -> None:
    pond = "{monthly_c: [4, 5, 8, 12, 17, 22, 31, 24, 18, 12, 8, 5]}"
    written.with_keeper(f"waters: {{pond: {pond}, vat: {{steady_c: 22}}}}")
    plan = written.plan(date(2027, 6, 1))
    heat = job(plan, "heat/pond")
    yard = written.yard(date(2027, 6, 1))
    mean_on = yard.waters.of("pond")
    assert mean_on(heat.first_day) > 28 >= mean_on(heat.first_day - timedelta(1))
    assert mean_on(heat.last_day) > 28 >= mean_on(heat.last_day + timedelta(1))
    assert "heat-warning" in codes(plan, "warn")
    # In the empty vat heat hurts nobody.
    assert not [one for one in plan.tasks if one.id == "heat/vat"]
    # Read today, it is there today.
    written.with_keeper("waters: {pond: {steady_c: 26}, vat: {steady_c: 22}}")
    assert "heat-warning" not in codes(written.plan(ON), "warn")
    written.noted("on: 2027-04-01, saw: temperature, water: pond, read_c: 29")
    assert job(written.plan(ON), "heat/pond").start == ON
    written.journal = written.journal.replace("29", "28")
    assert "heat-warning" not in codes(written.plan(ON), "warn")


def small(written: Any) -> Any:
    """In water this warm a bag that two people lift carries no more than a small fish."""
    written.fish = written.fish.replace("2027-03-01: 50", "2027-03-01: 30")
    return written


def test_a_grown_fish_leaves_no_water_of_28_c_in_a_bag(written: Any, verdict: Any) -> None:
    written.fish = written.fish.split("  defects")[0]
    written.with_keeper("waters: {pond: {steady_c: 28.5}, vat: {steady_c: 22}}")
    assert verdict(written.plan(ON)).reasons[0].code == "no-way-to-travel"


def test_what_handles_fish_in_heat_carries_a_caution(written: Any, job: Any) -> None:
    small(written).with_keeper("waters: {pond: {steady_c: 28.5}, vat: {steady_c: 22}}")
    practice = job(written.plan(ON), "larkfield/net-practice")
    assert [one.code for one in practice.cautions] == ["too-hot-to-handle"]
    assert not job(written.plan(ON), "larkfield/pack").cautions
    written.with_keeper("waters: {pond: {steady_c: 28}, vat: {steady_c: 22}}")
    assert not job(written.plan(ON), "larkfield/net-practice").cautions


def test_leaving_in_heat_is_a_caution_of_that_show(written: Any) -> None:
    written.fish = written.fish.split("  defects")[0]
    small(written).with_keeper("waters: {pond: {steady_c: 28.5}, vat: {steady_c: 22}}")
    (told,) = [one.reason for one in written.plan(ON).warnings if one.reason.code == "caution-for"]
    assert told["why"].code == "leaves-in-heat" and told["why"]["water"] == Celsius(28.5)


def test_a_female_in_warming_water_is_told_on_the_board(written: Any) -> None:
    # From memory: 45 cm, 17 to 24 °C and warmer than two weeks before.
    pond = "{monthly_c: [4, 4, 5, 8, 13, 20, 23, 23, 18, 12, 8, 5]}"
    written.fish = written.fish.split("  defects")[0] + "  sex: female\n"
    written.with_keeper(f"waters: {{pond: {pond}, vat: {{steady_c: 22}}}}")
    (told,) = [one.reason for one in written.plan(ON).warnings if one.reason.code == "caution-for"]
    assert told["fish"] == (FishId("aoi"),) and told["why"].code == "may-spawn"
    written.fish = written.fish.replace("female", "male")
    assert "caution-for" not in codes(written.plan(ON), "warn")


def test_the_warmth_of_the_show_may_set_her_off(written: Any) -> None:
    written.fish = written.fish.split("  defects")[0] + "  sex: female\n"
    written.with_keeper("waters: {pond: {steady_c: 15.5}, vat: {steady_c: 22}}")
    assert "caution-for" not in codes(written.plan(ON), "warn")
    written.with_show("water_c: 20")
    assert "caution-for" in codes(written.plan(ON), "warn")


@pytest.mark.parametrize(("there", "goes"), [(25.9, True), (26, False), (14.1, True), (14, False)])
def test_a_step_of_6_degrees_to_the_show_stands_in_the_verdict(
    written: Any, verdict: Any, there: float, goes: bool
) -> None:
    written.with_show(f"water_c: {there}")
    plan = written.plan(ON)
    assert verdict(plan).entered is goes
    assert (codes(plan, "stop") == ["step-to-show-too-great"]) is not goes
    if not goes:
        assert verdict(plan).verdict == "not-eligible"
        # A holding vat takes the step off it.
        written.with_keeper("holding: {water: vat}")
        assert verdict(written.plan(ON)).entered


def test_a_move_of_ones_own_that_is_a_stop_holds_the_fish_back(written: Any, verdict: Any) -> None:
    written.with_keeper("waters: {pond: {steady_c: 20}, vat: {steady_c: 22}, tub: {steady_c: 13}}")
    written.fish += "  moves: [{on: 2027-05-20, to: tub}]\n"
    plan = written.plan(ON)
    assert codes(plan, "stop") == ["step-too-great"]
    found = verdict(plan)
    assert (found.verdict, found.entered, found.reasons[0].code) == (
        "not-eligible",
        False,
        "step-too-great",
    )
    written.fish = written.fish.replace("to: tub", "to: tub, ramp_c_per_day: 1")
    assert verdict(written.plan(ON)).entered


def files(number: int) -> dict[str, str | bytes]:
    """A yard in which much is wrong: waters far apart, small vats, finds, doses, spawnings."""
    chance = random.Random(number)
    pick = chance.choice
    keeper = [
        "time_zone: Europe/Dublin",
        "work_days: [monday, tuesday, wednesday, thursday, friday, saturday, sunday]",
        "waters:",
        f"  pond: {{litres: 20000, steady_c: {pick((7, 12, 17, 20, 23, 29))}}}",
        f"  other: {{litres: 9000, steady_c: {pick((9, 16, 21, 30))}}}",
        f"  vat: {{litres: 3000, steady_c: {pick((12, 18, 22, 22, 30))}}}",
        "touch_up: {by: keeper, law_checked: yes, law_country: Ireland, bath_litres: 30, "
        "strength_percent: 10}",
        f"preferences: {{heal_in_vat: {pick(('yes', 'no'))}, least_chance: 0.5}}",
    ]
    if chance.random() < 0.85:
        keeper.append(f"isolation: {{water: vat, holds: {pick((2, 5, 9))}}}")
    if chance.random() < 0.3:
        keeper.append(f"holding: {{water: {pick(('other', 'vat'))}}}")
    shows, day = [], date(2027, 5, 29)
    for name in ("larkfield", "otterby", "thornmere")[: pick((1, 2, 3))]:
        shows.append(
            f"{name}:\n  name: {name.title()} Show\n  judging: {day} 10:00\n"
            f"  travel_hours: {pick((2, 2, 6, 11))}\n"
            f"  vats: {pick(('own', 'shared'))}\n  water_c: {pick((12, 16, 19, 22, 26))}\n"
            f"  altered_fish: tolerated\n"
        )
        day += timedelta(days=7 * pick((1, 3, 9)))
    fish, journal = [], []
    names = ("aoi", "ben", "cho", "daru")[: pick((2, 3, 4))]
    for name in names:
        fish.append(
            f"{name}:\n  name: {name.title()}\n  variety: kohaku\n"
            f"  sex: {pick(('male', 'female'))}\n"
            f"  lives_in: {pick(('pond', 'pond', 'other', 'vat'))}\n"
            f"  merit: {chance.randrange(50, 90)}\n"
            f"  lengths_cm: {{2027-03-01: {chance.randrange(20, 92)}}}\n"
        )
        if chance.random() < 0.3:
            fish.append(f"  must_show: [{pick(('larkfield',))}]\n")
        if chance.random() < 0.3:
            defect = pick(("shimi", "red-spots", "ulcer", "net-mark"))
            fish.append(f"  defects: [{{kind: {defect}, where: left flank, seen: 2027-04-20}}]\n")
        if chance.random() < 0.3:
            fish.append(
                f"  moves: [{{on: 2027-05-0{pick((2, 8))}, to: {pick(('other', 'vat'))}}}]\n"
            )
    for day in (date(2027, 4, 21) + timedelta(days=number) for number in range(9)):
        told = pick(
            (
                "saw: parasites, water: pond",
                f"saw: no parasites, water: {pick(('pond', 'vat'))}",
                f"saw: parasites, fish: {pick(names)}",
                f"did: treatment, water: pond, treatment: {pick(('formalin', 'salt'))}",
                f"saw: spawned, fish: {pick(names)}",
                f"saw: not clean, fish: {pick(names)}",
                f"did: move, fish: {pick(names)}, to: {pick(('other', 'vat', 'pond'))}",
                f"did: entered, fish: {pick(names)}, show: larkfield",
                "saw: temperature, water: pond, read_c: 18",
            )
        )
        if chance.random() < 0.4:
            journal.append(f"- {{on: {day}, {told}}}\n")
    return {
        "keeper.yaml": "\n".join(keeper) + "\n",
        "shows.yaml": "".join(shows),
        "fish.yaml": "".join(fish),
        "journal.yaml": "".join(journal),
    }


def stopped(yard: Yard, plan: Plan) -> list[tuple[str, str, str]]:
    """Every entry of the plan that stands beside a STOP of its fish, its show or its water."""
    found = []
    for warning in (one for one in plan.warnings if one.level == "stop"):
        values = dict(warning.reason.values)
        water = values.get("water") if warning.reason.code == "parasites-stop" else None
        for one in plan.verdicts:
            own = yard.state.fish[one.fish]
            of_it = (
                yard.taken_from(own, yard.on + timedelta(days=1)) == water
                if water is not None
                else (warning.fish, warning.show) != (None, None)
                and warning.fish in (None, one.fish)
                and warning.show in (None, one.show)
            )
            if one.entered and (of_it or warning.reason.code == "khv-stop"):
                found.append((one.fish, one.show, warning.reason.code))
    return found


@pytest.mark.parametrize("number", YARDS)
def test_no_fish_goes_beside_a_stop(
    folder: Callable[[Mapping[str, str | bytes]], Path], number: int
) -> None:
    on = date(2027, 4, 30)
    season = read_season(folder(files(number)), on).season
    yard, plan = worked_out(yard_as_known(season, on), "test")
    assert stopped(yard, plan) == []
    for one in plan.verdicts:
        barred = one.verdict in ("not-eligible", "vet-first", "too-late")
        assert not (one.entered and barred), one
        if yard.parasites_on(yard.state.fish[one.fish]) is not None:
            assert not one.entered
    for journey in journeys(yard, plan):
        for bag in journey.bags:  # every fish that goes can be carried, and every bag be lifted
            assert bag.water_l is None or bag.kg is None or bag.water_l + bag.kg <= 45
            assert bag.ways is None or bag.ways.travels(bag.ask) == "change"
            assert bag.bag is None or bag.ways is None or not bag.bag.stops


def test_the_yards_are_not_all_at_home(folder: Any) -> None:
    """The storm tries something: some of its yards send fish, and some hold them back."""
    on = date(2027, 4, 30)
    going = held = 0
    for number in range(30):
        season = read_season(folder(files(number)), on).season
        _, plan = worked_out(yard_as_known(season, on), "test", costs=False)
        going += any(one.entered for one in plan.verdicts)
        held += any(one.level == "stop" for one in plan.warnings)
    assert going >= 3 and held >= 5


def test_a_step_home_that_is_too_great_holds_back_only_the_fish_that_takes_it(
    written: Any, verdict: Any
) -> None:
    # no vat to keep apart in: Aoi comes home from 12 °C to 20, Cho and Daru to 10 in their tub
    written.fish = small(written).fish.split("  defects")[0] + "".join(
        BEN.replace("ben", name).replace("Ben", name.title()).replace("LIVES", "tub")
        for name in ("cho", "daru")
    )
    written.with_keeper("waters: {pond: {steady_c: 20}, vat: {steady_c: 13}, tub: {steady_c: 10}}")
    written.keeper = written.keeper.replace("isolation: {water: vat, holds: 4}\n", "")
    written.with_keeper("holding: {water: vat}").with_show("water_c: 12")
    plan = written.plan(ON)
    assert verdict(plan).reasons[0].code == "step-too-great"
    assert verdict(plan).reasons[0]["step"]["fish"] == (FishId("aoi"),)
    assert verdict(plan, "cho").entered and verdict(plan, "daru").entered
