"""A straight line through measurements, and how far a forecast from it can be trusted."""

from __future__ import annotations

from collections.abc import Sequence
from math import fsum, sqrt

from msgspec import Struct

Z_975 = 1.959964

# NIST/SEMATECH e-Handbook of Statistical Methods, section 1.3.6.7.2, upper critical values of
# Student's t for a probability of 0.975, 1 to 30 degrees of freedom.
# fmt: off
_T_975 = (
    12.706, 4.303, 3.182, 2.776, 2.571, 2.447, 2.365, 2.306, 2.262, 2.228,
    2.201, 2.179, 2.160, 2.145, 2.131, 2.120, 2.110, 2.101, 2.093, 2.086,
    2.080, 2.074, 2.069, 2.064, 2.060, 2.056, 2.052, 2.048, 2.045, 2.042,
)
# fmt: on


class LineForecast(Struct, frozen=True):
    """A straight line y = intercept + slope x, and its forecast at one x with a 95 % interval."""

    slope: float
    intercept: float
    residual_sd: float
    expected: float
    sd: float
    t: float
    low: float
    high: float


def student_t_975(freedom: int) -> float:
    """Upper 97.5 % point of Student's t with `freedom` degrees of freedom.

    The published table to 30, beyond it the expansion 26.7.5 of Abramowitz & Stegun 1964.
    Raises ValueError below 1.
    """
    if freedom < 1:
        raise ValueError("a Student t value needs one degree of freedom at least")
    if freedom <= len(_T_975):
        return _T_975[freedom - 1]
    z = Z_975
    return z + (z**3 + z) / (4 * freedom) + (5 * z**5 + 16 * z**3 + 3 * z) / (96 * freedom**2)


def line_forecast(
    xs: Sequence[float],
    ys: Sequence[float],
    at: float,
    known_sd: float = 0.0,
    known_weight: int = 0,
) -> LineForecast:
    """Fit a least-squares line to three or more points and forecast it at `at`.

    95 % prediction interval t s sqrt(1 + 1/n + (x0 - mean)^2/Sxx). A standard deviation known
    beforehand, `known_sd`, may be pooled in as if it rested on `known_weight` more measurements.
    Raises ValueError for fewer than three points, unequal lengths, or points all at one x.
    """
    n = len(xs)
    if n < 3 or n != len(ys):
        raise ValueError("a line needs three measurements at least, each with its day")
    mean_x, mean_y = fsum(xs) / n, fsum(ys) / n
    sxx = fsum((x - mean_x) ** 2 for x in xs)
    if sxx <= 0:
        raise ValueError("the measurements are all of one day: no line can be drawn")
    slope = fsum((x - mean_x) * (y - mean_y) for x, y in zip(xs, ys, strict=True)) / sxx
    intercept = mean_y - slope * mean_x
    residuals = fsum((y - intercept - slope * x) ** 2 for x, y in zip(xs, ys, strict=True))
    freedom = n - 2 + known_weight
    s = sqrt((residuals + known_weight * known_sd**2) / freedom)
    expected = intercept + slope * at
    sd = s * sqrt(1 + 1 / n + (at - mean_x) ** 2 / sxx)
    t = student_t_975(freedom)
    return LineForecast(slope, intercept, s, expected, sd, t, expected - t * sd, expected + t * sd)
