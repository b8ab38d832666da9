"""Growth and length forecasts against published curves and statistics libraries."""

from __future__ import annotations

from datetime import date, timedelta
from typing import TYPE_CHECKING

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from showprep.husbandry.forecast_line import line_forecast, student_t_975, two_point_forecast
from showprep.husbandry.growth import (
    age_at_length,
    project,
    somers,
    specific_growth_rate,
    thermal_rate,
    usual_years_to,
    von_bertalanffy,
    von_bertalanffy_onward,
)
from showprep.husbandry.reason import reason

if TYPE_CHECKING:
    from tests.conftest import Outside


START = date(2027, 4, 1)


def day(number: int) -> date:
    return START + timedelta(number)


def steady(_: date) -> float:
    return 17.0  # 9 degree-days a day above 8 °C


# Brown et al. 2005, carp of the Murray: Linf [mm], K [1/yr], t0 [yr].
MALES, FEMALES = (489, 0.249, -0.519), (594, 0.177, -0.609)


@pytest.mark.parametrize(
    ("curve", "age", "mm"),
    [
        (MALES, 1, 154.0),
        (MALES, 5, 365.3),
        (MALES, 10, 453.4),
        (FEMALES, 1, 147.2),
        (FEMALES, 3, 280.4),
        (FEMALES, 10, 503.2),
    ],
)
def test_von_bertalanffy_with_the_murray_parameters(
    curve: tuple[float, float, float], age: float, mm: float
) -> None:
    assert von_bertalanffy(age, *curve) == pytest.approx(mm, abs=0.05)
    assert age_at_length(von_bertalanffy(age, *curve), *curve) == pytest.approx(age)


def test_growth_from_a_measurement_follows_the_same_curve() -> None:
    linf, k, t0 = FEMALES
    onward = von_bertalanffy_onward(von_bertalanffy(3, linf, k, t0), 2, linf, k)
    assert onward == pytest.approx(von_bertalanffy(5, linf, k, t0))


def test_a_fish_never_reaches_a_length_beyond_its_end() -> None:
    with pytest.raises(ValueError, match="never reaches"):
        age_at_length(80, 80, 0.3)


def test_the_usual_growth_of_koi_is_half_of_its_end_at_two_years() -> None:
    # A hobby table: 50 % at 24 months, 95 % at 10 and 99 % at 14 years (common practice).
    assert usual_years_to(0.5) == pytest.approx(2, abs=0.01)
    assert 8 < usual_years_to(0.95) < 10
    assert 13 < usual_years_to(0.99) < 14
    with pytest.raises(ValueError, match="share"):
        usual_years_to(1)


@settings(derandomize=True, max_examples=60, deadline=None)
@given(st.floats(0, 10), st.floats(0, 1))
def test_a_seasonal_curve_without_season_is_the_plain_one(age: float, summer: float) -> None:
    assert somers(age, 80, 0.3, -0.2, 0.0, summer) == pytest.approx(
        von_bertalanffy(age, 80, 0.3, -0.2)
    )


def test_a_seasonal_curve_stops_once_a_year_in_winter() -> None:
    # Somers 1988, Fishbyte 6:8-11: with C = 1 growth is nil at the winter point ts + 0.5.
    step = 1e-4
    for age in (1.5, 2.5):
        rise = somers(age + step, 80, 0.3, 0, 1.0, 0.0) - somers(age - step, 80, 0.3, 0, 1.0, 0.0)
        assert rise == pytest.approx(0, abs=1e-6)
    assert somers(3, 80, 0.3, 0, 1.0, 0.0) == pytest.approx(von_bertalanffy(3, 80, 0.3))


@pytest.mark.parametrize(("end", "rate"), [(200.88, 1.13), (189.11, 1.00), (130.04, 0.17)])
def test_specific_growth_rate_as_a_feeding_trial_prints_it(end: float, rate: float) -> None:
    # A 45-day trial of cycles of feeding and fasting, from 120.69 g.
    assert round(specific_growth_rate(120.69, end, 45), 2) == rate


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
    found = project(measured, day(240), steady, known_error_weight=0)
    fit = api.OLS(LENGTHS, api.add_constant([9 * d for d in DAYS])).fit()
    frame = fit.get_prediction([[1.0, 9 * 240.0]]).summary_frame(alpha=0.05)
    assert found.expected == pytest.approx(float(frame["mean"].iloc[0]))
    assert found.low == pytest.approx(float(frame["obs_ci_lower"].iloc[0]), abs=1e-3)
    assert found.high == pytest.approx(float(frame["obs_ci_upper"].iloc[0]), abs=1e-3)


def test_the_known_error_of_measuring_steadies_a_short_row() -> None:
    # Three points exactly on a line say nothing of their own error; the rule's 0.5 cm does.
    three = [(day(0), 50.0), (day(60), 51.0), (day(120), 52.0)]
    found = project(three, day(180), steady)
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


def test_two_measurements_with_their_error_carried_forward(outside: Outside) -> None:
    # The standard deviation is that of 20,000 simulated pairs of measurements (numpy).
    numpy = outside.module("numpy")
    random = numpy.random.default_rng(20270401)
    first, second = random.normal(52, 0.5, 20_000), random.normal(55, 0.5, 20_000)
    simulated = second + (second - first) * 58 / 100
    expected, sd = two_point_forecast(52, 55, 100, 58, 0.5)
    assert expected == pytest.approx(float(simulated.mean()), abs=0.02)
    assert sd == pytest.approx(float(simulated.std()), rel=0.02)


