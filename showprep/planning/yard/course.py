"""The course of one fish: in which water it is on each day, how warm, and how that is known.

One timeline a fish, made of where it lives, its moves written and planned, and what the plan does
with it: the holding vat before a journey, the show, the time kept apart, the way home, a wound
healing in a warm vat. Everything that hangs on a fish's water reads it here.

What passed without a note is presumed. A fish is where the plan put it until something else is
written down: a move that is written ends what was presumed of that stretch.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta
from functools import cache, cached_property
from itertools import pairwise
from math import inf
from typing import Literal, NamedTuple

from msgspec import Struct
from msgspec.structs import replace

from showprep.husbandry.thermal_time import MeanOn
from showprep.husbandry.water import ramped

Grade = Literal["written", "planned", "presumed"]
Why = Literal["home", "move", "holding", "show", "kept apart", "warm healing"]

LONGEST_RAMP = 60
"""Days after which a ramp counts as never done: two waters 40 °C apart at 1 °C a day, and more."""

EARLY = timedelta(days=14)
"""A move to the holding vat this long before its day is that move, done early."""


class WaterMove(Struct, frozen=True):
    """A change of water that the keeper has written down or plans.

    `c_per_day` is the ramp the keeper states [°C/d]; None: no ramp. One `to_heal` leads into the
    isolation vat after a touch-up: by the plan's ramp if none is stated, and never for good.
    """

    on: date
    to: str
    done: bool
    c_per_day: float | None = None
    to_heal: bool = False


class Journey(Struct, frozen=True):
    """One fish for one show, as far as its place is concerned.

    `holding` is the vat it waits in and the day it goes there; `held_at_c` the warmth that vat is
    brought to with the fish in it [°C] (None: it stays at its own). `kept_apart_in` is where it
    stays when it is home, `clear` the day its time there is over (None: its water clears nothing).
    `show_c` is the show's water [°C], None where it is not known.
    """

    show: str
    departure: date
    home: date
    grade: Grade
    show_c: float | None = None
    holding: tuple[str, date] | None = None
    held_at_c: float | None = None
    kept_apart_in: str | None = None
    clear: date | None = None


class WarmHealing(Struct, frozen=True):
    """A wound that heals in a warm vat from `first` on; `back` is the day it goes home.

    None: it stays there until its journey.
    """

    show: str
    vat: str
    first: date
    back: date | None
    grade: Grade


class Stay(Struct, frozen=True):
    """A stretch of days in one place; `last` is its last day (None: without an end).

    `water` is one of the keeper's, None at a show. `show` is the show it is about, if any.
    `toward` is the water to whose warmth this one is brought meanwhile.
    """

    first: date
    last: date | None
    water: str | None
    show: str | None
    why: Why
    grade: Grade
    toward: str | None = None


class Step(Struct, frozen=True):
    """A change of water of one fish, with the warmth on both sides of it [°C].

    `ramp_days` is how many days of ramp the plan or the keeper gives it; 0: none. `unknown` tells
    that the warmth on one side is not known, and is taken to be that of the other.
    """

    day: date
    from_water: str | None
    to_water: str | None
    from_c: float
    to_c: float
    ramp_days: int
    why: Why
    show: str | None
    grade: Grade
    unknown: bool = False

    @property
    def change_c(self) -> float:
        """How much warmer the new water is [°C]."""
        return self.to_c - self.from_c


class Ramping(Struct, frozen=True):
    """How the plan takes a step that is too great: from `block` [°C] on by `c_per_day` [°C/d]."""

    block: float
    c_per_day: float


@dataclass(frozen=True)
class Course:
    """Where one fish is on every day. `stays` are in order and without a gap."""

    stays: tuple[Stay, ...]
    steps: tuple[Step, ...]
    _means: tuple[MeanOn, ...] = field(repr=False, compare=False)
    _instead: tuple[_Laid | None, ...] = field(repr=False, compare=False)

    @cached_property
    def _firsts(self) -> list[date]:
        return [stay.first for stay in self.stays]

    def _index(self, day: date) -> int:
        return bisect_right(self._firsts, day, 1) - 1  # before the first: the first

    def stay_on(self, day: date) -> Stay:
        """The stretch that holds at the end of `day`."""
        return self.stays[self._index(day)]

    def water_on(self, day: date) -> str | None:
        """The keeper's water it is in at the end of `day`; None while it is away."""
        return self.stay_on(day).water

    def water_before(self, day: date) -> str:
        """The keeper's water it is in at the end of `day`, or was in last before that."""
        for number in range(self._index(day), -1, -1):
            water = self.stays[number].water
            if water is not None:
                return water
        raise AssertionError("a course begins in one of the keeper's waters")

    @cached_property
    def mean_on(self) -> MeanOn:
        """Daily mean temperature [°C] around it, ramps included."""
        # Asked again and again for the same days: each is worked out once.
        return cache(lambda day: self._means[self._index(day)](day))

    @cached_property
    def heals_at(self) -> MeanOn:
        """Daily mean temperature [°C] that a wound counts at: of two possible waters the colder.

        Where nobody wrote that it went into the vat to heal, it may be where it was.
        """

        def colder_on(day: date) -> float:
            instead = self._colder_instead(day)
            return self.mean_on(day) if instead is None else instead.mean_on(day)

        return cache(colder_on)

    def heals_in(self, day: date) -> str | None:
        """The water that a wound counts in, at the end of `day`; None while the fish is away."""
        instead = self._colder_instead(day)
        return self.water_on(day) if instead is None else instead.stay.water

    def _colder_instead(self, day: date) -> _Laid | None:
        instead = self._instead[self._index(day)]
        colder = instead is not None and instead.mean_on(day) < self.mean_on(day)
        return instead if colder else None

    def leaving_for(self, show: str) -> Step | None:
        """The step it takes into the show's water; None if it does not go there."""
        return next((one for one in self.steps if one.why == "show" and one.show == show), None)

    def fed_in_before(self, show: str) -> str | None:
        """The keeper's water it is fed in before `show`: where it is before the holding vat.

        None if it does not go there.
        """
        gone = [
            number for number, one in enumerate(self.stays) if (one.why, one.show) == ("show", show)
        ]
        before = self.stays[: gone[0]] if gone else ()
        fed = [one.water for one in before if one.water is not None and one.why != "holding"]
        return fed[-1] if fed else None

    def away_on(self, day: date) -> bool:
        """Is it on the way to a show, there, or on the way back at the end of `day`?"""
        return self.stay_on(day).water is None

    def within(self, first: date, last: date) -> Iterator[Stay]:
        """The stretches that hold on any day from `first` to `last`, the days of change in both."""
        for stay in self.stays:
            if stay.first <= last and (stay.last is None or stay.last + timedelta(1) >= first):
                yield stay


