"""What to expect while a fish goes under and comes round, and what means stop."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import log
from typing import NamedTuple

from showprep.husbandry.figures import setting
from showprep.husbandry.plausible import more_than_nothing, not_negative, water_temperature


@dataclass(frozen=True, slots=True)
class Stage:
    """One stage of sedation: what the fish does, how the gills beat, what it is used for."""

    number: int
    name: str
    fish: str
    gills: str
    use: str


# After McFarland 1959 and Hikasa et al. 1986 (published stages, own wording).
STAGES: tuple[Stage, ...] = (
    Stage(0, "awake", "swims and answers as usual", "usual", "none"),
    Stage(1, "light sedation", "answers late, keeps its balance", "a little slower", "a look"),
    Stage(
        2,
        "deep sedation",
        "answers a firm touch only, keeps its balance",
        "a little slower",
        "measuring; the furthest that mild sedation means to a cautious reader",
    ),
    Stage(
        3,
        "loss of balance",
        "rolls over, the tail is weak",
        "quick, then slow and regular",
        "short handling, where the law allows it",
    ),
    Stage(
        4,
        "surgical",
        "does not answer a pinch of the tail",
        "slow and uneven",
        "a vet's work only: back to clean water at once",
    ),
    Stage(
        5,
        "collapse",
        "does not move",
        "stopped; the heart follows within minutes",
        "emergency: clean, aerated water over the gills at once",
    ),
)


class Minutes(NamedTuple):
    """A span of time [min]: the shortest, the usual and the longest to expect."""

    low: float
    typical: float
    high: float


WEAKEST_TRIED, STRONGEST_TRIED = 20.0, 150.0  # mg/L isoeugenol, Gladden et al. 2010
_BELOW_40 = log(22.4 / 7.2) / log(40 / 20)  # 22.4 min at 20 mg/L, 7.2 at 40, same paper


def curve_minutes(mg_per_l: float) -> float:
    """Minutes [min] to loss of balance in 20 to 150 mg/L, through the times found in koi.

    Juvenile koi in isoeugenol at about 20 °C: 22.4 min at 20 mg/L, 7.2 at 40, 1.7 at 150 (Gladden
    et al. 2010); between them a straight line of the logarithms (derived). Raises ValueError
    outside 20 to 150 mg/L, where nothing was tried.
    """
    more_than_nothing(mg_per_l, "the strength of the bath", "mg/L")
    if not WEAKEST_TRIED <= mg_per_l <= STRONGEST_TRIED:
        raise ValueError(
            f"how long a koi takes to roll over in {mg_per_l:g} mg/L was not tried;"
            f" {WEAKEST_TRIED:g} to {STRONGEST_TRIED:g} were"
        )
    return float(7.2 * (40 / mg_per_l) ** (_BELOW_40 if mg_per_l < 40 else 1.1))


def minutes_to_loss_of_balance(mg_per_l: float, water_c: float) -> Minutes:
    """Minutes [min] to expect until a fish rolls over, in `mg_per_l` clove oil at `water_c` [°C].

    2 to 7 minutes at 40 mg/L and 20 °C and more (Hajek et al. 2006, Gladden et al. 2010), by the
    curve above for other strengths, and doubled for 10 °C colder (assumption; that colder water
    is slower is from Hikasa et al. 1986). Raises ValueError outside 20 to 150 mg/L.
    """
    slower = _slower(water_c) * curve_minutes(mg_per_l) / curve_minutes(40)
    return Minutes(
        setting("induction") / 2 * slower,
        setting("induction") * slower,
        curve_minutes(40) * slower,
    )


def minutes_to_recover(water_c: float) -> Minutes:
    """Minutes [min] to expect until a fish is upright again: 2, 4 and 10 at 20 °C, longer colder.

    About 4 minutes whatever the strength, Hajek et al. 2006; the cold is an assumption.
    """
    slower = _slower(water_c)
    return Minutes(2 * slower, setting("recovery") * slower, 10 * slower)


def _slower(water_c: float) -> float:
    return float(2 ** (max(0.0, 20 - water_temperature(water_c)) / 10))


def timing_sign(minutes: float) -> str | None:
    """Say what a loss of balance after `minutes` [min] means when it is amiss, or return None."""
    not_negative(minutes, "the time to loss of balance", "min")
    if minutes < setting("induction_too_fast"):
        return (
            "Balance lost in under a minute: the bath is far too strong, perhaps an undiluted"
            " bottle. Put the fish in clean, aerated water now, and use this bath no more."
        )
    if minutes > setting("induction_too_slow"):
        return (
            "No loss of balance after ten minutes: put the fish back in clean water, then check"
            " the strength, the mixing and the temperature. Do not top the bath up."
        )
    return None


def stop_signs(longest: str, own: Mapping[str, float] | None = None) -> tuple[str, ...]:
    """Return the signs that mean stop, in the order in which they may come.

    `longest` are the minutes that this bath allows, as the rest of the sheet writes them.
    """
    alarm, vet = setting("recovery_alarm", own), setting("recovery_vet", own)
    return (
        f"Balance lost in under {setting('induction_too_fast', own):g} minute: too strong."
        " Clean, aerated water now.",
        "Gills slow and uneven, or stopped: clean, aerated water over the gills at once.",
        f"{longest} minutes in the bath, whatever stage is reached: out, into clean water.",
        f"{setting('out_of_water', own):g} seconds out of the water: wet the gills again;"
        " 60 seconds is the limit.",
        f"Not upright {alarm:g} minutes after leaving the bath: keep clean water moving over"
        " the gills.",
        f"Not upright after {vet:g} minutes: call a vet. A carp that looks dead may not be dead.",
    )


def bath_rules(own: Mapping[str, float] | None = None) -> tuple[str, ...]:
    """Return what has to be so before a fish goes in (common practice and assumptions)."""
    return (
        f"Bath and recovery tub hold the pond's own water, within"
        f" {setting('bath_difference', own):g} °C of it; an airstone runs in both, oxygen"
        f" {setting('bath_oxygen', own):g} mg/L or more.",
        "Mix the measured product in a jar of warm water or ethanol first, stir it in, wait, look"
        " for floating oil; only then the fish.",
        "A second person, a timer, and the recovery tub ready before the first fish is netted.",
        f"Make the bath afresh after {setting('bath_fish', own):g} fish or"
        f" {setting('bath_minutes', own):g} minutes, whichever comes first.",
        "Gloves and goggles: clove oil irritates skin and eyes and can sensitise.",
    )
