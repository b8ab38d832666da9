"""The bags worksheet in words: one journey with all its fish, or one bag from options alone."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import ceil

from showprep.husbandry.reason import (
    Kelvin,
    Kilograms,
    KilogramsPerLitre,
    Litres,
)
from showprep.husbandry.tank import Tank
from showprep.husbandry.transport import Bag
from showprep.outputs.words.bath_sheet import breaker
from showprep.outputs.words.packing import HEADINGS, amount_text, thing_text
from showprep.outputs.words.plain import clock, counted, listed, spoken, spoken_with_year
from showprep.outputs.words.sheet import MARKS, Section, Sheet
from showprep.outputs.words.speaker import Speaker
from showprep.planning.worksheets.bags_records import (
    OPEN_PH,
    BagAsk,
    BagSheet,
    JourneySheet,
    OnTheWay,
    PackingList,
)
from showprep.season.values.quantities import (
    Units,
    show_dissolved,
    show_grams,
    show_length,
    show_number,
    show_temperature,
    show_volume,
    show_weight,
)

GASPING = "ON ITS SIDE OR GASPING? Stop safely: new water of its own and oxygen, at once."
AT_ARRIVAL = frozenset({"do-not-open-long", "show-water-differs"})  # codes said there already
AT_TOP = frozenset({"bag-good-for"})  # what was asked
NOT_AT_ONCE = "NOT IN ONE BAG ALL THE WAY: see 'One bag is not enough'."
NOT_SO = "DO NOT TRAVEL LIKE THIS: why is said below."
BAGGING = (
    "1. Bag the fish last, in its own clean water; well, unfed, not sedated.",
    "2. Try the inner bag for leaks. Bag in bag, fish in, water over its back.",
    "3. Press out the air, fill with oxygen, twist, fold, two bands to each bag [c].",
    "4. Into the box, padded, dark, shut, across the direction of travel [c].",
)
TANK_FISH = (
    "Only fish that live in one water together; one that size has a tank to itself [c].",
    "Netted last, by sock or bowl, unfed and not sedated; out again by sock, never poured.",
    "At the show: first the step to its vat's water, as the sheet of the bags has it; no tank "
    "water goes into the vat.",
    "Afterwards tank, hoses and diffusers are disinfected and dried: they have met a show.",
    "Ask what your country wants of a tank with live fish on the road.",
)
BOX_L = 20.0  # of water, as an example of what a box weighs


def speaker_of(ask: BagAsk) -> Speaker:
    """Who speaks of a bag: in the keeper's units."""
    return Speaker(units=ask.units)


def journey_words(sheet: JourneySheet) -> tuple[Sheet, ...]:
    """Sheets, each a page: the bags of one journey, a tank where one may be needed, the packing."""
    when = f"{spoken_with_year(sheet.departure.date())} {sheet.departure:%H:%M}"
    there = clock(sheet.arrive_from, sheet.home_zone)
    road, in_bag = (show_number(one, 2) for one in (sheet.travel_hours, sheet.in_bag_hours))
    stops = f", with {counted(sheet.stops, 'stop')} {show_number(sheet.road_hours, 2)} h" * (
        sheet.stops > 0
    )
    latest = ""
    if sheet.latest_departure > sheet.departure:
        leave = Speaker(units=sheet.units, on=sheet.departure.date()).say(sheet.latest_departure)
        latest = f" Leave by {leave} at the latest."
    before = (
        f"Leave {when}, there at {there}.{latest} {road} h at the wheel{stops}; calculated "
        f"here for {in_bag} h in the bag: bagging, road and floating [d].",
    )
    sections = [("The journey", before), *_sections(sheet.bags)]
    bags = Sheet(f"Bags: {sheet.name}", tuple(sections), GASPING, _notices(sheet.bags), MARKS)
    return bags, *tank_words(sheet.bags), packing_words(sheet.packing, sheet.name, sheet.units)


def bag_words(sheet: BagSheet) -> Sheet:
    """One bag, from options alone."""
    title = f"Bag: {show_number(sheet.ask.hours, 2)} h"
    return Sheet(title, tuple(_sections((sheet,))), GASPING, _notices((sheet,)), MARKS)


def packing_words(packing: PackingList, name: str, units: Units) -> Sheet:
    """What to pack, with a box to tick for each thing."""
    speaker = Speaker(units=units)
    sections = tuple(
        (
            HEADINGS[group],
            tuple(
                " ".join(filter(None, ("[ ]", amount_text(speaker, one), thing_text(speaker, one))))
                for one in items
            ),
        )
        for group, items in packing.groups
    )
    foot = "The list is common practice, no source; amounts: docs/worksheets.md."
    return Sheet(f"Packing: {name}", sections, foot=foot, packs_for=packing.show)


