"""The bath for a sedation with clove oil: how much, how strong, how long, and what is refused.

The limits rest on common carp: general anaesthesia from 30 mg oil/L and 40 the least that took
under 3 minutes (Hajek et al. 2006); after 10 minutes 0.1 % died at 51.6 mg/L, half at 74.3 and
99.9 % at 110.1 (Velíšek et al. 2005). Where a limit is set is our own choice, below these figures.
Local law decides whether any of it is a vet's work.
"""

from __future__ import annotations

from typing import Literal, NamedTuple

from msgspec import Struct

from showprep.husbandry.figures import FiguresInForce, figure
from showprep.husbandry.mortality import TRIAL_MINUTES, share_dead, strength_killing
from showprep.husbandry.plausible import more_than_nothing
from showprep.husbandry.reason import Kilograms, Litres, Reason, Refusal, reason
from showprep.husbandry.sedation_fit import FIT, Fit
from showprep.husbandry.strength import NEAT_MG_PER_ML, Strength


class Dose(Struct, frozen=True):
    """A bath of clove oil: what to measure out, and how it stands to what kills carp.

    `share_dead` and those of a stronger bottle: share of carp (0 to 1) dead after ten minutes.
    `if_tenfold`: of a weak bottle, were it ten times as strong as was read.
    """

    millilitres: float
    oil_mg_per_l: float
    eugenol_mg_per_l: float
    if_undiluted_mg_per_l: float
    times_lc50: float
    if_undiluted_times_lc50: float
    share_dead: float
    if_undiluted_share_dead: float
    if_tenfold_mg_per_l: float
    if_tenfold_share_dead: float
    warnings: tuple[Reason, ...]


def strongest(figures: FiguresInForce) -> float:
    """Strongest bath [mg oil/L] that is ever worked out, with a vet or without.

    The lower of `clove_refuse` and the strength at which `clove_dead_most` of carp would die in ten
    minutes (1 in 100 at 56.4 mg/L, the line through the points of Velíšek et al. 2005).
    """
    killing = strength_killing(figures["clove_dead_most"], figures["clove_lc50"])
    return min(figures["clove_refuse"], killing)


def target_fit(target_mg_per_l: float, figures: FiguresInForce, *, vet_agreed: bool) -> Fit:
    """Judge a bath of `target_mg_per_l` [mg oil/L].

    Blocked above 50 unless a vet has agreed to it, above `strongest` (56) always.
    """
    more_than_nothing(target_mg_per_l, "bath strength", "mg/L")
    dead = share_dead(target_mg_per_l, figures["clove_lc50"])
    usual, most = figures["clove_target"], strongest(figures)
    if target_mg_per_l > most:
        why = reason("bath-kills-too-many", target=target_mg_per_l, dead=dead, most=most)
        return Fit("block", why)
    if target_mg_per_l > (most := figures["clove_block"]) and not vet_agreed:
        why = reason(
            "bath-is-a-vets", target=target_mg_per_l, dead=dead, most=most, usual=min(usual, most)
        )
        return Fit("block", why)
    if target_mg_per_l > figures["clove_warn"]:
        return Fit("warn", reason("bath-is-strong", target=target_mg_per_l, dead=dead, usual=usual))
    return FIT


def dose(
    litres: float,
    target_mg_per_l: float,
    strength: Strength,
    figures: FiguresInForce,
    *,
    vet_agreed: bool = False,
) -> Dose:
    """Work out the millilitres of product for a bath of `litres` [L] at `target_mg_per_l` [mg/L].

    Shown beside it: mg of eugenol (0.85 of the oil), the multiple of the dose that kills half of
    carp in 10 minutes, and what the same millilitres would give if the bottle were in fact neat.
    Raises Refusal for a bath that `target_fit` blocks, ValueError for no water.
    """
    more_than_nothing(litres, "bath", "L")
    fit = target_fit(target_mg_per_l, figures, vet_agreed=vet_agreed)
    if fit.level == "block" and fit.reason is not None:
        raise Refusal(fit.reason)
    millilitres = target_mg_per_l * litres / strength.oil_mg_per_ml
    neat = max(millilitres * NEAT_MG_PER_ML / litres, target_mg_per_l)
    lc50 = figures["clove_lc50"]
    dead, neat_dead = share_dead(target_mg_per_l, lc50), share_dead(neat, lc50)
    warnings = [] if fit.reason is None else [fit.reason]
    if not strength.is_neat:
        warnings.append(
            reason("if-undiluted", millilitres=millilitres, mg_per_l=neat, dead=neat_dead)
        )
    return Dose(
        millilitres,
        target_mg_per_l,
        target_mg_per_l * figures["eugenol_fraction"],
        neat,
        target_mg_per_l / lc50,
        neat / lc50,
        dead,
        neat_dead,
        10 * target_mg_per_l,
        share_dead(10 * target_mg_per_l, lc50),
        tuple(warnings),
    )


Law = Literal["most", "product", "toxic load"]


class TimeLimit(NamedTuple):
    """The longest time in a bath [min], and which rule sets it."""

    minutes: float
    law: Law


