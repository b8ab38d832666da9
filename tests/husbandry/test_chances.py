"""Chances of wounds and touch-ups: check values, SciPy's integrals, and simulated fish."""

from __future__ import annotations

import math
from collections.abc import Callable
from datetime import date, timedelta
from typing import TYPE_CHECKING

import pytest

from showprep.husbandry.best_touch_up_day import best_touch_up_day
from showprep.husbandry.chances import chances_of
from showprep.husbandry.healing_base import BASES_C
from showprep.husbandry.no_blemish import chance_no_blemish
from showprep.husbandry.normal_scores import NODES
from showprep.husbandry.speck_return import RETURN_WEEKS, chance_not_back, known_return
from showprep.husbandry.split_log_normal import SplitLogNormal
from showprep.husbandry.warmth_ahead import Warmth, held_steady
from showprep.husbandry.water_departures import departures_given
from showprep.husbandry.wound_need import Need, Wound, need_in_days, need_in_degree_days
from showprep.husbandry.yard_pace import BEFORE_LOOKS, known_from

if TYPE_CHECKING:
    from tests.conftest import Outside

START = date(2027, 5, 3)
SPECK = SplitLogNormal(100, 180, 320)
FILM = need_in_days(SplitLogNormal(1, 2, 4), 1)
ONLY_BASE_8 = Need(((8.0, 1.0, known_from(SPECK)),), 7)


def day(number: int) -> date:
    return START + timedelta(days=number)


def spring(readings: tuple[tuple[date, float], ...] = (), days: int = 120) -> Warmth:
    """A pond from 11 °C on, warming by a tenth of a degree a day; its path is uncertain."""
    ahead = departures_given(readings, START, day(days))
    means = [11 + 0.1 * at + c for at, c in enumerate(ahead.means_c)]
    return Warmth(START, means, ahead.covariance)


# SciPy 1.17.1: best day before benching and its chance, base 8 for certain, in steady water.
@pytest.mark.parametrize(
    ("c", "days", "chance"),
    [(14, 41.0393, 0.6271), (18, 30.7880, 0.8645), (22, 25.5160, 0.9447), (25, 22.9056, 0.9696)],
)
def test_best_day_check_values(c: float, days: float, chance: float, outside: Outside) -> None:
    optimize = outside.module("scipy.optimize")
    known = known_return(RETURN_WEEKS)

    def missed(ahead: float) -> float:
        return -SPECK.share_below(ahead * (c - 8)) * chance_not_back(known, ahead)

    found = optimize.minimize_scalar(missed, bounds=(7, 80), method="bounded")
    assert found.x == pytest.approx(days, abs=0.01)
    assert -found.fun == pytest.approx(chance, abs=5e-5)
    benching = day(100)
    warmth = held_steady(START, [c] * 101)

    def chance_on(touched: date) -> float:
        wound = Wound(touched, FILM, ONLY_BASE_8, known)
        return chances_of(wound, benching, benching, benching, warmth).shows_nothing

    best = best_touch_up_day([day(at) for at in range(100)], chance_on)
    assert best is not None
    assert abs((benching - best.day).days - days) <= 0.75
    assert best.chance == pytest.approx(chance, abs=0.001)


# SciPy 1.17.1: F of 100/180/320 over N(250, 40²); of four fish in one water together.
def test_mean_over_the_water_check_values() -> None:
    def mean_of(power: int) -> float:
        return math.fsum(w * SPECK.share_below(250 + 40 * z) ** power for z, w in NODES)

    assert mean_of(1) == pytest.approx(0.7934, abs=0.001)
    assert mean_of(4) == pytest.approx(0.4550, abs=0.002)
    assert mean_of(1) ** 4 == pytest.approx(0.3963, abs=0.002)


