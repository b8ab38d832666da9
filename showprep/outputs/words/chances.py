"""How sure a touch-up is: its curve over the days, and what each doubt costs."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from datetime import date
from typing import TYPE_CHECKING

from showprep.outputs.words.plain import listed, spoken, spoken_with_year
from showprep.planning.plan import Doubt, PlannedTouchUp, TouchUpChance

if TYPE_CHECKING:
    from showprep.outputs.words.speaker import Sentences, Speaker

MOST_ROWS = 12
LEAST = 0.05  # days less likely than this are not drawn


def in_ten(share: float) -> str:
    """A chance as people read it best: whole cases in ten, never more than there are.

    "10 in 10" only where nothing is uncertain, "less than 1 in 10" where it is not even one.
    """
    tenths = int(share * 10 + 1e-9) if share < 1 else 10
    return f"{tenths} in 10" if tenths else "less than 1 in 10"


SENTENCES: Sentences = {
    "look-tells-most": (
        "A look at {fish}'s {it:small} on {on}. If nothing is seen, the chance for {show} is "
        "{good}; if something is, {bad}. Now it is {now}."
    ),
    "reading-tells-most": (
        "A reading of the {water} today. It could move {fish}'s chance for {show}, now {now}, by "
        "about {hundredths} in 100, up or down."
    ),
}


def touch_up_lines(
    speaker: Speaker, touch_up: PlannedTouchUp, entered: bool = True
) -> Iterator[str]:
    """The window, the best day, today, and the day that is planned.

    A fish that is not `entered` needs none for the show.
    """
    if touch_up.day is not None and touch_up.chance is not None:
        yield (
            f"planned for {spoken_with_year(touch_up.day)}, heals in the {touch_up.water}: of 10 "
            f"such fish about {_of_ten(touch_up.chance)} show nothing of it at judging"
        )
    else:
        because = touch_up.nothing_because
        other = "it is not needed" if entered else "it does not go to this show"
        yield f"none planned: {speaker.clause(because) if because else other}"
    if touch_up.earliest is not None and touch_up.latest is not None:
        first, last = spoken(touch_up.earliest), spoken(touch_up.latest)
        yield f"likely enough {'on ' + first if first == last else f'from {first} to {last}'}"
    if touch_up.best is not None and touch_up.best != touch_up.day:
        chance = next((one.both for one in touch_up.curve if one.day == touch_up.best), None)
        if chance is not None:
            yield f"best fit day {spoken(touch_up.best)}: {in_ten(chance)}"
    if touch_up.today is not None:
        yield f"taken off today: {in_ten(touch_up.today.both)}"
    if touch_up.usual_by is not None:
        slow = touch_up.slow_by
        late = f"; to be clean in a slow case too by {spoken(slow)}" if slow is not None else ""
        yield f"to be clean at the usual pace: by {spoken(touch_up.usual_by)}{late}"


def _of_ten(share: float) -> str:
    return in_ten(share).removesuffix(" in 10")


def curve_lines(touch_up: PlannedTouchUp) -> Iterator[str]:
    """By the day of the touch-up, of 10 such fish: how many show nothing; the marked days too."""
    return lines_of_days(touch_up.curve, touch_up.best, touch_up.day)


def lines_of_days(
    curve: Sequence[TouchUpChance], best: date | None, planned: date | None = None
) -> Iterator[str]:
    """The days of a curve, one a line, at most about MOST_ROWS of them."""
    for one in _drawn(curve, {best, planned}):
        tenths = int(one.both * 10 + 1e-9)
        words = [word for day, word in ((best, "best"), (planned, "planned")) if day == one.day]
        if not words and not one.fit:
            words = ["not fit"]
        bar = "#" * tenths + "." * (10 - tenths)
        parts = f"healed {int(one.healed * 10 + 1e-9)}, not back {int(one.not_back * 10 + 1e-9)}"
        yield f"{spoken(one.day):<13} {bar} {tenths} ({parts}){_note(words)}"


def _note(words: Sequence[str]) -> str:
    return f", {listed(words)}" if words else ""


def _drawn(curve: Sequence[TouchUpChance], marked: Collection[date | None]) -> list[TouchUpChance]:
    likely = [one for one in curve if one.both >= LEAST]
    if not likely:
        return []
    step = -(-len(likely) // MOST_ROWS)
    anchor = next((n for n, one in enumerate(likely) if one.day in marked), 0)
    return [one for n, one in enumerate(likely) if (n - anchor) % step == 0 or one.day in marked]


_COST = {
    "need": "still show the cut: they heal slowly",
    "base": "still show the cut: cool water heals less than is thought",
    "water": "still show the cut: the water is colder than usual",
    "return": "show the speck again: it came back early",
}


def doubt_lines(touch_up: PlannedTouchUp) -> Iterator[str]:
    """Of 100 such fish: how many show nothing, and what the others are lost to."""
    if touch_up.chance is None or not touch_up.doubts:
        return
    counts = _hundred(touch_up.chance, touch_up.doubts)
    yield f"{counts[0]:>3} show nothing"
    for count, doubt in zip(counts[1:], touch_up.doubts, strict=True):
        if count:
            yield f"{count:>3} {_COST[doubt.of]}"


def _hundred(chance: float, doubts: Sequence[Doubt]) -> list[int]:
    """Whole numbers that make 100, never more than the chance for those that show nothing."""
    lost = [max(100 * doubt.costs, 0.0) for doubt in doubts]
    good = min(int(100 * chance + 1e-9), 100)
    left = 100 - good
    total = sum(lost)
    shares = [one * left / total if total else 0.0 for one in lost]
    whole = [int(one) for one in shares]
    rest = sorted(range(len(shares)), key=lambda n: (whole[n] - shares[n], n))
    for n in rest[: left - sum(whole)]:
        whole[n] += 1
    return [good, *whole]
