"""Why a fish cannot be bagged or must not travel so, and what is to be minded of its bag."""

from __future__ import annotations

from typing import TYPE_CHECKING

from showprep.season.values.quantities import show_number

if TYPE_CHECKING:
    from showprep.husbandry.reason import Reason
    from showprep.outputs.words.speaker import Sentences, Speaker

CACO3_PPM_PER_MEQ_L = 50.0  # as test kits outside metric units give alkalinity: 50.04 mg CaCO3/meq


def salt_text(speaker: Speaker, g_per_l: float) -> str:
    """Salt in water [g/L]; outside metric as a percentage, of which 1 g/L is a tenth."""
    if speaker.units == "metric":
        return f"{g_per_l:g} g/L"
    return f"{show_number(g_per_l / 10, 2)} %"


def alkalinity_text(speaker: Speaker, meq_l: float) -> str:
    """Alkalinity [meq/L]; outside metric as parts a million of calcium carbonate."""
    if speaker.units == "metric":
        return f"{meq_l:g} meq/L"
    return f"{show_number(CACO3_PPM_PER_MEQ_L * meq_l, 0)} ppm as calcium carbonate"


def _float(reason: Reason, name: str) -> float:
    value = reason[name]
    assert isinstance(value, int | float)
    return value


def _treatment(speaker: Speaker, reason: Reason) -> str:
    salt, most = (salt_text(speaker, _float(reason, name)) for name in ("salt_g_l", "most_g_l"))
    return f"{salt} of salt is a treatment: at most {most} on the way."


def _no_alkalinity(speaker: Speaker, reason: Reason) -> str:
    taken = alkalinity_text(speaker, _float(reason, "meq_l"))
    return f"No alkalinity was given: {taken}, soft water, is taken."


def _limit_home(speaker: Speaker, reason: Reason) -> str:
    longest = _float(reason, "longest")
    return f"On the way home {reason['by']} is at its limit after {longest:.1f} h."


def _passes_warning(speaker: Speaker, reason: Reason) -> str:
    by = str(reason["by"])
    return (
        f"{by[:1].upper()}{by[1:]} passes its warning level after {_float(reason, 'longest'):.1f} "
        f"h of the {_float(reason, 'hours'):g} h: more water, less fish, or a stop to renew."
    )


SENTENCES: Sentences = {
    "bag-good-for": (
        "One bag is good for {good_for:.1f} h, in {water} of water. With time in hand for a jam "
        "that is a journey of {hours:g} h from bagging to the vat, which this sheet is for. On a "
        "longer one all its water is changed on the way, or it travels in a tank: give --hours."
    ),
    # What cannot be bagged.
    "measure-the-fish": "Neither weight nor length of the fish is known: measure it.",
    "weight-not-of-length": (
        "{weight} cannot be the weight of a koi of {length}; about {usual} would be usual."
    ),
    "alkalinity-is-nothing": (
        "Water without any alkalinity cannot be calculated: test it again, or leave it out."
    ),
    "too-warm-to-bag": (
        "No koi is bagged in water of {water}; cool it, slowly, to below {limit}, or stay at home."
    ),
    "too-cold-to-bag": "No koi is bagged in water of {water}; it must be {limit} or warmer.",
    "fish-too-long-for-bag": (
        "A koi of {fish} does not fit a bag of {bag}; it needs one of {needed}."
    ),
    "journey-too-long-for-any-bag": (
        "{hours:g} h at {water} are too much for any bag: cool the water, or change water and "
        "oxygen on the way."
    ),
    "bag-too-heavy": (
        "A bag of {weight}, water and fish, is not lifted by two people: {lift} is the most, with "
        "{most} of water."
    ),
    "fish-too-heavy-for-bag": (
        "A koi of {fish} and the water over its back are more than the {lift} that two people lift."
    ),
    # What stops a bag.
    "one-bag-is-not-enough": (
        "One bag is not enough for {hours:g} h: with {water} of water and the fish it weighs "
        "{weight} and is good for {longest:.1f} h. What to do stands with it."
    ),
    "load-too-great-for-hours": (
        "{load} is too much fish for {hours:g} h, {most} is the limit, and a bag with more water "
        "is not lifted: less time, a change of water, or a tank."
    ),
    "bag-too-long": (
        "{hours:g} h are too long for this bag: {by} reaches the stop level after {stop:.1f} h."
    ),
    "no-load-is-safe": "No load is safe for {hours:g} h in water this warm, {water}.",
    "load-too-great": (
        "{load} is too much fish for the water, {most} is the limit: use {wanted} of water."
    ),
    "back-not-covered-in-bag": "Too little water to cover the back: use {wanted} at least.",
    # What is to be minded.
    "bag-passes-warning": _passes_warning,
    "few-hours-in-hand": (
        "Only {spare:.1f} h in hand for a jam: more water or less fish, or oxygen with you to "
        "renew, and a stop planned for it."
    ),
    "do-not-open-long": (
        "Once the bag is opened its ammonia turns poisonous ({ammonia}): float it shut, then move "
        "the fish by hand or sock into the vat and throw the bag water away; let no airstone in "
        "and no vat water."
    ),
    "on-the-way-home": "On the way home: {why:sentence}",
    "limit-on-the-way-home": _limit_home,
    "show-water-differs": "The show's water differs: {why:clause}.",
    "alkalinity-not-given": _no_alkalinity,
    "lift-for-two": "Fish and water weigh {weight}: a lift for two people.",
    "salt-is-a-treatment": _treatment,
    "cool-before-bagging": (
        "Water this warm holds little oxygen: cool it slowly before the fish is bagged."
    ),
    # The step to the show's water.
    "step-ramp": (
        "{change} is too great a change: before leaving bring the holding water to {there} over "
        "{days:day}, or leave the fish at home."
    ),
    "step-temper": (
        "A change of {change}: let the van or the vat come to it over {hours:.1f} h; a floating "
        "bag would change too fast."
    ),
    "step-direct": "A change of {change}: the usual float of {minutes:minute} will do.",
    "ph-over-an-hour": (
        "The pH differs by {change:.1f}: take an hour over it, with the bag water unfouled."
    ),
    "ph-over-weeks": (
        "The pH differs by {change:.1f}: match the holding water to the show's in the weeks before."
    ),
}
