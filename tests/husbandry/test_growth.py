"""Growth and length forecasts against published curves and statistics libraries."""

from __future__ import annotations

from datetime import date, timedelta
from math import exp
from typing import TYPE_CHECKING

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from showprep.husbandry.figures import SHIPPED, FiguresInForce
from showprep.husbandry.forecast_line import line_forecast, student_t_975
from showprep.husbandry.growth import Projection, project, thermal_rate
from showprep.husbandry.reason import reason

if TYPE_CHECKING:
    from tests.conftest import Outside


START = date(2027, 4, 1)


def day(number: int) -> date:
    return START + timedelta(number)


def steady(_: date) -> float:
    return 17.0  # 9 degree-days a day above 8 °C


def test_the_usual_growth_of_koi_is_half_of_its_end_at_two_years() -> None:
    # A hobby table: 50 % at 24 months, 95 % at 10 and 99 % at 14 years (common practice).
    def share_at(years: float) -> float:
        # Steady water of 17 °C: a pond's year of 1659 degree-days passes in 184 days.
        grown = project([(START, 0.01)], day(round(years * 1659 / 9)), steady, SHIPPED)
        return grown.expected / 80

    assert share_at(2) == pytest.approx(0.5, abs=0.01)
    assert share_at(8) < 0.95 < share_at(10)
    assert share_at(13) < 0.99 < share_at(14)


def test_a_keepers_own_growth_is_that_of_their_fish() -> None:
    def grown(**own: float) -> Projection:
        return project([(START, 40.0)], day(184), steady, FiguresInForce(own))

    # By hand: 184 days of 9 degree-days are one year of 1656, and 80 - 40 exp(-K) is left of it.
    assert grown(k_growth=0.5, growth_year=1656).expected == pytest.approx(80 - 40 * exp(-0.5))
    assert grown(growth_year=2 * 1656).expected < grown().expected
    assert grown(k_growth=0.8).high > grown().high  # the spread is widened to hold their own
    assert grown(k_growth=0.1).low < grown().low
    assert grown(linf=100).expected > grown().expected
    assert grown(sigma_length=2).low <= grown().low


def test_student_t_is_that_of_scipy(outside: Outside) -> None:
    stats = outside.module("scipy.stats")
    found = [student_t_975(freedom) for freedom in range(1, 200)]
    assert found == pytest.approx(stats.t.ppf(0.975, range(1, 200)).tolist(), abs=6e-4)
    with pytest.raises(ValueError, match="degree of freedom"):
        student_t_975(0)


DAYS, LENGTHS = (0.0, 60.0, 120.0, 180.0), (50.0, 52.1, 53.8, 56.2)


def test_a_line_is_that_of_scipy(outside: Outside) -> None:
    found = line_forecast(DAYS, LENGTHS, 240)
    theirs = outside.module("scipy.stats").linregress(DAYS, LENGTHS)
    assert found.slope == pytest.approx(theirs.slope)
    assert found.intercept == pytest.approx(theirs.intercept)


def test_a_prediction_interval_is_that_of_statsmodels(outside: Outside) -> None:
    api = outside.module("statsmodels.api")
    found = line_forecast(DAYS, LENGTHS, 240)
    fit = api.OLS(LENGTHS, api.add_constant(list(DAYS))).fit()
    frame = fit.get_prediction([[1.0, 240.0]]).summary_frame(alpha=0.05)
    assert found.expected == pytest.approx(float(frame["mean"].iloc[0]))
    assert found.low == pytest.approx(float(frame["obs_ci_lower"].iloc[0]), abs=1e-3)
    assert found.high == pytest.approx(float(frame["obs_ci_upper"].iloc[0]), abs=1e-3)


