"""Why the plan is as it is: what each fish left out would cost, and what one more would gain."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from math import inf

from showprep.selection.by_hand import with_entry
from showprep.selection.choose import MOST_ENTRIES, Chosen, never
from showprep.selection.linear import Linear
from showprep.selection.options import Options
from showprep.selection.plans import HALF, Pick, worth_of
from showprep.selection.problem import Instance, Limit, Pair, Work
from showprep.selection.search import Incumbent, Search
from showprep.selection.solver import Meter, Relaxation, Stop
from showprep.selection.usage import Usage

MOST_PAIRS = 150  # beyond so many fish and shows left out, each is worked out when asked for
ONE = 3_000  # steps for one question
GUARDS = ("rest", "spacing", "bars", "vat-cohorts")  # guard the fish: more is never offered


@dataclass(frozen=True, slots=True)
class Cost:
    """What entering one fish at one show would cost the whole plan, in hundredths of a point.

    `cost`: None where no plan with it is known. `at_most`: it may cost less. `possible`: can there
    be a plan with it at all? `limits` stand in the way; `gives_way` are entries that would be
    lost. `asked`: False where it was left for the keeper to ask about.
    """

    fish: str
    show: str
    cost: float | None
    at_most: bool
    limits: tuple[Limit, ...]
    gives_way: tuple[Pair, ...] = ()
    possible: bool = True
    asked: bool = True


@dataclass(frozen=True, slots=True)
class Gain:
    """What one more of a limit would gain; `at_least`: it may gain more. `most`: the limit now."""

    limit: Limit
    gain: float
    at_least: bool
    most: float


@dataclass(frozen=True, slots=True)
class Explained:
    """All costs and gains; `better` is a plan found on the way that is worth more than the told."""

    costs: tuple[Cost, ...] = ()
    gains: tuple[Gain, ...] = ()
    better: Pick | None = None
    interrupted: bool = False


class Questions:
    """A chosen plan, ready to be asked about."""

    def __init__(self, chosen: Chosen, work: Work | None = None, stop: Stop = never) -> None:
        self.chosen, self.options, self.pick = chosen, chosen.options, chosen.pick
        self.worth = chosen.solution.worth
        self.meter = Meter((work or Work()).questions, stop)
        self.known: list[Pick] = []
        # Of a season too large for one model only guesses are told.
        self.large = len(self.options.entries) > MOST_ENTRIES
        self.search, self.model = chosen.search, chosen.search.model
        self.usage = Usage(self.model, self.pick)

    def all(self) -> Explained:
        """Every cost, the cheapest guesses first worked out exactly, then every gain."""
        out = [n for n in range(len(self.options.entries)) if n not in self.pick.entered]
        limits = {n: () if self.large else self.stands_against(n) for n in out}
        if len(out) > MOST_PAIRS:
            costs = [
                Cost(*self.options.entries[n].option.key, None, True, limits[n], asked=False)
                for n in out
            ]
            return Explained(tuple(costs))
        guesses = {number: self._guess(number) for number in out}
        wanted = {limit for number in out for limit in limits[number]}
        dull = [n for n in self.pick.entered if self._could_be_better(n)]
        wanted |= {limit for number in dull for limit in self.stands_against(number)}
        kept = self.meter.steps * 3 // 4
        self.meter.steps -= kept
        gains = self._gains(sorted({merged(limit) for limit in wanted}))
        self.meter.steps += kept
        looks: dict[int, Incumbent] = {}
        for number in sorted(out, key=lambda n: (-_worth(self.options, guesses[n]), n)):
            looks[number] = self._look(number, guesses[number])
        found = {n: self._with(n) for n in sorted(out, key=lambda n: (_open(looks[n]), n))}
        costs = [self._cost(number, found[number], limits[number]) for number in out]
        better = max(self.known, key=lambda pick: worth_of(self.options, pick), default=None)
        if better is not None and worth_of(self.options, better) <= self.worth + HALF:
            better = None
        return Explained(tuple(costs), gains, better, self.meter.interrupted)

    def one(self, fish: str, show: str) -> Cost | None:
        """The cost of one entry; None where it is made already or is no option."""
        for number, entry in enumerate(self.options.entries):
            if entry.option.key == (fish, show) and number not in self.pick.entered:
                guess = self._guess(number)
                if self.large:
                    return self._cost(
                        number, Incumbent(guess, _worth(self.options, guess), inf), ()
                    )
                self._look(number, guess)
                found = self._with(number, self.meter.steps)
                return self._cost(number, found, self.stands_against(number))
        return None

    def _guess(self, number: int) -> Pick | None:
        return None if self.meter.spent else with_entry(self.model, self.pick, number)

    def _look(self, number: int, start: Pick | None) -> Incumbent:
        """The best plan with one entry made that changes its own show alone; it is known then."""
        if start is not None:
            self.known.append(start)
        if self._never(number) or self.meter.spent:
            return Incumbent(start, -inf, inf)
        held = {self.model.entered[number]: 1.0}
        found = self.search.look(held, self._elsewhere(number), self._known(number), self.meter)
        if found.pick is not None:
            self.known.append(found.pick)
        return found

    def _with(self, number: int, most: int = ONE) -> Incumbent:
        """The best plan with one entry made."""
        if self._never(number):
            return Incumbent(None, -inf, -inf, infeasible=True)
        best = self._known(number)
        if self.meter.spent:
            return Incumbent(best, _worth(self.options, best), inf)
        own = Meter(min(most, self.meter.steps), self.meter.stop)
        before = own.steps
        found = self.search.best({self.model.entered[number]: 1.0}, best, own, HALF)
        self.meter.steps -= before - own.steps
        if found.pick is not None:
            self.known.append(found.pick)
        return found

    def _never(self, number: int) -> bool:
        return self.model.linear.col_upper[self.model.entered[number]] == 0.0

    def _known(self, number: int) -> Pick | None:
        """The best plan known with an entry made."""
        known = [pick for pick in self.known if number in pick.entered]
        return max(known, key=lambda pick: worth_of(self.options, pick), default=None)

    def _elsewhere(self, number: int) -> dict[int, float]:
        """The plan as it is at other shows, and in the touch-ups of other fish."""
        options, model, own = self.options, self.model, self.options.entries[number].option
        entered = {
            model.entered[n]: float(n in self.pick.entered)
            for n, entry in enumerate(options.entries)
            if entry.option.show != own.show
        }
        touched = {
            model.touched[at]: float(at in self.pick.touched)
            for at, one in enumerate(options.touch_ups)
            if one.fish != own.fish
        }
        return entered | touched

    def _cost(self, number: int, found: Incumbent, limits: tuple[Limit, ...]) -> Cost:
        fish, show = self.options.entries[number].option.key
        if found.pick is None:
            return Cost(fish, show, None, True, limits, possible=not found.infeasible)
        gone = sorted(
            self.options.entries[n].option.key for n in self.pick.entered - found.pick.entered
        )
        cost = max(self.worth - found.worth, 0.0)
        least = max(self.worth - found.bound, 0.0)
        return Cost(fish, show, cost, cost > least + HALF, limits, tuple(gone))

    def _could_be_better(self, number: int) -> bool:
        entry = self.options.entries[number]
        return entry.level(self.pick.touched) is not entry.levels[0]

    def _gains(self, limits: Iterable[Limit]) -> tuple[Gain, ...]:
        """What one more of each limit would gain, the greatest gain first; no gain of nothing."""
        gains = []
        for limit in limits:
            most = figure_of(self.options.problem, limit)
            if limit.kind in GUARDS or most is None or self.meter.spent:
                continue
            linear = _relaxed(self.model.linear, limit)
            search = Search(replace(self.model, linear=linear), Relaxation(linear))
            own = Meter(min(ONE, self.meter.steps), self.meter.stop)
            before = own.steps
            found = search.best({}, self.pick, own, HALF)
            self.meter.steps -= before - own.steps
            if found.worth > self.worth + HALF and self.chosen.solution.proven:
                gain = found.worth - self.worth
                gains.append(Gain(limit, gain, not found.proven, most))
        return tuple(sorted(gains, key=lambda one: (-one.gain, one.limit)))

    def stands_against(self, number: int) -> tuple[Limit, ...]:
        """Limits broken by one more entry, with the touch-up that breaks the fewest; sorted.

        An entry already made is taken as asking for a better level.
        """
        entry, pick = self.options.entries[number], self.pick
        enters = number not in pick.entered
        days: list[int | None] = [None]
        if not enters or entry.base is None:
            better = {at for level in entry.levels for at in level.by} - pick.touched
            days = [*sorted(better)] or days
        own = number if enters else None
        broken = [tuple(sorted(self.usage.broken(own, at))) for at in days]
        return min(broken, key=lambda limits: (len(limits), limits))


def _open(found: Incumbent) -> float:
    """How far a plan is below its bound: the nearer the two, the sooner they are one."""
    return 0.0 if found.bound == -inf else found.bound - found.value


def _worth(options: Options, pick: Pick | None) -> float:
    return -inf if pick is None else worth_of(options, pick)


def merged(limit: Limit) -> Limit:
    """The limit that a keeper would lift: the number a day, not one day's; and so on."""
    if limit.kind in ("fish-per-day", "touch-ups-per-fish", "vat-places", "rest"):
        return Limit(limit.kind)
    return Limit(limit.kind, limit.of.split("|")[0])


