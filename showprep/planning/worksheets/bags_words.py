"""The bags worksheet in words: one journey with all its fish, or one bag from options alone."""

from __future__ import annotations

from collections.abc import Sequence

from showprep.husbandry.figures import setting
from showprep.husbandry.transport import Bag
from showprep.planning.words import counted, spoken_with_year
from showprep.planning.worksheets.bags_records import BagSheet, JourneySheet, PackingList
from showprep.planning.worksheets.sheet import MARKS, Section, Sheet
from showprep.season.quantities import (
    Units,
    show_length,
    show_number,
    show_temperature,
    show_volume,
    show_warming,
    show_weight,
)

GASPING = "ON ITS SIDE OR GASPING? Stop safely: new water of its own and oxygen, at once."
AT_ARRIVAL = ("once the bag is opened", "the show's water differs")  # said there already
NOT_SO = "DO NOT TRAVEL LIKE THIS: why is said below."
BAGGING = (
    "1. Bag the fish last, in its own clean water; well, unfed, not sedated.",
    "2. Try the inner bag for leaks. Bag in bag, fish in, water over its back.",
    "3. Press out the air, fill with oxygen, twist, fold, two bands to each bag [c].",
    "4. Into the box, padded, dark, shut, across the direction of travel [c].",
)
AT_A_STOP = (
    "Look through the bag, do not open it: upright, gills even, bag taut.",
    "A bag gone soft: add oxygen at once. Never let air in, and never gas out alone: carbon",
    "  dioxide leaves with it, the pH rises and the ammonia turns poisonous [d].",
    "A bag that leaks: fish and water into a spare one, fresh oxygen.",
    "Longer on the road than the bag is good for: change all its water for clean water of",
    "  the fish's own, within {step} of it, and fill with fresh oxygen.",
)
PEOPLE = (
    "Oxygen cylinder: upright and tied fast, also in the car; there its valve shut, regulator off, "
    "a window open. Cloth and hair soaked in oxygen burn: air them.",
    "No oil or grease on valve, regulator or hands; no smoking, no flame, no spark near.",
    "A box weighs as much as its water: 20 L is 20 kg and more. Two people, from the knees.",
    "Pumps at the vats: on a residual-current device (30 mA), plugs high and dry, dry hands.",
    "A fish that was in clove oil or another sedative is not for eating, by anyone, ever.",
)
ARRIVAL = (
    "Float the bag shut, in the shade, at least {minutes} minutes [c].",
    "Then open it, move the fish by hand or sock into the vat, discard the bag water.",
    "No airstone and no vat water into an opened bag; be quick: minutes count [d].",
)


def journey_words(sheet: JourneySheet) -> tuple[Sheet, Sheet]:
    """Two sheets, each a page: the bags of one journey, and what to pack for it."""
    when = f"{spoken_with_year(sheet.departure.date())} {sheet.departure:%H:%M}"
    road = show_number(sheet.travel_hours, 2)
    in_bag = show_number(sheet.in_bag_hours, 2)
    before = (
        f"Leave {when}, there at {sheet.arrive_from:%H:%M}. {road} h on the road; calculated "
        f"here for {in_bag} h in the bag: bagging, road and floating [d].",
    )
    sections = [("The journey", before), *_sections(sheet.bags)]
    bags = Sheet(f"Bags: {sheet.name}", tuple(sections), GASPING, _notices(sheet.bags), MARKS)
    return bags, packing_words(sheet.packing, sheet.name)


def bag_words(sheet: BagSheet) -> Sheet:
    """One bag, from options alone."""
    title = f"Bag: {show_number(sheet.ask.hours, 2)} h"
    return Sheet(title, tuple(_sections((sheet,))), GASPING, _notices((sheet,)), MARKS)


def packing_words(packing: PackingList, name: str) -> Sheet:
    """What to pack, with a box to tick for each thing."""
    sections = tuple(
        (
            heading,
            tuple(f"[ ] {f'{item.amount} ' if item.amount else ''}{item.what}" for item in group),
        )
        for heading, group in packing.groups
    )
    foot = "The list is common practice, no source; amounts: docs/worksheets.md."
    return Sheet(f"Packing: {name}", sections, foot=foot)


def _notices(bags: Sequence[BagSheet]) -> tuple[str, ...]:
    return (NOT_SO,) if any(map(_is_stopped, bags)) else ()


def _is_stopped(one: BagSheet) -> bool:
    if one.bag is None:
        return True
    return bool(one.bag.stops) or (one.step is not None and one.step.blocked)


