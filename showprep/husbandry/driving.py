"""The drive to a show and home: stops for the driver, oxygen on the way, hours of the night."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, timedelta
from math import ceil

from msgspec import Struct
from msgspec.structs import replace

from showprep.husbandry.figures import FiguresInForce
from showprep.husbandry.plausible import not_negative


class Drive(Struct, frozen=True):
    """One way: `driving_h` at the wheel and `stops` of `stop_h` each [h].

    There is a stop after every `stop_every_h` [h] at the wheel. `oxygen_after_h` [h] from departure
    to the stop at which oxygen is renewed; None on a short way.
    """

    driving_h: float
    stops: int
    stop_h: float
    stop_every_h: float
    oxygen_after_h: float | None

    @property
    def hours(self) -> float:
        """From departure to arrival [h], stops included."""
        return self.driving_h + self.stops * self.stop_h

    @property
    def stops_after_h(self) -> tuple[float, ...]:
        """From departure to the beginning of each stop [h]."""
        return tuple(
            number * self.stop_every_h + (number - 1) * self.stop_h
            for number in range(1, self.stops + 1)
        )


def drive_of(driving_h: float, figures: FiguresInForce) -> Drive:
    """The drive of `driving_h` [h] at the wheel, 0 or more.

    A stop of `stop_minutes` [min] after every `stop_every` [h] at the wheel, none on arrival. From
    `oxygen_stop_hours` [h] in all, oxygen is renewed at the stop nearest the middle, the earlier of
    two; without a stop near it, in the middle. Raises ValueError for hours below 0.
    """
    not_negative(driving_h, "driving", "h")
    every, pause = figures["stop_every"], figures["stop_minutes"] / 60
    stops = max(ceil(driving_h / every - 1e-9) - 1, 0)
    hours = driving_h + stops * pause
    if hours < figures["oxygen_stop_hours"] - 1e-9:
        return Drive(driving_h, stops, pause, every, None)
    drive = Drive(driving_h, stops, pause, every, hours / 2)
    return replace(drive, oxygen_after_h=_nearest(drive.stops_after_h, hours / 2))


def _nearest(stops: Sequence[float], wanted: float) -> float:
    return min(stops, key=lambda after: (abs(after - wanted), after), default=wanted)


def drives_by_night(departure: datetime, hours: float, figures: FiguresInForce) -> bool:
    """Is any of `hours` [h] from `departure` on the road between midnight and `drive_from` [h]?

    `departure` is a moment on the driver's clock. That a driver should not be on the road then is
    common practice, no source.
    """
    midnight = departure.replace(hour=0, minute=0, second=0, microsecond=0)
    until = timedelta(hours=figures["drive_from"])
    nights = (midnight, midnight + timedelta(days=1))
    arrival = departure + timedelta(hours=hours)
    return any(departure < night + until and night < arrival for night in nights)