def test_a_projection_from_many_is_that_of_statsmodels_in_degree_days(outside: Outside) -> None:
    api = outside.module("statsmodels.api")
    measured = [(day(int(d)), cm) for d, cm in zip(DAYS, LENGTHS, strict=True)]
    found = project(measured, day(240), steady, SHIPPED, known_error_weight=0)
    fit = api.OLS(LENGTHS, api.add_constant([9 * d for d in DAYS])).fit()
    frame = fit.get_prediction([[1.0, 9 * 240.0]]).summary_frame(alpha=0.05)
    assert found.expected == pytest.approx(float(frame["mean"].iloc[0]))
    assert found.low == pytest.approx(float(frame["obs_ci_lower"].iloc[0]), abs=1e-3)
    assert found.high == pytest.approx(float(frame["obs_ci_upper"].iloc[0]), abs=1e-3)


def test_the_known_error_of_measuring_steadies_a_short_row() -> None:
    # Three points exactly on a line say nothing of their own error; the rule's 0.5 cm does.
    three = [(day(0), 50.0), (day(60), 51.0), (day(120), 52.0)]
    found = project(three, day(180), steady, SHIPPED)
    assert found.expected == pytest.approx(53.0)
    assert 0.5 < found.high - found.expected < 3
    assert found.how == reason("line-through", measurements=3)


def test_a_line_needs_three_points_on_different_days() -> None:
    with pytest.raises(ValueError, match="three measurements"):
        line_forecast((0, 1), (50, 51), 2)
    with pytest.raises(ValueError, match="three measurements"):
        line_forecast((0, 1, 2), (50, 51), 3)
    with pytest.raises(ValueError, match="all of one day"):
        line_forecast((1, 1, 1), (50, 51, 52), 3)


def test_the_fishs_own_curve_has_the_spread_of_simulated_fish(outside: Outside) -> None:
    # 20,000 pairs of measurements about 52 and 55 cm, each carried on by the same curve (numpy).
    numpy = outside.module("numpy")
    random = numpy.random.default_rng(20270402)
    one, two = random.normal(52, 0.5, 20_000), random.normal(55, 0.5, 20_000)
    carried = 80 - (80 - two) * ((80 - two) / (80 - one)) ** 0.5
    found = project([(day(0), 52.0), (day(100), 55.0)], day(150), steady, SHIPPED)
    assert found.expected == pytest.approx(float(carried.mean()), abs=0.02)
    assert found.low == pytest.approx(float(numpy.quantile(carried, 0.025)), abs=0.05)
    assert found.high == pytest.approx(float(numpy.quantile(carried, 0.975)), abs=0.05)


def test_two_measurements_too_near_each_other_fall_back_on_usual_growth() -> None:
    near = project([(day(0), 52.0), (day(5), 52.3)], day(150), steady, SHIPPED)
    assert near.how.code == "usual-growth"
    apart = project([(day(0), 52.0), (day(100), 55.0)], day(150), steady, SHIPPED)
    assert apart.how.code == "own-growth"


def test_one_measurement_gives_usual_growth_and_a_wide_interval() -> None:
    found = project([(day(0), 52.0)], day(150), steady, SHIPPED)
    assert found.expected > 52
    assert found.high - found.low > 8
    assert found.how.code == "usual-growth"


def test_a_mud_pond_season_lies_inside_the_interval_of_one_measurement() -> None:
    # 32 cm in May, 51 to 53 in October of one season in a mud pond (an account of the trade).
    found = project([(date(2027, 5, 1), 32.0)], date(2027, 10, 15), lambda _: 24.0, SHIPPED)
    assert found.low < 51
    assert found.high > 53


def test_no_growth_in_cold_water() -> None:
    for measured in (
        [(day(0), 52.0)],
        [(day(0), 52.0), (day(10), 52.4)],
        [(day(0), 52.0), (day(10), 52.4), (day(20), 52.1)],
    ):
        found = project(measured, day(120), lambda _: 6.0, SHIPPED)
        assert found.expected == pytest.approx(measured[-1][1])
        assert found.low < found.expected < found.high