class _Turn(Struct, frozen=True):
    """A change of place before it is laid into the timeline."""

    day: date
    water: str | None
    show: str | None
    why: Why
    grade: Grade
    c_per_day: float | None = None  # a ramp the keeper states
    may_ramp: bool = False  # the plan may bring this vat to the fish
    show_c: float | None = None
    held_at_c: float | None = None  # the vat is brought to this, whatever the step
    in_doubt: bool = False  # it may have stayed where it was


def course_of(
    lives_in: str,
    moves: Iterable[WaterMove],
    journeys: Iterable[Journey],
    healing: Iterable[WarmHealing],
    water_of: Callable[[str], MeanOn],
    ramping: Ramping,
    on: date,
) -> Course:
    """Lay out the course of a fish that lives in `lives_in`, as it is known on the day `on`.

    `water_of` gives the daily mean of one of the keeper's waters. Journeys must not overlap.
    Raises ValueError if they do, or if one comes home before it has left.
    """
    told = sorted(moves, key=lambda move: move.on)
    gone = sorted(journeys, key=lambda one: one.departure)
    for one in gone:
        if one.home < one.departure:
            raise ValueError(f"home from {one.show} before it has left")
    for earlier, later in pairwise(gone):
        if later.departure < earlier.home:
            raise ValueError(f"{earlier.show} and {later.show} are at one time")
    home = _Home(lives_in, told, gone)
    turns = [
        *_turns_of_moves(told, gone, on),
        *(_graded(turn, on) for turn in _turns_of_journeys(home, told, gone)),
        *(_graded(turn, on) for turn in _turns_of_healing(home, told, gone, healing)),
    ]
    order = {"move": 0, "warm healing": 1, "home": 2, "holding": 3, "show": 4, "kept apart": 5}
    turns.sort(key=lambda turn: (turn.day, order[turn.why]))
    return _laid_out(lives_in, turns, water_of, ramping)