def refused_text(sheet: BagSheet) -> str | None:
    """Why the fish cannot be bagged; None where it can."""
    return None if sheet.refused is None else speaker_of(sheet.ask).text(sheet.refused)


def _notices(bags: Sequence[BagSheet]) -> tuple[str, ...]:
    told = [(one, caution) for one in bags for caution in one.cautions if caution.code in AT_TOP]
    return (*(speaker_of(one.ask).text(caution) for one, caution in told), *_stopped(bags))


def _stopped(bags: Sequence[BagSheet]) -> tuple[str, ...]:
    stopped = (NOT_SO,) if any(map(_is_stopped, bags)) else ()
    renewed = any(one.ways is not None for one in bags)
    return (*stopped, NOT_AT_ONCE) if renewed else stopped


def _is_stopped(one: BagSheet) -> bool:
    if one.bag is None:
        return True
    return bool(one.bag.stops) or (one.step is not None and one.step.blocked)


def _sections(bags: Sequence[BagSheet]) -> list[Section]:
    ask = bags[0].ask
    sections: list[Section] = [
        ("The bags, one fish in each" if len(bags) > 1 else "The bag", _all(bags)),
        ("Cautions", _cautions(bags)),
    ]
    ways = ("One bag is not enough", tuple(line for one in bags for line in _ways(one)))
    if all(one.bag is None for one in bags):
        return [section for section in (sections[0], ways) if section[1]]
    sections.insert(1, ways)
    sections += [
        ("Bagging", BAGGING),
        ("At a stop", _at_a_stop(ask)),
        ("On arrival", (*_steps(bags), *_arrival(ask))),
        ("On the way home", _home(bags)),
        ("People", _people(ask)),
    ]
    return [section for section in sections if section[1]]


def _at_a_stop(ask: BagAsk) -> tuple[str, ...]:
    step = speaker_of(ask).say(Kelvin(ask.figures["step_direct_falling"]))
    return (
        "Look through the bag, do not open it: upright, gills even, bag taut.",
        "A bag gone soft: add oxygen at once. Never let air in, and never gas out alone: carbon "
        "dioxide leaves with it, the pH rises and the ammonia turns poisonous [d].",
        "A bag that leaks: fish and water into a spare one, fresh oxygen.",
        "Longer on the road than the bag is good for: change all its water for clean water of the "
        f"fish's own, within {step} of it, and fill with fresh oxygen.",
    )


def _arrival(ask: BagAsk) -> tuple[str, ...]:
    return (
        f"Float the bag shut, in the shade, at least {ask.figures['float_bag']:g} minutes [c].",
        "Then open it, move the fish by hand or sock into the vat, discard the bag water.",
        "No airstone and no vat water into an opened bag; be quick: minutes count [d].",
    )


def _people(ask: BagAsk) -> tuple[str, ...]:
    say = speaker_of(ask).say
    return (
        "Oxygen cylinder: upright and tied fast, also in the car; there its valve shut, regulator "
        "off, a window open. Cloth and hair soaked in oxygen burn: air them.",
        "No oil or grease on valve, regulator or hands; no smoking, no flame, no spark near.",
        f"A box weighs as much as its water: {say(Litres(BOX_L))} is {say(Kilograms(BOX_L))} and "
        "more. Two people, from the knees.",
        f"Pumps at the vats: on {breaker(ask.units)}, plugs high and dry, dry hands.",
        "A fish that was in clove oil or another sedative is not for eating, by anyone, ever.",
    )


def _all(bags: Sequence[BagSheet]) -> tuple[str, ...]:
    return tuple(line for one in bags for line in _one(one))


def _one(one: BagSheet) -> tuple[str, ...]:
    ask = one.ask
    who = _who(one)
    if one.bag is None:
        return (f"{who}: refused. {refused_text(one)}",)
    assert one.water_l is not None and one.gas_l is not None
    assert one.bag_length_cm is not None and one.box_length_cm is not None
    units = ask.units
    size = (
        f"{who}: bag from {show_length(one.bag_length_cm, units)}, box from "
        f"{show_length(one.box_length_cm, units)} [c]; {show_volume(one.water_l, units)} of water "
        f"at {show_temperature(ask.water_c, units)}, {show_volume(one.gas_l, units)} of oxygen."
    )
    salt = f" Salt {show_grams(one.salt_g, units)}, dissolved first [c]." if one.salt_g else ""
    return (size + salt, _outcome(one, one.bag))


