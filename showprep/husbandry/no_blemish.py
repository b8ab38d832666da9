"""How sure a fish shows no blemish: several wounds and specks, which do not heal independently.

All share the base of healing and the path of the water, and those of one kind the pace of the
yard. The chances are multiplied within each of these and then averaged: taken as independent,
four fish of 80 % would all be clean in 41 cases of 100 instead of about 56.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from datetime import date
from functools import lru_cache

from showprep.husbandry.chances import chance_healed, rounded
from showprep.husbandry.healing_base import BASES_C
from showprep.husbandry.speck_return import DAYS_PER_WEEK, chance_not_back
from showprep.husbandry.warmth_ahead import Span, Warmth
from showprep.husbandry.warmth_paths import warmth_paths
from showprep.husbandry.wound_need import Need, Wound
from showprep.husbandry.yard_pace import Known, more_than

_ROOT_2 = math.sqrt(2)


def chance_no_blemish(
    wounds: Sequence[Wound], clean_by: date, seen_on: date, warmth: Warmth
) -> float:
    """The chance, 0 to 1, that a fish shows no blemish: all wounds clean, no speck back.

    Clean by benching, not back by judging. 1 without wounds. `warmth` must know the days from
    the first wound to benching.
    """
    return chances_of_all(wounds, clean_by, seen_on, warmth)[1]


def chances_of_all(
    wounds: Sequence[Wound], clean_by: date, seen_on: date, warmth: Warmth
) -> tuple[float, float]:
    """The chances, 0 to 1, that all are clean, and that besides no speck is back."""
    open_still = [wound for wound in wounds if not wound.seen_clean_by(clean_by)]
    healed = 1.0
    if open_still:
        asked = (
            "all",
            clean_by,
            *((id(one.clean), one.start, one.not_clean_on) for one in open_still),
        )
        if asked not in warmth.answers:
            warmth.answers[asked] = open_still, _all_healed(open_still, clean_by, warmth)
        healed = warmth.answers[asked][1]
    if not open_still and all(wound.returns is None for wound in wounds):
        return 1.0, 1.0
    return rounded(healed) if open_still else 1.0, rounded(healed * _none_back(wounds, seen_on))


def _all_healed(wounds: Sequence[Wound], by: date, warmth: Warmth) -> float:
    """The chance that all of them are clean by a day, within each base, path and pace."""
    if any((by - wound.start).days < max(wound.clean.least_days, 0) for wound in wounds):
        return 0.0
    first = wounds[0]
    if len(wounds) == 1:
        return chance_healed(first.clean, first.start, by, first.not_clean_on, warmth)
    groups = _alike(wounds, lambda wound: wound.clean)
    if len(groups) == 1 and all(
        wound.start == first.start and wound.not_clean_on is None for wound in wounds
    ):  # the frequent case: specks to be taken off together
        return chance_healed(first.clean, first.start, by, None, warmth, len(wounds))
    spans: list[Span] = []
    # Specks taken off together ask the same: it is worked out once and counted.
    asked = [Counter(_asked(wound, by, spans, warmth) for wound in group) for group in groups]
    told = left = 0.0
    for base, share in _shared_bases([group[0].clean for group in groups]):
        known = [_known_over(group[0].clean, base) for group in groups]
        paths = warmth_paths(base, spans, warmth) if base is not None and spans else [(1.0, ())]
        for weight, sums in paths:
            before = healed = share * weight
            for one, questions in zip(known, asked, strict=True):
                looks, met = _group_healed(one, questions, sums)
                before *= looks
                healed *= met
            left += before
            told += healed
    return told / left if left > 0 else 0.0


def _known_over(need: Need, base: float | None) -> Known:
    return next(known for at, _, known in need.cases if at is None or at == base)


_Amount = int | float
"""A place in the list of spans, or (a float) days that need no water."""


def _asked(
    wound: Wound, by: date, spans: list[Span], warmth: Warmth
) -> tuple[_Amount, _Amount | None]:
    """Where to find what the wound had by the day, and by its look; new spans are added."""
    look = wound.not_clean_on
    ends = [by] if look is None or look <= wound.start else [by, min(look, by)]
    found: list[_Amount] = []
    for end in ends:
        if wound.clean.cases[0][0] is None:
            days = float((end - wound.start).days)
            if wound.clean.film:
                days = math.fsum(w * had for w, had in warmth.film((wound.start, end)))
            found.append(days)
            continue
        span = (wound.start, end)
        if span not in spans:
            spans.append(span)
        found.append(spans.index(span))
    return found[0], found[1] if len(found) > 1 else None


def _shared_bases(needs: Sequence[Need]) -> list[tuple[float | None, float]]:
    """The bases and their shares where several needs have each moved them by looks of their own."""
    warm = [need for need in needs if need.cases[0][0] is not None]
    if not warm:
        return [(None, 1.0)]
    weights = []
    for at, (base, before) in enumerate(BASES_C):
        moved = math.prod(need.cases[at][1] / before for need in warm)
        weights.append((base, before * moved))
    total = math.fsum(weight for _, weight in weights)
    return [(base, weight / total) for base, weight in weights]


def _group_healed(
    known: Known,
    questions: Mapping[tuple[_Amount, _Amount | None], int],
    sums: Sequence[float],
) -> tuple[float, float]:
    """Of wounds of one kind on one path: the chance of their looks, and of these and all healed."""
    scores = []
    for (had, look), count in questions.items():
        by_day = sums[had] if isinstance(had, int) else had
        if look is None:
            if len(questions) == 1:
                return 1.0, known.all_below(by_day, count)
            floor = -math.inf
        else:
            floor = known.figures.score(sums[look] if isinstance(look, int) else look)
        scores.append((known.figures.score(by_day), floor, count))
    before = healed = 0.0
    erfc, weighed_in = math.erfc, known.looks > 0
    for middle, scatter, seen in known.paces:  # asked on every path: `more_than` is written out
        width, met = _ROOT_2 * scatter, 1.0
        for by_day, floor, count in scores:
            left = erfc((floor - middle) / width)  # twice the chance; 2 without a look
            if not weighed_in:
                seen *= (left / 2) ** count
            beyond = erfc((by_day - middle) / width)
            met *= (1 - beyond / left) ** count if beyond < left else 0.0
        before += seen
        healed += seen * met
    return before, healed


def _none_back(wounds: Sequence[Wound], seen_on: date) -> float:
    """The chance that none of the specks is back, within each pace of the yard."""
    chance = 1.0
    for group in _alike(
        [wound for wound in wounds if wound.returns is not None], lambda wound: wound.returns
    ):
        known = group[0].returns
        assert known is not None
        away = tuple(wound.days_away(seen_on) for wound in group)
        if len(group) == 1:
            chance *= chance_not_back(known, *away[0])
            continue
        chance *= _within_pace(known, away)
    return chance


@lru_cache(maxsize=10_000)  # no water is in it: the fish of all courses ask the same
def _within_pace(known: Known, away: tuple[tuple[float, float], ...]) -> float:
    told = left = 0.0
    for pace in known.paces:
        seen, stays = 1.0, 1.0
        for days, clean_at in away:
            floor = known.figures.score(clean_at / DAYS_PER_WEEK)
            score = known.figures.score(max(days, clean_at) / DAYS_PER_WEEK)
            stays *= more_than(pace, score, floor)
            if not known.looks:
                seen *= more_than(pace, floor)
        left += pace.share * seen
        told += pace.share * seen * stays
    return told / left if left > 0 else 0.0


def _alike(wounds: Sequence[Wound], key: Callable[[Wound], object]) -> list[list[Wound]]:
    """The wounds in groups of the same key, in the order given."""
    groups: list[tuple[object, list[Wound]]] = []
    for wound in wounds:
        for known, group in groups:
            if known is key(wound) or known == key(wound):
                group.append(wound)
                break
        else:
            groups.append((key(wound), [wound]))
    return [group for _, group in groups]
