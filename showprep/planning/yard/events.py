"""The events of a show in time order, from which everything else counts.

Healing is finished by benching, the fast counts back from departure, isolation forward from home.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, datetime, timedelta
from typing import Literal
from zoneinfo import ZoneInfo

from msgspec import Struct

from showprep.husbandry.driving import Drive, drive_of
from showprep.season.records import Keeper, Show
from showprep.season.values.show_times import arrival_of, benching_of, check_out_of

BAG_AND_LOAD = timedelta(minutes=90)  # common practice: never in a hurry, that splits fins
FLOATING = timedelta(minutes=30)  # 20 minutes afloat and the walk there (assumption)


class Events(Struct, frozen=True):
    """One show's events; times are aware, on the keeper's clocks for the road, else the show's.

    `zone` is the show's, `home_zone` the keeper's.
    """

    show: str
    record: Show
    zone: str
    home_zone: str
    standing: Literal["planned", "past", "cancelled"]
    drive: Drive  # the same each way
    departure: datetime
    latest_departure: datetime
    arrive_from: datetime
    arrive_to: datetime
    benching: datetime
    judging: datetime
    check_out: datetime
    home: datetime

    @property
    def bagged_at(self) -> datetime:
        """When the first fish is bagged."""
        return _travel(self.departure, -BAG_AND_LOAD / timedelta(hours=1), ZoneInfo(self.home_zone))

    @property
    def hours_in_bag(self) -> float:
        """One way [h]: bagging, the road with its stops, floating."""
        return self.drive.hours + (BAG_AND_LOAD + FLOATING) / timedelta(hours=1)

    @property
    def stops_in_bag(self) -> tuple[float, ...]:
        """The stops on the way there, after the first fish is bagged [h]."""
        loading = BAG_AND_LOAD / timedelta(hours=1)
        return tuple(loading + after for after in self.drive.stops_after_h)

    @property
    def departure_day(self) -> date:
        return self.departure.date()

    @property
    def benching_day(self) -> date:
        return self.benching.date()

    @property
    def judging_day(self) -> date:
        return self.judging.date()

    @property
    def home_day(self) -> date:
        return self.home.date()


def events_of(show_id: str, show: Show, keeper: Keeper, on: date) -> Events:
    """The events of one show as seen on day `on`.

    Departure is the start of the arrival window less the hours of travel and the stops on the way,
    so that the fish is there when the window opens; the latest departure the same from its end;
    home is check-out plus the same hours. Travel counts real hours, also over a change of clocks. A
    show is past once its judging day is before `on`.
    """
    zone = show.time_zone or keeper.time_zone
    tz, home = ZoneInfo(zone), ZoneInfo(keeper.time_zone)
    drive = drive_of(show.travel_hours, keeper.figures)
    arrive_from, arrive_to = (moment.replace(tzinfo=tz) for moment in arrival_of(show))
    benching = benching_of(show).replace(tzinfo=tz)
    judging = show.judging.replace(tzinfo=tz)
    check_out = check_out_of(show).replace(tzinfo=tz)
    return Events(
        show=show_id,
        record=show,
        zone=zone,
        home_zone=keeper.time_zone,
        standing=_standing(show, on),
        drive=drive,
        departure=_travel(arrive_from, -drive.hours, home),
        latest_departure=_travel(arrive_to, -drive.hours, home),
        arrive_from=arrive_from,
        arrive_to=arrive_to,
        benching=benching,
        judging=judging,
        check_out=check_out,
        home=_travel(check_out, drive.hours, home),
    )


def all_events(shows: Mapping[str, Show], keeper: Keeper, on: date) -> dict[str, Events]:
    """Events of every show, earliest departure first, then by id."""
    every = [events_of(show_id, show, keeper, on) for show_id, show in shows.items()]
    every.sort(key=lambda events: (events.departure, events.show))
    return {events.show: events for events in every}


def _standing(show: Show, on: date) -> Literal["planned", "past", "cancelled"]:
    if show.cancelled:
        return "cancelled"
    return "past" if show.judging.date() < on else "planned"


def _travel(moment: datetime, hours: float, tz: ZoneInfo) -> datetime:
    """Real hours on the road, to the whole minute, on the clocks of `tz`."""
    utc = moment.astimezone(ZoneInfo("UTC")) + timedelta(minutes=round(hours * 60))
    return utc.astimezone(tz)
