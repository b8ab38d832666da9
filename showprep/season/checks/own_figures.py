"""What is wrong with a keeper's own value of a figure, or requirement of healing."""

from __future__ import annotations

from math import isfinite

from showprep.husbandry.figure_record import Figure
from showprep.husbandry.figures import FIGURES
from showprep.husbandry.healing import Milestone
from showprep.husbandry.thermal_time import degree_days
from showprep.season.values.figure_values import TEMPERATURES

# Figures that a keeper may still have in the files, and why they are no more.
GONE = {
    "sedation_spacing_least": "a shorter rest than the wanted one is no longer let pass with a "
    "warning: sedation_spacing (12 days) and sedation_spacing_cold (14) block",
    "clove_ct_block": "there is one longest time now, by clove_ct_warn and toxic_load_exponent",
    "step_float": "a step too great to be taken at once (step_direct, step_direct_falling) goes at"
    " temper_rate, whatever its size",
    "bag_tau": "no step hangs on a floating bag any more; it goes at temper_rate",
    "colour_least_c": "no rule asks how warm the water is for colour food: the day on which "
    "it stops is colour_stop days before judging",
    "oil_density": "clove oil weighs 1.05 g/mL by the pharmacopoeia, so that the second person who "
    "reads the label comes to the same; a strength in mg/mL needs no density",
    "induction_too_slow": "the longest time on the sheet (bath_max at most) says when a fish that "
    "is still upright comes out",
    "o2_q10": "what a fish uses and gives off doubles for each 10 °C",
    "tan20_fasted": "a bag is calculated with tan20_bag",
    "tan20_one_day": "a bag is calculated with tan20_bag",
    "tan20_fed": "a bag is calculated with tan20_bag",
    "salt_transport": "salt is used where it is said, with bags --salt-g-per-l",
    "ms222_sedation": "50 mg/L is anaesthesia by its source: the figure is ms222_anaesthesia",
}
# Figures of which none at all would mean nothing.
NOT_ZERO = frozenset(
    {
        *("clove_target", "clove_lc50", "clove_trial_step", "bath_fish"),
        *("temp_ramp", "temper_rate", "linf", "k_growth", "growth_year", "sigma_length"),
        *("bag_water_share", "induction", "recovery", "co2_warn", "co2_stop", "tan_stop"),
        *("o2_store_use", "o2_purity", "bag_hours", "bag_hours_stop"),
    }
)
# The least and the most of a share: of these a little outside what was published is no share of it.
SHARES = {"of ration": (0.5, 1.0), "of volume": (1.0, None), "of oil": (1.0, 1.0)}
# Guards of which too much of the safer side harms as well: fish that fast for weeks, or starve.
HARMS_BOTH_WAYS = frozenset(
    {
        *("fast_safety", "fast_safety_transport", "fast_show_least", "fast_transport_min"),
        *("refeed_wait", "refeed_ramp", "refeed_share", "refeed_share_later"),
    }
)
STRICTER = 10.0  # a guard may be so many times stricter than any source; more is a slip of the pen
MOST_A_DAY = degree_days(40.0)  # what the warmest day gives: figures in days are no quicker
OTHER = 2.0  # what shapes the plan alone may be so many times outside its sources
WARMER_C = 12.0  # a temperature may be so far outside its sources [°C]


def own_range(row: Figure) -> tuple[float, float]:
    """The least and the most that a keeper may write for a figure, in its unit.

    From the spread of its sources (`low` to `high`); one that guards the fish ends at its typical
    value on the unsafe side. The widths beyond are ours.
    """
    least, most = _beyond(row)
    if row.safe == "lower":
        return least, row.typical
    return (row.typical, most) if row.safe == "higher" else (least, most)


def _beyond(row: Figure) -> tuple[float, float]:
    if row.name in TEMPERATURES:
        return max(0.0, row.low - WARMER_C), row.high + WARMER_C
    if row.unit in SHARES:
        part, most = SHARES[row.unit]
        return part * row.low, row.high if most is None else most
    if row.unit in ("fish", "bags"):
        return row.low, STRICTER * row.high  # whole ones
    times = STRICTER if row.safe != "either" and row.name not in HARMS_BOTH_WAYS else OTHER
    return row.low / times, times * row.high


def fault_in_own_value(name: str, value: float) -> str | None:
    """Say in a sentence what is wrong with a keeper's own value of a figure, or return None."""
    known = FIGURES.get(name)
    if name in GONE:
        return f"the figure {name} is gone: {GONE[name]}"
    if known is None:
        return f"there is no figure called {name}"
    if value == 0 and name in NOT_ZERO:
        return f"{name} must be more than 0"
    if not isfinite(value) or value < 0:
        return f"{name} must be a number of 0 or more; {value:g} was given"
    if known.safe == "lower" and value > known.typical:
        return (
            f"{name} guards the fish and can only be made stricter:"
            f" {known.typical:g} {known.unit} or less, not {value:g}"
        )
    if known.safe == "higher" and value < known.typical:
        return (
            f"{name} guards the fish and can only be made stricter:"
            f" {known.typical:g} {known.unit} or more, not {value:g}"
        )
    least, most = own_range(known)
    if not least <= value <= most:
        sources = f"{known.low:g} to {known.high:g}" if known.low < known.high else f"{known.low:g}"
        return (
            f"{name} cannot be {value:g} {known.unit}: write {least:.4g} to {most:.4g}"
            f" (its sources say {sources})"
        )
    return None


def fault_in_own_milestone(shipped: Milestone | None, own: Milestone) -> str | None:
    """Say what is wrong with a keeper's own requirement of healing, or return None.

    A wound that is closed or clean at once is none: beside the table's figures in the same unit the
    usual case is no quicker than the quick one of the table, the slow no quicker than the usual.
    """
    if own.low <= 0:
        return f"a wound is not healed by {own.low:g} {own.unit}; write more than 0"
    if shipped is None:
        return None
    per_day = MOST_A_DAY if shipped.unit == "degree-days" else 1.0
    if own.unit == "degree-days" and shipped.unit != "degree-days":
        return None  # from files older than the film of skin: so much warmth is at least those days
    scale = per_day if own.unit != shipped.unit else 1.0
    for level, value, least in (
        ("low", own.low, shipped.low / OTHER / scale),
        ("usual", own.usual, shipped.low / scale),
        ("high", own.high, shipped.usual / scale),
    ):
        most = STRICTER * shipped.high
        if not least <= value <= most:
            return (
                f"{level} cannot be {value:g} {own.unit}: write {least:.4g} to {most:.4g} (the "
                f"table has {shipped.low:g}, {shipped.usual:g} and {shipped.high:g})"
            )
    return None