def test_the_fishs_own_curve_has_the_spread_of_simulated_fish(outside: Outside) -> None:
    # 20,000 pairs of measurements about 52 and 55 cm, each carried on by the same curve (numpy).
    numpy = outside.module("numpy")
    random = numpy.random.default_rng(20270402)
    one, two = random.normal(52, 0.5, 20_000), random.normal(55, 0.5, 20_000)
    carried = 80 - (80 - two) * ((80 - two) / (80 - one)) ** 0.5
    found = project([(day(0), 52.0), (day(100), 55.0)], day(150), steady)
    assert found.expected == pytest.approx(float(carried.mean()), abs=0.02)
    assert found.low == pytest.approx(float(numpy.quantile(carried, 0.025)), abs=0.05)
    assert found.high == pytest.approx(float(numpy.quantile(carried, 0.975)), abs=0.05)


def test_two_measurements_too_near_each_other_fall_back_on_usual_growth() -> None:
    near = project([(day(0), 52.0), (day(5), 52.3)], day(150), steady)
    assert near.how.code == "usual-growth"
    apart = project([(day(0), 52.0), (day(100), 55.0)], day(150), steady)
    assert apart.how.code == "own-growth"


def test_one_measurement_gives_usual_growth_and_a_wide_interval() -> None:
    found = project([(day(0), 52.0)], day(150), steady)
    assert found.expected > 52
    assert found.high - found.low > 8
    assert found.how.code == "usual-growth"


def test_a_mud_pond_season_lies_inside_the_interval_of_one_measurement() -> None:
    # 32 cm in May, 51 to 53 in October of one season in a mud pond (an account of the trade).
    found = project([(date(2027, 5, 1), 32.0)], date(2027, 10, 15), lambda _: 24.0)
    assert found.low < 51
    assert found.high > 53


def test_no_growth_in_cold_water() -> None:
    for measured in (
        [(day(0), 52.0)],
        [(day(0), 52.0), (day(10), 52.4)],
        [(day(0), 52.0), (day(10), 52.4), (day(20), 52.1)],
    ):
        found = project(measured, day(120), lambda _: 6.0)
        assert found.expected == pytest.approx(measured[-1][1])
        assert found.low < found.expected < found.high


def test_a_fish_does_not_shrink() -> None:
    for measured in (
        [(day(0), 56.0), (day(200), 55.0)],
        [(day(0), 56.0), (day(60), 55.5), (day(120), 55.0)],
    ):
        found = project(measured, day(300), steady)
        assert found.expected >= 55.0
        assert found.low >= 55.0 - 1.96 * 0.5 - 1e-3


def test_a_fish_does_not_outgrow_its_end() -> None:
    measured = [(day(0), 70.0), (day(60), 73.0), (day(120), 76.0)]
    found = project(measured, day(900), lambda _: 25.0)
    assert found.expected == 80
    assert found.high <= 95
    longer = project([(day(0), 84.0)], day(200), steady)
    assert 84 <= longer.expected <= 84.5


def test_what_was_measured_counts_as_it_should() -> None:
    twice = project([(day(0), 52.0), (day(0), 53.0)], day(0), steady)
    assert twice.expected == pytest.approx(52.5)
    assert twice.how.code == "measured-on-the-day"
    later = project([(day(0), 52.0), (day(100), 60.0)], day(50), steady)
    assert later == project([(day(0), 52.0)], day(50), steady)
    old = [(day(-1500), 20.0), (day(-1400), 25.0), (day(0), 52.0)]
    assert project(old, day(50), steady) == later
    shuffled = [(day(100), 55.0), (day(0), 52.0)]
    assert project(shuffled, day(150), steady) == project(shuffled[::-1], day(150), steady)


def test_nothing_measured_is_refused() -> None:
    with pytest.raises(ValueError, match="no length was measured"):
        project([], day(0), steady)
    with pytest.raises(ValueError, match="no length was measured"):
        project([(day(1), 52.0)], day(0), steady)
    with pytest.raises(ValueError, match="a measured length"):
        project([(day(0), 0.0)], day(1), steady)
    with pytest.raises(ValueError, match="error of measuring"):
        project([(day(0), 52.0)], day(1), steady, sigma_cm=0)


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
    found = project(points, day(700 + ahead), lambda _: water_c, linf_cm=linf)
    newest = max(number for number, _ in measured)
    last = [cm for number, cm in measured if number == newest]
    assert found.low <= found.expected <= found.high
    assert found.expected >= sum(last) / len(last) - 1e-9
    assert found.expected <= max(linf, max(last) + 0.5) + 1e-9


@settings(derandomize=True, max_examples=40, deadline=None)
@given(st.integers(1, 300), st.integers(1, 100))
def test_a_later_day_never_gives_a_shorter_fish(ahead: int, more: int) -> None:
    for points in ([(day(0), 52.0)], [(day(0), 52.0), (day(100), 55.0)]):
        soon = project(points, day(100 + ahead), steady)
        late = project(points, day(100 + ahead + more), steady)
        assert late.expected >= soon.expected
        assert late.high - late.low >= soon.high - soon.low - 1e-9 or late.high >= 94
