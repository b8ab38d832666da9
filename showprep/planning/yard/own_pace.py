"""This yard's own pace: what its journal says of healing, of specks come back, and of its waters.

Every look moves the chances; here the figures that follow are put beside the table's, to be told.
A water's curve is raised by its readings when the keeper says `use_own_pace: yes`, or, with `when
enough`, when the evidence is enough by the rules of `husbandry.pace_water`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from datetime import date
from functools import partial
from typing import Literal

from msgspec import Struct

from showprep.husbandry.healing import DefectKind, Milestone
from showprep.husbandry.pace import Bounds, Figures, Pace, learn
from showprep.husbandry.pace_water import CurveOffset, curve_offset
from showprep.husbandry.thermal_time import MeanOn
from showprep.planning.as_of.state import DefectState, FishState, State
from showprep.planning.yard.courses import Courses
from showprep.planning.yard.waters import Waters

MilestoneName = Literal["closed", "clean"]


class PaceLine(Struct, frozen=True):
    """One figure of the table beside this yard's own, and whether the plan uses the own one."""

    kind: str
    milestone: Literal["closed", "clean", "back"]
    unit: str
    pace: Pace
    used: bool


class WaterPace(Struct, frozen=True):
    """How far one water's readings lie from its yearly curve."""

    water: str
    offset: CurveOffset
    used: bool


class OwnPace(Struct, frozen=True):
    """All that was learned, and the figures that follow where it is used."""

    lines: tuple[PaceLine, ...] = ()
    waters: tuple[WaterPace, ...] = ()

    @property
    def offsets_c(self) -> dict[str, float]:
        """By how much each water's curve is to be raised [°C]."""
        return {one.water: one.offset.offset_c for one in self.waters if one.used}


def own_pace(
    state: State, kinds: Mapping[str, DefectKind], waters: Waters, courses: Courses
) -> OwnPace:
    """What the journal up to the state's day says of this yard's pace.

    Requirements stay the table's: the looks move the chances, by what they leave known of the pace
    (`planning/chances/needs.py`). The lines here are to be told.
    """
    returns = _return_line(state)
    lines = [*_healing_lines(state, kinds, courses), *([returns] if returns is not None else [])]
    return OwnPace(lines=tuple(lines), waters=_water_lines(state, waters))


def _used(state: State, enough: bool) -> bool:
    """Is a water's own offset used? A few warm weeks must not move the whole curve."""
    wanted = state.keeper.preferences.use_own_pace
    return enough if wanted == "when enough" else bool(wanted)


def looks_used(state: State) -> bool:
    """Do the looks at one blemish tell of others? They do unless the keeper says no."""
    return state.keeper.preferences.use_own_pace is not False


def _healing_lines(
    state: State, kinds: Mapping[str, DefectKind], courses: Courses
) -> Iterator[PaceLine]:
    looks: dict[tuple[str, MilestoneName], list[Bounds]] = {}
    for fish in state.fish.values():
        mean_on = courses[fish.id].mean_on
        for defect in fish.defects:
            kind = kinds.get(defect.kind)
            if kind is None or not heals_from_known_day(defect, kind):
                continue
            for name in ("closed", "clean"):
                milestone = _milestone(kind, name)
                if milestone is None:
                    continue
                look = look_at(defect, name, partial(_had, milestone, mean_on))
                if look is not None and look.says_something:
                    looks.setdefault((defect.kind, name), []).append(look)
    for (kind_id, name), seen in sorted(looks.items(), key=_closed_first):
        milestone = _milestone(kinds[kind_id], name)
        if milestone is not None and milestone.low > 0:
            pace = learn(Figures(milestone.low, milestone.usual, milestone.high), seen)
            yield PaceLine(kind_id, name, milestone.unit, pace, looks_used(state))


def _had(milestone: Milestone, mean_on: MeanOn, first: date, last: date) -> float:
    return milestone.gathered(first, last, mean_on)


def _closed_first(item: tuple[tuple[str, str], object]) -> tuple[str, bool]:
    (kind, name), _ = item
    return kind, name != "closed"


def heals_from_known_day(defect: DefectState, kind: DefectKind) -> bool:
    """Is the day known from which it heals, and does it heal at all by the table?"""
    if kind.by_lost_share or defect.mark_left:
        return False
    if kind.may == "touch-up":
        return defect.touched is not None
    return kind.may == "heals" or (kind.may == "vet" and defect.vet is not None)


def _milestone(kind: DefectKind, name: MilestoneName) -> Milestone | None:
    return kind.closed if name == "closed" else kind.clean


def look_at(
    defect: DefectState, name: MilestoneName, had: Callable[[date, date], float]
) -> Bounds | None:
    """What the looks at one blemish say of its requirement; None where they say nothing.

    `had` is what a wound of the first day has gathered by the second, in the milestone's unit.
    """
    not_yet = defect.not_closed_on if name == "closed" else defect.not_clean_on
    reached = defect.closed_on if name == "closed" else defect.clean_on
    if name == "closed" and reached == defect.clean_on:
        reached = None  # nobody looked whether it was closed; clean is late news of it
    begin = defect.heals_from
    low = had(begin, not_yet) if not_yet is not None and not_yet > begin else 0.0
    if reached is None:
        return Bounds(low) if low > 0 else None
    high = had(begin, reached)
    return Bounds(low, high) if low < high else None


def _return_line(state: State) -> PaceLine | None:
    """The weeks from a touch-up until the speck is back; seen clean, it is not back yet."""
    looks = [look for fish in state.fish.values() for look in returns_of(fish)]
    if not looks:
        return None
    weeks = state.keeper.preferences.speck_returns_after_weeks
    pace = learn(Figures(weeks.low, weeks.usual, weeks.high), looks)
    return PaceLine("shimi", "back", "weeks", pace, looks_used(state))


def returns_of(fish: FishState) -> Iterator[Bounds]:
    """The weeks between which each speck taken off this fish came back, as far as was seen."""
    back = {(one.kind, one.where, one.seen) for one in fish.defects if one.came_back}
    for defect in fish.defects:
        if defect.touched is None:
            continue
        away, ended = defect.still_clean_on, defect.ended_on
        low = _weeks(defect.touched, away) if away is not None else 0.0
        if ended is not None and (defect.kind, defect.where, ended) in back:
            high = _weeks(defect.touched, ended)
            if low < high:
                yield Bounds(low, high)
        elif low > 0:
            yield Bounds(low)


def _weeks(first: date, last: date) -> float:
    return max(0, (last - first).days) / 7


def _water_lines(state: State, waters: Waters) -> tuple[WaterPace, ...]:
    lines = []
    for water, readings in sorted(waters.readings.items()):
        curve = waters.curves[water]
        if readings:
            offset = curve_offset((day, c - curve(day)) for day, c in readings)
            lines.append(WaterPace(water, offset, _used(state, offset.enough)))
    return tuple(lines)
