"""What one more day with free hands would gain, where a lack of them keeps a speck on."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from datetime import date, timedelta

from showprep.planning.choice.problem import Effort, Problem, Solution
from showprep.planning.choice.solve import choose
from showprep.planning.plan import Binding
from showprep.planning.prospects import Prospect
from showprep.planning.touch_ups import TouchUps
from showprep.planning.words import marks, spoken
from showprep.planning.yard import Yard

MOST_DAYS = 3
MOST_PAIRS = 60  # fish times shows; beyond, the season is not worked out once more for a hint

Prospects = Mapping[tuple[str, str], Prospect]
MakeProblem = Callable[[Yard], Problem]


def one_more_day(
    yard: Yard,
    prospects: Prospects,
    touch_ups: Mapping[str, TouchUps],
    solution: Solution,
    make_problem: MakeProblem,
) -> tuple[Binding, ...]:
    """The gain of each extra work day on which a speck could come off, best first.

    The whole season is worked out again with that day added; only true gains are told.
    """
    if len(prospects) > MOST_PAIRS:
        return ()
    effort = Effort(seconds=2.0, nodes=400)
    found = []
    for day in _days(yard, prospects, touch_ups, solution):
        also = (*yard.keeper.also_work_on, day)
        keeper = yard.keeper.model_copy(update={"also_work_on": also, "away": _back(yard, day)})
        answer = choose(make_problem(replace(yard, keeper=keeper)), effort)
        gain = (answer.merit - solution.merit) / 100
        if answer.feasible and gain > 0:
            text = f"free hands on {spoken(day)} would gain {marks(gain)}"
            found.append(Binding("work day", gain, text))
    return tuple(sorted(found, key=lambda one: (-one.gain, one.text)))


def _days(
    yard: Yard, prospects: Prospects, touch_ups: Mapping[str, TouchUps], solution: Solution
) -> list[date]:
    """For each fish that does not go clean for want of hands, the last day that would do."""
    clean = {(fish, show) for fish, show, is_clean in solution.entries if is_clean}
    days = set()
    for (fish, show), one in sorted(prospects.items()):
        window = one.window
        if (fish, show) in clean or window is None or window.latest is None or one.days:
            continue
        if one.merit_clean is None or one.events.record.altered_fish == "excluded":
            continue
        gap = yard.days("sedate_to_show_gap")
        first = max(window.earliest, yard.on)
        last = min(window.latest, one.events.departure_day - gap)
        span = range((last - first).days + 1)
        every = [first + timedelta(days=number) for number in span]
        fit = [day for day in every if touch_ups[fish].against(day, hands=False) is None]
        days.update(fit[-1:])
    return sorted(days)[:MOST_DAYS]


def _back(yard: Yard, day: date) -> tuple[object, ...]:
    """The days away, without a stretch that holds `day`: somebody stays for it."""
    return tuple(away for away in yard.keeper.away if not away.from_ <= day <= away.to)
