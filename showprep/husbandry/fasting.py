"""How long a fish goes without food, and what that costs it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import ceil
from typing import Literal

from showprep.husbandry.figure_record import DERIVED, PRACTICE, Mark
from showprep.husbandry.figures import setting
from showprep.husbandry.gut import COLDEST_MEASURED_C, hours_to_empty, is_extended
from showprep.husbandry.plausible import not_negative

Purpose = Literal["show", "transport", "sedation"]
Own = Mapping[str, float] | None


@dataclass(frozen=True, slots=True)
class Fast:
    """Whole days [d] without food, the reason in words, and how well the figure is known."""

    days: int
    why: str
    mark: Mark


def fast_days(
    water_c: float,
    purpose: Purpose,
    own_rule_days: int | None = None,
    algae_pond: bool = False,
    own: Own = None,
) -> Fast:
    """Days without food [d] before a show, a journey or a sedation in water of `water_c` [°C].

    A show: the longest of gut clearance (99 % out, twice over for safety), the trade's usual 5, 6
    or 7 days, and 10 days from a pond rich in algae. Two readings of the guides differ (3 or 5
    days at least); travelling empty is the safer for the fish. The show's own rule replaces the
    trade's days, but not gut clearance. `own` holds the keeper's own figures by name.
    Raises ValueError for an impossible temperature or a rule outside 0 to 30 days.
    """
    if own_rule_days is not None and not 0 <= own_rule_days <= 30:
        raise ValueError(
            f"a show's rule of {own_rule_days} days without food cannot be right;"
            " it should lie between 0 and 30"
        )
    if purpose == "sedation":
        return _least(_sedation(water_c), own_rule_days)
    if purpose == "transport":
        return _least(_transport(water_c, own), own_rule_days)
    return _show(water_c, own_rule_days, algae_pond, own)


def _clearance(water_c: float, safety: float) -> int:
    return ceil(safety * hours_to_empty(water_c) / 24)


def _sedation(water_c: float) -> Fast:
    # Two days below 15 °C: the cold extension of the usual 24 h.
    days = max(2 if water_c < 15 else 1, _clearance(water_c, 1.0))
    return Fast(days, f"so that the gut is empty at {water_c:.0f} °C{_weak(water_c)}", DERIVED)


def _transport(water_c: float, own: Own) -> Fast:
    days = _clearance(water_c, setting("fast_safety_transport", own))
    least = ceil(setting("fast_transport_min", own))
    if days > least:
        return Fast(days, f"so that the gut is empty at {water_c:.0f} °C{_weak(water_c)}", DERIVED)
    return Fast(least, f"no fish travels on less than {least} days without food", PRACTICE)


def _show(water_c: float, own_rule: int | None, algae_pond: bool, own: Own) -> Fast:
    cap = setting("fast_show_cap_cold" if water_c < 10 else "fast_show_cap", own)
    least = setting("fast_show_least", own)
    gut = int(max(least, min(_clearance(water_c, setting("fast_safety", own)), cap)))
    empty = Fast(gut, f"so that the gut is empty at {water_c:.0f} °C{_weak(water_c)}", DERIVED)
    if algae_pond:
        grazed = ceil(setting("fast_algae_pond", own))
        if grazed > gut:
            empty = Fast(grazed, "fish go on grazing in a pond rich in algae", PRACTICE)
    if own_rule is not None:
        rule = Fast(own_rule, f"the show's rule is {own_rule} days", PRACTICE)
        return rule if own_rule >= empty.days else empty
    usual = _usual(water_c, own)
    return usual if usual.days >= empty.days else empty


def _usual(water_c: float, own: Own) -> Fast:
    if water_c >= 22:
        name = "fast_show_warm"
    else:
        name = "fast_show_mild" if water_c >= 18 else "fast_show_cool"
    days = ceil(setting(name, own))
    return Fast(days, f"shows and clubs ask for about {days} days at {water_c:.0f} °C", PRACTICE)


def _least(fast: Fast, own_rule: int | None) -> Fast:
    if own_rule is None or own_rule <= fast.days:
        return fast
    return Fast(own_rule, f"the rule given is {own_rule} days", PRACTICE)


def _weak(water_c: float) -> str:
    if is_extended(water_c) and water_c < COLDEST_MEASURED_C:
        return " (no measurement in water this cold)"
    return ""


def fast_warning(
    days_before: float, days_at_show: float, days_rest: float, water_c: float, own: Own = None
) -> str | None:
    """Say in a sentence when a fast is long enough to cost the fish, or return None.

    The whole fast is the days before departure, at the show and at rest at home [d], in water of
    `water_c` [°C]: more than 8 days before, or more than 10 in all above 15 °C, or more than 12
    in all at 20 °C and more (derived: lipid goes first, in the first week). A warning only.
    """
    parts = (days_before, days_at_show, days_rest)
    total = sum(not_negative(days, "the days without food", "days") for days in parts)
    if water_c >= 20 and total > setting("fast_warn_total", own):
        return f"{total:g} days without food in all is long in warm water: watch for a thin fish"
    if water_c > 15 and total > setting("fast_warn_total_mild", own):
        return f"{total:g} days without food in all, at the show and after it too, is long"
    if days_before > setting("fast_warn_before", own):
        return f"{days_before:g} days without food before the show is long: the fish loses flesh"
    return None


def fast_loss_percent(days: float, percent_per_day: float | None = None) -> float:
    """Share of body weight [%] lost in a fast of `days` [d], compounded.

    The default 0.4427 % a day is an upper figure (22 % in 56 days, 12.5 g gibel carp at 25.8 °C);
    a large or cool koi loses less. Its length does not shrink.
    """
    rate = setting("fast_loss") if percent_per_day is None else percent_per_day
    return float(100 * (1 - (1 - rate / 100) ** not_negative(days, "a fast", "days")))
