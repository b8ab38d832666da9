"""What an entry is worth: shares, weights and prices, worked out by hand on tiny seasons."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from showprep.selection.by_hand import by_hand
from showprep.selection.choose import choose
from showprep.selection.easy import is_easy
from showprep.selection.explain import Questions
from showprep.selection.model import build
from showprep.selection.options import arrange
from showprep.selection.problem import Instance, Limit, Solution
from tests.selection.tiny import entry, on, season, touch


def told(problem: Instance) -> Solution:
    return choose(problem).solution


def going(problem: Instance) -> list[str]:
    return sorted(fish for fish, _, _ in told(problem).entries)


def test_no_fish_is_sedated_for_less_than_its_price() -> None:
    """Two equal fish, one place: the one that needs nothing goes, not the one 0.1 better."""
    entries = [entry("A", "s", 80), entry("B", "s", None, 70)]
    problem = season(entries, [touch("B", 3)], {"s": {"boxes": 1}})
    gain = replace(problem.touch_ups[0], merits={"s": 8010})
    problem = replace(problem, touch_ups=(gain,))
    assert told(problem).touch_ups == (("B", on(3), "pond"),)  # as it was before prices
    priced = replace(problem, touch_up_price=200, session_price=100)
    assert told(priced).touch_ups == ()
    assert going(priced) == ["A"]


def test_a_place_in_a_class_is_not_filled_with_a_poor_fish() -> None:
    """Three of one class, 95, 92 and 12, and one of 80 alone in its own; three places.

    Worth showing is 47: 12 is below it. The 80 in a class of its own is worth 33, the third of a
    class nothing.
    """
    entries = [
        replace(entry(fish, "s", merit), group=group)
        for fish, merit, group in (("A", 95, "x"), ("B", 92, "x"), ("C", 12, "x"), ("D", 80, "y"))
    ]
    problem = season(entries, None, {"s": {"fish": 3}}, worth_showing=4700, same_class_share=0.5)
    assert going(problem) == ["A", "B", "D"]
    assert told(problem).worth == pytest.approx(4800 + 4500 / 2 + 3300)
    wide = season(entries, None, None, worth_showing=4700, same_class_share=0.5)
    assert going(wide) == ["A", "B", "D"]  # with room for all, the 12 stays at home too


def test_shares_halve_and_parts_say_so() -> None:
    entries = [replace(entry(f, "s", 80), group="x") for f in "ABC"]
    problem = season(entries, None, None, worth_showing=4000, same_class_share=0.5)
    solution = told(problem)
    assert [one.share for one in solution.parts] == [1.0, 0.5, 0.25]
    assert [one.worth for one in solution.parts] == [4000, 2000, 1000]
    assert solution.worth == 7000
    assert told(replace(problem, same_class_share=1.0)).worth == 12000
    assert told(replace(problem, same_class_share=0.0)).worth == 4000


def test_the_best_of_its_class_is_first_whatever_its_name() -> None:
    entries = [replace(entry(f, "s", m), group="x") for f, m in (("A", 60), ("B", 90))]
    solution = told(season(entries, None, {"s": {}}, worth_showing=4000, same_class_share=0.5))
    assert {one.fish: one.share for one in solution.parts} == {"A": 0.5, "B": 1.0}
    assert solution.worth == 5000 + 2000 / 2


def test_a_journey_must_pay() -> None:
    one = [replace(entry("A", "s", 50), price=100)]
    assert told(season(one, None, {"s": {"price": 900}}, worth_showing=4000)).entries == ()
    assert told(season(one, None, {"s": {"price": 800}}, worth_showing=4000)).worth == 100
    two = [*one, replace(entry("B", "s", 50), price=100)]
    solution = told(season(two, None, {"s": {"price": 900}}, worth_showing=4000))
    assert (len(solution.entries), solution.worth) == (2, 2 * 1000 - 2 * 100 - 900)


def test_one_session_serves_two() -> None:
    """On one day together 2 x 6 less 2 x 2 less 5 is 3; on two days, 12 - 4 - 10, nothing."""
    entries = [entry(f, "s", 66, 60) for f in "AB"]
    days = [touch("A", 3, "s"), touch("A", 10, "s"), touch("B", 3, "s"), touch("B", 17, "s")]
    problem = season(entries, days, touch_up_price=200, session_price=500)
    solution = told(problem)
    assert {day for _, day, _ in solution.touch_ups} == {on(3)}
    assert solution.worth == 2 * 6600 - 400 - 500
    alone = replace(problem, touch_ups=tuple(t for t in problem.touch_ups if t.day != on(3)))
    assert told(alone).touch_ups == ()


def test_a_show_that_counts_double() -> None:
    entries = [entry("A", "s", 80), entry("A", "t", 70)]
    apart = frozenset({("s", "t")})
    assert told(season(entries, apart=apart)).entries == (("A", "s", False),)
    weighed = told(season(entries, None, {"t": {"weight": 2.0}}, apart=apart))
    assert (weighed.entries, weighed.worth) == ((("A", "t", False),), 14000)


def test_the_day_with_the_better_chance_is_taken() -> None:
    entries = [entry("A", "s", None, 60)]
    days = [touch("A", day) for day in (3, 10, 17)]
    problem = season(entries, days)
    merits = (6800, 7100, 6500)
    options = tuple(
        replace(one, merits={"s": merit})
        for one, merit in zip(problem.touch_ups, merits, strict=True)
    )
    solution = told(replace(problem, touch_ups=options))
    assert solution.touch_ups == (("A", on(10), "pond"),)
    assert (solution.parts[0].merit, solution.parts[0].gain) == (7100, 1100)


def test_equal_plans_fewer_sessions_then_later_days() -> None:
    entries = [entry(f, "s", 90, 60) for f in "AB"]
    days = [touch("A", 3, "s"), touch("A", 10, "s"), touch("B", 3, "s"), touch("B", 17, "s")]
    assert {day for _, day, _ in told(season(entries, days)).touch_ups} == {on(3)}
    days = [touch("A", day, "s") for day in (3, 17, 10)]
    assert told(season(entries[:1], days)).touch_ups == (("A", on(17), "pond"),)


@pytest.mark.parametrize("one", ["A", "B"])
def test_of_equal_plans_the_one_without_a_sedation(one: str) -> None:
    """One place, two fish worth the same; with no price at all the one left alone still goes."""
    other = {"A": "B", "B": "A"}[one]
    entries = [entry(one, "s", 80, 60), entry(other, "s", 80)]
    problem = season(entries, [touch(one, 3, "s")], {"s": {"fish": 1}})
    assert (problem.touch_up_price, problem.session_price) == (0, 0)
    assert (going(problem), told(problem).touch_ups) == ([other], ())


def test_of_plans_alike_in_everything_it_is_always_the_same_one() -> None:
    """Five fish alike, two places: whatever the order they are written in."""
    entries = [entry(f, "s", 80) for f in ("Aoi", "Benkei", "Fumi", "Koharu", "Tatsu")]
    chosen = going(season(entries, None, {"s": {"fish": 2}}))
    assert len(chosen) == 2
    for first in range(5):
        turned = season([*entries[first:], *entries[:first]], None, {"s": {"fish": 2}})
        assert going(turned) == chosen


def test_each_show_has_its_first_reserve() -> None:
    entries = [entry(f, "s", m) for f, m in (("A", 90), ("B", 80), ("C", 70))]
    assert told(season(entries, None, {"s": {"fish": 1}})).reserves == (("s", "B"),)
    assert told(season(entries)).reserves == ()


def test_one_more_box_by_hand() -> None:
    """Two boxes for fish worth 80, 70 and 60: 150. A third box takes the third along: 60 more."""
    entries = [entry("a", "A", 80), entry("b", "A", 70), entry("c", "A", 60)]
    explained = Questions(choose(season(entries, limits={"A": {"boxes": 2}}))).all()
    assert [(c.fish, c.cost, c.gives_way) for c in explained.costs] == [("c", 1000, (("b", "A"),))]
    assert explained.costs[0].limits == (Limit("boxes", "A"),)
    assert [(gain.limit, gain.gain) for gain in explained.gains] == [(Limit("boxes", "A"), 6000)]


def test_the_cost_of_a_fish_below_worth_showing_counts_a_touch_up_that_lessens_it() -> None:
    """It falls 20 short as it is; touched up for 2 only 5: no plan has that, but its cost is 7."""
    entries = [entry("A", "s", 35, 20)]
    prices = {"worth_showing": 4000, "touch_up_price": 200}
    problem = season(entries, [touch("A", 3, "s")], **prices)
    (cost,) = Questions(choose(problem)).all().costs
    assert (cost.cost, cost.at_most) == (500 + 200, False)


def _easy() -> Instance:
    entries = [
        replace(entry(f, s, 80, 70 if f == "A" else None), group="x", price=100)
        for f in "AB"
        for s in "st"
    ]
    journeys = {s: {"price": 800} for s in "st"}
    prices = {"touch_up_price": 200, "session_price": 100}
    shares = {"same_class_share": 0.5, "worth_showing": 4000}
    return season(entries, [touch("A", 3, "st"), touch("A", 9, "st")], journeys, **prices, **shares)


def easy(problem: Instance) -> bool:
    model = build(arrange(problem))
    hand = by_hand(model)
    return hand is not None and is_easy(model.options, hand)


def test_an_easy_season_is_answered_as_the_solver_would(monkeypatch: pytest.MonkeyPatch) -> None:
    problem = _easy()
    assert easy(problem)
    quick = told(problem)
    monkeypatch.setattr("showprep.selection.choose.is_easy", lambda options, pick: False)
    assert told(problem) == quick
    assert quick.touch_ups == (("A", on(9), "pond"),)


@pytest.mark.parametrize(
    "change",
    [
        {"touch_up_price": 1400},
        {"worth_showing": 7900},
        {"session_price": 3000},
        {"fish_per_day": 0},
        {"apart": frozenset({("s", "t")})},
        {"same_class_share": 0.0},
    ],
)
def test_a_season_is_not_easy_where_a_price_or_limit_bites(change: dict[str, object]) -> None:
    assert not easy(replace(_easy(), **change))  # type: ignore[arg-type]


def test_what_must_be_and_cannot_is_told_by_its_limit() -> None:
    entries = [replace(entry(f, "s", 80), must=True) for f in "AB"]
    solution = told(season(entries, limits={"s": {"boxes": 1, "fish": 4}}))
    assert not solution.feasible
    assert solution.why_not == (Limit("boxes", "s"),)
    nowhere = [replace(entry("A", "s", None, None), must=True)]
    assert told(season(nowhere)).impossible == (("A", "s"),)
