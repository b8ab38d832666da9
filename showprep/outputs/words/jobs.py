"""What jobs are called and what is told of them (`jobs.toml`), and why a reading is wanted."""

from __future__ import annotations

import importlib.resources
import tomllib
from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING

from showprep.husbandry.reason import Blemish
from showprep.outputs.words.kinds import of_kind
from showprep.outputs.words.plain import counted, listed

if TYPE_CHECKING:
    from showprep.husbandry.reason import Reason
    from showprep.outputs.words.speaker import Sentences, Speaker


def _heal_by_it(speaker: Speaker, reason: Reason) -> str:
    fish, more = reason["fish"], reason["more"]
    assert isinstance(fish, tuple)
    names = [speaker.say(one) for one in fish] + ([f"{more} more"] if more else [])
    return f"{listed(names)} {'heals' if len(names) == 1 else 'heal'} by its warmth"


# Both are told within a sentence: "Read the pond: it was not read of late".
def _not_read(speaker: Speaker, reason: Reason) -> str:
    return f"it was not read of late, and {_heal_by_it(speaker, reason)}."


def _reading_is_old(speaker: Speaker, reason: Reason) -> str:
    last, days = speaker.say(reason["last"]), speaker.formatted(reason["days"], "day")
    return f"its last reading, of {last}, is {days} old, and {_heal_by_it(speaker, reason)}."


def _read() -> Mapping[str, Mapping[str, str]]:
    path = importlib.resources.files("showprep.outputs.words").joinpath("jobs.toml")
    return tomllib.loads(path.read_text("utf-8"))


OF_SHOWS = _read()
EVENTS = {
    "judging": "judging",
    "benching": "benching",
    "departure": "departure",
    "home": "coming home",
    "entries_close": "the close of entries",
    "photos_due": "the last day for photographs",
    "vat_booked_by": "the last day for booking a vat",
}


def _of_show(part: str) -> Callable[[Speaker, Reason], str]:
    """The title, the note or the cost of being late of a job in the table."""
    return lambda speaker, reason: speaker.filled(OF_SHOWS[str(reason["job"])][part], reason)


def _from_event(speaker: Speaker, reason: Reason) -> str:
    """`42 days before benching`, `on the day of judging`."""
    days, event = reason["days"], EVENTS[str(reason["event"])]
    assert isinstance(days, int)
    if days == 0:
        return f"on the day of {event}"
    return f"{counted(abs(days), 'day')} {'before' if days < 0 else 'after'} {event}"


def _event_at_show(speaker: Speaker, reason: Reason) -> str:
    event = EVENTS[str(reason["event"])]
    return f"{event[:1].upper()}{event[1:]}: {speaker.say(reason['show'])}"


def _reserve_on_form(speaker: Speaker, told: Reason) -> str:
    fish = speaker.say(told["fish"])
    if told["rule"] == "allowed":
        return f"Name {fish} on it as first reserve."
    return f"Ask whether it may name a reserve: {fish} would be the first."


def _reserve_steps_in(speaker: Speaker, told: Reason) -> str:
    fish = speaker.say(told["fish"])
    if told["rule"] == "allowed":
        return f"If one stays, {fish} goes in its place, checked in the same way."
    return f"If one stays, ask the show at once whether {fish} may go in its place."


def _look_if_clean(speaker: Speaker, reason: Reason) -> str:
    fish, kind = speaker.say(reason["fish"]), of_kind(str(reason["kind"]))
    return f"Look at {fish}'s {kind}: clean now?"


def _look_if_back(speaker: Speaker, reason: Reason) -> str:
    fish, kind = speaker.say(reason["fish"]), of_kind(str(reason["kind"]))
    return f"Look at {fish}'s {kind}: back?"


ORDINALS = {2: "Second", 3: "Third"}


def _repeat_dose(speaker: Speaker, told: Reason) -> str:
    number = ORDINALS[int(str(told["number"]))]
    return f"{number} dose against {told['against']} in the {told['water']}"


