"""Choosing entries and touch-up days: by hand first, then better, then proven."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from itertools import zip_longest
from math import fsum

from msgspec import Struct
from msgspec.structs import replace

from showprep.selection.by_hand import by_hand, thinned
from showprep.selection.easy import is_easy
from showprep.selection.model import Model, build
from showprep.selection.options import Options, arrange
from showprep.selection.plans import Pick, parts_of, shows_of, worth_of
from showprep.selection.problem import Instance, Solution, Work
from showprep.selection.search import Incumbent, Search
from showprep.selection.solver import Meter, Relaxation, Stop
from showprep.selection.usage import Usage
from showprep.selection.why_not import why_not

# In one model; of a larger season so many, the best at each show, are looked at.
MOST_ENTRIES, BEST_ENTRIES = 2_500, 700
# Work allowed above so many entries: a step does less there, and a proof is further off (measured).
LARGE, MORE_WORK = 400, 2


def never() -> bool:
    """Never break off."""
    return False


class Chosen(Struct):
    """A solution with what is needed to ask about it further."""

    options: Options
    solution: Solution
    pick: Pick
    search: Search


def choose(problem: Instance, work: Work | None = None, stop: Stop = never) -> Chosen:
    """The plan of greatest worth within every limit, proven where the work allowed is enough.

    Of plans of equal worth the one with fewer sessions, then fewer touch-ups, then later days,
    then by fixed numbers drawn from the ids (CRC-32): see `model`. Never worse than the plan made
    by hand, and that is what there is at least when `stop` says to break off; the solution is then
    marked `interrupted`. The same problem and work give the same answer on every run.

    Raises ValueError for a problem that contradicts itself (see `arrange`).
    """
    work = work or Work()
    options = arrange(problem)
    model = build(options)
    search = Search(model, Relaxation(model.linear))
    impossible = tuple(one.key for one in options.impossible if one.must)
    if impossible:
        return _cannot(search, Solution(0, 0, True, impossible=impossible))
    hand = by_hand(model)
    if hand is not None and is_easy(options, hand):
        worth = worth_of(options, hand)
        return _chosen(search, Incumbent(hand, worth, worth), False)
    meter = Meter(work.steps * (MORE_WORK if len(options.entries) > LARGE else 1), stop)
    if len(options.entries) <= MOST_ENTRIES:
        search.tighten(meter)
        found = search.best({}, hand, meter)
    else:
        found = search.best(_unlikely(model, hand), hand, meter)
        if not found.infeasible:
            found.bound = max(show_bound(options), found.worth)
    if found.pick is None:
        if found.infeasible:
            return _cannot(search, Solution(0, 0, True, why_not=why_not(options, meter)))
        return _cannot(search, Solution(0, found.bound, False, interrupted=stop()))
    found.pick = thinned(model, found.pick)
    found.worth = worth_of(options, found.pick)
    found.bound = max(found.bound, found.worth)
    return _chosen(search, found, meter.interrupted)


def adopted(chosen: Chosen, pick: Pick) -> Chosen:
    """The same with a better plan, found in asking about the one chosen."""
    worth = worth_of(chosen.options, pick)
    before = chosen.solution
    found = Incumbent(pick, worth, max(before.bound, worth))
    return _chosen(chosen.search, found, before.interrupted)


def _cannot(search: Search, solution: Solution) -> Chosen:
    options = search.model.options
    nothing = Pick(frozenset(), options.fixed)
    return Chosen(options, replace(solution, feasible=False), nothing, search)


def _unlikely(model: Model, hand: Pick | None) -> dict[int, float]:
    """Entries left out of a large season: all but what must be, is planned or promises most."""
    options = model.options
    kept = set(options.musts if hand is None else hand.entered)  # by hand has all that must be
    here = [
        sorted(numbers, key=lambda n: (-options.entries[n].levels[0].value, n))
        for numbers in options.entries_at.values()
    ]
    for numbers in zip_longest(*here):
        for number in numbers:
            if number is not None and len(kept) < BEST_ENTRIES:
                kept.add(number)
    return {place: 0.0 for n, place in enumerate(model.entered) if n not in kept}


def show_bound(options: Options) -> float:
    """A bound on every plan: each show by itself, its best fish in its places, nothing else."""
    problem, total = options.problem, 0.0
    for show, numbers in options.entries_at.items():
        limits = problem.shows[show]
        groups: dict[str, list[float]] = defaultdict(list)
        for number in numbers:
            entry = options.entries[number]
            groups[entry.option.group or f"|{number}"].append(entry.levels[0].value)
        earned = []
        for own in groups.values():
            best = sorted((value for value in own if value > 0), reverse=True)
            earned += [value * problem.share(rank) for rank, value in enumerate(best)]
        price = min(options.entries[number].option.price for number in numbers)
        earned = sorted((value - price for value in earned if value > price), reverse=True)
        places = [most for most in (limits.fish, limits.boxes) if most is not None]
        total += max(fsum(earned[: min(places, default=len(earned))]) - limits.price, 0.0)
    return total


def _chosen(search: Search, found: Incumbent, interrupted: bool) -> Chosen:
    options, pick = search.model.options, found.pick
    assert pick is not None
    parts = parts_of(options, pick)
    solution = Solution(
        worth=found.worth,
        bound=found.bound,
        proven=found.proven,
        entries=tuple((one.fish, one.show, one.touch_up is not None) for one in parts),
        touch_ups=tuple(sorted(options.touch_ups[at].key for at in pick.touched)),
        parts=parts,
        reserves=tuple(_reserves(search.model, pick)),
        interrupted=interrupted,
    )
    return Chosen(options, solution, pick, search)


def _reserves(model: Model, pick: Pick) -> Iterator[tuple[str, str]]:
    """For each show the best fish that can step in for one of those entered, as things stand."""
    options, ledger = model.options, Usage(model, pick)
    for show in shows_of(options, pick):
        here = options.entries_at[show]
        levels = {number: options.entries[number].level(pick.touched) for number in here}
        able = {number: level for number, level in levels.items() if level is not None}
        for number in sorted(able, key=lambda number: (-able[number].value, number)):
            waits = number not in pick.entered and able[number].value > 0
            if waits and any(_steps_in(ledger, number, other) for other in here):
                yield show, options.entries[number].option.fish
                break


def _steps_in(ledger: Usage, number: int, other: int) -> bool:
    if other not in ledger.entered:
        return False
    ledger.enter(other, -1)
    fits = ledger.takes(number)
    ledger.enter(other)
    return fits
