"""The temperature of the waters along the top of the season line, readings as points."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from showprep.outputs.page.scale import Scale
from showprep.planning.plan import Plan, WaterLine

HEIGHT = 96
MOST = 4  # waters drawn
DEGREES = (0.0, 30.0)  # °C, from the bottom to the top


@dataclass(frozen=True, slots=True)
class Course:
    """One water: its line, its readings, and where its name stands."""

    name: str
    number: int
    points: str
    readings: tuple[tuple[float, float], ...]
    y: float


@dataclass(frozen=True, slots=True)
class Level:
    """A line across at a round temperature [°C]."""

    y: float
    celsius: float


@dataclass(frozen=True, slots=True)
class Band:
    """All the courses drawn, and how many were left out."""

    courses: tuple[Course, ...]
    levels: tuple[Level, ...]
    left_out: int
    height: int = HEIGHT


def band_of(plan: Plan, scale: Scale) -> Band:
    """The waters most fish live in, and the others as far as there is room."""
    living = [fish.lives_in for fish in plan.fish]
    ordered = sorted(plan.waters, key=lambda water: -living.count(water.name))
    drawn = ordered[:MOST]
    return Band(
        courses=tuple(_course(water, number, scale) for number, water in enumerate(drawn)),
        levels=tuple(Level(_y(celsius), celsius) for celsius in (10.0, 20.0)),
        left_out=len(ordered) - len(drawn),
    )


def _course(water: WaterLine, number: int, scale: Scale) -> Course:
    first = water.start.toordinal() - scale.origin
    points = [
        (first + n, celsius)
        for n, celsius in enumerate(water.means_c)
        if 0 <= first + n <= scale.days
    ]
    return Course(
        name=water.name,
        number=number,
        points=" ".join(
            f"{n * scale.a_day:.0f},{_y(celsius):.1f}" for n, celsius in _thinned(points)
        ),
        readings=tuple(_readings(water.readings, scale)),
        y=_y(points[0][1]) if points else HEIGHT,
    )


def _thinned(points: list[tuple[int, float]]) -> Iterable[tuple[int, float]]:
    """Every third day: a daily mean moves slowly, and the drawing stays small."""
    return [point for n, point in enumerate(points) if n % 3 == 0 or n == len(points) - 1]


def _readings(
    readings: Iterable[tuple[date, float]], scale: Scale
) -> Iterable[tuple[float, float]]:
    for day, celsius in readings:
        if scale.shows(day):
            yield scale.x(day), _y(celsius)


def _y(celsius: float) -> float:
    low, high = DEGREES
    share = min(max((celsius - low) / (high - low), 0.0), 1.0)
    return round(HEIGHT * (1 - share), 1)