# The sheet's figures once the base is averaged over: best day and chance by water temperature.
@pytest.mark.parametrize(
    ("c", "days", "chance"),
    [
        (12, 41, 0.55),
        (14, 36, 0.72),
        (16, 32, 0.82),
        (18, 29, 0.88),
        (20, 27, 0.92),
        (22, 25, 0.94),
    ],
)
def test_best_day_over_three_bases(c: float, days: int, chance: float) -> None:
    warmth = held_steady(START, [c] * 101)
    need, known = need_in_degree_days(SPECK, 7), known_return(RETURN_WEEKS)

    def chance_on(touched: date) -> float:
        wound = Wound(touched, FILM, need, known)
        return chances_of(wound, day(100), day(100), day(101), warmth).shows_nothing

    best = best_touch_up_day([day(at) for at in range(100)], chance_on)
    assert best is not None
    assert abs((day(100) - best.day).days - days) <= 1
    assert best.chance == pytest.approx(chance, abs=0.0075)


# scipy.integrate over a normal sum of degree-days, for each base.
def test_clean_beside_scipy(outside: Outside) -> None:
    integrate, norm = outside.module("scipy.integrate"), outside.module("scipy.stats").norm
    warmth = spring(((START, 1.5),))
    need = need_in_degree_days(SPECK, 7)
    for ahead in (14, 21, 30, 45):
        touched = day(60 - ahead)
        exact = 0.0
        for base, share in BASES_C:
            figures = SPECK.times((25 - base) / 17)
            mean = warmth.mean(base, (touched, day(60)))
            spread = math.sqrt(warmth.variance(base, (touched, day(60))))

            def healed(
                x: float, f: SplitLogNormal = figures, m: float = mean, s: float = spread
            ) -> float:
                return float(f.share_below(x) * norm.pdf(x, m, s))

            exact += (
                share * integrate.quad(healed, mean - 9 * spread, mean + 9 * spread, limit=200)[0]
            )
        found = chances_of(Wound(touched, None, need), day(60), day(60), day(60), warmth)
        assert found.clean == pytest.approx(exact, abs=0.001)


def simulated(
    outside: Outside, warmth: Warmth, fish: int = 40000, seed: int = 11
) -> tuple[object, Callable[[float, date, date], object], object]:
    """Paths of the water as numpy draws them: degree-days between two days, and each one's base."""
    numpy = outside.module("numpy")
    draw = numpy.random.default_rng(seed)
    paths = draw.multivariate_normal(warmth.means_c, warmth._covariance, fish)
    bases = draw.choice([base for base, _ in BASES_C], fish, p=[share for _, share in BASES_C])

    def sums(_: float, after: date, until: date) -> object:
        begin, end = (after - START).days + 1, (until - START).days + 1
        return (numpy.clip(paths[:, begin:end], bases[:, None], 26) - bases[:, None]).sum(axis=1)

    return draw, sums, bases


# Fish drawn with numpy: true paths of the water, a base, a yard's pace and two of its specks.
def test_two_specks_of_one_yard_beside_simulation(outside: Outside) -> None:
    numpy = outside.module("numpy")
    warmth = spring()
    draw, sums, bases = simulated(outside, warmth)
    fish = len(bases)
    yard = draw.normal(0, math.sqrt(0.5), fish)

    def figures(size: SplitLogNormal, score: object) -> object:
        z95 = 1.6448536269514722
        ratio = numpy.where(score > 0, size.high / size.usual, size.usual / size.low)
        return size.usual * ratio ** (score / z95)

    shown = numpy.ones(fish, bool)
    back_yard = draw.normal(0, math.sqrt(0.5), fish)
    wounds = []
    for touched in (day(15), day(31)):
        score = yard + draw.normal(0, math.sqrt(0.5), fish)
        need = figures(SPECK, score) * (25 - bases) / 17
        weeks = figures(SplitLogNormal(4, 8, 16), back_yard + draw.normal(0, math.sqrt(0.5), fish))
        shown &= (need <= sums(0, touched, day(55))) & (weeks * 7 > (day(56) - touched).days)
        wounds.append(
            Wound(touched, FILM, need_in_degree_days(SPECK, 7), known_return(RETURN_WEEKS))
        )
    found = chance_no_blemish(wounds, day(55), day(56), warmth)
    assert found == pytest.approx(shown.mean(), abs=0.012)  # three standard errors are 0.0075
    alone = math.prod(chance_no_blemish([one], day(55), day(56), warmth) for one in wounds)
    assert found > alone + 0.02


