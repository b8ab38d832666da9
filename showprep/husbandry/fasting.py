"""How long a fish goes without food, and what that costs it."""

from __future__ import annotations

from math import ceil
from typing import Literal

from msgspec import Struct

from showprep.husbandry.figure_record import DERIVED, PRACTICE, Grade
from showprep.husbandry.figures import FiguresInForce
from showprep.husbandry.gut import hours_to_empty
from showprep.husbandry.plausible import not_negative
from showprep.husbandry.reason import Reason, reason

Purpose = Literal["show", "transport", "sedation"]


class Fast(Struct, frozen=True):
    """Whole days [d] without food, and how well the figure is known."""

    days: int
    grade: Grade


def fast_days(
    water_c: float,
    purpose: Purpose,
    figures: FiguresInForce,
    own_rule_days: int | None = None,
    algae_pond: bool = False,
) -> Fast:
    """Days without food [d] before a show, a journey or a sedation in water of `water_c` [°C].

    A show: the longest of gut clearance (99 % out, twice over for safety), the trade's usual 5, 6
    or 7 days, 10 days from a pond rich in algae, and what a journey needs. Two readings of
    the guides differ (3 or 5 days at least); travelling empty is the safer for the fish. The show's
    own rule replaces the trade's days, but not gut clearance.
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
        return _least(_transport(water_c, figures), own_rule_days)
    # Whatever the show asks for, the fish travels to it.
    travels = _transport(water_c, figures)
    shown = _show(water_c, own_rule_days, algae_pond, figures)
    return shown if shown.days >= travels.days else travels


def _clearance(water_c: float, safety: float) -> int:
    return ceil(safety * hours_to_empty(water_c) / 24)


def _sedation(water_c: float) -> Fast:
    # Two days below 15 °C: the cold extension of the usual 24 h.
    days = max(2 if water_c < 15 else 1, _clearance(water_c, 1.0))
    return Fast(days, DERIVED)


def _transport(water_c: float, figures: FiguresInForce) -> Fast:
    days = _clearance(water_c, figures["fast_safety_transport"])
    least = ceil(figures["fast_transport_min"])
    if days > least:
        return Fast(days, DERIVED)
    return Fast(least, PRACTICE)


def _show(water_c: float, own_rule: int | None, algae_pond: bool, figures: FiguresInForce) -> Fast:
    cap = figures["fast_show_cap_cold" if water_c < 10 else "fast_show_cap"]
    least = figures["fast_show_least"]
    gut = int(max(least, min(_clearance(water_c, figures["fast_safety"]), cap)))
    empty = Fast(gut, DERIVED)
    if algae_pond:
        grazed = ceil(figures["fast_algae_pond"])
        if grazed > gut:
            empty = Fast(grazed, PRACTICE)
    if own_rule is not None:
        rule = Fast(own_rule, PRACTICE)
        return rule if own_rule >= empty.days else empty
    usual = _usual(water_c, figures)
    return usual if usual.days >= empty.days else empty


def _usual(water_c: float, figures: FiguresInForce) -> Fast:
    if water_c >= 22:
        name = "fast_show_warm"
    else:
        name = "fast_show_mild" if water_c >= 18 else "fast_show_cool"
    days = ceil(figures[name])
    return Fast(days, PRACTICE)


def _least(fast: Fast, own_rule: int | None) -> Fast:
    if own_rule is None or own_rule <= fast.days:
        return fast
    return Fast(own_rule, PRACTICE)


def fast_warning(
    days_before: float,
    days_at_show: float,
    days_rest: float,
    water_c: float,
    figures: FiguresInForce,
) -> Reason | None:
    """Tell when a fast is long enough to cost the fish, or return None.

    The whole fast is the days before departure, at the show and at rest at home [d], in water of
    `water_c` [°C]: more than 8 days before, or more than 10 in all above 15 °C, or more than 12
    in all at 20 °C and more (derived: lipid goes first, in the first week). A warning only.
    """
    parts = (days_before, days_at_show, days_rest)
    total = sum(not_negative(days, "the days without food", "days") for days in parts)
    lost = fast_loss_percent(total, figures)  # [% of body weight] by the end
    if water_c >= 20 and total > figures["fast_warn_total"]:
        return reason("fast-long-in-warmth", days=total, lost=lost)
    if water_c > 15 and total > figures["fast_warn_total_mild"]:
        return reason("fast-long-in-all", days=total, lost=lost)
    if days_before > figures["fast_warn_before"]:
        return reason("fast-long-before", days=days_before, lost=lost)
    return None


def fast_loss_percent(days: float, figures: FiguresInForce) -> float:
    """Share of body weight [%] lost in a fast of `days` [d], compounded.

    The 0.4427 % a day (`fast_loss`) is an upper figure (22 % in 56 days, 12.5 g gibel carp at
    25.8 °C); a large or cool koi loses less. Its length does not shrink.
    """
    return float(
        100 * (1 - (1 - figures["fast_loss"] / 100) ** not_negative(days, "a fast", "days"))
    )
