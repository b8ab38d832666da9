"""Every figure that a keeper may set moves something that is printed, and none the wrong way.

Each figure stands here once with a value of a keeper's own and the season in which it is seen: the
season is planned as shipped and with that value, and the two plans must differ. All is invented,
and made so small that the one figure decides.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta
from typing import Any

import pytest

from showprep.husbandry.figures import FIGURES
from showprep.planning.plan import Plan
from showprep.season.checks.own_figures import fault_in_own_value, own_range

ON = date(2027, 3, 10)
Season = Callable[[Any], date]

# The sheets of the bath and of the bags, and the days of a sedation, have a test of their own.
ON_THE_SHEETS = frozenset(
    (
        *("eugenol_fraction", "clove_target"),
        *("clove_warn", "clove_block", "clove_dead_most"),
        *("clove_refuse", "clove_lc50", "clove_ct_warn"),
        *("toxic_load_exponent", "clove_trial_start", "clove_trial_step"),
        *("induction", "induction_too_fast"),
        *("bath_max", "out_of_water", "recovery"),
        *("recovery_alarm", "recovery_vet", "bath_difference"),
        *("bath_oxygen", "bath_litres_per_kg", "bath_litres_per_kg_least"),
        *("bath_litres_most", "bath_litres_tub", "bath_litres_no_fish"),
        *("bath_fish", "bath_minutes", "sedation_spacing"),
        *("sedation_spacing_cold", "sedate_to_show_warn", "sedate_to_show_gap"),
        *("block_after_move", "warn_after_move", "block_after_spawn"),
        *("cold_drop", "cold_drop_days", "sed_cold_warn"),
        *("sed_cold_block", "sed_hot_warn", "ms222_anaesthesia"),
        *("ms222_refuse", "ms222_buffer", "o2_r20"),
        *("rq", "o2_store_use"),
        *("o2_purity", "co2_warn", "co2_stop"),
        *("tan_stop", "nh3_limit"),
        "tan20_bag",
        *("bag_length_extra", "box_length_extra", "bag_water_share"),
        *("bag_litres_per_kg", "bag_hours", "bag_hours_stop"),
        *("bag_hours_spare", "lift_by_two", "lift_most"),
        *("o2_least", "tank_air_reserve", "tank_transfer", "tank_most"),
        *("bags_each", "bags_spare", "direct_transfer_hours"),
        *("step_direct_falling", "float_bag"),
        *("ph_direct", "ph_total"),
    )
)

SECOND = """\
oakhill:
  name: Oakhill Show
  judging: {judging} 10:00
  travel_hours: 2
  vats: own
  altered_fish: tolerated
"""


def pond(celsius: float, *show: str, fish: str = "", extra: str = "") -> Season:
    """A pond of steady warmth; lines of the show, of the fish and of keeper.yaml besides."""

    def season(written: Any) -> date:
        written.fish = written.fish.split("  defects:")[0] + fish
        water = f"{{litres: 20000, steady_c: {celsius:g}{extra}}}"
        vat = "{litres: 4000, steady_c: 22}"
        written.with_keeper(f"waters: {{pond: {water}, vat: {vat}}}").with_show(*show)
        return ON

    return season


def vat(celsius: float, vats: str, litres: float = 4000, cm: float = 50) -> Season:
    """An isolation vat of steady warmth, after a show with such vats."""

    def season(written: Any) -> date:
        pond(20, f"vats: {vats}")(written)
        written.fish = written.fish.replace(": 50}", f": {cm:g}}}")
        water = f"{{litres: {litres:g}, steady_c: {celsius:g}}}"
        written.with_keeper(f"waters: {{pond: {{litres: 20000, steady_c: 20}}, vat: {water}}}")
        return ON

    return season


def onward(days: int, *keeper: str) -> Season:
    """A second show so many days after the fish are home from the first, 28 of them apart."""

    def season(written: Any) -> date:
        pond(20)(written)
        written.with_keeper(*keeper)
        written.shows += SECOND.format(judging=date(2027, 6, 13) + timedelta(days))
        return ON

    return season


def soon(days: int) -> Season:
    """A second show sooner than fish rest as shipped."""
    return onward(days, "preferences: {days_between_shows: 3}")


def spawning(fish: str, from_c: float = 10, to_c: float = 20, cm: float = 50) -> Season:
    """A female in water that warms from May to June."""

    def season(written: Any) -> date:
        pond(20, fish=f"  sex: female\n  longest_cm: {cm + 2:g}\n{fish}")(written)
        written.fish = written.fish.replace(": 50}", f": {cm:g}}}")
        months = [4, 4, 5, 8, from_c, to_c, 24, 24, 18, 12, 8, 5]
        written.with_keeper(f"waters: {{pond: {{monthly_c: {months}}}, vat: {{steady_c: 22}}}}")
        return ON

    return season


def noted(entry: str, on: date) -> Season:
    def season(written: Any) -> date:
        pond(20)(written)
        written.noted(entry)
        return on

    return season


def holding(celsius: float, show_c: float) -> Season:
    """A vat to bring the entries nearer to the show's water in."""

    def season(written: Any) -> date:
        pond(celsius, f"water_c: {show_c:g}")(written)
        written.with_keeper("holding: {water: vat}")
        return ON

    return season


