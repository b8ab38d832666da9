"""A keeper's monthly means may be off: what readings then foretell, on one open record of water."""

from __future__ import annotations

from statistics import fmean
from typing import TYPE_CHECKING

from showprep.husbandry.water_departures import Kernel
from showprep.planning.chances.warmth import KERNEL
from tests.bench.open_waters import site_years
from tests.bench.scores import crps_normal
from tests.bench.water_forecasts import foretell

if TYPE_CHECKING:
    from tests.conftest import Outside


def score(off_c: float, kernel: Kernel) -> float:
    """Mean score of four weeks foretold [°C d], the smaller the better."""
    return fmean(
        crps_normal(one.mean, one.spread, one.came)
        for water in site_years(("seattle",))
        for one in foretell(water, 21, off_c, kernel)
    )


def test_means_that_are_off_are_found_out_and_right_ones_lose_little(outside: Outside) -> None:
    outside.data_of("vega_datasets")
    trusting = Kernel()  # takes the monthly means for right
    assert score(1.5, KERNEL) < 0.95 * score(1.5, trusting)
    assert score(0.0, KERNEL) < 1.05 * score(0.0, trusting)