def time_limit(mg_per_l: float, figures: FiguresInForce) -> TimeLimit:
    """Longest time [min] in `mg_per_l` [mg oil/L]: the least of three.

    `bath_max` (10); the product mg/L x minutes, `clove_ct_warn` (400); and the toxic load C^n t,
    which at ten minutes is the same as the product. The product is n = 1. Both ends of the range
    of n are tried: 0.8, and the `toxic_load_exponent` of 4.5 (derived: 10-minute LC50 74.3 and
    96-hour LC50 18.1 mg/L, Velíšek et al. 2005), which is the safer for a strong, short bath.
    """
    more_than_nothing(mg_per_l, "bath strength", "mg/L")
    most, product = figures["bath_max"], figures["clove_ct_warn"]
    borne = product / TRIAL_MINUTES  # mg/L for ten minutes
    if mg_per_l <= borne:
        return TimeLimit(most, "most")  # every law gives ten minutes or more
    exponents = (figure("toxic_load_exponent").low, figures["toxic_load_exponent"])
    found = [
        TimeLimit(most, "most"),
        TimeLimit(product / mg_per_l, "product"),
        *(TimeLimit(TRIAL_MINUTES * (borne / mg_per_l) ** n, "toxic load") for n in exponents),
    ]
    return min(found, key=lambda one: one.minutes)


def longest_minutes(mg_per_l: float, figures: FiguresInForce) -> float:
    """Longest time in the bath [min], by the strictest rule of `time_limit`."""
    return time_limit(mg_per_l, figures).minutes


def trial_steps(target_mg_per_l: float, figures: FiguresInForce) -> tuple[float, ...]:
    """Strengths [mg/L] to try on the first fish of a new bottle: 25, by 5 up to the target."""
    start, step = figures["clove_trial_start"], figures["clove_trial_step"]
    more_than_nothing(step, "trial step", "mg/L")
    whole = int((target_mg_per_l - start) // step) + 1 if target_mg_per_l > start else 0
    steps = [start + step * number for number in range(whole)]
    return (*(s for s in steps if s < target_mg_per_l), target_mg_per_l)


def bath_fit(litres: float, kg: float, figures: FiguresInForce) -> Fit:
    """Judge a bath of `litres` [L] for one fish of `kg` [kg]: least 10 L/kg, better 20.

    An assumption, there is no published figure; the water must cover the fish's back as well.
    """
    per_kg = more_than_nothing(litres, "bath", "L") / more_than_nothing(kg, "fish weight", "kg")
    least, wanted = figures["bath_litres_per_kg_least"], figures["bath_litres_per_kg"]
    bath, fish = Litres(litres), Kilograms(kg)
    if per_kg < least:
        return Fit(
            "block", reason("bath-too-small", bath=bath, fish=fish, wanted=Litres(kg * least))
        )
    if per_kg < wanted:
        return Fit("warn", reason("bath-tight", bath=bath, fish=fish, wanted=Litres(kg * wanted)))
    return FIT


def fish_per_bath(litres: float, heaviest_kg: float, figures: FiguresInForce) -> int:
    """Fish one after another before the bath is made afresh: 1 to 3, by 5 L for each kg.

    An assumption (so is a fresh bath after an hour): each fish takes up oil and oxygen, and
    leaves slime and ammonia.
    """
    more_than_nothing(heaviest_kg, "fish weight", "kg")
    by_weight = int(more_than_nothing(litres, "bath", "L") / (5 * heaviest_kg))
    return max(1, min(round(figures["bath_fish"]), by_weight))


class BufferedDose(Struct, frozen=True):
    """MS-222 for a bath [g], and the sodium bicarbonate that buffers it [g]."""

    grams: float
    bicarbonate_grams: float
    warnings: tuple[Reason, ...]


def ms222_dose(
    litres: float, target_mg_per_l: float, figures: FiguresInForce, *, vet_agreed: bool
) -> BufferedDose:
    """Weigh out MS-222 for `litres` [L] at `target_mg_per_l` [mg/L], figures for a vet's sheet.

    50 mg/L produced anaesthesia of carp in under 3 minutes (Mohamed 1999); the rest, and twice its
    weight of bicarbonate to pH 7.0 to 7.5, is from memory. Raises Refusal without a vet or above
    `ms222_refuse` (150 mg/L), ValueError for no water.
    """
    more_than_nothing(litres, "bath", "L")
    more_than_nothing(target_mg_per_l, "bath strength", "mg/L")
    if not vet_agreed:
        raise Refusal(reason("ms222-without-a-vet"))
    if target_mg_per_l > (most := figures["ms222_refuse"]):
        raise Refusal(reason("ms222-too-strong", target=target_mg_per_l, most=most))
    grams = litres * target_mg_per_l / 1000
    warnings = [reason("ms222-unbuffered")]
    if target_mg_per_l >= (least := figures["ms222_anaesthesia"]):
        warnings.append(reason("ms222-is-anaesthesia", least=least))
    return BufferedDose(grams, grams * figures["ms222_buffer"], tuple(warnings))
