"""Warmth and time, whatever the water: laws that hold without knowing any one figure.

The linear law of healing with temperature is Anderson & Roberts 1975 (published); below the cap
of 26 °C more warmth can only bring a milestone nearer.
"""

from __future__ import annotations

from datetime import date, datetime, timedelta

from hypothesis import given, settings
from hypothesis import strategies as st

from showprep.planning.verdicts.prospects import Prospect, prospect, touch_ups_of
from showprep.planning.verdicts.touch_ups import TouchUps
from showprep.planning.yard.yard import yard_on
from showprep.season.records import Defect, Fish, Keeper, Season, Show, Water

ON = date(2027, 4, 1)
RANK = {"ready": 0, "ready-after-touch-up": 0, "tight": 1, "as-it-is": 2, "too-late": 3}
HEALING = ("net-mark", "lost-scale", "lost-scales", "split-fin", "red-spots", "bruised-snout")

temperatures = st.floats(min_value=9, max_value=25, allow_nan=False)
steps = st.floats(min_value=0, max_value=1)
asked = st.floats(min_value=0.05, max_value=0.9)
kinds = st.sampled_from(HEALING)
seen = st.integers(min_value=0, max_value=60).map(lambda days: ON - timedelta(days=days))


def weighed(c: float, kind: str, on: date, *, least: float = 0.7) -> tuple[TouchUps, Prospect]:
    keeper = Keeper.model_validate(
        {
            "time_zone": "Europe/Dublin",
            "work_days": ("monday", "wednesday", "friday"),
            "waters": {"pond": Water(steady_c=c)},
            "touch_up": {"by": "keeper", "law_checked": "yes", "law_country": "Ireland"},
            "preferences": {"least_chance": least, "sure_enough": max(least, 0.8)},
        }
    )
    show = Show(
        name="Larkfield Show",
        judging=datetime(2027, 6, 12, 10),
        travel_hours=2,
        altered_fish="tolerated",
    )
    mark = Defect(kind=kind, where="left flank", seen=on)
    fish = Fish(name="Aoi", variety="kohaku", lives_in="pond", merit=80, defects=(mark,))
    yard = yard_on(Season(keeper=keeper, shows={"larkfield": show}, fish={"aoi": fish}), ON)
    touch_ups = touch_ups_of(yard)["aoi"]
    return touch_ups, prospect(yard, touch_ups, yard.events["larkfield"])


@settings(max_examples=60, deadline=None)
@given(temperatures, steps)
def test_warmer_water_never_lowers_a_chance(c: float, more: float) -> None:
    cold, _ = weighed(c, "shimi", ON)
    warm, _ = weighed(c + more, "shimi", ON)
    show = cold.yard.events["larkfield"]
    first, second = cold.window(show, 0.7), warm.window(show, 0.7)
    for before, after in zip(first.ahead, second.ahead, strict=True):
        assert after.healed >= before.healed
        assert after.not_back == before.not_back
    for before_day, after_day in (
        (first.slow_by, second.slow_by),
        (first.usual_by, second.usual_by),
    ):
        assert before_day is None or (after_day is not None and after_day >= before_day)


@settings(max_examples=60, deadline=None)
@given(temperatures, steps, kinds, seen)
def test_warmer_water_never_makes_a_wound_worse(
    c: float, more: float, kind: str, day: date
) -> None:
    _, cold = weighed(c, kind, day)
    _, warm = weighed(c + more, kind, day)
    assert RANK[warm.word] <= RANK[cold.word]
    for before, after in zip(cold.outlooks[0].healing, warm.outlooks[0].healing, strict=True):
        assert before.usual_on is None or after.usual_on is not None
        if before.usual_on is not None and after.usual_on is not None:
            assert after.usual_on <= before.usual_on


@settings(max_examples=40, deadline=None)
@given(temperatures, asked)
def test_every_day_offered_is_fit_and_likely_enough(c: float, least: float) -> None:
    touch_ups, found = weighed(c, "shimi", ON, least=least)
    for day, chance in found.days.items():
        assert chance.day == day and chance.fit
        assert chance.both >= least
        assert touch_ups.yard.is_work_day(day)
        assert touch_ups.against(day) is None
        assert day + timedelta(days=7) <= found.events.departure_day
    sure = found.best is not None and found.best.both >= max(least, 0.8)
    assert (found.word == "ready-after-touch-up") is sure
    assert (found.word in ("ready-after-touch-up", "tight")) is bool(found.days)


@settings(max_examples=40, deadline=None)
@given(temperatures, asked)
def test_asking_for_more_only_takes_days_away(c: float, least: float) -> None:
    _, loose = weighed(c, "shimi", ON, least=least)
    _, strict = weighed(c, "shimi", ON, least=least + 0.05)
    assert set(strict.days) <= set(loose.days)
