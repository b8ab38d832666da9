"""Growth formulae, each under its own name, in calendar time.

Lengths are total lengths [cm] unless a caller keeps to another unit throughout; ages in years.
"""

from __future__ import annotations

from math import exp, log, pi, sin

from showprep.husbandry.plausible import more_than_nothing


def von_bertalanffy(age: float, linf: float, k: float, t0: float = 0.0) -> float:
    """Length at `age` [yr]: Linf (1 - exp(-K (t - t0))), in the unit of `linf`; `k` [1/yr]."""
    return linf * (1 - exp(-k * (age - t0)))


def von_bertalanffy_onward(length: float, years: float, linf: float, k: float) -> float:
    """Length `years` [yr] after a measured `length`, the increment form of Fabens 1965."""
    return linf - (linf - length) * exp(-k * years)


def age_at_length(length: float, linf: float, k: float, t0: float = 0.0) -> float:
    """Age [yr] at `length`, the inverse of `von_bertalanffy`.

    Raises ValueError if the length is not below `linf`.
    """
    if not length < linf:
        raise ValueError(f"a fish that ends at {linf:g} never reaches {length:g}")
    return t0 - log(1 - length / linf) / k


def somers(
    age: float, linf: float, k: float, t0: float, amplitude: float, summer_start: float
) -> float:
    """Length at `age` [yr] with growth that slows in winter, Somers 1988 (Fishbyte 6:8-11).

    `amplitude` 0 is the plain curve, 1 stops growth once a year at `summer_start` + 0.5 [yr].
    """

    def swing(when: float) -> float:
        return amplitude * k / (2 * pi) * sin(2 * pi * (when - summer_start))

    return linf * (1 - exp(-k * (age - t0) - swing(age) + swing(t0)))


def thermal_rate(first: float, second: float, degree_days_between: float, linf: float) -> float:
    """Growth rate k [1/(°C d)] of a fish that grew from `first` to `second` over so much warmth.

    k = ln((Linf - L1)/(Linf - L2)) / DD, never below 0: the thermal von Bertalanffy curve.
    Raises ValueError if either length is not below `linf` or there was no warmth.
    """
    more_than_nothing(degree_days_between, "the warmth between two measurements", "degree-days")
    if not max(first, second) < linf:
        raise ValueError(f"a fish that ends at {linf:g} is not measured at {max(first, second):g}")
    return max(0.0, log((linf - first) / (linf - second)) / degree_days_between)


def specific_growth_rate(w1: float, w2: float, days: float) -> float:
    """Specific growth rate 100 ln(W2/W1)/d [%/d] from weight `w1` to `w2` over `days` [d]."""
    more_than_nothing(w1, "the first weight", "g")
    more_than_nothing(w2, "the second weight", "g")
    return 100 * log(w2 / w1) / more_than_nothing(days, "the time between weighings", "days")
