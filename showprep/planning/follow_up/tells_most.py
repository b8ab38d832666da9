"""The one look or reading that would tell most about the next decision, and by how much.

A chance is what is known today. A look at a wound or a speck, or a reading of the water, will move
it: up or down, nobody knows which, but how far is known beforehand. What moves it furthest, by the
points that hang on it, is told.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import date, timedelta

from msgspec import Struct
from msgspec.structs import replace

from showprep.husbandry.chances import chance_healed
from showprep.husbandry.reason import Chance, FishId, Reason, ShowId, reason
from showprep.planning.as_of.state import DefectState
from showprep.planning.chances.chances import FishChances
from showprep.planning.plan import Verdict
from showprep.planning.verdicts.prospects import Prospect, unseen
from showprep.planning.verdicts.touch_ups import TouchUps
from showprep.planning.verdicts.wounds import Outlook, blemish
from showprep.planning.yard.yard import Yard

LOOK_IN_DAYS = (0, 3, 7, 10, 14)
"""On which days ahead a look is weighed: it tells nothing before it can have healed."""
FAR = 1.2816
"""Standard deviations at which a reading is tried: 1 in 10 is lower, 1 in 10 higher."""
LEAST_MOVE = 0.02
"""What moves a chance by less than this is not worth telling."""
LEAST_HOPE = 0.3
"""Where even a good look leaves less than this, nothing is decided by it."""
_ROUGH = 0.02  # how far chances with and without a look may be from adding up
NEAR = timedelta(days=28)
"""A touch-up so far ahead is among the next decisions (assumption)."""


class _Told(Struct, frozen=True):
    """What could be looked at, and how far it moves what is expected [points]."""

    points: float
    move: float  # of the chance
    reason: Reason


def tells_most(
    yard: Yard,
    verdicts: Sequence[Verdict],
    prospects: Mapping[tuple[str, str], Prospect],
    touch_ups: Mapping[str, TouchUps],
) -> Reason | None:
    """The look or reading that moves the next decision most; None where none is worth telling."""
    found: list[_Told] = []
    for verdict in _next_decisions(yard, verdicts):
        one, its = prospects[verdict.fish, verdict.show], touch_ups[verdict.fish]
        found += _looks(yard, verdict, one, its)
        found += _readings(yard, verdict, one, its)
    worth = [told for told in found if told.move >= LEAST_MOVE]
    best = max(worth, key=lambda told: round(told.points, 6), default=None)
    return best.reason if best is not None else None


def _next_decisions(yard: Yard, verdicts: Sequence[Verdict]) -> Iterator[Verdict]:
    """Entries of the next show that has any in doubt, and touch-ups planned for the next weeks."""
    shows = {one.show: number for number, one in enumerate(yard.planned())}
    doubtful = [
        one
        for one in verdicts
        if one.entered and one.chance_clean is not None and 0 < one.chance_clean < 1
    ]
    first = min((shows[one.show] for one in doubtful), default=None)
    for one in doubtful:
        day = one.touch_up.day if one.touch_up is not None else None
        if shows[one.show] == first or (day is not None and day <= yard.on + NEAR):
            yield one


def _looks(yard: Yard, verdict: Verdict, one: Prospect, touch_ups: TouchUps) -> Iterator[_Told]:
    """A look at each wound that heals, or speck that may come back."""
    touched = verdict.touch_up.day if verdict.touch_up is not None else None
    now = verdict.chance_clean or 0.0
    for view in one.outlooks:
        if view.may != "heals" or not 0 < view.unseen < 1:
            continue
        best = _best_look(yard, one, touch_ups, view, touched, now)
        if best is None:
            continue
        spread, on, good, bad = best
        if max(good, bad) < LEAST_HOPE:
            continue
        said = reason(
            "look-tells-most",
            fish=FishId(verdict.fish),
            it=blemish(view.defect),
            on=on,
            show=ShowId(verdict.show),
            now=Chance(now),
            good=Chance(good),
            bad=Chance(bad),
        )
        yield _Told(spread * view.defect.merit_lost, abs(good - bad), said)


def _best_look(
    yard: Yard,
    one: Prospect,
    touch_ups: TouchUps,
    view: Outlook,
    touched: date | None,
    now: float,
) -> tuple[float, date, float, float] | None:
    """The look that moves the chance `now` most: how far, when, and to what if good or bad.

    A look that is good in p of all cases moves it to G or B, pG + (1 - p)B being the chance now:
    so their distance is at most the lesser of now/p and (1 - now)/(1 - p). Of days that this
    leaves behind the best so far nothing more is worked out.
    """
    likely: list[tuple[float, float, date]] = []
    for ahead in LOOK_IN_DAYS:
        on = yard.on + timedelta(ahead)
        if on >= one.events.departure_day or (touched is not None and on > touched):
            continue
        p = _good_by(touch_ups.chances, view.defect, on)
        if 0.02 < p < 0.98:
            most = min(now / p, (1 - now) / (1 - p)) + _ROUGH
            likely.append(((p * (1 - p)) ** 0.5 * most, p, on))
    best: tuple[float, date, float, float] | None = None
    for most, p, on in sorted(likely, reverse=True):
        if best is not None and most < best[0]:
            break
        good = _with(touch_ups, one, view, touched, _seen_good(view.defect, on))
        if view.defect.clean_on is not None:
            bad = 0.0  # the speck is back, and a speck that is back shows
        else:
            bad = _with(touch_ups, one, view, touched, replace(view.defect, not_clean_on=on))
        spread = (p * (1 - p)) ** 0.5 * abs(good - bad)
        if best is None or (-spread, on) < (-best[0], best[1]):
            best = spread, on, good, bad
    return best


def _good_by(chances: FishChances, defect: DefectState, on: date) -> float:
    """The chance that a look on a day finds it clean, or still away."""
    wound = chances.yard.needs.wound(defect)
    if wound is None:
        return 0.0
    away = 1.0
    if wound.returns is not None:
        days, clean_at = wound.days_away(on)
        away = wound.returns.share_above(days / 7, clean_at / 7)
    if wound.seen_clean_by(on):
        return away
    return away * chance_healed(wound.clean, wound.start, on, wound.not_clean_on, chances.warmth)


def _seen_good(defect: DefectState, on: date) -> DefectState:
    return replace(
        defect, clean_on=defect.clean_on or on, still_clean_on=on, closed_on=defect.closed_on or on
    )


def _with(
    touch_ups: TouchUps,
    one: Prospect,
    view: Outlook,
    touched: date | None,
    seen: DefectState,
) -> float:
    """The chance of no blemish when this one was seen so."""
    outlooks = [
        replace(each, defect=seen, unseen=0.5) if each is view else each for each in one.outlooks
    ]
    return unseen(touch_ups, outlooks, one.events, touched)


def _readings(yard: Yard, verdict: Verdict, one: Prospect, touch_ups: TouchUps) -> Iterator[_Told]:
    """A reading of the water it is in today."""
    course = yard.course(one.fish)
    water = course.water_on(yard.on)
    if water is None or yard.waters.is_steady(water):
        return
    read = yard.waters.readings[water]
    if read and read[-1][0] >= yard.on:
        return
    touched = verdict.touch_up.day if verdict.touch_up is not None else None
    if verdict.touch_up is not None and verdict.touch_up.water not in (None, water):
        return  # it heals elsewhere
    cold, warm = (
        unseen(
            replace(
                touch_ups, chances=touch_ups.chances.yard.read(touch_ups.chances, yard.on, far)
            ),
            one.outlooks,
            one.events,
            touched,
        )
        for far in (-FAR, FAR)
    )
    lost = sum(
        view.defect.merit_lost
        for view in one.outlooks
        if 0 < view.unseen < 1 or view.defect in touch_ups.specks
    )
    said = reason(
        "reading-tells-most",
        water=water,
        fish=FishId(verdict.fish),
        show=ShowId(verdict.show),
        now=Chance(verdict.chance_clean or 0.0),
        cold=Chance(cold),
        warm=Chance(warm),
        hundredths=round(50 * abs(warm - cold)),
    )
    yield _Told(abs(warm - cold) / (2 * FAR) * lost, abs(warm - cold), said)
