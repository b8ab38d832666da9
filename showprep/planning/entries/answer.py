"""The choice of entries over the whole season, and what it says about the fish left out."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from datetime import date

from msgspec import Struct
from msgspec.structs import replace

from showprep.husbandry.reason import FishId, ShowId, reason
from showprep.planning.chances.chances import Chances
from showprep.planning.entries.question import problem_of
from showprep.planning.entries.records import EntryWorth, Prices
from showprep.planning.plan import Binding, Choice, LeftOut, Warning_
from showprep.planning.verdicts.limit_reasons import in_the_way, no_plan, one_more
from showprep.planning.verdicts.one_more_day import one_more_day
from showprep.planning.verdicts.prospects import Prospect, prospects_of, touch_ups_of
from showprep.planning.verdicts.touch_ups import TouchUps
from showprep.planning.yard.yard import Yard
from showprep.selection.choose import Chosen, adopted, choose, never
from showprep.selection.explain import Cost, Explained, Questions
from showprep.selection.problem import Instance, Solution

Stop = Callable[[], bool]


class Selection(Struct, frozen=True):
    """The entries and touch-up days chosen, what the plan says of them, and warnings."""

    problem: Instance
    solution: Solution
    choice: Choice
    warnings: tuple[Warning_, ...] = ()


def select(
    yard: Yard,
    prospects: Mapping[tuple[str, str], Prospect],
    touch_ups: Mapping[str, TouchUps],
    stop: Stop = never,
    asked: tuple[str, str] | None = None,
    costs: bool = True,
) -> Selection:
    """Choose entries and touch-up days; a must that cannot be kept is dropped, and said.

    `stop` is asked now and then whether to break off. `asked` is the one fish and show whose cost
    is wanted; else `costs` says whether all are. Where the plan is not proven all are worked out
    whatever is wanted, as a better plan may be found on the way: every command tells the same one.
    """
    problem = problem_of(yard, prospects, touch_ups)
    chosen = choose(problem, stop=stop)
    if problem.fixed - _needed(chosen.solution):
        # A touch-up that stands is still not done for nothing, nor when it cannot be done.
        problem = replace(problem, fixed=problem.fixed & _needed(chosen.solution))
        chosen = choose(problem, stop=stop)
    warnings = tuple(_musts_barred(yard, prospects))
    if chosen.solution.interrupted and not chosen.solution.feasible:
        raise KeyboardInterrupt  # before there was any plan
    if not chosen.solution.feasible:
        why = no_plan(chosen.solution.why_not, chosen.solution.impossible)
        warnings = (*warnings, Warning_("stop", why))
        problem = replace(
            problem, entries=tuple(replace(entry, must=False) for entry in problem.entries)
        )
        chosen = choose(problem, stop=stop)
    chosen, told, hints = _explained(chosen, stop, asked, costs)
    solution = chosen.solution
    left_out = tuple(_left_out(problem, one) for one in told.costs)
    binding = tuple(
        Binding(
            f"{one.limit.kind} {one.limit.of}".strip(),
            one.gain / 100,
            one_more(problem, one.limit, round(one.gain / 100, 1), one.at_least),
        )
        for one in told.gains
    )
    if hints and solution.proven:
        binding += one_more_day(yard, prospects, touch_ups, solution, _problem_again, stop)
    choice = Choice(
        merit=solution.merit / 100,
        proven=solution.proven,
        left_out=left_out + _cannot(prospects, solution),
        binding=binding,
        interrupted=solution.interrupted,
        worth=round(solution.worth / 100, 2),
        bound=round(solution.bound / 100, 2),
        entries=tuple(_worths(solution)),
        prices=_prices(problem, solution),
        reserves=solution.reserves,
        costs_known=not stop(),
    )
    return Selection(problem, solution, choice, warnings)


def _needed(solution: Solution) -> frozenset[tuple[str, date, str]]:
    """The touch-ups that an entry rests on."""
    return frozenset(one.touch_up for one in solution.parts if one.touch_up is not None)


def _explained(
    chosen: Chosen, stop: Stop, asked: tuple[str, str] | None, costs: bool
) -> tuple[Chosen, Explained, bool]:
    """The costs that are wanted; and the chosen plan, or a better one found on the way."""
    every = asked is None and costs
    told = Explained()
    if not chosen.solution.feasible or stop():
        return chosen, told, False
    if every or not chosen.solution.proven:
        told = Questions(chosen, stop=stop).all()
        if told.better is not None:
            chosen = adopted(chosen, told.better)
            told = Questions(chosen, stop=stop).all()
    if asked is not None and len(chosen.solution.entries) < len(chosen.options.entries):
        one = Questions(chosen, stop=stop).one(*asked)
        if one is not None:
            others = tuple(cost for cost in told.costs if (cost.fish, cost.show) != asked)
            told = replace(told, costs=(*others, one))
    return chosen, told, every


def _left_out(problem: Instance, one: Cost) -> LeftOut:
    cost = None if one.cost is None else round(one.cost / 100, 1)
    without = "not-asked" if not one.asked else "none-found" if one.possible else "impossible"
    gone = (reason("gives-way", fish=FishId(f), show=ShowId(s)) for f, s in one.gives_way)
    because = reason(
        "left-out",
        limits=in_the_way(problem, one.limits),
        cost=cost,
        at_most=int(one.at_most),
        gives_way=tuple(gone),
        without=without,
    )
    return LeftOut(one.fish, one.show, cost, because, one.gives_way, one.at_most)


def _worths(solution: Solution) -> Iterator[EntryWorth]:
    for one in solution.parts:
        yield EntryWorth(
            fish=one.fish,
            show=one.show,
            merit=one.merit / 100,
            share=one.share,
            weight=one.weight,
            worth=round(one.worth / 100, 2),
            touch_up_on=None if one.touch_up is None else one.touch_up[1],
            touch_up_gains=round(one.gain / 100, 2),
        )


def _prices(problem: Instance, solution: Solution) -> Prices:
    going = sorted({show for _, show, _ in solution.entries})
    fish = {one.show: one.price / 100 for one in problem.entries}
    return Prices(
        worth_showing=problem.worth_showing / 100,
        touch_up=problem.touch_up_price / 100,
        session=problem.session_price / 100,
        journeys=tuple((show, problem.shows[show].price / 100) for show in going),
        fish=tuple((show, fish[show]) for show in going),
        same_class_share=problem.same_class_share,
    )


def solution_alone(yard: Yard) -> Solution:
    """Who is chosen for which show, without what the plan says of the others."""
    problem = _problem_again(yard)
    solution = choose(problem).solution
    if not solution.feasible:
        free = tuple(replace(entry, must=False) for entry in problem.entries)
        solution = choose(replace(problem, entries=free)).solution
    return solution


def _problem_again(yard: Yard, chances: Chances | None = None) -> Instance:
    """The problem of a yard that was changed in one thing; `chances` where they stay."""
    touch_ups = touch_ups_of(yard, chances)
    return problem_of(yard, prospects_of(yard, touch_ups), touch_ups)


def _musts_barred(yard: Yard, prospects: Mapping[tuple[str, str], Prospect]) -> Iterator[Warning_]:
    """What the keeper marked as must, or entered, and cannot be shown."""
    for (fish, show), one in sorted(prospects.items()):
        if one.merit is not None:
            continue
        why = one.reasons[0]
        if show in one.fish.entered:
            said = reason("entered-and-barred", fish=FishId(fish), show=ShowId(show), why=why)
        elif yard.is_entered(one.fish, show):
            said = reason(
                "presumed-entered-and-barred", fish=FishId(fish), show=ShowId(show), why=why
            )
        elif show in one.fish.record.must_show:
            said = reason("must-and-barred", fish=FishId(fish), show=ShowId(show), why=why)
        else:
            continue
        yield Warning_("stop", said, fish=fish, show=show)


def _cannot(
    prospects: Mapping[tuple[str, str], Prospect], solution: Solution
) -> tuple[LeftOut, ...]:
    """Fish that cannot be entered at all, with the reason that stands against them."""
    entered = {(fish, show) for fish, show, _ in solution.entries}
    return tuple(
        LeftOut(fish, show, None, one.reasons[0])
        for (fish, show), one in sorted(prospects.items())
        if one.merit is None and (fish, show) not in entered
    )
