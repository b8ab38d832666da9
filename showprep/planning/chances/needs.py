"""What a blemish asks for as this yard knows it: the table, moved by every look in the journal.

The looks work through what they leave known of the yard's pace, with no floor and no "enough": the
table restrains by itself. Where the keeper says `use_own_pace: no` only the looks at the blemish
itself count.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from datetime import date
from functools import cached_property, partial
from typing import Literal

from showprep.husbandry.healing import (
    MOST_FIN_LOST,
    DefectKind,
    Milestone,
    MilestoneName,
    fin_regrowth,
)
from showprep.husbandry.healing_base import anchor_of
from showprep.husbandry.speck_return import known_return
from showprep.husbandry.split_log_normal import SplitLogNormal
from showprep.husbandry.thermal_time import gathered
from showprep.husbandry.wound_need import Need, Wound, need_in_days, need_in_degree_days
from showprep.husbandry.yard_pace import Known
from showprep.planning.as_of.state import DefectState, State
from showprep.planning.yard.courses import Courses
from showprep.planning.yard.own_pace import (
    heals_from_known_day,
    look_at,
    looks_used,
    returns_of,
)

_LEAST = 1e-3  # a requirement of nothing, as a distribution over positive amounts


def milestones(
    defect: DefectState, kind: DefectKind
) -> tuple[tuple[Literal["closed", "clean"], Milestone], ...]:
    """The milestones of a defect that have figures, `closed` first."""
    clean = kind.clean
    if kind.by_lost_share and defect.lost_share is not None and defect.lost_share <= MOST_FIN_LOST:
        clean = fin_regrowth(defect.lost_share)
    pairs: list[tuple[Literal["closed", "clean"], Milestone]] = []
    if kind.closed is not None and kind.is_wound:
        pairs.append(("closed", kind.closed))
    if clean is not None:
        pairs.append(("clean", clean))
    return tuple(pairs)


class Needs:
    """The needs of every kind, and the return of specks, in one yard."""

    def __init__(self, state: State, kinds: Mapping[str, DefectKind], courses: Courses) -> None:
        self._state, self._kinds, self._courses = state, kinds, courses
        self._own = looks_used(state)
        self._known: dict[tuple[str, MilestoneName, Milestone], Need] = {}

    def wound(self, defect: DefectState, touched_on: date | None = None) -> Wound | None:
        """The blemish as a wound; None where the table has no figure for when it is clean.

        `touched_on` is the day of a touch-up that is weighed: then nothing was seen of it yet.
        """
        kind = self._kinds[defect.kind]
        needs = {
            name: self.need(kind, name, milestone) for name, milestone in milestones(defect, kind)
        }
        if "clean" not in needs:
            return None
        closed, clean = needs.get("closed"), needs["clean"]
        if touched_on is not None:
            return Wound(touched_on, closed, clean, self.returns)
        return Wound(
            defect.heals_from,
            closed,
            clean,
            returns=self.returns if defect.touched is not None else None,
            not_closed_on=defect.not_closed_on,
            not_clean_on=defect.not_clean_on,
            closed_on=defect.closed_on,
            clean_on=defect.clean_on or defect.still_clean_on,
            still_clean_on=defect.still_clean_on,
        )

    def closed(self, defect: DefectState) -> Need | None:
        """What its wound asks for to be closed; None where there is none, or no figure."""
        kind = self._kinds[defect.kind]
        return next(
            (
                self.need(kind, name, milestone)
                for name, milestone in milestones(defect, kind)
                if name == "closed"
            ),
            None,
        )

    def need(self, kind: DefectKind, name: MilestoneName, milestone: Milestone) -> Need:
        """What one milestone of a kind asks for."""
        asked = kind.id, name, milestone
        if asked not in self._known:
            self._known[asked] = self._worked_out(kind, name, milestone)
        return self._known[asked]

    @cached_property
    def returns(self) -> Known:
        """What is known of the weeks until a speck is back."""
        weeks = self._state.keeper.preferences.speck_returns_after_weeks
        every = self._state.fish.values() if self._own else ()
        looks = [(look.low, look.high) for fish in every for look in returns_of(fish)]
        return known_return(SplitLogNormal(weeks.low, weeks.usual, weeks.high), looks)

    def _worked_out(self, kind: DefectKind, name: MilestoneName, milestone: Milestone) -> Need:
        figures = _distribution(milestone)
        looked = [] if kind.by_lost_share and name == "clean" else list(self._looked(kind, name))
        least = milestone.least_days
        if milestone.unit != "degree-days":
            found = (
                look_at(defect, name, partial(self._days, milestone, fish))
                for fish, defect in looked
            )
            bounds = [(one.low, one.high) for one in found if one is not None]
            return need_in_days(figures, least, bounds, film=milestone.unit == "skin-days")
        looks = [self._over_base(fish, defect, name) for fish, defect in looked]
        return need_in_degree_days(
            figures, least, anchor_of(kind.id), [one for one in looks if one is not None]
        )

    def _looked(self, kind: DefectKind, name: MilestoneName) -> Iterator[tuple[str, DefectState]]:
        """The blemishes of this kind that somebody looked at, and whose they are."""
        if not self._own:
            return
        for fish in self._state.fish.values():
            for defect in fish.defects:
                if defect.kind == kind.id and heals_from_known_day(defect, kind):
                    yield fish.id, defect

    def _over_base(
        self, fish: str, defect: DefectState, name: MilestoneName
    ) -> Callable[[float], tuple[float, float]] | None:
        mean_on = self._courses[fish].mean_on

        def between(base: float) -> tuple[float, float]:
            found = look_at(defect, name, lambda a, b: gathered(a, b, mean_on, base))
            return (0.0, float("inf")) if found is None else (found.low, found.high)

        # Over the lowest base every look that says something says it.
        return between if look_at(defect, name, lambda a, b: float((b - a).days)) else None

    def _days(self, milestone: Milestone, fish: str, first: date, last: date) -> float:
        return milestone.gathered(first, last, self._courses[fish].mean_on)


def _distribution(milestone: Milestone) -> SplitLogNormal:
    low = max(milestone.low, _LEAST)
    usual = max(milestone.usual, low)
    return SplitLogNormal(low, usual, max(milestone.high, usual))
