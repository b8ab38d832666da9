"""Blemishes that heal by themselves, for one show: closed by departure, clean by benching."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date, timedelta
from typing import Literal

from msgspec import Struct
from msgspec.structs import replace

from showprep.husbandry.chances import chance_still_away
from showprep.husbandry.figures import FiguresInForce
from showprep.husbandry.healing import (
    TOUCH_UP_MAX_MM,
    DefectKind,
    May,
    Milestone,
    healing_days,
)
from showprep.husbandry.healing_base import anchor_of
from showprep.husbandry.places import may_touch_up
from showprep.husbandry.reason import Blemish, Chance, Millimetres, Reason, reason
from showprep.husbandry.red_spots import goes_to_vet
from showprep.husbandry.thermal_time import MeanOn
from showprep.planning.as_of.defects import RED_SPOTS
from showprep.planning.as_of.state import DefectState, FishState
from showprep.planning.chances.chances import FishChances
from showprep.planning.chances.limits import ChanceLimits
from showprep.planning.chances.needs import milestones
from showprep.planning.plan import HealingLine, VerdictWord
from showprep.planning.yard.events import Events
from showprep.planning.yard.yard import Yard

FINS = frozenset({"split-fin", "frayed-fin"})
"""A torn fin without redness keeps no fish at home (common practice, no source)."""

LIKELY_BACK = 0.2
"""From this chance that a speck taken off is back it is looked at again (our choice)."""

CURVE_DAYS = 400  # longer than any healing worth drawing


class Ruling(Struct, frozen=True):
    """What may be done about one defect, and why."""

    may: May
    why: Reason


class Outlook(Struct, frozen=True):
    """One defect against one show, nothing more being done to it.

    `unseen` is the chance that a judge sees nothing of it, `closed` that its wound is closed by
    departure, both 0 to 1. `likely_back_on`: the first day on which a speck that was seen clean is
    likely back, before judging.
    """

    defect: DefectState
    kind: DefectKind
    may: May
    word: VerdictWord
    unseen: float
    closed: float
    reasons: tuple[Reason, ...]
    healing: tuple[HealingLine, ...] = ()
    likely_back_on: date | None = None


def ruling(
    defect: DefectState, kind: DefectKind, scaleless: bool, figures: FiguresInForce
) -> Ruling:
    """What may be done: the kind decides, then where the speck sits, its size, and the scales.

    Red spots that stay are no flush of the skin any more, but for a vet.
    """
    if defect.mark_left:
        return Ruling("leave", reason("trace-stays"))
    if kind.may == "vet" and defect.vet is not None:
        return Ruling("heals", reason("vet-dealt-with-it", on=defect.vet))
    if kind.id == RED_SPOTS and defect.vet is None and _red_spots_stay(defect, figures):
        assert defect.not_clean_on is not None
        return Ruling("vet", reason("red-spots-stay", since=defect.seen, on=defect.not_clean_on))
    if kind.may != "touch-up":
        return Ruling(kind.may, reason("kind-note", kind=kind.id))
    if defect.touched is not None:
        return Ruling("heals", reason("touched-up", on=defect.touched))
    place = may_touch_up(defect.where)
    if place.may != "touch-up":
        return Ruling(place.may, place.reason)
    if scaleless:
        return Ruling("leave", reason("scaleless-fish"))
    if defect.size_mm is not None and defect.size_mm > TOUCH_UP_MAX_MM:
        size, most = Millimetres(defect.size_mm), Millimetres(TOUCH_UP_MAX_MM)
        return Ruling("vet", reason("speck-too-large", size=size, most=most))
    return Ruling("touch-up", place.reason)


def _red_spots_stay(defect: DefectState, figures: FiguresInForce) -> bool:
    looked = defect.not_clean_on
    return looked is not None and goes_to_vet(defect.seen, max(looked, defect.seen), figures)


def outlook(
    yard: Yard,
    fish: FishState,
    defect: DefectState,
    events: Events,
    chances: FishChances,
    limits: ChanceLimits,
) -> Outlook:
    """What one defect means for one show when nothing more is done to it."""
    kind = yard.facts.kinds[defect.kind]
    rule = ruling(defect, kind, is_scaleless(yard, fish), yard.figures)
    it = blemish(defect)

    def seen(word: VerdictWord, why: Reason) -> Outlook:
        return Outlook(defect, kind, rule.may, word, 0.0, 1.0, (why,))

    if rule.may == "vet" and kind.may == "touch-up":
        # A speck does the fish no harm: it may be shown with it, wherever it sits.
        return seen("as-it-is", reason("speck-for-a-vet", it=it, why=rule.why))
    if rule.may == "vet":
        return seen("vet-first", reason("vet-first", it=it, why=rule.why))
    if rule.may == "never":
        return seen("as-it-is", reason("never-altered", it=it, why=rule.why))
    if rule.may == "leave":
        return seen("as-it-is", reason("left-alone", it=it, why=rule.why))
    if rule.may == "touch-up" and cut_and_never_clean(fish, defect):
        return seen("as-it-is", reason("cut-never-clean", it=it))
    if rule.may == "touch-up":
        return seen("as-it-is", reason("speck-shows", it=it))
    return _healing_outlook(yard, fish, defect, kind, events, chances, limits)


def gone_specks(fish: FishState) -> Iterator[DefectState]:
    """Specks taken off and seen clean, which may come back."""
    for one in fish.defects:
        if one.touched is not None and one.clean_on is not None and one.ended_on is None:
            yield one


def gone_outlook(
    yard: Yard, defect: DefectState, events: Events, chances: FishChances, limits: ChanceLimits
) -> Outlook:
    """What a speck that is gone means for a show: it may be back by then."""
    kind, chance = yard.facts.kinds[defect.kind], chances.of(defect, events).shows_nothing
    word = by_chance(chance, limits)
    it, taken_off, likely = blemish(defect), defect.touched, Chance(chance)
    told = (
        reason("speck-stays-away", it=it, taken_off=taken_off, chance=likely)
        if word == "ready"
        else reason("speck-may-be-back", it=it, taken_off=taken_off, chance=likely)
    )
    back = _likely_back_on(yard, defect, events, chances)
    return Outlook(defect, kind, "heals", word, chance, 1.0, (told,), likely_back_on=back)


def _likely_back_on(
    yard: Yard, defect: DefectState, events: Events, chances: FishChances
) -> date | None:
    wound = chances.yard.needs.wound(defect)
    if wound is None:
        return None
    days = (events.judging_day - yard.on).days
    ahead = (yard.on + timedelta(days=number) for number in range(days))
    return next((day for day in ahead if chance_still_away(wound, day) <= 1 - LIKELY_BACK), None)


def cut_and_never_clean(fish: FishState, defect: DefectState) -> bool:
    """Was this place cut before, and not seen clean since? Then it is left alone."""
    if not defect.came_back:
        return False
    return any(
        old.kind == defect.kind
        and old.where == defect.where
        and old.ended_on == defect.seen
        and old.touched is not None
        and old.clean_on is None
        for old in fish.defects
    )


def by_chance(chance: float, limits: ChanceLimits) -> VerdictWord:
    """The word for a fish or blemish that heals by itself, by the chance that nothing is seen."""
    if chance >= limits.sure:
        return "ready"
    return "tight" if chance >= limits.least else "as-it-is"


def is_scaleless(yard: Yard, fish: FishState) -> bool:
    """Doitsu bodies carry scales along the lines only, or none."""
    variety = yard.facts.varieties.get(fish.record.variety)
    return (variety is not None and variety.scaleless) or "doitsu" in fish.record.variety


def blemish(defect: DefectState) -> Blemish:
    """The defect as it is spoken of: its kind, and where it is."""
    return Blemish(defect.kind, defect.where)


def healing_of(
    yard: Yard,
    fish: FishState,
    defect: DefectState,
    kind: DefectKind,
    events: Events,
    *,
    start: date | None = None,
    mean_on: MeanOn | None = None,
) -> tuple[HealingLine, ...]:
    """Each milestone of a defect with its dates against this show's deadlines.

    `start` is the touch-up day when one is being weighed; otherwise the day it heals from.
    """
    begin = start or defect.heals_from
    course, day = yard.course(fish), max(begin, yard.on)
    around = mean_on or course.heals_at
    healings = []
    for name, milestone in milestones(defect, kind):
        deadline = events.departure_day if name == "closed" else events.benching_day
        healing = _one_healing(begin, deadline, name, milestone, around, kind)
        healing = replace(
            healing,
            where=defect.where,
            after_touch_up=start is not None or defect.touched is not None,
            water=course.heals_in(day) or course.water_before(day),
        )
        healings.append(_as_seen(healing, defect))
    return tuple(healings)


def _one_healing(
    begin: date,
    deadline: date,
    name: Literal["closed", "clean"],
    milestone: Milestone,
    mean_on: MeanOn,
    kind: DefectKind,
) -> HealingLine:
    anchor = anchor_of(kind.id)
    days = healing_days(milestone, begin, mean_on, milestone_name=name, anchor_c=anchor)
    return HealingLine(
        defect=kind.id,
        where="",
        milestone=name,
        start=begin,
        after_touch_up=False,
        deadline=deadline,
        low_on=days.low_on,
        usual_on=days.usual_on,
        high_on=days.high_on,
        short_days=_short(days.usual_on, deadline),
        low=milestone.low,
        usual=milestone.usual,
        high=milestone.high,
        least_days=milestone.least_days,
        unit=milestone.unit,
        grade=kind.grade,
        water="",
        gathered_by_deadline=round(milestone.gathered(begin, deadline, mean_on), 1),
        curve=_curve(begin, max(deadline, days.high_on or deadline), milestone, mean_on),
    )


def _as_seen(healing: HealingLine, defect: DefectState) -> HealingLine:
    """What was seen replaces what was expected.

    Seen closed: closed from that day. Still seen after the usual day: this is the slow case, and
    past the slow case no date is known.
    """
    if healing.milestone == "closed":
        seen = defect.closed_on
        if seen is None:
            return healing
        return replace(healing, low_on=seen, usual_on=seen, high_on=seen, short_days=None)
    looked = defect.not_clean_on
    if looked is None or (healing.usual_on is not None and looked < healing.usual_on):
        return healing
    slow = healing.high_on if healing.high_on is not None and healing.high_on > looked else None
    return replace(
        healing, low_on=slow, usual_on=slow, high_on=slow, short_days=_short(slow, healing.deadline)
    )


def _healing_outlook(
    yard: Yard,
    fish: FishState,
    defect: DefectState,
    kind: DefectKind,
    events: Events,
    chances: FishChances,
    limits: ChanceLimits,
) -> Outlook:
    healing = healing_of(yard, fish, defect, kind, events)
    told = chances.of(defect, events)
    closed = chances.closed(defect, events)
    open_still = closed < limits.closed
    if open_still and kind.id not in FINS:
        why = reason("cannot-heal-in-time", why=_why_open(defect, healing, events, closed))
        return Outlook(
            defect, kind, "heals", "too-late", told.shows_nothing, closed, (why,), healing
        )
    clean = next((one for one in healing if one.milestone == "clean"), None)
    if clean is None:
        why = reason("no-figure-for-clean", it=blemish(defect))
        return Outlook(defect, kind, "heals", "as-it-is", 0.0, closed, (why,), healing)
    word = "as-it-is" if open_still else by_chance(told.shows_nothing, limits)
    reasons = [_why(defect, clean, word, told.shows_nothing)]
    if open_still:
        reasons.append(reason("fin-open", it=blemish(defect), chance=Chance(closed)))
    return Outlook(defect, kind, "heals", word, told.shows_nothing, closed, tuple(reasons), healing)


def _why_open(
    defect: DefectState, healing: Sequence[HealingLine], events: Events, closed: float
) -> Reason:
    """Why a wound will not be closed at departure: late at the usual pace, or in a slow case."""
    line = next(one for one in healing if one.milestone == "closed")
    if line.usual_on is None or line.short_days is not None:
        return _late(defect, line)
    it, by = blemish(defect), events.departure_day
    return reason(
        "open-at-departure",
        it=it,
        by=by,
        usual=line.usual_on,
        slow=line.high_on,
        chance=Chance(closed),
    )


def _late(defect: DefectState, healing: HealingLine) -> Reason:
    it, milestone = blemish(defect), healing.milestone
    if healing.usual_on is None or healing.short_days is None:
        return reason("heals-out-of-sight", it=it, milestone=milestone)
    days, by = healing.short_days, healing.deadline
    return reason(
        "heals-late", it=it, milestone=milestone, usual=healing.usual_on, days=days, by=by
    )


def _why(defect: DefectState, clean: HealingLine, word: VerdictWord, chance: float) -> Reason:
    it, by = blemish(defect), clean.deadline
    if clean.usual_on is None and defect.not_clean_on is not None:
        return reason("still-seen", it=it, on=defect.not_clean_on, chance=Chance(chance))
    if clean.short_days is not None or clean.usual_on is None:
        if word == "as-it-is":
            return _late(defect, clean)
        return reason("heals-perhaps", it=it, by=by, chance=Chance(chance))
    usual, slow, likely = clean.usual_on, clean.high_on, Chance(chance)
    if word == "ready":
        return reason("heals-in-time", it=it, usual=usual, slow=slow, by=by, chance=likely)
    return reason("heals-doubtful", it=it, usual=usual, slow=slow, by=by, chance=likely)


def _short(usual_on: date | None, deadline: date) -> int | None:
    if usual_on is None or usual_on <= deadline:
        return None
    return (usual_on - deadline).days


def _curve(
    begin: date, until: date, milestone: Milestone, mean_on: MeanOn
) -> tuple[tuple[date, float], ...]:
    points = [(begin, 0.0)]
    total = 0.0
    first = begin.toordinal() + 1
    for number in range(first, min(first + CURVE_DAYS, until.toordinal() + 1)):
        day = date.fromordinal(number)
        total += milestone.gain(mean_on(day))
        points.append((day, round(total, 1)))
    return tuple(points)
