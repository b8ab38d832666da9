"""What is asked of a bags worksheet, and what it answers."""

from __future__ import annotations

from datetime import datetime
from typing import Literal

from msgspec import Struct

from showprep.husbandry.acclimation import TemperatureStep
from showprep.husbandry.figures import FiguresInForce
from showprep.husbandry.reason import Grams, Litres, Reason
from showprep.husbandry.tank import Tank
from showprep.husbandry.transport import Bag, LimitedBy
from showprep.season.values.quantities import Units

ALKALINITY = 1.0  # meq/L where none was given: soft water, which fouls the sooner (assumption)
LEAST_FILLING_H = 2.0  # a change of water sooner than this is no way to travel (common practice)
OPEN_PH = 8.0  # the pH of the water open to the air where none was given (assumption)


class BagAsk(Struct, frozen=True):
    """One fish and one journey: kg, cm, L, h, °C, meq/L; None where it was not given.

    Without litres the bag is sized for the fish. `show_c` and `show_ph` are of the water it goes
    into; `bag_length_cm` is a bag the keeper has.
    """

    figures: FiguresInForce
    hours: float
    water_c: float
    kg: float | None = None
    length_cm: float | None = None
    water_l: float | None = None
    gas_l: float | None = None
    bag_length_cm: float | None = None
    alkalinity_meq_l: float | None = None
    open_ph: float | None = None
    show_c: float | None = None
    show_ph: float | None = None
    salt_g_l: float | None = None
    fish: str = ""  # its id
    name: str = ""
    kg_estimated: bool = False
    units: Units = "metric"
    tank_l: float | None = None  # the keeper's own transport tank
    bagged_at: datetime | None = None
    stops_h: tuple[float, ...] = ()  # after it is bagged [h], the stops that are made anyway


class OnTheWay(Struct, frozen=True):
    """How a fish travels that no one bag carries all the way.

    One bag of `water_l` [L] is good for `good_for_h` [h]; None where no bag is. `fillings` of
    it carry the journey, each renewed `change_after_h` [h] after bagging, on `change_at` where the
    day is known; None where no change of water is a way. `tank` None where no tank is one.
    """

    water_l: float | None
    good_for_h: float
    limited_by: LimitedBy | None
    fillings: int | None
    change_after_h: tuple[float, ...]
    change_at: tuple[datetime, ...]
    tank: Tank | None

    def travels(self, ask: BagAsk) -> Literal["change", "tank"] | None:
        """How it goes all the same: in the keeper's own tank, or its water changed; None for not.

        A tank that carries it all the way comes first, then a bag, then a tank filled anew.
        """
        tank = self.tank if ask.tank_l is not None else None
        if tank is not None and tank.fillings == 1:
            return "tank"
        if self.fillings is not None:
            return "change"
        return "tank" if tank is not None and tank.hours_each >= LEAST_FILLING_H else None


class BagSheet(Struct, frozen=True):
    """One fish in its bag, out and home. When `refused` holds a reason there are no figures.

    `home` is the same bag in the show's water. `cautions` hold the stops first, then warnings.
    """

    ask: BagAsk
    refused: Reason | None
    kg: float | None
    kg_estimated: bool
    water_l: float | None = None
    gas_l: float | None = None
    bag_length_cm: float | None = None
    box_length_cm: float | None = None
    bags_each: int = 2
    alone: bool = True
    bag: Bag | None = None
    home: Bag | None = None
    step: TemperatureStep | None = None
    step_told: tuple[Reason, ...] = ()
    salt_g: float | None = None
    hours: float | None = None  # of one filling, which `bag` and `home` are worked out for
    ways: OnTheWay | None = None  # where one bag is not enough
    cautions: tuple[Reason, ...] = ()


Group = Literal["bags and water", "handling", "health", "papers", "people and home"]


class PackItem(Struct, frozen=True):
    """One thing to pack: how many or how much, None where that is left to the keeper, and what."""

    amount: int | Litres | Grams | None
    what: Reason


class PackingList(Struct, frozen=True):
    """What goes into the van for one show, under headings, scaled to the fish entered."""

    show: str
    groups: tuple[tuple[Group, tuple[PackItem, ...]], ...]

    @property
    def items(self) -> tuple[PackItem, ...]:
        return tuple(item for _, group in self.groups for item in group)


class JourneySheet(Struct, frozen=True):
    """All the bags of one journey to a show, and what to pack for it."""

    show: str
    name: str
    departure: datetime
    latest_departure: datetime
    arrive_from: datetime
    arrive_to: datetime
    home_zone: str
    travel_hours: float
    stops: int
    road_hours: float  # travel and stops
    in_bag_hours: float
    bags: tuple[BagSheet, ...]
    packing: PackingList
    units: Units = "metric"