CLASSES = "sizes: {unit: cm, upper: [40, 55, 70]}"


# figure: a keeper's own value, and the season whose plan it moves
def road(hours: float) -> Season:
    """A show so far away that its doors, open at 13:00, are reached in `hours` at the wheel."""

    def season(written: Any) -> date:
        written.with_show(f"travel_hours: {hours}")
        return ON

    return season


MOVES: dict[str, tuple[float, Season]] = {
    "step_direct": (1, vat(22, "own")),
    "step_warn": (2, pond(20, "water_c: 22.5")),
    "step_block": (5, pond(20, "water_c: 25.5")),
    "temper_rate": (1, pond(20, "water_c: 25")),
    "temp_ramp": (0.5, pond(20, "water_c: 28")),
    "stop_every": (1.5, road(2)),
    "stop_minutes": (30, road(5)),
    "oxygen_stop_hours": (5, road(5)),
    "drive_from": (6, road(7)),
    "apart_own_warm": (35, vat(22, "own")),
    "apart_own_mild": (50, vat(20, "own")),
    "apart_own_cool": (70, vat(17, "own")),
    "apart_shared_warm": (50, vat(22, "shared")),
    "apart_shared_mild": (70, vat(20, "shared")),
    "apart_shared_cool": (100, vat(17, "shared")),
    "apart_least_c": (18, vat(17, "own")),
    "apart_most_c": (26, vat(27, "own")),
    "khv_window_low": (14, noted("on: 2027-03-09, saw: khv signs, water: pond", ON)),
    "khv_window_high": (30, noted("on: 2027-03-09, saw: khv signs, water: pond", ON)),
    "days_between_shows": (30, onward(36)),
    "vat_litres_large": (5000, vat(22, "own")),
    "vat_litres_middle": (5000, vat(22, "own", cm=36)),
    "vat_litres_small": (5000, vat(22, "own", cm=20)),
    "stitched_warm": (
        18,
        pond(19, fish="  defects: [{kind: stitches, where: belly, seen: 2027-03-01}]\n"),
    ),
    "fast_safety": (4, pond(20, "fast_days: 3")),
    "fast_safety_transport": (5, pond(20, "fast_days: 3")),
    "fast_show_warm": (4, pond(23)),
    "fast_show_mild": (4, pond(20)),
    "fast_show_cool": (5, pond(16)),
    "fast_show_least": (5, pond(25, "fast_days: 0")),
    "fast_show_cap": (4, pond(12, "fast_days: 3")),
    "fast_show_cap_cold": (6, pond(8, "fast_days: 3")),
    "fast_algae_pond": (12, pond(20, extra=", algae: yes")),
    "fast_transport_min": (9, pond(20)),
    "fast_warn_before": (2, pond(12)),
    "fast_warn_total_mild": (3, pond(18)),
    "fast_warn_total": (3, pond(22)),
    "fast_loss": (0.2, pond(20, extra=", algae: yes")),
    "feed_stop_c": (14, pond(12)),
    "feed_cut_first": (45, pond(20)),
    "feed_cut_first_share": (0.7, onward(50)),
    "feed_cut_second": (21, pond(20)),
    "feed_cut_second_share": (0.4, soon(34)),
    "colour_stop": (40, pond(20)),
    "refeed_wait": (3, vat(22, "own")),
    "refeed_share": (0.2, vat(22, "own")),
    "refeed_share_later": (0.5, vat(22, "own")),
    "refeed_ramp": (10, vat(22, "own")),
    "linf": (100, pond(20)),
    "k_growth": (0.2, pond(20)),
    "growth_year": (2500, pond(20)),
    "sigma_length": (2, pond(20)),
    "class_margin": (2, pond(20, CLASSES)),
    "spawns_from_cm": (40, spawning("", cm=42)),
    "spawns_from_years": (
        2,
        spawning("  born: 2025\n", cm=42),
    ),
    "spawns_from_c": (10, spawning("", 8, 16)),
    "spawns_to_c": (30, spawning("", 14, 29)),
    "spawned_not_ready": (30, noted("on: 2027-05-20, saw: spawned, fish: aoi", date(2027, 5, 21))),
    "spawned_recovers": (60, noted("on: 2027-04-20, saw: spawned, fish: aoi", date(2027, 5, 1))),
    "treatment_warn": (60, noted("on: 2027-04-20, saw: parasites, water: pond", date(2027, 5, 1))),
    "last_bath_treatment": (45, pond(20)),
    "parasite_clear_check": (
        60,
        noted("on: 2027-04-20, saw: parasites, water: pond", date(2027, 5, 1)),
    ),
    "sed_hot_block": (26, pond(27)),
    # eight days before the departure of 11 June
    "treatment_stop": (
        10,
        noted("on: 2027-06-03, did: treatment, water: pond, treatment: formalin", date(2027, 6, 3)),
    ),
    "red_spots_wait": (
        2,
        noted("on: 2027-06-01, saw: new defect, fish: aoi, defect: red-spots", date(2027, 6, 1)),
    ),
}


