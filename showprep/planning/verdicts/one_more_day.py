"""What one more day with free hands would gain, where a lack of them keeps a speck on."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from datetime import date, timedelta

from showprep.husbandry.reason import reason
from showprep.planning.chances.chances import Chances
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
MakeProblem = Callable[[Yard, Chances | None], Instance]


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
    chances = next((one.chances.yard for one in touch_ups.values()), None)  # only hands change
    for day in _days(yard, prospects, touch_ups, solution):
        also = (*yard.keeper.also_work_on, day)
        if stop():
            break
        keeper = yard.keeper.model_copy(update={"also_work_on": also, "away": _back(yard, day)})
        answer = choose(make_problem(replace(yard, keeper=keeper), chances), stop=stop).solution
        if answer.feasible and answer.worth > solution.worth + HALF:
            gain = round((answer.worth - solution.worth) / 100, 1)
            hands = reason("more-hands", day=day)
            text = reason("would-gain", what=hands, gain=gain, at_least=int(not answer.proven))
            found.append(Binding(f"work day {day.isoformat()}", gain, text))
    return tuple(sorted(found, key=lambda one: (-one.gain, one.limit)))


def _days(
    yard: Yard, prospects: Prospects, touch_ups: Mapping[str, TouchUps], solution: Solution
) -> list[date]:
    """For each fish that does not go clean for want of hands, the day of the best chance."""
    clean = {(fish, show) for fish, show, is_clean in solution.entries if is_clean}
    days = set()
    for (fish, show), one in sorted(prospects.items()):
        window = one.window
        if (fish, show) in clean or window is None or window.latest is None or one.days:
            continue
        if one.merit is None or one.events.record.altered_fish == "excluded":
            continue
        every = free_hands_days(yard, touch_ups[fish], one)
        if every:
            days.add(max(every, key=lambda day: touch_ups[fish].on(day, one.events).both))
    return sorted(days)[:MOST_DAYS]


def free_hands_days(yard: Yard, touch_ups: TouchUps, one: Prospect) -> list[date]:
    """The days likely enough for a touch-up and fit for it, but for free hands."""
    window = one.window
    if window is None or window.earliest is None or window.latest is None:
        return []
    gap = yard.days("sedate_to_show_gap")
    first = max(window.earliest, yard.on)
    last = min(window.latest, one.events.departure_day - gap)
    every = (first + timedelta(days=number) for number in range((last - first).days + 1))
    return [day for day in every if touch_ups.against(day, hands=False) is None]


def _back(yard: Yard, day: date) -> tuple[object, ...]:
    """The days away, without a stretch that holds `day`: somebody stays for it."""
    return tuple(away for away in yard.keeper.away if not away.from_ <= day <= away.to)
