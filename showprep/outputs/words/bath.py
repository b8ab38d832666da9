"""Why a bath must not be made, and what is to be minded of one that may be."""

from __future__ import annotations

from typing import TYPE_CHECKING

from showprep.season.values.quantities import show_number

if TYPE_CHECKING:
    from showprep.husbandry.reason import Reason
    from showprep.outputs.words.speaker import Sentences, Speaker

NEW_STOCK = "Make a stock of 1 part oil and 9 parts ethanol"


def carp_dead(share: float) -> str:
    """A share of carp in plain words: `fewer than 1 carp in 1,000`, `about 46 carp in 100`."""
    if share < 0.001:
        return "fewer than 1 carp in 1,000"
    if share < 0.0095:
        return f"about {round(1000 * share)} carp in 1,000"
    if share < 0.995:
        return f"about {max(1, round(100 * share))} carp in 100"
    return "nearly every carp"


def millilitres_text(millilitres: float) -> str:
    """A dose as a syringe reads it: two decimals below 10 mL, one above; always metric."""
    return f"{show_number(millilitres, 2 if millilitres < 10 else 1, trim=False)} mL"


def _number(reason: Reason, name: str) -> float:
    value = reason[name]
    assert isinstance(value, int | float)
    return value


def _would_die(reason: Reason) -> str:
    """`At 60 mg/L about 3 carp in 100 would die in ten minutes`."""
    target, dead = _number(reason, "target"), carp_dead(_number(reason, "dead"))
    return f"At {target:.10g} mg/L {dead} would die in ten minutes"


def _kills_too_many(speaker: Speaker, reason: Reason) -> str:
    return (
        f"{_would_die(reason)}. Above {_number(reason, 'most'):.3g} mg/L no bath is worked out "
        "here, with a vet or without, however short it is."
    )


def _is_a_vets(speaker: Speaker, reason: Reason) -> str:
    return (
        f"{_would_die(reason)}. Above {_number(reason, 'most'):g} mg/L it is a vet's bath: carp "
        f"begin to die at 51.6. Ask a vet, or use {_number(reason, 'usual'):g}."
    )


def _is_strong(speaker: Speaker, reason: Reason) -> str:
    return f"{_would_die(reason)}; {_number(reason, 'usual'):g} mg/L is enough."


def _if_undiluted(speaker: Speaker, reason: Reason) -> str:
    return (
        f"If this bottle is in fact undiluted, {_number(reason, 'millilitres'):.1f} mL would give "
        f"{_number(reason, 'mg_per_l'):.0f} mg/L: {carp_dead(_number(reason, 'dead'))} would die "
        "in ten minutes. Read the label, and try one fish first."
    )


def _by_the_trade(speaker: Speaker, reason: Reason) -> str:
    by_trade = show_number(_number(reason, "by_trade"), 1)
    return (
        f"The trade's rule of {_number(reason, 'rule'):g} mL of the bottle a litre is {by_trade} "
        "mg/L with this bottle: not for a keeper."
    )


def _right_amount(speaker: Speaker, reason: Reason) -> str:
    amount = millilitres_text(_number(reason, "millilitres"))
    bath, target = speaker.say(reason["bath"]), _number(reason, "target")
    return f"Right for {bath} is {amount} of it: {target:g} mg/L."


SENTENCES: Sentences = {
    # What is missing, or may be a slip.
    "litres-missing": "The litres of the bath are missing.",
    "strength-missing": "The strength of the product is missing, and there is no safe guess.",
    "ms222-target-missing": ("The mg/L of MS-222 are missing: the vet who agreed to it says them."),
    "file-cannot-be-used": "{what}.",
    "litres-differ": "{litres}, or {again}? The litres were given twice, and differ.",
    "which-litres": "{litres}, or {tenth}? {why:sentence}",
    "more-than-any-tub": (
        "No tub for sedation is taken to hold more than {most} unless its length, width and depth "
        "are given."
    ),
    "more-than-the-tub": "The tub, {length} by {width} by {depth}, holds {holds} to the brim.",
    "more-than-any-bath": "No sedation is worked out for more than {most}.",
    "no-fish-named": "No fish was named, and most are sedated in less.",
    "less-would-do": "{least} would be enough for the largest fish.",
    # What speaks against a bath.
    "of-one-fish": "{name}: {why:sentence}",
    "bath-kills-too-many": _kills_too_many,
    "bath-is-a-vets": _is_a_vets,
    "not-by-the-trade": _by_the_trade,
    "right-amount": _right_amount,
    "out-within-a-minute": (
        "At {target:g} mg/L the fish would have to come out in less than a minute."
    ),
    "bath-too-small": "{bath} is too little for a fish of {fish}; use {wanted} or more.",
    "tub-too-short": "A tub of {tub} is too short for a fish of {fish}.",
    "tub-too-shallow": (
        "The water would stand {depth} deep and not cover the back of a fish of {fish}, about "
        "{back} high."
    ),
    "back-not-covered": (
        "{bath} will not cover the back of a fish of {fish}; use {wanted} or more."
    ),
    "too-much-product": (
        "At this strength it would take {millilitres:.0f} mL of the product, and what the oil is "
        "dissolved in would harm the fish. Read the label again."
    ),
    "too-little-to-measure-at-all": (
        "{millilitres:.2g} mL of the product cannot be measured. "
        f"{NEW_STOCK} (10 %), and ask again with that strength."
    ),
    "ms222-without-a-vet": "MS-222 is a prescription medicine in many countries: ask a vet.",
    "ms222-too-strong": "{target:g} mg/L of MS-222 is refused; {most:g} is the limit.",
    # What is to be minded.
    "bath-is-strong": _is_strong,
    "if-undiluted": _if_undiluted,
    "bath-tight": "{bath} is tight for a fish of {fish}; {wanted} is better.",
    "ms222-unbuffered": (
        "Bring the bath to pH 7.0 to 7.5 before any fish goes in; unbuffered it is acid."
    ),
    "ms222-is-anaesthesia": (
        "From {least:g} mg/L it is anaesthesia by the trial, a vet's work in many countries."
    ),
    "ms222-is-a-vets": (
        "MS-222 is a prescription medicine in many countries: this is a vet's sheet."
    ),
    "usual-target-taken": "No target was given: the usual {target:g} mg oil/L is taken.",
    "weaker-than-tried": (
        "Nothing weaker than {weakest:g} mg/L was tried on koi: how long a fish takes to roll "
        "over, or whether it does, is not known."
    ),
    "neat-oil-mixes-badly": (
        f"Undiluted oil mixes badly. {NEW_STOCK} first (10 %), away from any flame, and ask again "
        "with that strength."
    ),
    "too-little-to-measure-well": (
        "{millilitres:.2f} mL is too little to measure well, and a slip doubles the dose: use a "
        "weaker stock."
    ),
    "water-not-given": (
        "The water's temperature was not given: below {coldest} and above {warmest} no fish is "
        "sedated, and the colder it is the slower all goes."
    ),
    "most-fish-outlast-it": (
        "Most fish need about {usual:.1f} min to roll over in this bath and may have only "
        "{longest:g}: a weaker bath leaves more time."
    ),
    "still-upright": (
        "Still upright after {longest:g} min: back to clean water; the bath is not made stronger."
    ),
    "no-weight-given": "No weight was given: this bath is for one fish of {most} at most.",
    "size-not-tried": "How such a small or large koi takes it is not known.",
}
