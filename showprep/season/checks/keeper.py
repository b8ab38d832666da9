"""Checks of the yard: its waters, the places to keep fish apart, its own figures."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from functools import partial
from itertools import pairwise

from showprep.husbandry.figures import FIGURES
from showprep.husbandry.healing import not_before
from showprep.husbandry.water import PLAUSIBLE_C, YearCurve
from showprep.season.checks.checked import Checked, Finding
from showprep.season.checks.own_figures import (
    GONE,
    fault_in_own_milestone,
    fault_in_own_value,
)
from showprep.season.facts import facts_for, own_milestone, shipped_facts, size_table
from showprep.season.values.agents import agent_named
from showprep.season.values.product import MG_PER_ML, PERCENT, product_strength
from showprep.season.values.quantities import show_temperature, show_volume
from showprep.season.values.unit_keys import key_in
from showprep.season.values.wording import listed, slug
from showprep.season.values.work_days import WorkRule

LOOK_AHEAD_DAYS = 366


def one_temperature(checked: Checked) -> Iterator[Finding | None]:
    """Each water has its temperature through the year, or a steady one."""
    units = checked.season.keeper.units
    monthly, steady = key_in("monthly_c", units), key_in("steady_c", units)
    for name, water in checked.season.keeper.waters.items():
        if (water.monthly_c is None) == (water.steady_c is None):
            what = "no temperature is given" if water.steady_c is None else "both are given"
            right = f"write either {monthly} (twelve monthly means) or {steady}"
            yield Finding(("keeper", "waters", name), f"{name}: {what}", right, of_key=True)


def curve_plausible(checked: Checked) -> Iterator[Finding | None]:
    """The curve through the monthly means stays within what koi water can be."""
    days = [date(2024, 1, 1) + timedelta(days=number) for number in range(366)]  # a leap year
    for name, water in checked.season.keeper.waters.items():
        if water.monthly_c is None:
            continue
        curve = YearCurve.from_monthly_means(water.monthly_c)
        means = [curve.on(day) for day in days]
        low, high = PLAUSIBLE_C
        if min(means) < low or max(means) > high:
            lowest, highest = (
                show_temperature(round(mean), checked.season.keeper.units)
                for mean in (min(means), max(means))
            )
            what = (
                f"{name}: to have these monthly means the water would have to go from "
                f"{lowest} to {highest} within the year"
            )
            right = "neighbouring months differ by less: put the one that is a slip right"
            yield Finding(("keeper", "waters", name, "monthly_c"), what, right)


def names_apart(checked: Checked) -> Iterator[Finding | None]:
    """Two waters whose names differ only in case or punctuation would share their jobs' ids."""
    seen: dict[str, str] = {}
    for name in checked.season.keeper.waters:
        other = seen.setdefault(slug(name), name)
        if other != name:
            what = f"{name} and {other} are too alike to be told apart"
            yield Finding(("keeper", "waters", name), what, "give one another name", of_key=True)


def readings_not_ahead(checked: Checked) -> Iterator[Finding | None]:
    for name, water in checked.season.keeper.waters.items():
        for day in water.readings_c:
            path = ("keeper", "waters", name, "readings_c", day)
            yield checked.future(path, day)


def waters_apart_exist(checked: Checked) -> Iterator[Finding | None]:
    """The waters for isolation and for fasting exist."""
    keeper = checked.season.keeper
    for key, place in (("isolation", keeper.isolation), ("holding", keeper.holding)):
        if place is not None:
            path = ("keeper", key, "water")
            yield checked.unknown(path, "water", place.water, keeper.waters)


def away_in_order(checked: Checked) -> Iterator[Finding | None]:
    for at, away in enumerate(checked.season.keeper.away):
        if away.to < away.from_:
            what = f"the last day away ({away.to}) comes before the first ({away.from_})"
            yield Finding(("keeper", "away", at, "to"), what, "turn the two round")