def figure_of(problem: Instance, limit: Limit) -> float | None:
    """What a limit allows at present; None where it has no figure."""
    whole: dict[str, float | None] = {
        "fees": problem.fees,
        "fish-per-day": problem.fish_per_day,
        "touch-ups-per-fish": problem.touch_ups_per_fish,
        "vat-places": problem.vat_holds,
    }
    show = problem.shows.get(limit.of.split("|")[0])
    if show is not None:
        whole |= {
            "fish": show.fish,
            "boxes": show.boxes,
            "kg": show.kg,
            "total-cm": show.total_cm,
            "points": show.points,
            "entries-per-class": show.entries_per_class,
            "fish-at-least": show.fish_at_least,
            "total-cm-at-least": show.total_cm_at_least,
        }
    return whole.get(limit.kind)


def _relaxed(linear: Linear, limit: Limit) -> Linear:
    """The rows with one more of a limit: one fish, box, point or place, 10 cm, 1 kg, a fee."""
    upper, lower = list(linear.row_upper), list(linear.row_lower)
    for row, own in enumerate(linear.limits):
        if merged(own) == limit:
            if upper[row] < inf:
                upper[row] += linear.more[row]
            else:
                lower[row] -= linear.more[row]
    return replace(linear, row_upper=upper, row_lower=lower)
