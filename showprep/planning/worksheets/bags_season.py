"""The journeys of a season: every fish entered in a show, bagged for the road there and home."""

from __future__ import annotations

from showprep.husbandry.reason import Refusal
from showprep.husbandry.thermal_time import MeanOn
from showprep.planning.as_of.state import FishState
from showprep.planning.plan import Plan, ShowLine
from showprep.planning.verdicts.lengths import length_on, weight_kg
from showprep.planning.worksheets.bags import bag_sheet, bagged, refused_for_want
from showprep.planning.worksheets.bags_records import BagAsk, BagSheet, JourneySheet
from showprep.planning.worksheets.packing import packing_list
from showprep.planning.yard.events import Events
from showprep.planning.yard.yard import Yard


def shows_with_fish(plan: Plan) -> tuple[ShowLine, ...]:
    """The shows still to come that fish are entered in, by departure."""
    found = [show for show in plan.shows if show.standing == "planned" and show.entered]
    return tuple(sorted(found, key=lambda show: (show.departure, show.id)))


def bag_asks(yard: Yard, show: ShowLine) -> tuple[BagAsk, ...]:
    """What each fish entered asks for; time in the bag counts from the first fish bagged."""
    events = yard.events[show.id]
    return tuple(bag_ask(yard, events, fish_id) for fish_id in show.entered)


def bag_ask(yard: Yard, events: Events, fish_id: str) -> BagAsk:
    """What one fish asks for on the way to a show."""
    fish = yard.state.fish[fish_id]
    day = events.departure_day
    length = length_on(yard, fish, day)
    kg, estimated = weight_kg(yard, fish, length)
    step = yard.course(fish).leaving_for(events.show)
    left = step.from_water if step is not None else None
    water = yard.keeper.waters[left or yard.taken_from(fish, day)]
    return BagAsk(
        figures=yard.figures,
        hours=events.hours_in_bag,
        water_c=step.from_c if step is not None else _leaves_from(yard, fish)(day),
        kg=kg,
        length_cm=length.expected if length is not None else None,
        alkalinity_meq_l=water.alkalinity_meq_l,
        open_ph=water.ph,
        show_c=events.record.water_c,
        show_ph=events.record.water_ph,
        fish=fish_id,
        name=fish.record.name,
        kg_estimated=estimated,
        units=yard.keeper.units,
        tank_l=yard.keeper.carrying.tank_litres,
        bagged_at=events.bagged_at,
        stops_h=events.stops_in_bag,
    )


def _leaves_from(yard: Yard, fish: FishState) -> MeanOn:
    """The water a fish would leave from: the holding vat, where there is one."""
    holding = yard.keeper.holding
    return yard.mean_on(fish) if holding is None else yard.waters.of(holding.water)


def way_there(yard: Yard, events: Events, fish_id: str) -> BagSheet | None:
    """How one fish would travel to a show; None where neither weight nor length is known."""

    def worked_out() -> BagSheet | None:
        try:
            return bagged(bag_ask(yard, events, fish_id))
        except Refusal:
            return None

    return yard.once(("way there", events.show, fish_id), worked_out)


def journey_sheet(yard: Yard, show: ShowLine, asks: tuple[BagAsk, ...]) -> JourneySheet:
    """All the bags of one show, and its packing list."""
    events = yard.events[show.id]
    bags = tuple(_sheet(ask) for ask in asks)
    return JourneySheet(
        show=show.id,
        name=show.name,
        departure=events.departure,
        latest_departure=events.latest_departure,
        arrive_from=events.arrive_from,
        arrive_to=events.arrive_to,
        home_zone=events.home_zone,
        travel_hours=events.record.travel_hours,
        stops=events.drive.stops,
        road_hours=events.drive.hours,
        in_bag_hours=max((ask.hours for ask in asks), default=0.0),
        bags=bags,
        packing=packing_list(yard, events, bags),
        units=yard.keeper.units,
    )


def _sheet(ask: BagAsk) -> BagSheet:
    try:
        return bag_sheet(ask)
    except Refusal as refusal:
        return refused_for_want(ask, refusal.told)


def journeys(yard: Yard, plan: Plan) -> tuple[JourneySheet, ...]:
    """The journey sheets of a whole season."""
    return tuple(journey_sheet(yard, show, bag_asks(yard, show)) for show in shows_with_fish(plan))