def rules_give_days(checked: Checked) -> Iterator[Finding | None]:
    """A rule for work days gives some, and those that were meant."""
    for at, one in enumerate(checked.season.keeper.work_days):
        if not isinstance(one, WorkRule):
            continue
        path = ("keeper", "work_days", at)
        ahead = [checked.on + timedelta(days=number) for number in range(LOOK_AHEAD_DAYS)]
        coming = [day for day in ahead if one.has(day)]
        if not coming:
            span = f"the {LOOK_AHEAD_DAYS} days from {checked.on}"
            what = f"work_days: {one.rule} gives no day in {span}"
            yield Finding(path, what, "if that is a slip, put it right", "warning")
        elif one.hangs_on_its_start():
            what = (
                f"work_days: {one.rule} does not say from which day it counts; it is taken to give "
                f"{listed(map(str, coming[:3]), 'and')}"
            )
            right = f'if others are meant, write {{rule: "{one.rule}", from: the first of them}}'
            yield Finding(path, what, right, "warning")


def strength_sound(checked: Checked) -> Iterator[Finding | None]:
    """The product's strength is stated once, and in words that mean one thing."""
    touch_up = checked.season.keeper.touch_up
    try:
        product_strength(touch_up)
    except ValueError as error:
        key = PERCENT if touch_up.strength_mg_per_ml is None else MG_PER_ML
        right = f"write {PERCENT} (by volume) or {MG_PER_ML}, as on the label"
        yield Finding(("keeper", "touch_up", key), str(error), right)


def bath_in_a_tub(checked: Checked) -> Iterator[Finding | None]:
    """A bath is no larger than a tub for sedation, or than the keeper's own tub: a slip of one
    digit is ten times the dose."""
    touch_up, figures = checked.season.keeper.touch_up, checked.season.keeper.figures
    litres, tub, units = touch_up.bath_litres, touch_up.tub, checked.season.keeper.units
    if litres is None:
        return
    most = figures["bath_litres_most"]
    sides = listed((key_in(key, units) for key in ("length_cm", "width_cm", "depth_cm")), "and")
    right = f"put it right, or write the tub's size under touch_up (tub: {sides})"
    if tub is not None:
        holds = tub.length_cm * tub.width_cm * tub.depth_cm / 1000
        most = min(holds, figures["bath_litres_tub"])
        right = f"put {key_in('bath_litres', units)} right, or the tub's size"
    if litres > most * (1 + 1e-9):
        said, tenth, top = (show_volume(one, units) for one in (litres, litres / 10, most))
        what = f"{said}, or {tenth}? A tub here holds {top} at most"
        yield Finding(("keeper", "touch_up", "bath_litres"), what, right)


def agent_known(checked: Checked) -> Iterator[Finding | None]:
    """There is a sheet for the agent of the bath; a vet may use another."""
    touch_up = checked.season.keeper.touch_up
    try:
        agent_named(touch_up.agent)
    except ValueError as error:
        path = ("keeper", "touch_up", "agent")
        right = "put it right, or plan this with a vet"
        yield Finding(path, str(error), right, "fault" if touch_up.by == "keeper" else "warning")


def law_country_named(checked: Checked) -> Iterator[Finding | None]:
    """The law is checked for a country: without one the statement counts for nothing."""
    touch_up = checked.season.keeper.touch_up
    if touch_up.law_checked and touch_up.law_country is None:
        what = "the country is not said, so your own statement counts as no: ask a vet"
        right = "add the country whose law you checked, such as law_country: Ireland"
        yield Finding(("keeper", "touch_up", "law_checked"), what, right, "warning")


def size_tables_sound(checked: Checked) -> Iterator[Finding | None]:
    for name, table in checked.season.keeper.size_tables.items():
        try:
            size_table(name, table)
        except ValueError as error:
            path = ("keeper", "size_tables", name)
            yield Finding(
                path, str(error), "write the upper bounds from small to large", of_key=True
            )


def kinds_sound(checked: Checked) -> Iterator[Finding | None]:
    """The keeper's own requirements are of known kinds of defect, and rise."""
    kinds = shipped_facts().kinds
    for name, own in checked.season.keeper.defect_kinds.items():
        path = ("keeper", "defect_kinds", name)
        yield checked.kind(path, name, of_key=True)
        for milestone, figures in (("closed", own.closed), ("clean", own.clean)):
            if figures is None or name not in kinds:
                continue
            shipped = getattr(kinds[name], milestone)
            try:
                made = own_milestone(shipped, figures)
            except ValueError as error:
                yield Finding((*path, milestone), str(error), "write the smallest as low")
                continue
            if fault := fault_in_own_milestone(shipped, made):
                right = "look up what you measured, or take the line out: the table stands then"
                yield Finding((*path, milestone), fault, right)
    yield from _stitches_hold(checked)