def course_by_moves(lives_in: str, moves: Iterable[WaterMove], on: date) -> Course:
    """Where a fish belongs by its moves alone, before anything is known of its journeys."""
    return course_of(
        lives_in, moves, (), (), lambda water: lambda day: 0.0, Ramping(inf, LONGEST_RAMP), on
    )


class _Home(Struct, frozen=True):
    """Where the fish belongs when nothing takes it elsewhere: its own water and its moves.

    A move written down while it is kept apart or held is a word about that time alone if it leads
    to the vat it is in; any other says where it belongs from then on.
    """

    lives_in: str
    moves: Sequence[WaterMove]
    journeys: Sequence[Journey]

    def on(self, day: date) -> str:
        water = self.lives_in
        for move in self.moves:
            if move.on <= day and not move.to_heal and not self._is_of_a_journey(move):
                water = move.to
        return water

    def _is_of_a_journey(self, move: WaterMove) -> bool:
        for one in self.journeys:
            if one.holding is not None and move.to == one.holding[0]:
                spans = [(one.holding[1] - EARLY, one.departure)]
            else:
                spans = []
            if move.to == one.kept_apart_in:
                spans.append((one.home, one.clear if one.clear is not None else date.max))
            if any(first <= move.on <= last for first, last in spans):
                return True
        return False


def _turns_of_moves(
    moves: Sequence[WaterMove], journeys: Sequence[Journey], on: date
) -> Iterator[_Turn]:
    for move in moves:
        away = any(one.departure < move.on < one.home for one in journeys)
        into_vat = any(one.home == move.on and one.kept_apart_in == move.to for one in journeys)
        if away or into_vat:
            continue  # it says where the fish belongs when it is back, or what the journey says
        grade: Grade = "written" if move.done else "planned" if move.on > on else "presumed"
        why: Why = "warm healing" if move.to_heal else "move"
        yield _Turn(
            move.on,
            move.to,
            None,
            why,
            grade,
            move.c_per_day,
            may_ramp=move.to_heal,
            in_doubt=move.to_heal and not move.done and move.on < on,
        )


def _turns_of_journeys(
    home: _Home, moves: Sequence[WaterMove], journeys: Sequence[Journey]
) -> Iterator[_Turn]:
    for number, one in enumerate(journeys):
        next_leaves = journeys[number + 1].departure if number + 1 < len(journeys) else date.max
        held_from = _held_from(one, moves)
        if one.holding is not None and held_from is not None:
            yield _Turn(
                held_from,
                one.holding[0],
                one.show,
                "holding",
                one.grade,
                may_ramp=True,
                held_at_c=one.held_at_c,
            )
        yield _Turn(one.departure, None, one.show, "show", one.grade, show_c=one.show_c)
        if one.kept_apart_in is None:
            yield _Turn(one.home, home.on(one.home), one.show, "home", one.grade)
            continue
        yield _Turn(one.home, one.kept_apart_in, one.show, "kept apart", one.grade, may_ramp=True)
        if one.clear is None or one.clear >= next_leaves:
            continue
        elsewhere = [
            move
            for move in moves
            if one.home < move.on <= one.clear and move.to != one.kept_apart_in
        ]
        if not elsewhere:
            belongs = home.on(one.clear)
            if belongs != one.kept_apart_in:
                yield _Turn(one.clear, belongs, one.show, "home", one.grade, may_ramp=True)


def _held_from(one: Journey, moves: Sequence[WaterMove]) -> date | None:
    """The day the holding vat begins: the plan's, or a later one on which the move was written.

    None if it was moved elsewhere by then.
    """
    if one.holding is None:
        return None
    vat, first = one.holding
    later = [move for move in moves if move.done and first < move.on <= one.departure]
    if not later:
        return first
    return later[-1].on if later[-1].to == vat else None


def _graded(turn: _Turn, on: date) -> _Turn:
    """What still lies ahead is planned, however surely the journey is known; what passed of the
    plan, and the way home of fish cleared, is presumed where no move is written."""
    if turn.day > on:
        return replace(turn, grade="planned")
    if turn.grade == "planned" or (turn.why == "home" and turn.may_ramp):
        return replace(turn, grade="presumed")
    return turn