# Fish drawn the same way, of which those are kept that were not clean at a look.
def test_a_look_beside_simulation(outside: Outside) -> None:
    numpy = outside.module("numpy")
    warmth = spring()
    draw, sums, bases = simulated(outside, warmth, 60000)
    ratio = 320 / 180, 180 / 100
    score = draw.normal(0, 1, len(bases))
    need = 180 * numpy.where(score > 0, *ratio) ** (score / 1.6448536269514722) * (25 - bases) / 17
    not_yet = need > sums(0, day(10), day(30))
    clean = need <= sums(0, day(10), day(45))
    wound = Wound(day(10), FILM, need_in_degree_days(SPECK, 7), not_clean_on=day(30))
    found = chances_of(wound, day(45), day(45), day(45), warmth).clean
    assert found == pytest.approx(clean[not_yet].mean(), abs=0.012)
    assert found == pytest.approx(chance_no_blemish([wound], day(45), day(45), warmth), abs=1e-4)
    unseen = chances_of(Wound(day(10), FILM, wound.clean), day(45), day(45), day(45), warmth).clean
    assert found < unseen


# By Bayes' rule the two are one; the grid's scatter is uncertain, which makes its tail longer.
def test_learning_from_the_one_look_is_the_same_as_weighing_it_in() -> None:
    warmth = held_steady(START, [15.0] * 101)

    def at_look(base: float) -> tuple[float, float]:
        return warmth.mean(base, (day(10), day(30))), math.inf

    learned = need_in_degree_days(SPECK, 7, looks=[at_look])
    plain = need_in_degree_days(SPECK, 7)
    for by in (34, 40, 50, 70):
        told = [
            chances_of(
                Wound(day(10), FILM, need, not_clean_on=day(30)), day(by), day(by), day(by), warmth
            ).clean
            for need in (learned, plain)
        ]
        assert told[0] == pytest.approx(told[1], abs=0.01)


def test_looks_move_the_yard_its_bases_and_its_return() -> None:
    warmth = held_steady(START, [15.0] * 101)
    fast = need_in_degree_days(SPECK, 7, looks=[lambda base: (60, (15 - base) * 14.0)] * 6)
    slow = need_in_degree_days(SPECK, 7, looks=[lambda base: ((15 - base) * 30.0, math.inf)] * 6)
    plain = need_in_degree_days(SPECK, 7)

    def clean(need: Need) -> float:
        return chances_of(Wound(day(0), FILM, need), day(25), day(25), day(25), warmth).clean

    assert clean(slow) < clean(plain) - 0.1 < clean(plain) + 0.1 < clean(fast)
    cold = need_in_degree_days(
        SPECK, 7, looks=[lambda base: (max(9 - base, 0) * 60.0 + 1, math.inf)] * 3
    )
    shares = [share for _, share, _ in cold.cases]
    assert sum(shares) == pytest.approx(1)
    assert shares[0] < 0.25 < shares[2]  # healing that hardly moves at 9 °C speaks for a high base
    soon = known_return(RETURN_WEEKS, looks_weeks=[(3, 5)] * 5)
    assert chance_not_back(soon, 42) < chance_not_back(known_return(RETURN_WEEKS), 42) - 0.1


def test_paces_before_any_look_give_the_table_back() -> None:
    for score in (-2.5, -1.0, 0.0, 0.7, 1.6):
        mixed = math.fsum(
            pace.share * math.erfc((pace.middle - score) / pace.scatter / math.sqrt(2)) / 2
            for pace in BEFORE_LOOKS
        )
        assert mixed == pytest.approx(math.erfc(-score / math.sqrt(2)) / 2, abs=1e-4)