def _who(one: BagSheet) -> str:
    ask = one.ask
    facts = [ask.name or "The fish"]
    if ask.length_cm is not None:
        facts.append(show_length(ask.length_cm, ask.units))
    if one.kg is not None:
        about = "about " if one.kg_estimated else ""
        facts.append(about + show_weight(one.kg, ask.units))
    return ", ".join(facts)


def _ways(one: BagSheet) -> Iterator[str]:
    """How a fish travels that no one bag carries all the way."""
    ways, ask = one.ways, one.ask
    if ways is None:
        return
    say, name = speaker_of(ask).say, ask.name or "The fish"
    hours = show_number(ask.hours, 2)
    if ways.water_l is not None and ways.good_for_h > 0:
        yield (
            f"{name}, less water: {say(Litres(ways.water_l))} is good for {ways.good_for_h:.1f} h "
            f"({ways.limited_by}), not for {hours} h: a nearer show only."
        )
    if ways.fillings is not None and ways.water_l is not None:
        yield (
            f"{name}, a change of water: all of it and the oxygen, at the latest {_when(ways)}. "
            f"Take {say(Litres(ways.water_l * (ways.fillings - 1)))} of clean water of its own for "
            "each way, in shut cans, as warm as the bag [c]. Where: off the road, in the shade, "
            "engine off; drip sheet and oxygen ready before the bag is opened."
        )
    else:
        yield f"{name}, a change of water: no way, it would be due too soon after each bagging [c]."
    if ways.tank is not None:
        litres = say(Litres(ways.tank.litres))
        yield f"{name}, a transport tank: {litres}; its own sheet tells how."
    else:
        yield f"{name}, a transport tank: none that a van carries holds enough oxygen [d]."


def _when(ways: OnTheWay) -> str:
    after = [f"{hours:.1f} h" for hours in ways.change_after_h]
    if not ways.change_at:
        return f"{listed(after)} after bagging"
    told = (
        f"{spoken(at.date())} {at:%H:%M} ({hours} after bagging)"
        for at, hours in zip(ways.change_at, after, strict=True)
    )
    return f"on {listed(told)}"


def tank_words(bags: Sequence[BagSheet]) -> tuple[Sheet, ...]:
    """The sheet of a transport tank, for fish that no one bag carries all the way; else none."""
    tanks = [(one, one.ways.tank) for one in bags if one.ways is not None and one.ways.tank]
    if not tanks:
        return ()
    speaker = speaker_of(tanks[0][0].ask)
    sections = (
        ("The tank, one for each fish", tuple(_tank(one, tank) for one, tank in tanks)),
        ("Water and air", _tank_air(speaker, tanks)),
        ("In the van", _tank_in_van(speaker, tanks)),
        ("The fish", TANK_FISH),
    )
    name = tanks[0][0].ask.name
    title = f"Transport tank: {name}" if name and len(tanks) == 1 else "Transport tank"
    return (Sheet(title, sections, GASPING, (), MARKS),)


def _tank(one: BagSheet, tank: Tank) -> str:
    ask, say = one.ask, speaker_of(one.ask).say
    warm = ask.water_c if ask.show_c is None else max(ask.water_c, ask.show_c)
    ph = OPEN_PH if ask.open_ph is None else ask.open_ph
    given = "" if ask.open_ph is not None else " (no pH was given: test it, a lower one needs less)"
    change = (
        f" Even so all its water is changed {counted(tank.fillings - 1, 'time', 'times')}, every "
        f"{tank.hours_each:.1f} h, for water of the same kind and warmth."
    ) * (tank.fillings > 1)
    return (
        f"{_who(one)}: {say(Litres(tank.litres))} of water for {show_number(ask.hours, 2)} h at "
        f"{show_temperature(warm, ask.units)} and pH {ph:.1f}{given}: by {tank.decided_by} [d]; "
        f"free ammonia at the end {tank.nh3_n_mg_per_l:.3f} {_nitrogen(ask)}, "
        f"{ask.figures['nh3_limit']:g} is the most.{change}"
    )


def _tank_air(speaker: Speaker, tanks: Sequence[tuple[BagSheet, Tank]]) -> tuple[str, ...]:
    flow = max(tank.oxygen_l_per_min for _, tank in tanks)
    lasts = min(tank.minutes_without_air for _, tank in tanks)
    least = show_dissolved(tanks[0][0].ask.figures["o2_least"], speaker.units)
    return (
        "The fish's own water, no chlorine, filled on the day; temperature as the fish has it.",
        f"Fine diffusers, oxygen at {ceil(10 * flow - 1e-9) / 10:.1f} or more on a meter marked "
        "LPM [d]; twice that in the first hour after netting.",
        "Beside it an air pump on a battery of its own, running all the way: it drives out carbon "
        "dioxide, which oxygen alone does not [c].",
        f"If all air stops, oxygen falls to {least} in {int(lasts)} minutes [d]: look at "
        "every stop, and have the spare pump within reach.",
        "Nothing that raises the pH, no zeolite together with salt: ammonia turns poisonous [c].",
    )


