"""What one more day with free hands would gain, where a lack of them keeps a speck on."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from datetime import date, timedelta

from showprep.husbandry.reason import reason
from showprep.planning.plan import Binding
from showprep.planning.verdicts.prospects import Prospect
from showprep.planning.verdicts.touch_ups import TouchUps
from showprep.planning.yard.yard import Yard
from showprep.selection.choose import choose
from showprep.selection.plans import HALF
from showprep.selection.problem import Instance, Solution

MOST_DAYS = 3
MOST_PAIRS = 60  # fish times shows; beyond, the season is not worked out once more for a hint

Prospects = Mapping[tuple[str, str], Prospect]
MakeProblem = Callable[[Yard], Instance]


def one_more_day(
    yard: Yard,
    prospects: Prospects,
    touch_ups: Mapping[str, TouchUps],
    solution: Solution,
    make_problem: MakeProblem,
    stop: Callable[[], bool],
) -> tuple[Binding, ...]:
    """The gain of each extra work day on which a speck could come off, best first.

    The whole season is worked out again with that day added. The plan must be proven, so that only
    true gains are told.
    """
    if len(prospects) > MOST_PAIRS:
        return ()
    found = []
    for day in _days(yard, prospects, touch_ups, solution):
        also = (*yard.keeper.also_work_on, day)
        if stop():
            break
        keeper = yard.keeper.model_copy(update={"also_work_on": also, "away": _back(yard, day)})
        answer = choose(make_problem(replace(yard, keeper=keeper)), stop=stop).solution
        if answer.feasible and answer.worth > solution.worth + HALF:
            gain = round((answer.worth - solution.worth) / 100, 1)
            hands = reason("more-hands", day=day)
            text = reason("would-gain", what=hands, gain=gain, at_least=int(not answer.proven))
            found.append(Binding(f"work day {day.isoformat()}", gain, text))
    return tuple(sorted(found, key=lambda one: (-one.gain, one.limit)))


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
