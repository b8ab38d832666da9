"""What to pack for a show, each thing as it stands behind its number on the list."""

from __future__ import annotations

from typing import TYPE_CHECKING

from showprep.outputs.words.plain import counted

if TYPE_CHECKING:
    from collections.abc import Mapping

    from showprep.husbandry.reason import Reason
    from showprep.outputs.words.speaker import Sentences, Speaker
    from showprep.planning.worksheets.bags_records import Group, PackItem

HEADINGS: Mapping[Group, str] = {
    "bags and water": "Bags and water",
    "handling": "Handling",
    "health": "Health",
    "papers": "Papers",
    "people and home": "People and home",
}
# How a cylinder states what it holds: in litres and bar, or in cubic feet.
CYLINDERS = {
    "metric": "a cylinder holds its litres times its bar",
    "us": "a cubic foot of the cylinder's label is 7.5 US gal",
    "imperial": "a cubic foot of the cylinder's label is 6.2 imp gal",
}


def _boxes(speaker: Speaker, reason: Reason) -> str:
    longest = speaker.say(reason["longest"])
    if reason["count"] == 1:
        return f"box with a lid, {longest} inside"
    return f"boxes with lids, the longest {longest} inside"


def _bowl(speaker: Speaker, reason: Reason) -> str:
    return f"bowl, longer than {speaker.say(reason['fish'])}" if reason["fish"] else "bowl"


def _tank(speaker: Speaker, reason: Reason) -> str:
    """A tank, and whether bags would do instead."""
    tank = f"transport tank of {speaker.say(reason['litres'])}, lid, straps, diffusers, flow meter"
    return f"{tank}, spare air pump" + (", or bags changed on the way" if reason["instead"] else "")


def _oxygen(speaker: Speaker, reason: Reason) -> str:
    return (
        "oxygen at ordinary pressure, both ways with a reserve "
        f"({CYLINDERS[speaker.units]}); regulator, hose"
    )


def _home(speaker: Speaker, reason: Reason) -> str:
    place, fish = speaker.say(reason["place"]) or "a vat apart", reason["fish"]
    assert isinstance(fish, int)
    return (
        f"at home before leaving: {place} running for {counted(fish, 'fish', 'fish')}, with a net "
        "and bowl of its own"
    )


def thing_text(speaker: Speaker, item: PackItem) -> str:
    """What is packed, as it stands behind its number."""
    return speaker.clause(item.what)


def amount_text(speaker: Speaker, item: PackItem) -> str:
    """How many or how much; empty where that is left to the keeper."""
    return str(item.amount) if isinstance(item.amount, int) else speaker.say(item.amount)


SENTENCES: Sentences = {
    "pack-bags": "Clear bags, the longest {longest} or more.",
    "pack-bands": "Bands.",
    "pack-boxes": _boxes,
    "pack-tank": _tank,
    "pack-oxygen": _oxygen,
    "pack-water": "Clean water of the fish's own, for a stop.",
    "pack-padding": "Padding, tape, wrapped ice packs in hot weather, dechlorinator.",
    "pack-salt": "Salt without additives.",
    "pack-pan-net": "Pan net, labelled.",
    "pack-sock-net": "Sock net open at both ends.",
    "pack-bowl": _bowl,
    "pack-jug": "Measuring jug, towels, thermometer.",
    "pack-tests": "Tests for pH, ammonia and nitrite.",
    "pack-buckets": "Buckets, disinfectant for nets and bowl.",
    "pack-gloves": "Gloves, hand lens, slides.",
    "pack-confirmation": "Entry confirmation with vat number; variety and length of each fish.",
    "pack-map": "Map, unloading times, the show's telephone number.",
    "pack-declaration": "Signed health declaration over {months:month}.",
    "pack-certificate": "Health certificate.",
    "pack-photos": "Photos, printed.",
    "pack-helper": "Helper; water to drink, chair, warm and dry clothes.",
    "pack-home": _home,
}
