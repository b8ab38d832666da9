"""What is asked of a bath worksheet, and what it answers."""

from __future__ import annotations

from datetime import date
from typing import Literal

from msgspec import Struct

from showprep.husbandry.figures import FiguresInForce
from showprep.husbandry.reason import Blemish, Reason
from showprep.husbandry.sedation import BufferedDose, Dose, Law
from showprep.husbandry.sedation_course import Minutes
from showprep.husbandry.strength import Strength
from showprep.season.values.agents import Agent
from showprep.season.values.quantities import Units

# Whose sheet it is: the keeper's own; a vet's; one to ask a vet about, because the keeper has not
# said that the law was checked; or one that knows nothing of the keeper.
Gate = Literal["keeper", "vet", "ask a vet", "law not known"]


class BathFish(Struct, frozen=True):
    """One fish of the session: its blemishes, and the water it heals in where that is another."""

    name: str
    length_cm: float | None = None
    kg: float | None = None
    kg_estimated: bool = True
    blemishes: tuple[Blemish, ...] = ()
    heals_in: str | None = None


class BathAsk(Struct, frozen=True):
    """A session as asked for: litres, °C and mg/L; None where it was not given.

    `vet_agreed` is the keeper's statement that a vet has agreed to this bath. `tub_cm` is the
    inside length and width of the tub. `litres_again` are the litres said a second time, where
    they were asked about; `litres_settled` is true of those that stand on a sheet already.
    `fast_days` and `look_backs` are the calendar's, where the session stands in one.
    """

    figures: FiguresInForce

    agent: Agent = "clove oil"
    litres: float | None = None
    strength: Strength | None = None
    target_mg_per_l: float | None = None
    water_c: float | None = None
    day: date | None = None
    fish: tuple[BathFish, ...] = ()
    tub_cm: tuple[float, float] | None = None
    tub_depth_cm: float | None = None
    litres_again: float | None = None
    litres_settled: bool = False
    water: str | None = None
    gate: Gate = "law not known"
    vet_agreed: bool = False
    units: Units = "metric"
    fast_days: int | None = None
    look_backs: tuple[date, ...] = ()


class BathSheet(Struct, frozen=True):
    """A session worked out. When `refused` holds reasons there is no dose.

    Fish stand in the order of the work. Minutes are None where the temperature is not known, or
    nothing so weak was tried. `longest_minutes` is the one time in the bath that all of the sheet
    goes by, in whole tenths, rounded down; `longest_by` says which rule set it. `share_dead` is the
    share of carp (0 to 1) that would die of this target in ten minutes; None for MS-222.
    """

    ask: BathAsk
    refused: tuple[Reason, ...]
    target_mg_per_l: float | None
    dose: Dose | None
    buffered: BufferedDose | None
    fish: tuple[BathFish, ...]
    fish_per_bath: int
    baths: int
    down: Minutes | None
    up: Minutes | None
    longest_minutes: float
    longest_by: Law
    share_dead: float | None
    check_word: str
    fast_days: int
    unfed_from: date | None
    look_backs: tuple[date, ...]
    trial: tuple[tuple[float, float], ...]  # mg/L and mL, weakest first
    cautions: tuple[Reason, ...]

    @property
    def millilitres(self) -> float | None:
        return self.dose.millilitres if self.dose is not None else None