def _repeat_dose_how(speaker: Speaker, told: Reason) -> str:
    used = "" if told["what"] is None else f" ({told['what']})"
    first = (
        "As the vet ordered: the vet's day goes before this one."
        if told["by_vet"]
        else "Ask a vet first, and keep to the label."
    )
    return (
        f"{first} One dose seldom reaches eggs and cysts, so it is given again{used}. Air running, "
        "somebody watching; no other treatment with it. Write it down as a treatment."
    )


def _session(speaker: Speaker, reason: Reason) -> str:
    each = reason["each"]
    assert isinstance(each, tuple)
    return " ".join(
        (
            f"{counted(len(each), 'fish', 'fish')}, smallest dose first, one at a time.",
            *map(speaker.say, each),
            "Write it down afterwards.",
        )
    )


def _fish_in_session(speaker: Speaker, reason: Reason) -> str:
    specks, heals_in = reason["specks"], reason["heals_in"]
    assert isinstance(specks, tuple)
    places = [one.where or of_kind(one.kind) for one in specks if isinstance(one, Blemish)]
    what = listed(places) or "the speck, if it is back: look before you net the fish"
    heals = f", then heals in the {heals_in} (warmed {speaker.say(reason['rate'])} a day)"
    return f"{speaker.say(reason['fish'])}: {what}{heals if heals_in else ''}."


def _stops(speaker: Speaker, reason: Reason) -> str:
    stops = reason["stops"]
    return f" and {speaker.formatted(stops, 'stop')}" if stops else ""


def _on_the_road(speaker: Speaker, reason: Reason) -> str:
    each = f" of {speaker.formatted(reason['minutes'], 'minute')}" if reason["stops"] else ""
    hours, opened = reason["hours"], speaker.formatted(reason["open"], "time")
    last, closed = reason["latest"], reason["close"]
    text = f"{hours:g} h at the wheel{_stops(speaker, reason)}{each}; the vats open at {opened}."
    if reason["open"] == closed:
        return text
    latest = speaker.say(last)
    return f"{text} Leave by {latest} at the latest, to be there by {speaker.say(closed)}."


def _hours_before(speaker: Speaker, reason: Reason) -> str:
    return f"{reason['hours']:g} h{_stops(speaker, reason)} before the arrival window opens"


def _by_night(speaker: Speaker, reason: Reason) -> str:
    leave, morning = (speaker.formatted(reason[one], "time") for one in ("leave", "morning"))
    text = f"Leaving at {leave} means driving before {morning}: take a second driver, "
    if reason["later"] is None:
        return text + "or go the evening before, if the show takes fish then."
    return text + f"or leave at {morning}, which still makes the arrival window."


def _red_spots(speaker: Speaker, reason: Reason) -> str:
    fish = speaker.say(reason["fish"])
    if reason["several"]:
        return f"Look again at the red spots of {fish}, {reason['water']}"
    return f"Look again at {fish}'s red spots"