def _tank_in_van(speaker: Speaker, tanks: Sequence[tuple[BagSheet, Tank]]) -> tuple[str, ...]:
    heaviest = max(tank.litres + tank.kg for _, tank in tanks)
    return (
        f"Full it weighs {speaker.say(Kilograms(heaviest))} and the tank: within the load on the "
        "vehicle's plate and each axle's, with people and boxes; else a trailer, or at home [c].",
        "On the floor, against the bulkhead, low and between the axles. Straps over the tank and "
        "to lashing eyes, never to seats: to hold 0.8 of its weight forward and 0.5 to each side "
        "and back (EN 12195-1, from memory) [a].",
        "Filled to the neck and shut, with a vent: half-full water surges, tips the van and throws "
        "the fish. Never drive with less; smooth inside, dark, lid tied down [c].",
        "Brake early, corner slowly; a window open, for oxygen and carbon dioxide gather inside.",
        "Filled and emptied with a pump where it stands: nobody lifts it with water in.",
    )


def _outcome(one: BagSheet, bag: Bag) -> str:
    ask = one.ask
    hours = ask.hours if one.hours is None else one.hours
    say = speaker_of(ask).say
    load, most = (say(KilogramsPerLitre(one)) for one in (bag.kg_per_l, bag.load_limit_kg_per_l))
    co2 = show_dissolved(bag.co2_mg_per_l, ask.units)
    return (
        f"  {load} ({most.partition(' ')[0]} at most). After {show_number(hours, 2)} h: oxygen "
        f"{100 * bag.oxygen_used_share:.0f} % used, CO2 {co2}, pH {bag.ph:.1f}, ammonia "
        f"{bag.tan_mg_per_l:.1f} {_nitrogen(ask)}, free {bag.nh3_n_mg_per_l:.3f}, opened "
        f"{bag.nh3_n_when_opened_mg_per_l:.2f} [d]. Good for {bag.longest_hours:.1f} h "
        f"({bag.limited_by})."
    )


def _nitrogen(ask: BagAsk) -> str:
    return "mg N/L" if ask.units == "metric" else "ppm N"


def _cautions(bags: Sequence[BagSheet]) -> tuple[str, ...]:
    """Each caution once, with the fish it is about where not all share it."""
    about: dict[str, list[str]] = {}
    for one in bags:
        elsewhere = AT_ARRIVAL | AT_TOP
        here = [caution for caution in one.cautions if caution.code not in elsewhere]
        for caution in speaker_of(one.ask).texts(here):
            about.setdefault(caution, []).append(one.ask.name)
    return tuple(
        caution if len(names) == len(bags) or not all(names) else f"{', '.join(names)}: {caution}"
        for caution, names in about.items()
    )


def _steps(bags: Sequence[BagSheet]) -> tuple[str, ...]:
    """How the step of temperature and pH is taken, once for fish that take the same."""
    about: dict[str, list[str]] = {}
    for one in bags:
        if one.step_told:
            about.setdefault(_step(one), []).append(one.ask.name)
    return tuple(
        f"{', '.join(names)}: {words}" if len(about) > 1 else words
        for words, names in about.items()
    )


def _step(one: BagSheet) -> str:
    ask = one.ask
    words = " ".join(speaker_of(ask).texts(one.step_told))
    if ask.show_c is None:
        return words
    here, there = (show_temperature(round(c, 1), ask.units) for c in (ask.water_c, ask.show_c))
    return f"From {here} to the show's {there} [d]: {words}"


def _home(bags: Sequence[BagSheet]) -> tuple[str, ...]:
    known = [one.home.longest_hours for one in bags if one.home is not None]
    lines = ["Fresh water and oxygen, the same sizes; at home kept apart, not in the pond."]
    if any(one.ways is not None and one.ways.fillings is not None for one in bags):
        lines.append(
            "A bag that was changed on the way there is changed on the way home, as often and as "
            "soon: take clean water of the show's with you, before its vat is fouled."
        )
    if known:
        bags_are = "bag is" if len(known) == 1 else f"{len(known)} bags are"
        lines.append(f"In the show's water the {bags_are} good for {min(known):.1f} h or more [d].")
    return tuple(lines)