def test_milestones_in_days_need_no_water() -> None:
    warmth = held_steady(START, [5.0] * 30)
    chances = [
        chances_of(Wound(day(0), FILM, FILM), day(by), day(by), day(by), warmth).closed
        for by in (0, 1, 2, 4, 12)
    ]
    assert chances == [0, 0.05, 0.5, 0.95, 0.9999]  # never quite sure of what was not seen


def test_the_film_of_skin_counts_its_own_days() -> None:
    """Half a day in water from 4 to 8 °C: at 5 °C eight days do what four do from 8 °C on."""
    film = need_in_days(SplitLogNormal(1, 2, 4), 1, film=True)
    for c, by, chance in ((12.0, 4, 0.95), (5.0, 4, 0.5), (5.0, 8, 0.95), (3.0, 30, 0.0)):
        warmth = held_steady(START, [c] * 40)
        found = chances_of(Wound(day(0), film, film), day(by), day(by), day(by), warmth)
        assert (found.closed, found.clean) == (chance, chance), (c, by)


def test_a_film_in_water_that_strays_about_8_degrees_is_less_sure() -> None:
    """SciPy's quadrature over one departure that all days share."""
    stats, integrate = pytest.importorskip("scipy.stats"), pytest.importorskip("scipy.integrate")
    film, figures = need_in_days(SplitLogNormal(1, 2, 4), 1, film=True), SplitLogNormal(1, 2, 4)
    warmth = Warmth(START, [9.5] * 11, [[2.0**2] * 11 for _ in range(11)])
    found = chances_of(Wound(day(0), film, film), day(5), day(5), day(5), warmth)

    def given(z: float) -> float:
        c = 9.5 + 2 * z
        days = 5 * (1 if c >= 8 else 0.5 if c >= 4 else 0)
        return float(figures.share_below(days) * stats.norm.pdf(z)) if days else 0.0

    edges = [-8, (4 - 9.5) / 2, (8 - 9.5) / 2, 8]
    right = sum(integrate.quad(given, *edges[at : at + 2])[0] for at in range(3))
    assert found.closed == pytest.approx(right, abs=0.03)  # nine nodes, over two steps


def test_least_days_hold_everything_back_until_they_are_over() -> None:
    warmth = held_steady(START, [26.0] * 60)
    need = need_in_degree_days(SplitLogNormal(1, 2, 3), 7)
    both = [Wound(day(0), FILM, need), Wound(day(1), FILM, need)]
    found = [chance_no_blemish(both, day(by), day(by), warmth) for by in (6, 7, 8)]
    assert found == [0, 0, 0.9999]
    assert chances_of(both[0], day(0), day(6), day(6), warmth).clean == 0


def test_seen_clean_is_clean_and_only_its_return_is_left() -> None:
    warmth = held_steady(START, [15.0] * 80)
    need, known = need_in_degree_days(SPECK, 7), known_return(RETURN_WEEKS)
    wound = Wound(day(0), FILM, need, known, clean_on=day(21))
    found = chances_of(wound, day(34), day(34), day(35), warmth)
    assert (found.closed, found.clean) == (1, 1)
    assert found.not_back == pytest.approx(0.8764, abs=5e-5)
    assert chance_no_blemish([wound], day(34), day(35), warmth) == found.shows_nothing
    assert chances_of(wound, day(10), day(10), day(35), warmth).clean < 1
    closed = Wound(day(0), need, need, closed_on=day(3))
    assert chances_of(closed, day(3), day(9), day(9), warmth).closed == 1
    assert chances_of(closed, day(2), day(9), day(9), warmth).closed < 1


def test_no_wound_is_no_blemish() -> None:
    assert chance_no_blemish([], day(3), day(4), held_steady(START, [15.0] * 9)) == 1


