"""When a defect is closed and when it is clean.

Two milestones: `closed`, the fish may be netted and travel; `clean`, a judge sees nothing. Each
asks for a low, a usual and a high amount of thermal time and a least number of days. No
published paper gives degree-days for the cosmetic wounds of koi: the figures are derived from
experiments on carp and other fish, and each kind of defect carries its source and grade.

A wound no deeper than a scale pocket closes by a film of skin, in days of water that is not too
cold; one through the skin closes by degree-days. Skin seals within a day even at 5 °C (Bullock,
Marks & Roberts 1978, plaice). The days asked for are two to ten times the hours seen, as `closed`
says when it bears a net.
"""

from __future__ import annotations

import math
from datetime import date
from typing import Literal

from msgspec import Struct
from msgspec.structs import replace

from showprep.husbandry.figure_record import ASSUMED, DERIVED, Figure, Grade
from showprep.husbandry.thermal_time import (
    BASE_C,
    Gain,
    MeanOn,
    degree_days,
    first_day,
    gathered_by,
    latest_start,
    skin_days,
)

May = Literal["touch-up", "heals", "vet", "leave", "never"]
"""What may be done: the keeper may touch it up; it heals by itself; a vet sees to it; it is left
alone; it is refused because it would change the pattern."""

Unit = Literal["degree-days", "days", "skin-days"]
"""What a requirement is counted in: warmth, plain days whatever the water, or days of the film of
skin, which count half below 8 °C and not at all below 4 °C."""

Level = Literal["low", "usual", "high"]
MilestoneName = Literal["closed", "clean"]

TOUCH_UP_MAX_MM = 3.0
"""Largest speck [mm] the touch-up figures hold for: a superficial nick, smaller than a scale
(derived)."""

MOST_FIN_LOST = 0.5

_FIN_WAIT = 50.0
_FIN_SEEN = 20 * degree_days(25) - _FIN_WAIT  # what was left for growth in the 20 days seen
FIN_FIGURES: dict[str, Figure] = {
    row.name: row
    for row in (
        Figure("fin_wait", 30, _FIN_WAIT, 80, "°C.d", DERIVED,
               "until regrowth sets in: a cap of skin within 24 h, Böckelmann et al. 2010,"
               " Brazilian Journal of Biology, carp (read), and two days more, our choice"),
        Figure("fin_whole", _FIN_SEEN / 0.60, _FIN_SEEN / 0.47, _FIN_SEEN / 0.24, "°C.d", DERIVED,
               "for a whole tail fin after that, by the part back after 20 days at 25 °C (340 less"
               " 50 degree-days): goldfish 60 %, Yan, Cao & Fu 2015, Acta Ecologica Sinica 35:1947"
               " (read); carp 47 % and goldfish 24 %, Fu, Cao & Fu 2013, Journal of Experimental"
               " Biology 216:3164 (read; temperature from memory)"),
        Figure("fin_floor", 0, 240, 480, "°C.d", ASSUMED,
               "least for any loss, usual and slow case: two and four weeks at 25 °C, a temperature"
               " that is taken, not read. Lee et al. 2005, Development 132:5173 (read): slower near"
               " the tip; Zhang et al. 2009, Journal of Experimental Zoology B 312 (read): some"
               " tails cut off were distinctly there in two weeks; Kemp & Park 1970, Developmental"
               " Biology 22: a wedge in a tilapia's fin filled in three to four weeks"),
    )
}  # fmt: skip
"""The figures of a fin that grows back. None of them is a setting."""


class Milestone(Struct, frozen=True):
    """What healing asks for: low, usual and high, in `unit`, and at least `least_days` [d].

    Raises ValueError unless 0 <= low <= usual <= high < infinity and least_days >= 0.
    """

    low: float
    usual: float
    high: float
    least_days: int
    unit: Unit = "degree-days"

    def __post_init__(self) -> None:
        if not 0 <= self.low <= self.usual <= self.high < math.inf:
            figures = f"{self.low}, {self.usual}, {self.high}"
            raise ValueError(f"low, usual and high must rise from 0 or more, not {figures}")
        if self.least_days < 0:
            raise ValueError(f"the least days must be 0 or more, not {self.least_days}")

    def need(self, at: Level) -> float:
        """The requirement [in `unit`] at a level."""
        return {"low": self.low, "usual": self.usual, "high": self.high}[at]

    @property
    def gain(self) -> Gain:
        """What one day of a mean water temperature [°C] gives towards it [in `unit`]."""
        return _GAINS[self.unit]

    def gathered(self, start: date, until: date, mean_on: MeanOn) -> float:
        """What a wound of the day `start` has gathered towards it [in `unit`] by `until`."""
        return gathered_by(self.gain, start, until, mean_on)


def _one(_: float) -> float:
    return 1.0


_GAINS: dict[Unit, Gain] = {"degree-days": degree_days, "days": _one, "skin-days": skin_days}


class DefectKind(Struct, frozen=True):
    """A kind of defect: what may be done about it, and how it heals.

    A milestone of None has no figure to plan with. `is_wound`: the skin is open until closed;
    of a speck, once it has been taken off. A kind `by_lost_share` has its clean milestone from
    `fin_regrowth`. `stitched`: a cut with thread or a tag in it, which warm water does not serve.
    `holds`: the kind of wound that this one holds shut, and is never closed before.
    """

    id: str
    may: May
    closed: Milestone | None
    clean: Milestone | None
    is_wound: bool
    grade: Grade
    source: str
    by_lost_share: bool = False
    stitched: bool = False
    holds: str | None = None


