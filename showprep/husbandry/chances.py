"""How sure a wound is closed and clean by a day, and that a speck taken off is not back.

Four things are uncertain, each a distribution: the base of healing (three cases), what a wound
asks for (split log-normal, moved by the yard's looks), the water (normal degree-days over a
span), and the return of a speck. For a touch-up on day d

    clean = P(requirement <= degree-days from d to benching) · P(not back by judging).

There is no guard and no spare day on top: one chance, one price. Chances are rounded to four
digits, so that no machine's last digit can move a plan.
"""

from __future__ import annotations

import math
from datetime import date

from msgspec import Struct

from showprep.husbandry.normal_scores import NODES
from showprep.husbandry.speck_return import chance_not_back
from showprep.husbandry.warmth_ahead import Span, Warmth
from showprep.husbandry.warmth_paths import STEADY, warmth_paths
from showprep.husbandry.wound_need import Need, Wound
from showprep.husbandry.yard_pace import Known

DIGITS = 4
_NEARLY = 0.9999


class WoundChances(Struct, frozen=True):
    """Chances, 0 to 1: closed by one day, clean by another, and not back by a third."""

    closed: float
    clean: float
    not_back: float

    @property
    def shows_nothing(self) -> float:
        """The chance that a judge sees nothing of it: clean, and not back."""
        return round(self.clean * self.not_back, DIGITS)


def chances_of(
    wound: Wound, closed_by: date, clean_by: date, seen_on: date, warmth: Warmth
) -> WoundChances:
    """Closed by departure, clean by benching, not back by judging, along a fish's course.

    `warmth` must know the days from the wound's start to both days. A touch-up day later than
    a day asked about gives 0.
    """
    clean = 1.0
    if not wound.seen_clean_by(clean_by):
        clean = rounded(
            chance_healed(wound.clean, wound.start, clean_by, wound.not_clean_on, warmth)
        )
    return WoundChances(
        chance_closed(wound, closed_by, warmth), clean, chance_still_away(wound, seen_on)
    )


def chance_closed(wound: Wound, by: date, warmth: Warmth) -> float:
    """The chance, 0 to 1, that the skin of a wound is closed by a day; 1 where it needs not be."""
    if wound.closed is None or wound.seen_closed_by(by):
        return 1.0
    return rounded(chance_healed(wound.closed, wound.start, by, wound.not_closed_on, warmth))


def chance_still_away(wound: Wound, seen_on: date) -> float:
    """The chance, 0 to 1, that a speck taken off is not back on a day; 1 where none comes back."""
    if wound.returns is None:
        return 1.0
    return rounded(chance_not_back(wound.returns, *wound.days_away(seen_on)))


def rounded(chance: float) -> float:
    """A chance rounded for use; never 1: what was not seen is never quite sure."""
    return min(round(chance, DIGITS), _NEARLY)


def chance_healed(
    need: Need, start: date, by: date, not_yet_on: date | None, warmth: Warmth, count: int = 1
) -> float:
    """The chance, 0 to 1, that a need of the day `start` is met by a day; not rounded.

    `not_yet_on` is the last day on which it was seen not yet to be met. `count` wounds of one day
    that nobody has looked at since are all healed: they share base, water and the yard's pace.
    """
    if (by - start).days < max(need.least_days, 0):
        return 0.0
    look = not_yet_on if not_yet_on is not None and not_yet_on > start else None
    if look is not None and by <= look:
        return 0.0
    asked = (id(need), start, by, look, count)
    if asked not in warmth.answers:  # the fish of one water ask the same again and again
        worked_out = (
            _without_look(need, start, by, warmth, count)
            if look is None
            else _since_look(need, start, by, look, warmth)
        )
        warmth.answers[asked] = need, worked_out
    return warmth.answers[asked][1]


def _since_look(need: Need, start: date, by: date, look: date, warmth: Warmth) -> float:
    told = left = 0.0
    for base, share, known in need.cases:
        for weight, (had, at_look) in _sums(base, start, by, look, warmth, need.film):
            # Without looks the one at this wound is weighed in here, over all bases at once.
            before = 1.0 if known.looks else known.share_above(at_look)
            left += share * weight * before
            told += share * weight * before * known.share_below(had, at_look)
    return told / left if left > 0 else 0.0


def _without_look(need: Need, start: date, by: date, warmth: Warmth, count: int) -> float:
    """The plain and frequent case, worked out without detours."""
    span = start, by
    if need.film:
        days = warmth.film(span)
        return math.fsum(
            share * weight * known.all_below(had, count)
            for _, share, known in need.cases
            for weight, had in days
        )
    return math.fsum(
        share * _over_base(base, known, span, warmth, count) for base, share, known in need.cases
    )


def _over_base(base: float | None, known: Known, span: Span, warmth: Warmth, count: int) -> float:
    """The chance over one base; None counts days."""
    if base is None:
        return known.all_below(float((span[1] - span[0]).days), count)
    mean, spread = warmth.mean(base, span), math.sqrt(warmth.variance(base, span))
    if spread <= STEADY:
        return known.all_below(mean, count)
    total = 0.0
    for z, weight in NODES:
        total += weight * known.all_below(max(mean + z * spread, 0.0), count)
    return total


def _sums(
    base: float | None, start: date, by: date, look: date, warmth: Warmth, film: bool
) -> list[tuple[float, tuple[float, float]]]:
    """What a wound has had by a day and by a look, on each path of the water: weight, amounts."""
    if film:
        until, looked = warmth.film((start, by)), warmth.film((start, look))
        return [
            (weight, (had, min(seen, had)))
            for (weight, had), (_, seen) in zip(until, looked, strict=True)
        ]
    if base is None:
        return [(1.0, (float((by - start).days), float((look - start).days)))]
    found = warmth_paths(base, [(start, by), (start, look)], warmth)
    return [(weight, (sums[0], min(sums[1], sums[0]))) for weight, sums in found]
