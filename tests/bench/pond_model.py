"""A well-mixed pond of 1.5 m under real weather, for want of a measured koi pond.

With full weather the heat budget of the surface in the form of Edinger, Brady & Geyer 1974, "Heat
Exchange and Transport in the Environment", and Chapra 1997, "Surface Water-Quality Modeling",
lecture 30 (both from memory): absorbed sun, long-wave radiation of the sky, less the water's own,
less evaporation and conduction with the wind function 19.0 + 0.95 U². Long-wave radiation that was
not recorded comes from air and cloud (Swinbank 1963, with 1 + 0.17 C²; from memory). With air
alone the three-parameter form of Toffolon & Piccolroaz 2015, "A hybrid model for river water
temperature as a function of air temperature and discharge", Environmental Research Letters
10:114011: dT/dt = a1 + a2 Ta - a3 T, with parameters set by hand for a pond (assumption: it
answers the air within four days and lies 1.5 °C above it).
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

DEPTH_M = 1.5
SHADE = 0.75  # share of the sun that reaches the pond over walls and trees (assumption)
_CAL = 2.064  # cal/cm²/d in one W/m²
_STEPS = 4  # a day


@dataclass(frozen=True, slots=True)
class Weather:
    """A day's mean weather: sun and sky's long waves [W/m²], air [°C], humidity [%], wind [m/s]."""

    sun: float
    air_c: float
    humidity: float
    wind: float
    sky: float | None = None
    cloud: float = 0.5


def pond_of_weather(days: Mapping[date, Weather]) -> dict[date, float]:
    """Daily mean water temperature [°C] of the pond, day by day; frozen water stays at 0 °C."""
    water = 5.0
    found = {}
    for day, weather in sorted(days.items()):
        total = 0.0
        for _ in range(_STEPS):
            gained = _budget(weather, water) / (DEPTH_M * 100) / _STEPS
            water = max(water + gained, 0.0)
            total += water
        found[day] = total / _STEPS
    return found


def pond_of_air(
    air_c: Mapping[date, float], per_day: float = 0.25, above_c: float = 1.5
) -> dict[date, float]:
    """Daily mean water temperature [°C] of a pond that follows the air's daily means [°C]."""
    water = 5.0
    found = {}
    for day, air in sorted(air_c.items()):
        water = max(water + per_day * (air + above_c - water), 0.0)
        found[day] = water
    return found


def _budget(weather: Weather, water_c: float) -> float:
    """Heat gained [cal/cm²/d]: with water's 1 cal/cm³/°C, degrees per day in 1 cm of depth."""
    kelvin = weather.air_c + 273.15
    if weather.sky is None:
        sky = 0.937e-5 * 5.67e-8 * kelvin**6 * (1 + 0.17 * weather.cloud**2)
    else:
        sky = weather.sky
    gained = _CAL * (0.94 * SHADE * max(weather.sun, 0.0) + 0.97 * sky)
    gained -= _CAL * 0.97 * 5.67e-8 * (water_c + 273.15) ** 4
    blown = 19.0 + 0.95 * min(weather.wind / 2, 5.0) ** 2  # a garden has half the wind (assumption)
    vapour = _saturated(weather.air_c) * weather.humidity / 100
    gained -= blown * (_saturated(water_c) - vapour)
    return gained - 0.47 * blown * (water_c - weather.air_c)


def _saturated(c: float) -> float:
    """Saturated vapour pressure [mmHg] (Raudkivi 1979, in Chapra)."""
    return 4.596 * math.exp(17.27 * c / (237.3 + c))