SENTENCES: Sentences = {
    "job-of-show": _of_show("title"),
    "job-of-show-how": _of_show("note"),
    "job-of-show-late": _of_show("late"),
    "with-reserve": "{how:sentence} {reserve:sentence}",
    "reserve-on-form": _reserve_on_form,
    "reserve-steps-in": _reserve_steps_in,
    "reserve-none": "If one stays, its place stays empty: the form names no reserve.",
    "reserve-if-named": "If one stays, only a reserve named on the form can go in its place.",
    "days-from-event": _from_event,
    "no-free-hands-in-window": "No day with free hands falls in its window.",
    "nobody-there-then": "You are away on {day}: ask somebody who is there to do it.",
    "be-there-for-the-vet": (
        "{day} is the vet's day and none of your free ones: somebody has to be there."
    ),
    # The journey.
    "bag": "Net, bag and load: {show}",
    "bag-how": (
        "Net without haste. Fish just covered, one third water, two thirds oxygen, two bags each; "
        "boxes dark, across the direction of travel. The packing sheet has the figures."
    ),
    "before-departure": "before departure",
    "leave": "Leave for {show}",
    "on-the-road": _on_the_road,
    "hours-before-arrival": _hours_before,
    "drives-by-night": _by_night,
    "oxygen-on-the-way": "Look at the bags, add oxygen: {show}",
    "oxygen-on-the-way-how": (
        "Look at every fish through the shut bag: upright, gills even, bag taut. Add oxygen to one "
        "gone soft; never let gas out alone or air in, or the ammonia turns poisonous. A fish on "
        "its side, or a bag near its hours: all new water of its own, and oxygen. No smoking, no "
        "flame; the cylinder upright and tied."
    ),
    "change-water": "Change the bag water of {fish}: {show}",
    "change-water-how": (
        "Off the road, in the shade, engine off. {fresh} of clean water of their own, as warm as "
        "the bag: all the old water out, fish covered by the new at once, air pressed out, fresh "
        "oxygen, two bands. Never let air into the old water: be quick. No smoking, no flame."
    ),
    "hours-of-the-bag": "the last stop before the hours of the bag are over",
    "night-journey": "{show}: {why:sentence}",
    "middle-of-the-way": "the stop nearest the middle of {hours:g} h on the road",
    "arrive": "Arrive, float the bags: {show}",
    "arrive-how": "Float the closed bags; move the fish over without the bag water.",
    "no-air-into-bags": (
        "After a journey of over 4 hours never let air into, or vat water run into, an opened "
        "bag: ammonia turns poisonous as the carbon dioxide leaves. Move the fish."
    ),
    "event-at-show": _event_at_show,
    "as-shows-file-says": "as written for the show",
    "check-out": "Check out, drive home: {show}",
    "check-out-how": (
        "Bag {fish} with fresh water and oxygen; at home float, then into the vat where they are "
        "kept apart, not the pond."
    ),
    # One fish.
    "look-if-clean": _look_if_clean,
    "look-if-back": _look_if_back,
    "look-if-back-how": (
        "A speck that was taken off may come back. Write down what you see: clean, or not clean "
        "if it is back. The plan follows what is seen."
    ),
    "speck-likely-back": "the day by which it is back in {chance} such fish",
    "write-what-you-see": (
        "Write down what you see: clean, or not clean yet. The plan follows what is seen."
    ),
    "plan-goes-on-guessing": "The plan goes on guessing.",
    "usual-healing-time": "the usual healing time in this water",
    "ring-a-vet-off-food": "Ring a vet about {fish}: off its food",
    "off-food-how": (
        "Test the water first, then look at skin and gills. Write down 'feeding well' when it eats "
        "again."
    ),
    "ill-now": "It does not wait for a show: the fish is ill.",
    "day-after-seen": "the day after it was seen",
    "clear-check": "Clear check of the {water}: scrape again",
    "clear-check-how": (
        "After the treatment a vet has advised, a scrape of several fish. It counts from "
        "{earliest}. Write down 'no parasites' when it is clear; until then no fish of this water "
        "goes to a show."
    ),
    "days-after-last-dose": "{days:day} after the last dose noted",
    "repeat-dose": _repeat_dose,
    "repeat-dose-how": _repeat_dose_how,
    "repeat-dose-late": "What hatched since the last dose is laying eggs in its turn.",
    "days-after-dose": "{days:day} after the dose of {on}",
    "ring-organiser": "Ring the organiser, parasites: {show}",
    "ring-organiser-how": (
        "Say what was found and when; a parasite found at benching can send every fish home. No "
        "clean scrape can clear your fish before {scrape}. Ask until when entries may be "
        "withdrawn."
    ),
    "ring-organiser-late": "The organiser plans with fish that may not come.",
    "day-after-find": "the day after the find",
    "red-spots-again": _red_spots,
    "ring-a-vet-red-spots": "Ring a vet about the red spots of {fish}, {water}",
    "red-spots-how": (
        "A flush from stress is gone by now. Write down 'clean', or 'not clean' if they are still "
        "there: then, or if they spread or stand on other fish too, it is for a vet."
    ),
    "red-spots-late": "Spots that stay are a sign of illness.",
    "days-after-seen": "{days:day} after they were seen",
    "heat": "Heat in the {water}, above {limit}: more air, less food, no handling",
    "heat-how": (
        "Warm water holds less oxygen and the fish use more. Air day and night, small meals or "
        "none, no net, no bath, no journey; shade, and fresh water a little at a time."
    ),
    "too-hot-to-handle": (
        "The {water} is above {limit} that day: no net and no treatment. Wait for a cooler day, or "
        "ask a vet."
    ),
    "heat-from": "water above {limit}",
    "entries-stay-barred": "Every entry of this water stays barred.",
    "days-after-find": "{days:day} after the find",
    # Touch-ups.
    "touch-up": "Touch-up: {fish}",
    "touch-up-by-vet": "Touch-up by the vet: {fish}",
    "touch-up-if-vet-agrees": "Ask a vet: touch-up of {fish}, if the vet agrees",
    "session-how": _session,
    "fish-in-session": _fish_in_session,
    "touch-up-late": "The window has moved on: plan again before anything else.",
    "touch-up-day-set": "the day you set",
    "touch-up-window": "the window between healing in time and the speck's return",
    "only-if-back": (
        "{fish}: only if the speck was seen clean after the touch-up before and is back; note "
        "both. A place is never cut again before that."
    ),
    "only-if-water-fits": (
        "Only if the {water} reads {coldest} to {warmest} that day: {expected} is expected. If it "
        "does not, leave the fish alone; the plan takes another day."
    ),
    "only-if-unfed": "Only if the {water} has had no food since {since}; if it was fed, wait.",
    "ring-the-vet": "Ask the vet for {day}: touch-up of {fish}",
    "ring-the-vet-how": (
        "Ask whether it is lawful and right, and who may do it. The day worked out is in the plan."
    ),
    "no-vet-no-touch-up": "No vet, no touch-up: the fish can be shown as it is.",
    "two-weeks-before": "two weeks before the day",
    "touch-up-kit": "Touch-up kit: {fish}",
    "touch-up-kit-how": (
        "Lay out: two tubs of pond water, airstones, thermometer, timer, the bottle with its "
        "strength, measuring syringe, wet cloth, sterile blades, gloves, goggles, a second person. "
        "Print the bath sheet."
    ),
    "touch-up-kit-late": "Something will be missing on the day.",
    "three-days-before-touch-up": "three days before the touch-up",
    "look-back": "Look back, {weeks:week} after: {fish}",
    "look-back-how": (
        "Of the touch-up: closed? Clean? Red, fluffy or dark? Write it down. Dark "
        "cells round the wound from day 3 are part of healing."
    ),
    "look-back-late": "A wound going wrong is found a week later; look today.",
    "days-after-touch-up": "{days:day} after the touch-up",
    # The vat to heal in.
    "vat-match": "For {fish}: {vat} to the {home}'s {here}",
    "vat-match-how": (
        "The fish goes from the waking tub into water it knows; the warmth comes after."
    ),
    "vat-match-late": "A step of many degrees on top of the sedation: wait with the touch-up.",
    "before-touch-up": "before the touch-up",
    "into-vat": "Into the {vat}: {fish}",
    "into-vat-how": (
        "Only after the touch-up, when the fish swims upright, and only while the vat is as warm "
        "as the {home}. Write it down, so that the plan goes on warming the vat."
    ),
    "into-vat-asked": (
        "The plan takes it to be there since the touch-up. Say if it is, or if it stayed in the "
        "{home}: until then go on warming the vat by steps, and do not let it cool."
    ),
    "into-vat-late": "Where the fish heals is not written down: the plan may warm an empty vat.",
    "after-touch-up": "after the touch-up",
    "vat-back": "{fish} back from the {vat} to the {home}",
    "vat-back-how": (
        "Clean by {clean} in a slow case too. Cool the vat by {rate} a day first, to within {near} "
        "of the {home}; or leave it there until the journey, and fast it there."
    ),
    "vat-back-late": "The vat is taken for longer than it was planned for.",
    "clean-in-slow-case": "the day the wound is clean in a slow case",
    "ring-a-vet": "Ring a vet about {fish}: {it:small}",
    "not-read-of-late": _not_read,
    "reading-is-old": _reading_is_old,
}