class Healing(Struct, frozen=True):
    """Days on which a milestone is reached at each level; None where it is too slow to plan."""

    milestone_name: MilestoneName
    low_on: date | None
    usual_on: date | None
    high_on: date | None


LEVEL_BASES_C: dict[Level, float] = {"low": 2.0, "usual": 5.0, "high": 8.0}
"""The base of healing [°C] of a quick, the usual and a slow case: see `healing_base`."""


def _over_base(milestone: Milestone, at: Level, anchor_c: float | None) -> tuple[float, float]:
    """The requirement at a level, and the base [°C] it is counted from."""
    need = milestone.need(at)
    if anchor_c is None or milestone.unit != "degree-days":
        return need, BASE_C
    base = LEVEL_BASES_C[at]
    return need * (anchor_c - base) / (anchor_c - BASE_C), base


def reached(
    milestone: Milestone,
    at: Level,
    start: date,
    mean_on: MeanOn,
    until: date | None = None,
    anchor_c: float | None = None,
) -> date | None:
    """Day on which a wound of the day `start` reaches the milestone at a level.

    With `anchor_c`, the temperature its figures were seen at [°C], each level has the base of its
    case (`LEVEL_BASES_C`); without, all are counted above 8 °C. None if not by `until` (three
    years when not given).
    """
    need, base = _over_base(milestone, at, anchor_c)
    gain = None if milestone.unit == "degree-days" else milestone.gain
    return first_day(start, need, milestone.least_days, mean_on, until, base_c=base, gain=gain)


def healing_days(
    milestone: Milestone,
    start: date,
    mean_on: MeanOn,
    *,
    milestone_name: MilestoneName = "clean",
    until: date | None = None,
    anchor_c: float | None = None,
) -> Healing:
    """The days on which a wound of the day `start` reaches the milestone at each level."""
    low, usual, high = (
        reached(milestone, at, start, mean_on, until, anchor_c) for at in ("low", "usual", "high")
    )
    return Healing(milestone_name, low, usual, high)


def latest_day(
    milestone: Milestone,
    finish_by: date,
    mean_on: MeanOn,
    not_before: date,
    at: Level = "high",
    anchor_c: float | None = None,
) -> date | None:
    """Latest day for a touch-up that reaches the milestone by `finish_by` at a level.

    `anchor_c` as in `reached`. None if there is none from `not_before` on.
    """
    need, base = _over_base(milestone, at, anchor_c)
    gain = None if milestone.unit == "degree-days" else milestone.gain
    return latest_start(
        finish_by, need, milestone.least_days, mean_on, not_before, base_c=base, gain=gain
    )


def short_days(
    milestone: Milestone, start: date, deadline: date, mean_on: MeanOn, at: Level = "usual"
) -> int | None:
    """Days [d] past `deadline` on which the milestone is reached; 0 if in time.

    None where it is too slow to plan.
    """
    day = reached(milestone, at, start, mean_on)
    return None if day is None else max(0, (day - deadline).days)


def scaled(milestone: Milestone, factor: float) -> Milestone:
    """The milestone with its requirements times `factor`; the least days stay as they are.

    For a yard whose fish are seen to heal slower or faster. Raises ValueError unless `factor`
    is above 0 and finite.
    """
    if not 0 < factor < math.inf:
        raise ValueError(f"a healing factor must be above 0, not {factor}")
    low, usual, high = (factor * need for need in (milestone.low, milestone.usual, milestone.high))
    return replace(milestone, low=low, usual=usual, high=high)


def not_before(milestone: Milestone, other: Milestone) -> Milestone:
    """`milestone` with no level and no least days below those of `other`.

    For stitches and the cut they hold. Raises ValueError if the units differ: the two cannot be
    compared then.
    """
    if milestone.unit != other.unit:
        raise ValueError(f"{milestone.unit} and {other.unit} cannot be compared")
    return replace(
        milestone,
        low=max(milestone.low, other.low),
        usual=max(milestone.usual, other.usual),
        high=max(milestone.high, other.high),
        least_days=max(milestone.least_days, other.least_days),
    )


def fin_regrowth(lost_share: float) -> Milestone:
    """Regrowth of a frayed or shortened fin of which the share `lost_share` (0 to 0.5) is gone.

    50 degree-days until regrowth sets in (cap of skin after a day, Böckelmann et al. 2010; then
    two days more), then the lost part at the rate of whole tail fins cut at 25 °C. After 20 days,
    340 degree-days with those 50 among them, goldfish had 60 % back (Yan et al. 2015), carp 47 %,
    goldfish 24 % (Fu, Cao & Fu 2013). Usually not below 240 and in a slow case not below 480
    degree-days: a cut near the tip grows back more slowly than one near the base (Lee et al. 2005,
    Development 132:5173), and no study says by how much. Derived; `FIN_FIGURES`. Raises ValueError
    outside 0 to 0.5: regrowth slows towards the end, so a fin more than half gone is a matter for
    next season.
    """
    if not 0 <= lost_share <= MOST_FIN_LOST:
        raise ValueError(
            f"the lost share of a fin must lie from 0 to {MOST_FIN_LOST}, not {lost_share}; "
            "a fin more than half gone will not be whole this season"
        )
    waits, per_share = FIN_FIGURES["fin_wait"].typical, FIN_FIGURES["fin_whole"]
    low, usual, high = (
        waits + lost_share * whole for whole in (per_share.low, per_share.typical, per_share.high)
    )
    floor = FIN_FIGURES["fin_floor"]
    return Milestone(low, max(usual, floor.typical), max(high, floor.high), least_days=10)
