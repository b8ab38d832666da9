"""Chances along a fish's course, beside what SciPy and NumPy work out from the same figures.

In steady water of 20 °C a day gives 12 degree-days above 8 °C, 15 above 5 and 18 above 2. A speck
asks for 100, 180, 320 above 8 °C, seen at 25 °C: times 20/17 above 5 and 23/17 above 2.
"""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

import pytest

from showprep.planning.chances.chances import Chances, FishChances, expected_loss

ON = date(2027, 5, 1)
BENCHING, JUDGING = date(2027, 6, 11), date(2027, 6, 12)
BASES = ((2.0, 0.25), (5.0, 0.5), (8.0, 0.25))
MONTHS = [4.5, 4.8, 7.0, 10.0, 14.0, 17.5, 19.5, 19.0, 16.0, 12.0, 8.0, 5.5]
OPEN = f"waters: {{pond: {{monthly_c: {MONTHS}}}, vat: {{steady_c: 22}}}}"


def chances(written: Any, on: date = ON, fish: str = "aoi") -> tuple[Any, FishChances]:
    yard = written.yard(on)
    return yard, Chances(yard).of_fish(yard.state.fish[fish])


def share(norm: Any, numpy: Any, amount: Any, base: float, low: float, usual: float, high: float):
    """Split log-normal of a requirement above 8 °C seen at 25 °C, above another base."""
    figures = [(25 - base) / 17 * figure for figure in (low, usual, high)]
    amount = numpy.maximum(amount, 1e-12)
    width = numpy.where(
        amount >= figures[1],
        numpy.log(figures[2] / figures[1]),
        numpy.log(figures[1] / figures[0]),
    )
    return norm.cdf(norm.ppf(0.95) * numpy.log(amount / figures[1]) / width)


@pytest.fixture
def scipy() -> tuple[Any, Any]:
    return pytest.importorskip("scipy.stats").norm, pytest.importorskip("numpy")


@pytest.mark.parametrize("days", [14, 21, 27, 35, 42])
def test_a_touch_up_in_steady_water(written: Any, scipy: Any, days: int) -> None:
    norm, numpy = scipy
    yard, found = chances(written)
    (speck,) = yard.state.fish["aoi"].open_defects
    told = found.of(speck, yard.events["larkfield"], BENCHING - timedelta(days=days))
    healed = sum(
        weight * share(norm, numpy, days * (20 - base), base, 100, 180, 320)
        for base, weight in BASES
    )
    assert told.clean == pytest.approx(float(healed), abs=6e-5)
    away = 1 - norm.cdf(norm.ppf(0.95) * numpy.log((days + 1) / 56) / numpy.log(2))
    assert told.not_back == pytest.approx(float(away), abs=6e-5)  # to judging, a day later
    assert told.shows_nothing == pytest.approx(float(healed * away), abs=1e-4)
    assert told.closed == 0.9999  # two weeks of film: 1, 2 or 4 days, and never quite sure


READ = {date(2027, 3, 1) + timedelta(days=7 * n): 1.5 - 0.3 * n for n in range(9)}


def in_the_pond(written: Any) -> Any:
    return written.with_keeper(OPEN)


def test_an_open_water_with_readings(written: Any, scipy: Any) -> None:
    """The sum's mean and variance by NumPy from the sheet's kernel, then a plain quadrature.

    What the curve itself may be off by is learned from the readings with the rest, and once: the
    offset that dates are worked out with plays no part.
    """
    norm, numpy = scipy
    in_the_pond(written)
    curve = written.yard(ON).waters.as_written["pond"]
    for day, off in READ.items():
        written.noted(f"on: {day}, saw: temperature, water: pond, read_c: {curve(day) + off:.6f}")
    start = date(2027, 5, 8)
    yard, found = chances(written)
    assert abs(yard.waters.curves["pond"](start) - curve(start)) > 0.1
    (speck,) = yard.state.fish["aoi"].open_defects
    told = found.of(speck, yard.events["larkfield"], start).clean

    ahead = [start + timedelta(days=n + 1) for n in range((BENCHING - start).days)]
    g = numpy.array([0.93, 0.93, 0.93, 1.08, 1.11, 1.08, 0.97, 0.89, 0.95, 0.97, 0.97, 0.97])

    def kernel(one: list[date], other: list[date]) -> Any:
        far = numpy.abs(
            numpy.subtract.outer([d.toordinal() for d in one], [d.toordinal() for d in other])
        )
        size = numpy.outer(g[[d.month - 1 for d in one]], g[[d.month - 1 for d in other]])
        fast = 1.92**2 * (1 + 3**0.5 * far / 4.03) * numpy.exp(-(3**0.5) * far / 4.03)
        return size * (fast + 1.18**2 * numpy.exp(-far / 43.3)) + 0.8**2

    days, off = list(READ), numpy.array(list(READ.values()))
    among = kernel(days, days) + 0.3**2 * numpy.eye(len(days))
    across = kernel(ahead, days)
    mean = numpy.array([curve(d) for d in ahead]) + across @ numpy.linalg.solve(among, off)
    left = kernel(ahead, ahead) - across @ numpy.linalg.solve(among, across.T)
    left *= (8 + off @ numpy.linalg.solve(among, off)) / (8 + len(days))
    draw = numpy.random.default_rng(7).multivariate_normal(mean, left, size=40_000)
    healed = 0.0
    for base, weight in BASES:
        had = numpy.clip(numpy.minimum(draw, 26) - base, 0, None).sum(axis=1)
        healed += weight * float(share(norm, numpy, had, base, 100, 180, 320).mean())
    assert told == pytest.approx(healed, abs=0.002)
    assert 0.3 < told < 0.9


