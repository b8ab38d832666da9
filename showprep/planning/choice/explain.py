"""Why the plan is as it is: what each fish left out would cost, and what one more would gain."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property
from math import floor, inf
from threading import Event

from showprep.planning.choice import pick as picks
from showprep.planning.choice.highs import Outcome, abreast, maximise
from showprep.planning.choice.in_the_way import Rows, in_the_way, rows_by_column
from showprep.planning.choice.linear import Limit, Linear
from showprep.planning.choice.model import Model
from showprep.planning.choice.model_limits import build
from showprep.planning.choice.one_more import merged, one_more, one_more_words, stands_in_way
from showprep.planning.choice.options import Options, arrange
from showprep.planning.choice.pick import Pick
from showprep.planning.choice.problem import Effort, Problem, Solution
from showprep.planning.choice.relaxation import Relaxation, narrowed
from showprep.planning.choice.screen import uncut
from showprep.planning.choice.sharpen import Sharpener
from showprep.planning.choice.work import Work
from showprep.planning.choice_records import Binding, LeftOut
from showprep.planning.words import marks

MOST_PAIRS = 150  # beyond so many fish and shows left out, each is reckoned only when asked for
MANY_PAIRS = 20  # beyond so many, the time to make the bound sharper pays
NODES, SECONDS = 400, 2.0  # for one question
GUESS, WIDER = 0.01, 5.0  # share of the bound first allowed, and how much more the next time
Going = tuple[str, str]


@dataclass
class _Questions:
    """A problem and its solution, ready to be asked about."""

    options: Options
    model: Model
    pick: Pick
    merit: int
    effort: Effort
    names: Mapping[str, str]
    rows: Rows
    many: bool = False  # so many left out that the model was made sharper
    stop: Event | None = None
    known: list[Pick] = field(default_factory=list)  # plans found on the way

    @cached_property
    def relaxation(self) -> Relaxation:
        return Relaxation(self.model.linear, self.model.merit())

    def stands_against(self, number: int) -> tuple[Limit, ...]:
        """The limits that stand in the way of one more entry, or of its going clean."""
        return in_the_way(self.model, self.pick, number, self.rows)

    def ask(self, model: Model, linear: Linear, start: Pick | None) -> Outcome:
        """The best merit of a changed model."""
        return maximise(
            linear,
            model.merit(),
            start=None if start is None else picks.write(model, start),
            nodes=min(NODES, self.effort.nodes),
            seconds=min(SECONDS, self.effort.seconds),
            gap=0.99,
            thorough=False,
            stop=self.stop,
        )

    def with_entry(self, number: int) -> Outcome:
        """The best merit with one entry made, among columns that can still matter for it.

        A plan with it that is known, or else a guess, says how much a column may cost to be kept;
        a guess that was too low is made again, higher.
        """
        held = {self.model.entered[number]: 1.0}
        bound = self.relaxation.solve(held, stop=self.stop)
        if bound.values is None:
            return bound
        start = self._known_with(number) if self.many else None
        spare = GUESS * bound.bound if self.many else inf
        if start is not None:
            spare = bound.bound - picks.merit_of(self.options, start)
        while True:
            linear = narrowed(self.model.linear, bound, held, max(spare, 0.0))
            outcome = self.ask(self.model, linear, start)
            least = bound.bound - spare
            if start is not None or not outcome.proven or outcome.value >= least or spare == inf:
                break
            spare = spare * WIDER if spare * WIDER < bound.bound else inf
        if outcome.values is not None:
            self.known.append(picks.read(self.model, outcome.values))
        return outcome

    def sharpen(self) -> None:
        """Make the bound sharper: one time, that many questions gain by."""
        sharpener = Sharpener(Work(self.options, self.effort), uncut(self.model))
        sharpener.sharpen(self.relaxation, {}, self.relaxation.solve({}), 1.0)
        self.many = True

    def _known_with(self, number: int) -> Pick | None:
        with_it = [pick for pick in self.known if number in pick.entered]
        return max(with_it, key=lambda pick: picks.merit_of(self.options, pick), default=None)


def _questions(
    problem: Problem, solution: Solution, effort: Effort | None, names: Mapping[str, str] | None
) -> _Questions:
    options = arrange(problem)
    going = {(fish, show) for fish, show, _ in solution.entries}
    done = set(solution.touch_ups)
    pick = Pick(
        frozenset(n for n, entry in enumerate(options.entries) if entry.key in going),
        frozenset(
            n for n, one in enumerate(options.touch_ups) if (one.fish, one.day, one.water) in done
        ),
    )
    model, effort = build(options, sessions=False), effort or Effort()
    rows = rows_by_column(model.linear)
    return _Questions(options, model, pick, solution.merit, effort, names or {}, rows)


def explain(
    problem: Problem,
    solution: Solution,
    effort: Effort | None = None,
    names: Mapping[str, str] | None = None,
) -> tuple[tuple[LeftOut, ...], tuple[Binding, ...]]:
    """What each fish left out of a show would cost, and what one more of each limit would gain.

    Costs and gains are in marks. `names` are what ids are called in the texts. Where more than
    150 entries are left out, no cost is reckoned here: ask for each with `cost_of`.
    """
    if not solution.feasible:
        return (), ()
    asked = _questions(problem, solution, effort, names)
    out = [
        number for number in range(len(asked.options.entries)) if number not in asked.pick.entered
    ]
    limits = {number: asked.stands_against(number) for number in out}
    left_out = _all_left_out(asked, out, limits)
    dull = [n for n in asked.pick.entered if _could_be_cleaner(asked, n)]
    found = {limit for number in out for limit in limits[number]}
    found |= {limit for n in dull for limit in asked.stands_against(n)}
    binding = _binding(asked, sorted({merged(limit) for limit in found}))
    return left_out, binding


def _all_left_out(
    asked: _Questions, out: list[int], limits: Mapping[int, tuple[Limit, ...]]
) -> tuple[LeftOut, ...]:
    """Every cost, worked out in two halves side by side; the halves are the same on any machine."""
    if len(out) > MOST_PAIRS:
        return tuple(_without_cost(asked, number, limits[number]) for number in out)
    if len(out) > MANY_PAIRS:
        asked.sharpen()
    halves = (out[::2], out[1::2]) if asked.many else (out,)
    stop = Event()

    def half(mine: list[int]) -> list[LeftOut]:
        own = replace(asked, stop=stop, known=[])
        return [
            (_without_cost if stop.is_set() else _cost)(own, number, limits[number])
            for number in mine
        ]

    jobs = [lambda mine=mine: half(mine) for mine in halves]
    if asked.effort.threads > 1:
        told, _ = abreast(jobs, None, stop)
    else:
        told = [one for job in jobs for one in abreast([job], None, stop)[0]]
    of = {(one.fish, one.show): one for half_told in told for one in half_told}
    return tuple(of[asked.options.entries[number].key] for number in out)


def cost_of(
    problem: Problem,
    solution: Solution,
    fish: str,
    show: str,
    effort: Effort | None = None,
    names: Mapping[str, str] | None = None,
) -> LeftOut | None:
    """What entering one fish in one show would cost; None when it goes there already.

    A fish that cannot be entered there at all has no cost, and says so.
    """
    asked = _questions(problem, solution, effort, names)
    for number, entry in enumerate(asked.options.entries):
        if entry.key == (fish, show):
            if number in asked.pick.entered:
                return None
            return _cost(asked, number, asked.stands_against(number))
    return LeftOut(fish, show, None, "it can be entered there neither clean nor with its mark")


def gain_of(
    problem: Problem, solution: Solution, changed: Problem, effort: Effort | None = None
) -> float:
    """Marks that a changed problem, such as one with a further work day, would gain; at least 0.

    The changed problem must allow all that the problem allows.
    """
    asked = _questions(problem, solution, effort, None)
    return _gain(asked, changed, solution) / 100


def _gain(asked: _Questions, changed: Problem, solution: Solution | None = None) -> int:
    options = arrange(changed)
    going = {asked.options.entries[number].key for number in asked.pick.entered}
    done = {asked.options.touch_ups[place] for place in asked.pick.touched}
    start = Pick(
        frozenset(n for n, entry in enumerate(options.entries) if entry.key in going),
        frozenset(n for n, one in enumerate(options.touch_ups) if one in done),
    )
    model = build(options, sessions=False)
    outcome = asked.ask(model, model.linear, start)
    if outcome.values is None:
        return 0
    return max(picks.merit_of(options, picks.read(model, outcome.values)) - asked.merit, 0)


def _could_be_cleaner(asked: _Questions, number: int) -> bool:
    entry = asked.options.entries[number]
    return entry.bonus > 0 and not picks.is_clean(asked.options, asked.pick, number)


def _in_words(asked: _Questions, limits: tuple[Limit, ...]) -> str:
    said = (stands_in_way(asked.options.problem, one, asked.names) for one in limits)
    return "; ".join(dict.fromkeys(said))


def _without_cost(asked: _Questions, number: int, limits: tuple[Limit, ...]) -> LeftOut:
    """What stands in the way, where so much is left out that costs are reckoned when asked for."""
    fish, show = asked.options.entries[number].key
    why = _in_words(asked, limits) or "the plan is better without it"
    return LeftOut(fish, show, None, f"{why}; showprep why tells what it would cost")


def _cost(asked: _Questions, number: int, limits: tuple[Limit, ...]) -> LeftOut:
    """Solve again with one entry forced in."""
    entry, column = asked.options.entries[number], asked.model.entered[number]
    fish, show = entry.key
    why = _in_words(asked, limits)
    if asked.model.linear.col_upper[column] == 0.0:
        return LeftOut(fish, show, None, why or "it cannot be entered in this plan")
    outcome = asked.with_entry(number)
    if outcome.values is None:
        if outcome.infeasible:
            return LeftOut(fish, show, None, f"no plan with it is possible: {why}")
        return LeftOut(fish, show, None, f"no plan with it was found in the time given: {why}")
    other = picks.read(asked.model, outcome.values)
    cost = (asked.merit - picks.merit_of(asked.options, other)) / 100
    gone = sorted(asked.options.entries[n].key for n in asked.pick.entered - other.entered)
    at_most = not outcome.proven and floor(outcome.bound) / 100 > asked.merit / 100 - cost
    text = _because(asked, why, cost, gone, at_most)
    return LeftOut(fish, show, max(cost, 0.0), text, tuple(gone))


def _because(asked: _Questions, why: str, cost: float, gone: list[Going], at_most: bool) -> str:
    reason = why or "the plan is better without it"
    if cost <= 0:
        loss = "with it the plan would be worth as much"
    else:
        loss = f"with it the plan would lose {'at most ' if at_most else ''}{marks(cost)}"
    if not gone:
        return f"{reason}; {loss}"
    name = asked.names
    away = " and ".join(f"{name.get(f, f)} at {name.get(s, s)}" for f, s in gone[:3])
    more = f" and {len(gone) - 3} more" if len(gone) > 3 else ""
    return f"{reason}; {loss}, and {away}{more} would give way"


def _binding(asked: _Questions, limits: list[Limit]) -> tuple[Binding, ...]:
    """What one more of each limit would gain, the greatest gain first; none that gains nothing."""
    found = []
    for limit in limits:
        changed = one_more(asked.options.problem, limit)
        if changed is None:
            continue
        gain = _gain(asked, changed) / 100
        if gain > 0:
            more = one_more_words(asked.options.problem, limit, asked.names)
            name = f"{limit.kind} {limit.of}".strip()
            found.append(Binding(name, gain, f"{more} would gain {marks(gain)}"))
    return tuple(sorted(found, key=lambda one: (-one.gain, one.limit)))
