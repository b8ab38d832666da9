"""The answer to one question about one blemish, and the list of all kinds."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING

from showprep.husbandry.reason import Celsius
from showprep.outputs.words.chances import in_ten, lines_of_days
from showprep.outputs.words.kinds import KINDS
from showprep.outputs.words.plain import counted, spoken_with_year

if TYPE_CHECKING:
    from datetime import date

    from showprep.outputs.words.speaker import Sentences, Speaker
    from showprep.planning.worksheets.heal import HealedBy, HealSheet, KindLine

Part = tuple[str, Sequence[str]]  # a heading, or none, and its lines

DONE: Mapping[str, str] = {
    "touch-up": "You may take it off where that is lawful; elsewhere a vet. It may also stay.",
    "heals": "It heals by itself: leave it alone.",
    "vet": "A vet sees to it, not you.",
    "leave": "It is left alone.",
    "never": "It is never altered: that would change the pattern.",
}
MOST_CALLED = 6  # words for one kind in the list; `check` knows more
_SAID_WHY = ("vet", "leave", "never")
_MEANS = {"closed": "Closed, fit to travel", "clean": "Clean, nothing for a judge to see"}

SENTENCES: Sentences = {
    "heal-no-time": (
        "There is no day for it: food must be stopped before, and a week lies between a touch-up "
        "and a journey."
    ),
    "heal-not-likely": (
        "No day is likely enough. The best would be {day}, with {chance}; below {least} it is left "
        "on: show the fish with it."
    ),
    "heal-in-warm-water": (
        "Warmer water: brought to {water} from {on}, {ramp} a day, the chance is {chance}."
    ),
    "heal-later-show": "A later show: from {day} the chance is {chance} or more.",
    "heal-look": (
        "A look near {day}: what is seen on the fish counts more than any date worked out here."
    ),
    "heal-stitched": "Above {limit} cuts with stitches opened and festered more often.",
    "heal-warming": (
        "Warm only a filtered and aired water, {ramp} a day at most, and feed by the warmth; never "
        "to hurry a fish that is ill: warmth hides some diseases and feeds others."
    ),
    "heal-steady": (
        "Worked out for water that keeps its warmth. With a season folder `showprep plan` follows "
        "your own water, fish and shows."
    ),
}


def heal_parts(speaker: Speaker, sheet: HealSheet) -> Iterator[Part]:
    """The answer: what it is, how sure, what would help, cautions."""
    ask = sheet.ask
    water = speaker.say(Celsius(ask.water_c))
    if ask.warm_to_c is not None:
        water = f"{water} brought to {speaker.say(Celsius(ask.warm_to_c))}"
    head = f"{_capital(KINDS[ask.kind].name)}. Water of {water}, show {spoken_with_year(ask.by)}."
    yield head, [DONE[sheet.may]]
    if sheet.may in _SAID_WHY:
        yield "Why", [speaker.say(sheet.why)]
    elif sheet.may == "touch-up":
        yield "The best day", list(_best_day(speaker, sheet))
    told = [_healed(speaker, sheet, one) for one in sheet.healed]
    if sheet.may == "heals" and not any(one.name == "clean" for one in sheet.healed):
        told.append("There is no figure for when it is clean: it is taken to show.")
    if told:
        yield "How sure by then", told
    if sheet.curve and sheet.may == "touch-up":
        best = max(sheet.curve, key=lambda one: one.both).day
        yield "Of 10 such fish, by the day of the touch-up", list(lines_of_days(sheet.curve, best))
    if sheet.helps:
        yield "What would help", [speaker.say(one) for one in sheet.helps]
    said = (sheet.why,) if sheet.may in _SAID_WHY else ()
    yield "Cautions", [speaker.say(one) for one in sheet.cautions if one not in said]


def _best_day(speaker: Speaker, sheet: HealSheet) -> Iterator[str]:
    if sheet.touch_up is None:
        if sheet.nothing_because is not None:
            yield speaker.say(sheet.nothing_because)
        return
    told = sheet.touch_up
    yield (
        f"{spoken_with_year(told.day)}: {in_ten(told.both)} that nothing is seen (healed "
        f"{in_ten(told.healed)}, not back {in_ten(told.not_back)})."
    )


def _healed(speaker: Speaker, sheet: HealSheet, one: HealedBy) -> str:
    late = f", {counted(one.short_days, 'day')} too late" if one.short_days else ""
    start = sheet.ask.seen if sheet.touch_up is None else sheet.touch_up.day
    usual, slow = (_after(speaker, start, day) for day in (one.days.usual_on, one.days.high_on))
    return (
        f"{_MEANS[one.name]}: {in_ten(one.chance)}. Usually {usual}{late}; in a slow case {slow}."
    )


def _after(speaker: Speaker, start: date, day: date | None) -> str:
    if day is None:
        return "not within three years"
    return f"{speaker.say(day)}, after {counted((day - start).days, 'day')}"


def kind_parts(
    speaker: Speaker,
    lines: Sequence[KindLine],
    called: Mapping[str, Sequence[str]],
    waters: Sequence[float],
) -> Iterator[Part]:
    """Each kind with what people call it, what is done, and its usual days (low to high)."""
    for line in lines:
        name = KINDS[line.kind.id].name
        also = [word for word in called[line.kind.id] if word not in name][:MOST_CALLED]
        told = [f"also: {', '.join(also)}"] if also else []
        told.append(DONE[line.kind.may])
        for milestone, found in line.days:
            days = [
                f"{speaker.say(Celsius(water))} {_days(*one)}"
                for water, one in zip(waters, found, strict=True)
            ]
            told.append(f"{milestone}, in days: {'; '.join(days)}")
        yield f"{line.kind.id}: {name}", told


def _days(low: int | None, usual: int | None, high: int | None) -> str:
    if usual is None:
        return "too slow to plan"
    return f"{usual} ({low} to {'?' if high is None else high})"


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
