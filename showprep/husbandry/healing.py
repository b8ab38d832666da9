"""When a defect is closed and when it is clean, and which specks a keeper may touch.

Two milestones: `closed`, the fish may be netted and travel; `clean`, a judge sees nothing. Each
asks for a low, a usual and a high amount of thermal time and a least number of days. No
published paper gives degree-days for the cosmetic wounds of koi: the figures are derived from
experiments on carp and other fish, and each kind of defect carries its source and mark.

Skin seals within a day even at 5 °C (Bullock, Marks & Roberts 1978, plaice); the `closed`
figures are slower on purpose, as they say when it bears handling.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import Literal

from showprep.husbandry.figure_record import Mark
from showprep.husbandry.reason import Reason, reason
from showprep.husbandry.thermal_time import MeanOn, first_day, latest_start

May = Literal["touch-up", "heals", "vet", "leave", "never"]
"""What may be done: the keeper may touch it up; it heals by itself; a vet sees to it; it is left
alone; it is refused because it would change the pattern."""

Unit = Literal["degree-days", "days"]
Level = Literal["low", "usual", "high"]
MilestoneName = Literal["closed", "clean"]

TOUCH_UP_MAX_MM = 3.0
"""Largest speck [mm] the touch-up figures hold for: a superficial nick, smaller than a scale
(derived)."""

MOST_FIN_LOST = 0.5


@dataclass(frozen=True, slots=True)
class Milestone:
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


@dataclass(frozen=True, slots=True)
class DefectKind:
    """A kind of defect: what may be done about it, and how it heals.

    A milestone of None has no figure to plan with. `is_wound`: the skin is open until closed;
    of a speck, once it has been taken off. A kind `by_lost_share` has its clean milestone from
    `fin_regrowth`.
    """

    id: str
    may: May
    closed: Milestone | None
    clean: Milestone | None
    is_wound: bool
    mark: Mark
    source: str
    by_lost_share: bool = False


@dataclass(frozen=True, slots=True)
class Healing:
    """Days on which a milestone is reached at each level; None where it is out of sight."""

    milestone_name: MilestoneName
    low_on: date | None
    usual_on: date | None
    high_on: date | None


@dataclass(frozen=True, slots=True)
class PlaceRuling:
    """Whether a speck may be touched up where it sits, and why."""

    may: Literal["touch-up", "leave", "vet"]
    reason: Reason


def reached(
    milestone: Milestone, at: Level, start: date, mean_on: MeanOn, until: date | None = None
) -> date | None:
    """Day on which a wound of the day `start` reaches the milestone at a level.

    None if not by `until` (three years when not given).
    """
    need = milestone.need(at)
    if milestone.unit == "degree-days":
        return first_day(start, need, milestone.least_days, mean_on, until)
    day = start + timedelta(days=_whole_days(milestone, at))
    return day if until is None or day <= until else None


def reckon(
    milestone: Milestone,
    start: date,
    mean_on: MeanOn,
    *,
    milestone_name: MilestoneName = "clean",
    until: date | None = None,
) -> Healing:
    """The days on which a wound of the day `start` reaches the milestone at each level."""
    low, usual, high = (
        reached(milestone, at, start, mean_on, until) for at in ("low", "usual", "high")
    )
    return Healing(milestone_name, low, usual, high)


def latest_day(
    milestone: Milestone,
    finish_by: date,
    mean_on: MeanOn,
    not_before: date,
    at: Level = "high",
) -> date | None:
    """Latest day for a touch-up that reaches the milestone by `finish_by` at a level.

    None if there is none from `not_before` on.
    """
    if milestone.unit == "degree-days":
        need, least = milestone.need(at), milestone.least_days
        return latest_start(finish_by, need, least, mean_on, not_before)
    day = finish_by - timedelta(days=_whole_days(milestone, at))
    return day if day >= not_before else None


def short_days(
    milestone: Milestone, start: date, deadline: date, mean_on: MeanOn, at: Level = "usual"
) -> int | None:
    """Days [d] past `deadline` on which the milestone is reached; 0 if in time, None if never."""
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


def fin_regrowth(lost_share: float) -> Milestone:
    """Regrowth of a frayed or shortened fin of which the share `lost_share` (0 to 0.5) is gone.

    50 degree-days until regrowth sets in (cap of skin after a day, Böckelmann et al. 2010; then
    two days more), then the lost part at the rate of whole tail fins cut at 25 °C, 17
    degree-days a day, after 20 days: goldfish 60 % (Yan et al. 2015), carp 47 %, goldfish 24 %
    (Fu, Cao & Fu 2013). Derived. Raises ValueError outside 0 to 0.5: regrowth slows towards
    the end, so a fin more than half gone is a matter for next season.
    """
    if not 0 <= lost_share <= MOST_FIN_LOST:
        raise ValueError(
            f"the lost share of a fin must lie from 0 to {MOST_FIN_LOST}, not {lost_share}; "
            "a fin more than half gone will not be whole this season"
        )
    low, usual, high = (50 + lost_share * 20 * 17 / grown for grown in (0.60, 0.47, 0.24))
    return Milestone(low, usual, high, least_days=10)


_VET_PLACE = re.compile(
    r"\b(?:(?:pop)?eye\w*|(?:fish)?gill\w*|opercul\w*|opercle\w*|vents?|anus|anal|cloaca"
    r"|lateral (?:\w+ )?lines?|lateralline|side ?lines?)\b"
)
_HEAD = re.compile(
    r"\b(?:(?:fore)?head\w*|nos(?:e\w*|trils?)|snout\w*|mouth\w*|muzzle|cheek\w*|lips?|barbels?"
    r"|whiskers?|crown|jaws?|chin|throat|face|brow|skull|nape|tancho|maruten|menkaburi"
    r"|hachiware|kuchibeni)\b"
)
_FIN = re.compile(r"\b(?:fins?|finrays?|rays?|tails?|caudal|dorsal|pectorals?|pelvics?|motoguro)\b")
_BESIDE_A_FIN = re.compile(  # scaled skin, though a fin is named
    r"\b(?:below|beneath|under|behind|above|beside|in front of|ahead of|(?:left|right) of) "
    r"(?:(?:the|her|his|its|left|right) )*"
    r"(?:(?:dorsal|pectoral|pelvic|caudal|tail)(?: fins?)?|fins?)\b"
    r"|\b(?:tail|caudal) (?:peduncle|root|joint|tube|wrist)\b"
)


def may_touch_up(where: str) -> PlaceRuling:
    """Whether a speck may be touched up, from the keeper's own words for where it sits.

    Near eye, gill, vent or lateral line a vet is asked; the head, where a trace nearly always
    stays, and the fins, which have no scales, are left alone (common practice). What is not
    known to be such a place is taken for scaled skin; a place left blank is not.
    """
    words = " ".join(re.findall(r"[^\W_]+", where.casefold()))
    if not words:
        return PlaceRuling("leave", reason("place-not-said"))
    if found := _VET_PLACE.search(words):
        return PlaceRuling("vet", reason("place-for-a-vet", named=found[0]))
    if found := _HEAD.search(words):
        return PlaceRuling("leave", reason("place-on-the-head", named=found[0]))
    if found := _FIN.search(_BESIDE_A_FIN.sub("", words)):
        return PlaceRuling("leave", reason("place-on-a-fin", named=found[0]))
    return PlaceRuling("touch-up", reason("place-on-scales"))


def _whole_days(milestone: Milestone, at: Level) -> int:
    return max(math.ceil(milestone.need(at)), milestone.least_days)