def test_wounds_of_two_kinds_share_the_water_and_the_base() -> None:
    warmth = spring()
    speck, scale = (
        need_in_degree_days(SPECK, 7),
        need_in_degree_days(SplitLogNormal(250, 500, 900), 21),
    )
    wounds = [Wound(day(20), FILM, speck), Wound(day(0), FILM, scale), Wound(day(52), FILM, FILM)]
    alone = [chance_no_blemish([one], day(55), day(55), warmth) for one in wounds]
    found = chance_no_blemish(wounds, day(55), day(55), warmth)
    assert math.prod(alone) < found < min(alone)


def test_more_wounds_than_stored_scores_still_have_a_chance() -> None:
    warmth, need = spring(), need_in_degree_days(SPECK, 7)
    wounds = [Wound(day(at), FILM, need) for at in range(0, 24, 2)]
    found = [chance_no_blemish(wounds[:count], day(60), day(60), warmth) for count in (1, 6, 12)]
    assert found == sorted(found, reverse=True) and found[-1] > 0.3


def test_a_planned_day_stands_until_another_is_clearly_better() -> None:
    worth = {day(0): 0.80, day(7): 0.815, day(14): 0.70}
    best = best_touch_up_day(worth, worth.__getitem__)
    assert best is not None and best.day == day(7)
    held = best_touch_up_day(worth, worth.__getitem__, planned=day(0))
    assert held is not None and held.day == day(0)
    moved = best_touch_up_day(worth, worth.__getitem__, planned=day(14))
    assert moved is not None and moved.day == day(7)
    gone = best_touch_up_day(worth, worth.__getitem__, planned=day(21))
    assert gone is not None and gone.day == day(7)
    assert best_touch_up_day([], worth.__getitem__) is None


def test_fish_of_one_water_do_not_ask_twice() -> None:
    warmth, need, known = spring(), need_in_degree_days(SPECK, 7), known_return(RETURN_WEEKS)
    for _fish in range(30):
        for ahead in (20, 27, 34):
            wound = Wound(day(60 - ahead), FILM, need, known)
            chances_of(wound, day(60), day(60), day(61), warmth)
            chance_no_blemish([wound, wound], day(60), day(61), warmth)
    assert len(warmth.answers) == 3 * 4  # closed, clean, two clean and none shows, for three days


def test_water_within_limits_against_scipys_normals(outside: Outside) -> None:
    """One day, and a day after one that was not within them: the two-day normal of SciPy."""
    stats = outside.module("scipy.stats")
    warmth = spring(((day(0), 1.0),), days=40)
    mean, spread = (
        warmth.means_c,
        [math.sqrt(warmth.variance(-50, (day(n - 1), day(n)))) for n in range(1, 41)],
    )
    low, high = 10.0, 13.0
    for first, later in ((6, 9), (6, 13), (13, 27)):
        one = stats.norm(mean[first], spread[first - 1])
        inside = one.cdf(high) - one.cdf(low)
        assert warmth.chance_within(day(first), low, high) == pytest.approx(inside, abs=1e-6)
        other = stats.norm(mean[later], spread[later - 1])
        told = warmth.covariance(-50, (day(first - 1), day(first)), (day(later - 1), day(later)))
        both = stats.multivariate_normal(
            [mean[first], mean[later]],
            [[spread[first - 1] ** 2, told], [told, spread[later - 1] ** 2]],
        ).cdf([high, high], lower_limit=[low, low])
        wanted = (other.cdf(high) - other.cdf(low) - both) / (1 - inside)
        found = warmth.chance_within_after(day(first), day(later), low, high)
        assert found == pytest.approx(wanted, abs=0.01)


def test_water_held_steady_is_within_limits_or_not() -> None:
    warmth = held_steady(START, [9.9, 10.0, 28.0, 28.1])
    assert [warmth.chance_within(day(n), 10, 28) for n in range(4)] == [0, 1, 1, 0]
    assert warmth.chance_within_after(day(0), day(1), 10, 28) == 1
    with pytest.raises(ValueError, match="not known"):
        warmth.chance_within(day(4), 10, 28)
