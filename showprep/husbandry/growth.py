"""What length a fish will have on a day, from what was measured, with a 95 % interval.

Growth is calculated in thermal time above 8 °C: in carp it followed degree-days above 8 °C better
than the calendar (Specziár & Turcsányi 2018, KMAE 419:39). A fish does not grow shorter, and does
not grow past the length it is expected to end at.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import date
from math import exp, log, sqrt

from msgspec import Struct

from showprep.husbandry.figure_record import DERIVED, Grade
from showprep.husbandry.figures import FIGURES, FiguresInForce
from showprep.husbandry.forecast_line import Z_975, line_forecast
from showprep.husbandry.plausible import more_than_nothing
from showprep.husbandry.reason import Reason, reason
from showprep.husbandry.thermal_time import MeanOn, gathered

RECENT_DAYS = 730
"""Older measurements than this before the last [d] say little of how the fish grows now."""

KNOWN_ERROR_WEIGHT = 10
"""The stated error of measuring counts as much as this many measurements (assumption)."""

Warmth = Callable[[date, date], float]


class Projection(Struct, frozen=True):
    """Length [cm] on a day: expected, 95 % interval, and from what it was worked out."""

    expected: float
    low: float
    high: float
    how: Reason
    grade: Grade = DERIVED


def project(
    measured: Sequence[tuple[date, float]],
    on: date,
    mean_on: MeanOn,
    figures: FiguresInForce,
    longest_cm: float | None = None,
    known_error_weight: int = KNOWN_ERROR_WEIGHT,
) -> Projection:
    """Project the length [cm] on the day `on` from measurements (day, cm) up to that day.

    Three and more in the last two years: a straight line in degree-days with its prediction
    interval, the known error of measuring pooled in. Two: a thermal von Bertalanffy curve fitted
    to the fish, unless they lie too near each other to tell more than the usual growth of koi.
    One: that usual growth (`k_growth`, as shipped 50 % of final length at two years), with a wide
    interval. `longest_cm` is the length the fish is expected to end at, where it is known (else
    `linf`); `sigma_length` is the error of one measurement.
    Raises ValueError if nothing was measured by that day, or a length is not above 0.
    """
    sigma_cm = more_than_nothing(figures["sigma_length"], "the error of measuring", "cm")
    points = _recent(measured, on)
    last_day, last_cm = points[-1]
    end = max(longest_cm or figures["linf"], last_cm + sigma_cm)

    def warmth(after: date, until: date) -> float:
        return gathered(after, until, mean_on)

    def bounded(expected: float, half: float, how: Reason) -> Projection:
        return _bounded(expected, half, (last_cm, last_cm - Z_975 * sigma_cm, end), how)

    if on == last_day and len(points) < 3:
        return bounded(last_cm, Z_975 * sigma_cm, reason("measured-on-the-day"))
    if len(points) >= 3:
        line = _line(points, on, warmth, sigma_cm, known_error_weight)
        if line is not None:
            expected, half = line
            return bounded(expected, half, reason("line-through", measurements=len(points)))
    if len(points) >= 2:
        own = _own_curve(points[-2:], on, warmth, end, figures)
        if own is not None:
            return bounded(*own, reason("own-growth"))
    expected, half = _usual(last_cm, warmth(last_day, on), end, figures)
    return bounded(expected, half, reason("usual-growth"))


def _recent(measured: Sequence[tuple[date, float]], on: date) -> list[tuple[date, float]]:
    by_day: dict[date, list[float]] = {}
    for day, cm in measured:
        more_than_nothing(cm, "a measured length", "cm")
        if day <= on:
            by_day.setdefault(day, []).append(cm)
    if not by_day:
        raise ValueError(f"no length was measured by {on.isoformat()}")
    points = [(day, sum(by_day[day]) / len(by_day[day])) for day in sorted(by_day)]
    newest = points[-1][0]
    return [point for point in points if (newest - point[0]).days <= RECENT_DAYS]


def _line(
    points: list[tuple[date, float]], on: date, warmth: Warmth, sigma: float, weight: int
) -> tuple[float, float] | None:
    start = points[0][0]
    xs = [warmth(start, day) for day, _ in points]
    if xs[-1] - xs[0] < 1:
        return None
    found = line_forecast(xs, [cm for _, cm in points], warmth(start, on), sigma, weight)
    return found.expected, found.t * found.sd


def _own_curve(
    points: list[tuple[date, float]],
    on: date,
    warmth: Warmth,
    end: float,
    figures: FiguresInForce,
) -> tuple[float, float] | None:
    (day1, cm1), (day2, cm2) = points
    sigma = figures["sigma_length"]
    between = warmth(day1, day2)
    if between <= 0 or max(cm1, cm2) >= end:
        return None
    room1, room2 = end - cm1, end - cm2
    # Where the two errors of measuring hide the rate more than the spread among koi does, the
    # usual growth says more than the fish's own.
    rate_sd = sqrt((sigma / room1) ** 2 + (sigma / room2) ** 2) / between
    low, _, high = _usual_rates(figures)
    if rate_sd > (high - low) / (2 * Z_975):
        return None
    ahead = warmth(day2, on)
    reach = ahead / between
    left = min(1.0, room2 / room1)
    expected = end - room2 * exp(-thermal_rate(cm1, cm2, between, end) * ahead)
    sd = sigma * left**reach * sqrt((1 + reach) ** 2 + (reach * left) ** 2)
    return expected, Z_975 * sd


def _usual_rates(figures: FiguresInForce) -> tuple[float, float, float]:
    """Thermal rates k [1/(°C d)] of koi: low, typical, high, from the yearly K of a hobby fit.

    A keeper's own yearly K is the typical one; the spread is widened to hold it.
    """
    spread, typical, year = FIGURES["k_growth"], figures["k_growth"], figures["growth_year"]
    return min(spread.low, typical) / year, typical / year, max(spread.high, typical) / year


def thermal_rate(first: float, second: float, degree_days_between: float, linf: float) -> float:
    """Growth rate k [1/(°C d)] of a fish that grew from `first` to `second` over so much warmth.

    k = ln((Linf - L1)/(Linf - L2)) / DD, never below 0: the thermal von Bertalanffy curve.
    Raises ValueError if either length is not below `linf` or there was no warmth.
    """
    more_than_nothing(degree_days_between, "the warmth between two measurements", "degree-days")
    if not max(first, second) < linf:
        raise ValueError(f"a fish that ends at {linf:g} is not measured at {max(first, second):g}")
    return max(0.0, log((linf - first) / (linf - second)) / degree_days_between)


def _usual(length: float, warm: float, end: float, figures: FiguresInForce) -> tuple[float, float]:
    low, typical, high = _usual_rates(figures)
    spread = FIGURES["linf"]
    shortest, longest = end * spread.low / spread.typical, end * spread.high / spread.typical
    slow = max(0.0, shortest - length) * (1 - exp(-low * warm))
    usual = (end - length) * (1 - exp(-typical * warm))
    fast = (longest - length) * (1 - exp(-high * warm))
    half = max(usual - slow, fast - usual)
    return length + usual, sqrt(half**2 + (Z_975 * figures["sigma_length"]) ** 2)


def _bounded(
    expected: float, half: float, limits: tuple[float, float, float], how: Reason
) -> Projection:
    last, least, end = limits
    best = min(max(expected, last), end)
    longest = end * FIGURES["linf"].high / FIGURES["linf"].typical
    # A fish does not shrink, so it is no shorter than its last measurement may have been.
    low = min(best, max(expected - half, least))
    return Projection(best, low, max(best, min(best + half, longest)), how)