def _sections(bags: Sequence[BagSheet]) -> list[Section]:
    ask = bags[0].ask
    step = show_warming(setting("step_direct_falling", ask.own), ask.units)
    minutes = f"{setting('float_bag', ask.own):g}"
    sections: list[Section] = [
        ("The bags, one fish in each" if len(bags) > 1 else "The bag", _all(bags)),
        ("Cautions", _cautions(bags)),
    ]
    if all(one.bag is None for one in bags):
        return sections[:1]
    sections += [
        ("Bagging", BAGGING),
        ("At a stop", tuple(_joined(AT_A_STOP, step=step))),
        ("On arrival", (*_steps(bags), *_joined(ARRIVAL, minutes=minutes))),
        ("On the way home", _home(bags)),
        ("People", PEOPLE),
    ]
    return [section for section in sections if section[1]]


def _joined(lines: Sequence[str], **words: str) -> list[str]:
    """Lines of which those begun with spaces go on from the one before."""
    found: list[str] = []
    for line in lines:
        said = line.format(**words)
        if said.startswith("  "):
            found[-1] += said[1:]
        else:
            found.append(said)
    return found


def _all(bags: Sequence[BagSheet]) -> tuple[str, ...]:
    return tuple(line for one in bags for line in _one(one))


def _one(one: BagSheet) -> tuple[str, ...]:
    ask = one.ask
    who = _who(one)
    if one.refused is not None or one.bag is None:
        return (f"{who}: refused. {one.refused}",)
    assert one.water_l is not None and one.gas_l is not None
    assert one.bag_length_cm is not None and one.box_length_cm is not None
    units = ask.units
    size = (
        f"{who}: bag from {show_length(one.bag_length_cm, units)}, box from "
        f"{show_length(one.box_length_cm, units)} [c]; {show_volume(one.water_l, units)} of water "
        f"at {show_temperature(ask.water_c, units)}, {show_volume(one.gas_l, units)} of oxygen."
    )
    salt = f" Salt {one.salt_g:.0f} g, dissolved first [c]." if one.salt_g else ""
    return (size + salt, _outcome(one.bag, ask.hours))


def _who(one: BagSheet) -> str:
    ask = one.ask
    facts = [ask.name or "The fish"]
    if ask.length_cm is not None:
        facts.append(show_length(ask.length_cm, ask.units))
    if one.kg is not None:
        about = "about " if one.kg_estimated else ""
        facts.append(about + show_weight(one.kg, ask.units))
    return ", ".join(facts)


def _outcome(bag: Bag, hours: float) -> str:
    return (
        f"  {bag.kg_per_l:.2f} kg/L ({bag.load_limit_kg_per_l:.2f} at most). After "
        f"{show_number(hours, 2)} h: oxygen {100 * bag.oxygen_used_share:.0f} % used, CO2 "
        f"{bag.co2_mg_per_l:.0f} mg/L, pH {bag.ph:.1f}, ammonia {bag.tan_mg_per_l:.1f} mg N/L, "
        f"free {bag.nh3_n_mg_per_l:.3f}, opened {bag.nh3_n_when_opened_mg_per_l:.2f} [d]. Good "
        f"for {bag.longest_hours:.1f} h ({bag.limited_by})."
    )


def _cautions(bags: Sequence[BagSheet]) -> tuple[str, ...]:
    """Each caution once, with the fish it is about where not all share it."""
    about: dict[str, list[str]] = {}
    for one in bags:
        for caution in one.cautions:
            about.setdefault(caution, []).append(one.ask.name)
    return tuple(
        caution if len(names) == len(bags) or not all(names) else f"{', '.join(names)}: {caution}"
        for caution, names in about.items()
        if not caution.casefold().startswith(AT_ARRIVAL)
    )


def _steps(bags: Sequence[BagSheet]) -> tuple[str, ...]:
    """How the step of temperature and pH is taken, once for fish that take the same."""
    about: dict[str, list[str]] = {}
    for one in bags:
        if one.step_words:
            assert one.ask.show_c is not None or one.ask.show_ph is not None
            about.setdefault(_step(one), []).append(one.ask.name)
    return tuple(
        f"{', '.join(names)}: {words}" if len(about) > 1 else words
        for words, names in about.items()
    )


def _step(one: BagSheet) -> str:
    ask, words = one.ask, " ".join(one.step_words)
    if ask.show_c is None:
        return words
    units: Units = ask.units
    here, there = (show_temperature(round(c, 1), units) for c in (ask.water_c, ask.show_c))
    return f"From {here} to the show's {there} [d]: {words}"


def _home(bags: Sequence[BagSheet]) -> tuple[str, ...]:
    known = [one.home.longest_hours for one in bags if one.home is not None]
    lines = ["Fresh water and oxygen, the same sizes; into isolation at home, not the pond."]
    if known:
        count = counted(len(known), "bag")
        verb = "is" if len(known) == 1 else "are"
        lines.append(
            f"In the show's water the {count} {verb} good for {min(known):.1f} h or more [d]."
        )
    return tuple(lines)
