"""The bath for a sedation with clove oil: how much, how strong, how long, and what is refused.

The limits rest on common carp: general anaesthesia from 30 mg oil/L and 40 the least that took
under 3 minutes (Hajek et al. 2006); after 10 minutes 0.1 % died at 51.6 mg/L, half at 74.3 and
99.9 % at 110.1 (Velíšek et al. 2005). Where a limit is set is our own choice, below these figures.
Local law decides whether any of it is a vet's work.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal, NamedTuple

from showprep.husbandry.figures import figure, setting
from showprep.husbandry.mortality import (
    TRIAL_MINUTES,
    carp_dead,
    share_dead,
    strength_killing,
)
from showprep.husbandry.plausible import more_than_nothing
from showprep.husbandry.sedation_course import (
    STAGES,
    Minutes,
    Stage,
    bath_rules,
    curve_minutes,
    minutes_to_loss_of_balance,
    minutes_to_recover,
    stop_signs,
    timing_sign,
)
from showprep.husbandry.sedation_fit import (
    Fit,
    Level,
    before_departure,
    cold_drop_block,
    days_between,
    since_last_sedation,
    since_move,
    since_spawning,
    water_fit,
)
from showprep.husbandry.strength import Strength, neat_mg_per_ml, parse_strength

__all__ = [
    "BATH_FIT",
    "STAGES",
    "BathFit",
    "BufferedDose",
    "Dose",
    "Fit",
    "Level",
    "Minutes",
    "Stage",
    "Strength",
    "TimeLimit",
    "bath_fit",
    "bath_rules",
    "before_departure",
    "carp_dead",
    "cold_drop_block",
    "curve_minutes",
    "days_between",
    "dose",
    "fish_per_bath",
    "longest_minutes",
    "minutes_to_loss_of_balance",
    "minutes_to_recover",
    "ms222_dose",
    "parse_strength",
    "share_dead",
    "since_last_sedation",
    "since_move",
    "since_spawning",
    "stop_signs",
    "strongest",
    "target_fit",
    "time_limit",
    "timing_sign",
    "trial_steps",
    "water_fit",
]

Own = Mapping[str, float] | None


class BathFit(NamedTuple):
    """The answer of a check of the bath: `fit`, `warn` or `block`, and why in words."""

    level: Level
    reason: str


BATH_FIT = BathFit("fit", "")


@dataclass(frozen=True, slots=True)
class Dose:
    """A bath of clove oil: what to measure out, and how it stands to what kills carp.

    `share_dead` and `if_undiluted_share_dead`: share of carp (0 to 1) dead after ten minutes.
    """

    millilitres: float
    oil_mg_per_l: float
    eugenol_mg_per_l: float
    if_undiluted_mg_per_l: float
    times_lc50: float
    if_undiluted_times_lc50: float
    share_dead: float
    if_undiluted_share_dead: float
    warnings: tuple[str, ...]


def strongest(own: Own = None) -> float:
    """Strongest bath [mg oil/L] that is ever worked out, with a vet or without.

    The lower of `clove_refuse` and the strength at which `clove_dead_most` of carp would die in ten
    minutes (1 in 100 at 56.4 mg/L, the line through the points of Velíšek et al. 2005).
    """
    killing = strength_killing(setting("clove_dead_most", own), setting("clove_lc50", own))
    return min(setting("clove_refuse", own), killing)


def target_fit(target_mg_per_l: float, vet_agreed: bool = False, own: Own = None) -> BathFit:
    """Judge a bath of `target_mg_per_l` [mg oil/L].

    Blocked above 50 unless a vet has agreed to it, above `strongest` (56) always.
    """
    more_than_nothing(target_mg_per_l, "the strength of the bath", "mg/L")
    dead = carp_dead(share_dead(target_mg_per_l, setting("clove_lc50", own)))
    said = f"at {target_mg_per_l:.10g} mg/L {dead} would die in ten minutes"
    if target_mg_per_l > (most := strongest(own)):
        return BathFit(
            "block",
            f"{said}. Above {most:.3g} mg/L no bath is worked out here, with a vet or without,"
            " however short it is",
        )
    if target_mg_per_l > (most := setting("clove_block", own)) and not vet_agreed:
        return BathFit(
            "block",
            f"{said}. Above {most:g} mg/L it is a vet's bath: carp begin to die at 51.6. Ask a vet,"
            f" or use {min(setting('clove_target', own), most):g}",
        )
    if target_mg_per_l > setting("clove_warn", own):
        return BathFit("warn", f"{said}; {setting('clove_target', own):g} mg/L is enough")
    return BATH_FIT


def dose(
    litres: float,
    target_mg_per_l: float,
    strength: Strength,
    vet_agreed: bool = False,
    own: Own = None,
) -> Dose:
    """Work out the millilitres of product for a bath of `litres` [L] at `target_mg_per_l` [mg/L].

    Shown beside it: mg of eugenol (0.85 of the oil), the multiple of the dose that kills half of
    carp in 10 minutes, and what the same millilitres would give if the bottle were in fact neat.
    Raises ValueError in words for a bath that `target_fit` blocks, or no water.
    """
    more_than_nothing(litres, "the bath", "L")
    fit = target_fit(target_mg_per_l, vet_agreed, own)
    if fit.level == "block":
        raise ValueError(fit.reason)
    millilitres = target_mg_per_l * litres / strength.oil_mg_per_ml
    neat = max(millilitres * neat_mg_per_ml() / litres, target_mg_per_l)
    lc50 = setting("clove_lc50", own)
    dead, neat_dead = share_dead(target_mg_per_l, lc50), share_dead(neat, lc50)
    warnings = [fit.reason] if fit.level == "warn" else []
    if not strength.is_neat:
        warnings.append(
            f"If this bottle is in fact undiluted, {millilitres:.1f} mL would give {neat:.0f} mg/L:"
            f" {carp_dead(neat_dead)} would die in ten minutes. Read the label, and try one fish"
            " first."
        )
    return Dose(
        millilitres,
        target_mg_per_l,
        target_mg_per_l * setting("eugenol_fraction"),
        neat,
        target_mg_per_l / lc50,
        neat / lc50,
        dead,
        neat_dead,
        tuple(warnings),
    )


class TimeLimit(NamedTuple):
    """The longest time in a bath [min], and which rule sets it."""

    minutes: float
    law: Literal["most", "product", "toxic load"]


def time_limit(mg_per_l: float, own: Own = None) -> TimeLimit:
    """Longest time [min] in `mg_per_l` [mg oil/L]: the least of three.

    `bath_max` (10); the product mg/L x minutes, `clove_ct_warn` (400); and the toxic load C^n t,
    which at ten minutes is the same as the product. The product is n = 1. Both ends of the range
    of n are tried: 0.8, and the `toxic_load_exponent` of 4.5 (derived: 10-minute LC50 74.3 and
    96-hour LC50 18.1 mg/L, Velíšek et al. 2005), which is the safer for a strong, short bath.
    """
    more_than_nothing(mg_per_l, "the strength of the bath", "mg/L")
    most, product = setting("bath_max", own), setting("clove_ct_warn", own)
    borne = product / TRIAL_MINUTES  # mg/L for ten minutes
    if mg_per_l <= borne:
        return TimeLimit(most, "most")  # every law gives ten minutes or more
    exponents = (figure("toxic_load_exponent").low, setting("toxic_load_exponent", own))
    found = [
        TimeLimit(most, "most"),
        TimeLimit(product / mg_per_l, "product"),
        *(TimeLimit(TRIAL_MINUTES * (borne / mg_per_l) ** n, "toxic load") for n in exponents),
    ]
    return min(found, key=lambda one: one.minutes)


def longest_minutes(mg_per_l: float, own: Own = None) -> float:
    """Longest time in the bath [min], by the strictest rule of `time_limit`."""
    return time_limit(mg_per_l, own).minutes


def trial_steps(target_mg_per_l: float, own: Own = None) -> tuple[float, ...]:
    """Strengths [mg/L] to try on the first fish of a new bottle: 25, by 5 up to the target."""
    start, step = setting("clove_trial_start", own), setting("clove_trial_step", own)
    more_than_nothing(step, "the step between trial strengths", "mg/L")
    whole = int((target_mg_per_l - start) // step) + 1 if target_mg_per_l > start else 0
    steps = [start + step * number for number in range(whole)]
    return (*(s for s in steps if s < target_mg_per_l), target_mg_per_l)


def bath_fit(litres: float, kg: float, own: Own = None) -> BathFit:
    """Judge a bath of `litres` [L] for one fish of `kg` [kg]: least 10 L/kg, better 20.

    An assumption, there is no published figure; the water must cover the fish's back as well.
    """
    per_kg = more_than_nothing(litres, "the bath", "L") / more_than_nothing(
        kg, "the weight of a fish", "kg"
    )
    least, wanted = setting("bath_litres_per_kg_least", own), setting("bath_litres_per_kg", own)
    if per_kg < least:
        return BathFit(
            "block", f"{litres:g} L is too little for {kg:.1f} kg; use {kg * least:.0f} L"
        )
    if per_kg < wanted:
        return BathFit(
            "warn", f"{litres:g} L is tight for {kg:.1f} kg; {kg * wanted:.0f} L is better"
        )
    return BATH_FIT


def fish_per_bath(litres: float, heaviest_kg: float, own: Own = None) -> int:
    """Fish one after another before the bath is made afresh: 1 to 3, by 5 L for each kg.

    An assumption (so is a fresh bath after an hour): each fish takes up oil and oxygen, and
    leaves slime and ammonia.
    """
    more_than_nothing(heaviest_kg, "the weight of a fish", "kg")
    by_weight = int(more_than_nothing(litres, "the bath", "L") / (5 * heaviest_kg))
    return max(1, min(round(setting("bath_fish", own)), by_weight))


@dataclass(frozen=True, slots=True)
class BufferedDose:
    """MS-222 for a bath [g], and the sodium bicarbonate that buffers it [g]."""

    grams: float
    bicarbonate_grams: float
    warnings: tuple[str, ...]


def ms222_dose(litres: float, target_mg_per_l: float, vet_agreed: bool) -> BufferedDose:
    """Weigh out MS-222 for `litres` [L] at `target_mg_per_l` [mg/L], figures for a vet's sheet.

    50 mg/L produced anaesthesia of carp in under 3 minutes (Mohamed 1999); the rest, and twice its
    weight of bicarbonate to pH 7.0 to 7.5, is from memory. Raises ValueError without a
    vet, above 150 mg/L, or for no water.
    """
    more_than_nothing(litres, "the bath", "L")
    more_than_nothing(target_mg_per_l, "the strength of the bath", "mg/L")
    if not vet_agreed:
        raise ValueError("MS-222 is a prescription medicine in many countries: ask a vet")
    if target_mg_per_l > (most := setting("ms222_refuse")):
        raise ValueError(f"{target_mg_per_l:g} mg/L of MS-222 is refused; {most:g} is the limit")
    grams = litres * target_mg_per_l / 1000
    warnings = ["Bring the bath to pH 7.0 to 7.5 before any fish goes in; unbuffered it is acid."]
    if target_mg_per_l >= (least := setting("ms222_anaesthesia")):
        warnings.append(
            f"From {least:g} mg/L it is anaesthesia by the trial, a vet's work in many countries."
        )
    return BufferedDose(grams, grams * setting("ms222_buffer"), tuple(warnings))
