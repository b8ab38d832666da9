"""Why the plan is as it is: what each fish left out would cost, and what one more would gain."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import inf
from operator import itemgetter

from msgspec import Struct
from msgspec.structs import replace

from showprep.selection.by_hand import with_entry
from showprep.selection.choose import MOST_ENTRIES, Chosen, never
from showprep.selection.linear import Linear
from showprep.selection.plans import HALF, Pick, worth_of
from showprep.selection.problem import Instance, Limit, Pair, Work
from showprep.selection.search import Search
from showprep.selection.solver import Meter, Relaxation, Stop
from showprep.selection.usage import Usage

MOST_PAIRS = 150  # beyond so many fish and shows left out, each is worked out when asked for
ONE, MORE = 2_000, 4_000  # steps for one question; and when work is left after all of them
PATIENCE = 3  # questions in a row that told nothing, after which the others are left as guessed
GUARDS = ("rest", "spacing", "bars", "vat-cohorts")  # guard the fish: more is never offered


class Cost(Struct, frozen=True):
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


class Gain(Struct, frozen=True):
    """What one more of a limit would gain; `at_least`: it may gain more."""

    limit: Limit
    gain: float
    at_least: bool


class Explained(Struct, frozen=True):
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
        # Of a season too large for one model only guesses are told.
        self.large = len(self.options.entries) > MOST_ENTRIES
        self.search, self.model = chosen.search, chosen.search.model
        self.usage = Usage(self.model, self.pick)
        # The best plan known with each entry, and what no plan with it is worth more than.
        self.known: dict[int, tuple[float, Pick]] = {}
        self.bounds: dict[int, float] = {}

    def all(self) -> Explained:
        """Every gain, then every cost, the cheapest guesses first."""
        out = [n for n in range(len(self.options.entries)) if n not in self.pick.entered]
        limits = {n: () if self.large else self.stands_against(n) for n in out}
        if len(out) > MOST_PAIRS:
            return Explained(tuple(self._cost(n, limits[n], asked=False) for n in out))
        for number in out:
            self._guess(number)
        wanted = {limit for number in out for limit in limits[number]}
        dull = [n for n in self.pick.entered if self._could_be_better(n)]
        wanted |= {limit for number in dull for limit in self.stands_against(number)}
        with self.meter.part(self.meter.steps // 4) as meter:
            gains = self._gains(sorted({merged(limit) for limit in wanted}), meter)
        if self._ask_each(out, ONE):
            self._ask_each(out, MORE)
        costs = tuple(self._cost(number, limits[number]) for number in out)
        worth, best = max(self.known.values(), key=itemgetter(0), default=(0.0, None))
        better = best if worth > self.worth + HALF else None
        return Explained(costs, gains, better, self.meter.interrupted)

    def one(self, fish: str, show: str) -> Cost | None:
        """The cost of one entry; None where it is made already or is no option."""
        for number, entry in enumerate(self.options.entries):
            if entry.option.key == (fish, show) and number not in self.pick.entered:
                self._guess(number)
                self._ask(number, self.meter.steps)
                limits = () if self.large else self.stands_against(number)
                return self._cost(number, limits)
        return None

    def _guess(self, number: int) -> None:
        """A plan with one entry more, made by hand; and is it one that can be made at all?"""
        shut = self.model.linear.col_upper[self.model.entered[number]] == 0.0
        self.bounds[number] = -inf if shut else inf
        guess = None if self.meter.spent else with_entry(self.model, self.pick, number)
        if guess is not None:
            self._learn(guess)

    def _learn(self, pick: Pick) -> None:
        worth = worth_of(self.options, pick)
        for number in pick.entered:
            if worth > self._worth(number):
                self.known[number] = worth, pick

    def _worth(self, number: int) -> float:
        return self.known[number][0] if number in self.known else -inf

    def _open(self, number: int) -> float:
        """By how much the best plan with an entry may be better than the one known."""
        bound = self.bounds.get(number, inf)
        return 0.0 if bound == -inf else max(bound - self._worth(number), 0.0)

    def _ask_each(self, numbers: Sequence[int], most: int) -> bool:
        """Ask about each, the cheapest guess first; False: given up, as too many told nothing."""
        in_vain = 0
        for number in sorted(numbers, key=lambda n: (-self._worth(n), n)):
            told = self._ask(number, most)
            if told is not None:
                in_vain = 0 if told else in_vain + 1
            if in_vain == PATIENCE:
                return False
        return True

    def _ask(self, number: int, most: int) -> bool | None:
        """Look for the best plan with one entry made, unless it is known, in at most such work.

        Returns whether that told anything: a better one, or that there is none. None: not asked.
        """
        if self.large or self._open(number) <= HALF or self.meter.spent:
            return None
        begun = self.known[number][1] if number in self.known else None
        worth = self._worth(number)
        with self.meter.part(most) as meter:
            found = self.search.best({self.model.entered[number]: 1.0}, begun, meter, HALF)
        self.bounds[number] = min(self.bounds[number], found.bound)
        if found.pick is not None:
            self._learn(found.pick)
        return self._worth(number) > worth or self._open(number) <= HALF

    def _cost(self, number: int, limits: tuple[Limit, ...], asked: bool = True) -> Cost:
        fish, show = self.options.entries[number].option.key
        if number not in self.known:
            possible = self.bounds.get(number) != -inf
            return Cost(fish, show, None, True, limits, possible=possible, asked=asked)
        worth, pick = self.known[number]
        gone = sorted(self.options.entries[n].option.key for n in self.pick.entered - pick.entered)
        at_most = min(self._open(number), self.worth - worth) > HALF
        return Cost(fish, show, max(self.worth - worth, 0.0), at_most, limits, tuple(gone))

    def _could_be_better(self, number: int) -> bool:
        entry = self.options.entries[number]
        return entry.level(self.pick.touched) is not entry.levels[0]

    def _gains(self, limits: Iterable[Limit], meter: Meter) -> tuple[Gain, ...]:
        """What one more of each limit would gain, the greatest gain first; no gain of nothing."""
        gains = []
        for limit in limits:
            lifts = limit.kind not in GUARDS and figure_of(self.options.problem, limit) is not None
            if not lifts or meter.spent:
                continue
            linear = _relaxed(self.model.linear, limit)
            search = Search(replace(self.model, linear=linear), Relaxation(linear))
            with meter.part(MORE) as own:
                found = search.best({}, self.pick, own, HALF)
            if found.worth > self.worth + HALF and self.chosen.solution.proven:
                gains.append(Gain(limit, found.worth - self.worth, not found.proven))
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


def merged(limit: Limit) -> Limit:
    """The limit that a keeper would lift: the number a day, not one day's; and so on."""
    if limit.kind in ("fish-per-day", "touch-ups-per-fish", "vat-places", "rest"):
        return Limit(limit.kind)
    return Limit(limit.kind, limit.of.split("|")[0])


def figure_of(problem: Instance, limit: Limit) -> float | None:
    """What a limit allows at present; None where it has no figure."""
    whole = {
        "fees": problem.fees,
        "fish-per-day": problem.fish_per_day,
        "touch-ups-per-fish": problem.touch_ups_per_fish,
        "vat-places": problem.vat_holds,
    }
    if limit.kind in whole:
        return whole[limit.kind]
    show = problem.shows.get(limit.of.split("|")[0])
    figure: float | None = getattr(show, limit.kind.replace("-", "_"), None)
    return figure


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