def test_fish_of_one_water_share_its_weather(written: Any) -> None:
    in_the_pond(written)
    written.fish += written.fish.replace("aoi", "beni").replace("Aoi", "Beni")
    written.fish += (
        written.fish.split("beni:")[0]
        .replace("aoi", "chiyo")
        .replace("lives_in: pond", "lives_in: vat")
    )
    yard = written.yard(ON)
    every = Chances(yard)
    aoi, beni, chiyo = (every.of_fish(yard.state.fish[one]) for one in ("aoi", "beni", "chiyo"))
    assert aoi.warmth is beni.warmth
    assert aoi.warmth is not chiyo.warmth
    span = (date(2027, 5, 10), BENCHING)
    assert aoi.warmth.variance(8.0, span) > 100
    assert chiyo.warmth.variance(8.0, span) == 0  # held steady: no doubt about its water


def test_a_fish_in_a_heated_vat_is_as_warm_as_the_vat(written: Any) -> None:
    in_the_pond(written)
    yard = written.yard(ON)
    fish = yard.state.fish["aoi"]
    day = date(2027, 5, 10)
    warm = yard.waters.moved(yard.mean_on(fish), "vat", day, 1.0)
    every = Chances(yard)
    home, there = every.of_fish(fish), every.moved(fish, day, "vat", warm)
    (speck,) = fish.open_defects
    show = yard.events["larkfield"]
    assert there.of(speck, show, day).clean > home.of(speck, show, day).clean + 0.1
    assert there.warmth.mean(8.0, (date(2027, 6, 1), BENCHING)) == pytest.approx(10 * 14)


def net_mark(written: Any) -> Any:
    written.fish = written.fish.replace("kind: shimi", "kind: net-mark").replace(
        "2027-03-01}]", "2027-05-01}]"
    )
    return written


def test_a_look_that_still_sees_it_is_heeded(written: Any, scipy: Any) -> None:
    """Bayes over the three bases, by hand: not clean after 8 days of 20 °C."""
    norm, numpy = scipy
    net_mark(written).noted("on: 2027-05-09, saw: not clean, fish: aoi")
    written.with_keeper("preferences: {use_own_pace: no}")
    yard, found = chances(written, date(2027, 5, 9))
    (mark,) = yard.state.fish["aoi"].open_defects
    told = found.of(mark, yard.events["larkfield"]).clean
    both = left = 0.0
    for base, weight in BASES:
        at_look, at_end = (
            float(share(norm, numpy, days * (20 - base), base, 40, 90, 180)) for days in (8, 41)
        )
        left += weight * (1 - at_look)
        both += weight * (at_end - at_look)
    assert told == pytest.approx(both / left, abs=1e-4)


def test_the_yards_own_pace_moves_the_chance_and_no_guard_holds_it(written: Any) -> None:
    """Six other fish whose net marks were still seen after the table's slow case."""
    net_mark(written)
    mark = written.fish
    for number in range(6):
        written.fish += mark.replace("aoi", f"old-{number}").replace("2027-05-01", "2027-04-01")
        written.noted(f"on: 2027-04-16, saw: not clean, fish: old-{number}")  # 15 days: 180
        written.noted(f"on: 2027-04-20, saw: clean, fish: old-{number}")
    on, by = date(2027, 5, 1), {}
    for use in ("no", "when enough", "yes"):
        written.with_keeper(f"preferences: {{use_own_pace: {use}}}")
        yard, _ = chances(written, on)
        (open_mark,) = yard.state.fish["aoi"].open_defects
        wound = Chances(yard).needs.wound(open_mark)
        assert wound is not None
        by[use] = [known.share_below(180.0) for _, _, known in wound.clean.cases]
        assert (wound.clean.cases[0][2].looks > 0) is (use != "no")
    assert by["yes"] == by["when enough"]
    assert all(own < table - 0.2 for own, table in zip(by["yes"], by["no"], strict=True))


def test_what_blemishes_cost_on_average() -> None:
    assert expected_loss([], 50) == 0
    assert expected_loss([(10, 0.9), (4, 0.5)], 50) == pytest.approx(1 + 2)
    # 30 and 40 off a fish of 50, both seen in a quarter of the cases: it stays at 0, not at -20
    told = expected_loss([(30, 0.5), (40, 0.5)], 50)
    assert 50 - told == pytest.approx((50 + 20 + 10 + 0) / 4)


@pytest.mark.parametrize("looks", [("2027-06-12",), ("2027-05-28", "2027-06-12")])
def test_a_speck_is_seen_clean_at_a_show_that_is_still_on(
    written: Any, verdict: Any, looks: tuple[str, ...]
) -> None:
    """Benched on 11 June, seen clean on the 12th for the first time, or once more."""
    written.noted(
        "on: 2027-05-10, did: touch-up, fish: aoi",
        "on: 2027-06-11, did: travelled, fish: aoi, show: larkfield",
        *(f"on: {day}, saw: clean, fish: aoi" for day in looks),
    )
    found = verdict(written.plan(date(2027, 6, 12)))
    assert found.verdict == "ready"
    assert found.chance_clean > 0.8