def _stitches_hold(checked: Checked) -> Iterator[Finding | None]:
    """Own figures take no stitches out before the cut they hold is closed."""
    own = checked.season.keeper.defect_kinds
    try:
        kinds = facts_for(checked.season.keeper).kinds
    except ValueError:
        return  # told already
    for name, kind in kinds.items():
        if kind.holds is None or kind.closed is None or not {name, kind.holds} & set(own):
            continue
        held = kinds[kind.holds].closed
        at = name if name in own else kind.holds
        path = ("keeper", "defect_kinds", at)
        if held is None:
            continue
        if held.unit != kind.closed.unit:
            what = f"{name} are in {kind.closed.unit} and the {kind.holds} in {held.unit}"
            yield Finding(path, what, "write both in the same unit", of_key=True)
        elif not_before(kind.closed, held) != kind.closed:
            what = f"{name} would be out before the {kind.holds} they hold is closed"
            right = f"the later days of the {kind.holds} are used"
            yield Finding(path, what, right, "warning", of_key=True)


def figures_sound(checked: Checked) -> Iterator[Finding | None]:
    """The keeper's own figures exist, and none that guards the fish is made laxer."""
    for name, value in checked.season.keeper.figures.own.items():
        path = ("keeper", "figures", name)
        if name in GONE:
            yield Finding(
                path, str(fault_in_own_value(name, value)), "take the line out", of_key=True
            )
        elif name not in FIGURES:
            yield checked.unknown(path, "figure", name, FIGURES, of_key=True)
        elif fault := fault_in_own_value(name, value):
            right = f"the figure as shipped is {FIGURES[name].typical:g}"
            yield Finding(path, fault, right)


def rations_sound(checked: Checked) -> Iterator[Finding | None]:
    """The steps of the keeper's own feeding table go on where the one before ends."""
    steps = checked.season.keeper.rations or ()
    shown_c = partial(show_temperature, units=checked.season.keeper.units)
    for at, step in enumerate(steps):
        path = ("keeper", "rations", at)
        if step.below_c <= step.from_c:
            what = f"the step ends at {shown_c(step.below_c)}, where it begins or before"
            yield Finding((*path, "below_c"), what, f"write more than {shown_c(step.from_c)}")
        if not step.low <= step.typical <= step.high:
            what = (
                f"low, typical and high do not rise: {step.low:g}, {step.typical:g}, {step.high:g}"
            )
            yield Finding(path, what, "write the smallest as low")
    for at, (one, two) in enumerate(pairwise(steps)):
        if one.below_c != two.from_c:
            ends, begins = shown_c(one.below_c), shown_c(two.from_c)
            what = f"the step before ends at {ends}, this one begins at {begins}"
            yield Finding(("keeper", "rations", at + 1, "from_c"), what, f"write {ends}")


def chances_in_order(checked: Checked) -> Iterator[Finding | None]:
    """A fish that is called ready is never less likely than a touch-up that may be planned."""
    preferences = checked.season.keeper.preferences
    sure, least = preferences.sure_enough, preferences.least_chance
    if least > sure:
        key = "least_chance" if "least_chance" in preferences.model_fields_set else "sure_enough"
        what = f"least_chance ({least:g}) is above sure_enough ({sure:g})"
        right = f"write least_chance: {sure:g} or less, or a higher sure_enough"
        yield Finding(("keeper", "preferences", key), what, right)


def returns_in_order(checked: Checked) -> Iterator[Finding | None]:
    """The weeks until a speck is back rise."""
    weeks = checked.season.keeper.preferences.speck_returns_after_weeks
    if not weeks.low <= weeks.usual <= weeks.high:
        path = ("keeper", "preferences", "speck_returns_after_weeks")
        what = f"low, usual and high do not rise: {weeks.low:g}, {weeks.usual:g}, {weeks.high:g}"
        yield Finding(path, what, "write the smallest as low")


KEEPER_CHECKS = (
    chances_in_order,
    returns_in_order,
    one_temperature,
    curve_plausible,
    agent_known,
    names_apart,
    readings_not_ahead,
    waters_apart_exist,
    away_in_order,
    rules_give_days,
    strength_sound,
    bath_in_a_tub,
    law_country_named,
    size_tables_sound,
    kinds_sound,
    figures_sound,
    rations_sound,
)