def _written_between(moves: Sequence[WaterMove], first: date, last: date) -> bool:
    return any(move.done and first <= move.on <= last for move in moves)


def _turns_of_healing(
    home: _Home,
    moves: Sequence[WaterMove],
    journeys: Sequence[Journey],
    healing: Iterable[WarmHealing],
) -> Iterator[_Turn]:
    for one in healing:
        yield _Turn(one.first, one.vat, one.show, "warm healing", one.grade, may_ramp=True)
        leaves = min((j.departure for j in journeys if j.departure > one.first), default=date.max)
        if one.back is None or one.back >= leaves:
            continue
        if not _written_between(moves, one.first + timedelta(1), one.back):
            yield _Turn(one.back, home.on(one.back), one.show, "home", one.grade, may_ramp=True)


class _Laid(NamedTuple):
    """A stay with its warmth, and the one that goes on instead if nobody moved the fish."""

    stay: Stay
    mean_on: MeanOn
    instead: _Laid | None = None


def _laid_out(
    lives_in: str,
    turns: Sequence[_Turn],
    water_of: Callable[[str], MeanOn],
    ramping: Ramping,
) -> Course:
    first = Stay(date.min, None, lives_in, None, "home", "written")
    laid = [_Laid(first, water_of(lives_in))]
    steps: list[Step] = []

    def add(stay: Stay, mean_on: MeanOn, in_doubt: bool = False) -> None:
        before = laid.pop()
        if stay.first > before.stay.first:  # of two changes on one day the later one holds
            laid.append(before._replace(stay=replace(before.stay, last=stay.first - timedelta(1))))
        laid.append(_Laid(stay, mean_on, before if in_doubt else None))

    for turn in turns:
        while laid[-1].stay.first > turn.day:  # on its way home by a ramp, it is called away again
            laid.pop()
        before, from_on, _ = laid[-1]
        new = Stay(turn.day, None, turn.water, turn.show, turn.why, turn.grade)
        # It may be in the vat already, and the vat still has to be brought to its warmth.
        same = turn.water is not None and turn.water == before.water and before.toward is None
        if same and turn.held_at_c is None:
            if turn.why != before.why:
                add(new, from_on)
            continue
        to_on = _around(turn, from_on, water_of)
        step = Step(
            day=turn.day,
            from_water=before.water,
            to_water=turn.water,
            from_c=from_on(turn.day),
            to_c=to_on(turn.day),
            ramp_days=0,
            why=turn.why,
            show=turn.show,
            grade=turn.grade,
            unknown=turn.why == "show" and turn.show_c is None,
        )
        rate = turn.c_per_day if turn.held_at_c is None else ramping.c_per_day
        if rate is None and turn.may_ramp and abs(step.change_c) >= ramping.block - 1e-9:
            rate = ramping.c_per_day
        if rate is None:
            add(new, to_on, turn.in_doubt)
            steps.append(step)
            continue
        warmed = ramped(from_on, to_on, turn.day, rate)
        days = _ramp_days(warmed, to_on, turn.day)
        steps.append(replace(step, ramp_days=days))
        if turn.why == "home" and turn.may_ramp:
            # The vat is brought to the pond's warmth with the fish in it; then it goes home.
            add(replace(new, water=before.water, why=before.why, toward=turn.water), warmed)
            if days < LONGEST_RAMP:
                add(replace(new, first=turn.day + timedelta(days)), to_on)
        else:
            add(new, warmed, turn.in_doubt)
    stays, means, instead = zip(*laid, strict=True)
    return Course(stays, tuple(steps), means, instead)


def _around(turn: _Turn, from_on: MeanOn, water_of: Callable[[str], MeanOn]) -> MeanOn:
    """The warmth of the new place; a show's that is not known is taken as what the fish left."""
    if turn.water is not None and turn.held_at_c is None:
        return water_of(turn.water)
    told = turn.held_at_c if turn.water is not None else turn.show_c
    warmth = from_on(turn.day) if told is None else told
    return lambda day: warmth


def _ramp_days(warmed: MeanOn, to_on: MeanOn, first: date) -> int:
    """Days until the ramped water is as warm as the other."""
    for number in range(1, LONGEST_RAMP):
        day = first + timedelta(number)
        if abs(warmed(day) - to_on(day)) < 1e-9:
            return number
    return LONGEST_RAMP
