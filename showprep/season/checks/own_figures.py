"""What is wrong with a keeper's own value of a figure."""

from __future__ import annotations

from math import isfinite

from showprep.husbandry.figures import FIGURES

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
# The most that there is of a share; of all else, so many times the high value is a slip of the pen.
SHARES = {"of ration": 1.0, "of volume": 1.0, "of oil": 1.0, "of carp": 1.0, "%/d": 100.0}
FAR = 100.0


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
    most = SHARES.get(known.unit, FAR * known.high)
    if value > most:
        return f"{name} cannot be {value:g} {known.unit}; {most:g} or less"
    return None