def shown(plan: Plan) -> tuple[object, ...]:
    """What the boards, pages and calendars are made from."""
    return plan.tasks, plan.verdicts, plan.warnings, plan.choice, plan.fish, plan.cautions


def test_every_figure_is_asked_somewhere() -> None:
    tables = (set(MOVES), set(ON_THE_SHEETS))
    assert set().union(*tables) == set(FIGURES)
    assert sum(map(len, tables)) == len(FIGURES)


@pytest.mark.parametrize("name", MOVES)
def test_each_figure_moves_the_plan(written: Any, name: str) -> None:
    value, season = MOVES[name]
    on = season(written)
    as_shipped = shown(written.plan(on))
    written.with_keeper(f"figures: {{{name}: {FIGURES[name].typical!r}}}")
    assert shown(written.plan(on)) == as_shipped
    written.with_keeper(f"figures: {{{name}: {value:g}}}")
    assert shown(written.plan(on)) != as_shipped


@pytest.mark.parametrize("name", [name for name in FIGURES if name not in ON_THE_SHEETS])
def test_the_least_and_the_most_that_may_be_written_are_planned_with(
    written: Any, name: str
) -> None:
    holding(22, 30)(written)
    written.shows += SECOND.format(judging=date(2027, 8, 2))
    for value in own_range(FIGURES[name]):
        assert fault_in_own_value(name, value) is None
        written.with_keeper(f"figures: {{{name}: {value!r}}}")
        plan = written.plan(ON)
        # With nothing that clears them, the fish stay at home by a STOP; so do giants, which no bag
        # carries.
        stop = any(one.level == "stop" for one in plan.warnings)
        giants = any(one.reasons[0].code == "no-way-to-travel" for one in plan.verdicts)
        assert plan.tasks or stop or giants