def test_a_fish_does_not_shrink() -> None:
    for measured in (
        [(day(0), 56.0), (day(200), 55.0)],
        [(day(0), 56.0), (day(60), 55.5), (day(120), 55.0)],
    ):
        found = project(measured, day(300), steady, SHIPPED)
        assert found.expected >= 55.0
        assert found.low >= 55.0 - 1.96 * 0.5 - 1e-3


def test_a_fish_does_not_outgrow_its_end() -> None:
    measured = [(day(0), 70.0), (day(60), 73.0), (day(120), 76.0)]
    found = project(measured, day(900), lambda _: 25.0, SHIPPED)
    assert found.expected == 80
    assert found.high <= 95
    longer = project([(day(0), 84.0)], day(200), steady, SHIPPED)
    assert 84 <= longer.expected <= 84.5


def test_what_was_measured_counts_as_it_should() -> None:
    twice = project([(day(0), 52.0), (day(0), 53.0)], day(0), steady, SHIPPED)
    assert twice.expected == pytest.approx(52.5)
    assert twice.how.code == "measured-on-the-day"
    later = project([(day(0), 52.0), (day(100), 60.0)], day(50), steady, SHIPPED)
    assert later == project([(day(0), 52.0)], day(50), steady, SHIPPED)
    old = [(day(-1500), 20.0), (day(-1400), 25.0), (day(0), 52.0)]
    assert project(old, day(50), steady, SHIPPED) == later
    shuffled = [(day(100), 55.0), (day(0), 52.0)]
    assert project(shuffled, day(150), steady, SHIPPED) == project(
        shuffled[::-1], day(150), steady, SHIPPED
    )


def test_nothing_measured_is_refused() -> None:
    with pytest.raises(ValueError, match="no length was measured"):
        project([], day(0), steady, SHIPPED)
    with pytest.raises(ValueError, match="no length was measured"):
        project([(day(1), 52.0)], day(0), steady, SHIPPED)
    with pytest.raises(ValueError, match="a measured length"):
        project([(day(0), 0.0)], day(1), steady, SHIPPED)
    with pytest.raises(ValueError, match="error of measuring"):
        project([(day(0), 52.0)], day(1), steady, FiguresInForce({"sigma_length": 0}))


def test_a_rate_needs_room_and_warmth() -> None:
    with pytest.raises(ValueError, match="warmth"):
        thermal_rate(52, 55, 0, 80)
    with pytest.raises(ValueError, match="ends at 80"):
        thermal_rate(52, 80, 100, 80)
    assert thermal_rate(55, 52, 100, 80) == 0


@settings(derandomize=True, max_examples=80, deadline=None)
@given(
    st.lists(st.tuples(st.integers(0, 700), st.floats(10, 85)), min_size=1, max_size=6),
    st.integers(0, 300),
    st.floats(2, 30),
    st.floats(30, 100),
)
def test_low_expected_and_high_are_always_in_order(
    measured: list[tuple[int, float]], ahead: int, water_c: float, linf: float
) -> None:
    points = [(day(number), cm) for number, cm in measured]
    found = project(points, day(700 + ahead), lambda _: water_c, SHIPPED, longest_cm=linf)
    newest = max(number for number, _ in measured)
    last = [cm for number, cm in measured if number == newest]
    assert found.low <= found.expected <= found.high
    assert found.expected >= sum(last) / len(last) - 1e-9
    assert found.expected <= max(linf, max(last) + 0.5) + 1e-9


@settings(derandomize=True, max_examples=40, deadline=None)
@given(st.integers(1, 300), st.integers(1, 100))
def test_a_later_day_never_gives_a_shorter_fish(ahead: int, more: int) -> None:
    for points in ([(day(0), 52.0)], [(day(0), 52.0), (day(100), 55.0)]):
        soon = project(points, day(100 + ahead), steady, SHIPPED)
        late = project(points, day(100 + ahead + more), steady, SHIPPED)
        assert late.expected >= soon.expected
        assert late.high - late.low >= soon.high - soon.low - 1e-9 or late.high >= 94
