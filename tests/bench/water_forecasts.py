"""How well the departures foretell open waters: sums of four weeks, held out.

    nice python -m tests.bench.water_forecasts [--sites brussels,creek] [--off 1] [--curve-error 0]

Once a week, with weekly readings up to that day, the degree-days over 8 °C of the next 28 days are
foretold: by the yearly curve, by the curve drawn towards the readings, and by the departures. With
`--off` the keeper's monthly means are all that much too high [°C]; `--curve-error` is how far off
the departures take them to be, in place of what the program takes.
"""

from __future__ import annotations

import argparse
import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from statistics import NormalDist, fmean

from showprep.husbandry.warmth_ahead import Warmth
from showprep.husbandry.water import YearCurve, measured
from showprep.husbandry.water_departures import Kernel, departures_given
from showprep.planning.chances.warmth import KERNEL
from tests.bench.open_waters import SiteYear, installed, site_years
from tests.bench.scores import crps_normal
from tests.bench.season_played import warmth

DAYS = 28
SHARES = (0.5, 0.8, 0.9)


@dataclass(frozen=True, slots=True)
class Foretold:
    """One sum [°C d] as it came, and as curve, fading readings and departures foretold it."""

    came: float
    curve: float
    fading: float
    mean: float
    spread: float

    @property
    def place(self) -> float:
        """Where the sum came to lie in the forecast, 0 to 1 (probability integral transform)."""
        return NormalDist().cdf((self.came - self.mean) / self.spread)


def foretell(
    water: SiteYear, every_days: int = 7, off_c: float = 0.0, kernel: Kernel = KERNEL
) -> list[Foretold]:
    """Forecasts from April to September of one site-year, the monthly means too high by `off_c`."""
    curve = YearCurve.from_monthly_means([max(mean + off_c, 0.0) for mean in water.monthly_c])
    read = {day: max(c, 0.0) for day, c in water.water_c.items() if day.weekday() == 5}
    found = []
    today, last = date(water.year, 4, 3), date(water.year, 9, 15)
    while today <= last:
        until = today + timedelta(days=DAYS)
        known = [(day, c) for day, c in sorted(read.items()) if day <= today]
        apart = [(day, c - curve.on(day)) for day, c in known]
        days = [today + timedelta(days=number) for number in range(DAYS + 1)]
        ahead = departures_given(apart, today, until, kernel)
        means = [curve.on(day) + c for day, c in zip(days, ahead.means_c, strict=True)]
        path = Warmth(today, means, ahead.covariance)
        fading = measured(curve.on, known)
        found.append(
            Foretold(
                warmth(water.water_c, 8.0, today, until),
                sum(max(0.0, min(curve.on(day), 26.0) - 8) for day in days[1:]),
                sum(max(0.0, min(fading(day), 26.0) - 8) for day in days[1:]),
                path.mean(8.0, (today, until)),
                max(math.sqrt(path.variance(8.0, (today, until))), 1e-6),
            )
        )
        today += timedelta(days=every_days)
    return found


def line(name: str, found: Sequence[Foretold]) -> str:
    """One line of the table."""

    def rms(errors: list[float]) -> float:
        return math.sqrt(fmean(error * error for error in errors))

    held = [100 * fmean(abs(one.place - 0.5) <= share / 2 for one in found) for share in SHARES]
    crps = fmean(crps_normal(one.mean, one.spread, one.came) for one in found)
    return (
        f"{name:15} {len(found):5d}  {rms([f.came - f.curve for f in found]):6.1f}"
        f"  {rms([f.came - f.fading for f in found]):6.1f}"
        f"  {rms([f.came - f.mean for f in found]):10.1f}  {crps:5.1f}"
        f"   {held[0]:3.0f}/{held[1]:3.0f}/{held[2]:3.0f}"
    )


def main() -> None:
    """Run and print."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--sites", default="", help="sites by name, with commas; all if left out")
    asked.add_argument("--off", type=float, default=0.0, help="the monthly means too high by [°C]")
    asked.add_argument("--curve-error", type=float, help="how far off they are taken to be [°C]")
    options = asked.parse_args()
    sites, kernel = options.sites, KERNEL
    if options.curve_error is not None:
        kernel = Kernel(year_c=options.curve_error)
    print("28-day sums          root mean square error, °C d             50/80/90 %")
    print("site                n   curve  fading  departures   CRPS   ranges hold")
    everything: list[Foretold] = []
    for site in sites.split(",") if sites else installed():
        found = [
            one
            for water in site_years((site,))
            for one in foretell(water, off_c=options.off, kernel=kernel)
        ]
        everything += found
        print(line(site, found))
    print(line("all", everything))


if __name__ == "__main__":
    main()
