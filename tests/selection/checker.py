"""A checker of the limits, written from the words of the problem; it shares no code with the model.

It looks at one plan and names every fault. Sums of centimetres, points, kilograms and fees are
exact: invented values have at most three decimals.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from datetime import date, timedelta
from fractions import Fraction

from showprep.selection.problem import EntryOption, Instance, ShowLimits, Solution

Going = tuple[str, str, bool]
Done = tuple[str, date, str]


def exact(value: float) -> Fraction:
    return Fraction(round(value * 1000), 1000)


def faults(problem: Instance, entries: Iterable[Going], touch_ups: Iterable[Done]) -> list[str]:
    """Every fault of a plan, in words; none for a plan within all limits."""
    going, done = list(entries), list(touch_ups)
    found = [f"{one} is no option" for one in done if one not in known(problem)]
    found += [f"{one} was promised" for one in sorted(problem.fixed) if one not in done]
    if found:
        return found
    found += list(_fish_faults(problem, going, done))
    found += list(_sedation_faults(problem, done))
    for show in {show for _, show, _ in going}:
        found += list(_show_faults(problem, problem.shows[show], going))
    found += list(_fee_faults(problem, going))
    found += list(_vat_faults(problem, going, done))
    return found


def known(problem: Instance) -> set[Done]:
    return {(one.fish, one.day, one.water) for one in problem.touch_ups}


def _fish_faults(problem: Instance, going: list[Going], done: list[Done]) -> Iterable[str]:
    options = {(one.fish, one.show): one for one in problem.entries}
    for must in (key for key, one in options.items() if one.must):
        if must not in {(fish, show) for fish, show, _ in going}:
            yield f"{must} must go"
    for fish, show, clean in going:
        option = options.get((fish, show))
        if option is None:
            yield f"{fish} cannot go to {show}"
            continue
        if best_merit(problem, option, done) is None:
            yield f"{fish} cannot go to {show} as it is"
        if clean and best_merit(problem, option, done) == option.merit:
            yield f"{fish} at {show} needs no touch-up for that"
        for one in problem.touch_ups:
            if (one.fish, one.day, one.water) in done and one.fish == fish and show in one.bars:
                yield f"{fish} touched up on {one.day} is barred from {show}"
    shows_of: dict[str, list[str]] = {}
    for fish, show, _ in going:
        for other in shows_of.setdefault(fish, []):
            if (show, other) in problem.apart or (other, show) in problem.apart:
                yield f"{fish} cannot rest between {show} and {other}"
            if show == other:
                yield f"{fish} goes to {show} twice"
        shows_of[fish].append(show)


def _sedation_faults(problem: Instance, done: list[Done]) -> Iterable[str]:
    fixed = problem.fixed
    for day, fish in Counter(day for _, day, _ in done).items():
        promised = sum(1 for one in fixed if one[1] == day)
        if fish > max(problem.fish_per_day, promised):
            yield f"{fish} fish touched up on {day}"
    for fish, times in Counter(fish for fish, _, _ in done).items():
        promised = sum(1 for one in fixed if one[0] == fish)
        if times > max(problem.touch_ups_per_fish, promised):
            yield f"{fish} touched up {times} times"
    stays = {(one.fish, one.day, one.water): one.vat for one in problem.touch_ups}
    for earlier in done:
        for later in done:
            if earlier[0] != later[0] or earlier == later or earlier[1] > later[1]:
                continue
            if earlier in fixed and later in fixed:
                continue
            gap = problem.spacing_days.get((earlier[0], earlier[1]), problem.spacing_default)
            stay = stays[earlier]
            if later[1] == earlier[1] or (later[1] - earlier[1]).days < gap:
                yield f"{earlier} and {later} are too near"
            elif stay is not None and later[1] <= stay[1]:
                yield f"{later} while in the vat since {earlier}"


def _show_faults(problem: Instance, limits: ShowLimits, going: list[Going]) -> Iterable[str]:
    options = {(one.fish, one.show): one for one in problem.entries}
    here = [options[fish, show] for fish, show, _ in going if show == limits.show]
    cm = sum((exact(one.length_cm) for one in here), Fraction(0))
    for most, value, what in (
        (limits.fish, len(here), "fish"),
        (limits.boxes, len(here), "boxes"),
        (limits.total_cm, cm, "cm"),
        (limits.points, sum(exact(one.points) for one in here), "points"),
        (limits.kg, sum(exact(one.kg) for one in here), "kg"),
    ):
        if most is not None and value > exact(most):
            yield f"{limits.show}: {value} {what} of {most}"
    for least, value, what in (
        (limits.fish_at_least, len(here), "fish"),
        (limits.total_cm_at_least, cm, "cm"),
    ):
        if least is not None and value < exact(least):
            yield f"{limits.show}: only {value} {what} of {least}"
    for size, count in Counter(one.size_class for one in here if one.size_class).items():
        if limits.entries_per_class is not None and count > limits.entries_per_class:
            yield f"{limits.show}: {count} in class {size}"


def _fee_faults(problem: Instance, going: list[Going]) -> Iterable[str]:
    if problem.fees is None:
        return
    options = {(one.fish, one.show): one for one in problem.entries}
    paid = sum(exact(options[fish, show].fee) for fish, show, _ in going)
    paid += sum(exact(problem.shows[show].fee) for show in {show for _, show, _ in going})
    if paid > exact(problem.fees):
        yield f"fees {paid} of {problem.fees}"


def _vat_faults(problem: Instance, going: list[Going], done: list[Done]) -> Iterable[str]:
    in_vat: dict[date, list[tuple[tuple[str, str], Done | None]]] = {}
    chosen = {(fish, show) for fish, show, _ in going}
    stays = [
        (("home", one.show), one.vat, None)
        for one in problem.entries
        if (one.fish, one.show) in chosen
    ]
    keyed = [((one.fish, one.day, one.water), one) for one in problem.touch_ups]
    healing = [(("healing", one.cohort), one.vat, key) for key, one in keyed if key in done]
    for cohort, vat, key in [*stays, *healing]:
        day = vat[0] if vat else date.max
        while vat and day <= vat[1]:
            in_vat.setdefault(day, []).append((cohort, key))
            day += timedelta(days=1)
    for day, inside in sorted(in_vat.items()):
        together = {cohort for cohort, _ in inside}
        stand = {cohort for cohort, key in inside if key in problem.fixed}
        if len(together) > 1 and together != stand:
            yield f"cohorts together in the vat on {day}"
        promised = sum(1 for _, key in inside if key in problem.fixed)
        if problem.vat_holds is not None and len(inside) > max(problem.vat_holds, promised):
            yield f"{len(inside)} in the vat on {day}"


def best_merit(problem: Instance, option: EntryOption, done: Iterable[Done]) -> int | None:
    """The best merit an entry can have with these touch-ups; None where it cannot go."""
    merits = [] if option.merit is None else [option.merit]
    for one in problem.touch_ups:
        if (one.fish, one.day, one.water) in done and one.fish == option.fish:
            merits += [merit for show, merit in one.merits.items() if show == option.show]
    return max(merits, default=None)


def score(problem: Instance, entries: Iterable[Going], touch_ups: Iterable[Done]) -> Fraction:
    """What a plan is worth, in hundredths of a point, exactly; written from the words."""
    options = {(one.fish, one.show): one for one in problem.entries}
    going, done = list(entries), list(touch_ups)
    total = Fraction(0)
    by_group: dict[tuple[str, str], list[int]] = {}
    for fish, show, _ in going:
        option = options[fish, show]
        merit = best_merit(problem, option, done)
        assert merit is not None
        over = merit - problem.worth_showing
        weight = Fraction(problem.shows[show].weight)
        total -= option.price
        if over <= 0 or not option.group:
            total += over * weight
        else:
            by_group.setdefault((show, option.group), []).append(over)
    for (show, _), overs in by_group.items():
        share = Fraction(1)
        for over in sorted(overs, reverse=True):
            total += over * share * Fraction(problem.shows[show].weight)
            share *= Fraction(problem.same_class_share)
    total -= problem.touch_up_price * len(done)
    total -= problem.session_price * len({day for _, day, _ in done})
    return total - sum(problem.shows[show].price for show in {show for _, show, _ in going})


def check(problem: Instance, solution: Solution) -> None:
    """Fail unless a solution is within every limit and earns what it says."""
    assert solution.feasible
    assert faults(problem, solution.entries, solution.touch_ups) == []
    worth = score(problem, solution.entries, solution.touch_ups)
    assert abs(worth - Fraction(solution.worth)) < Fraction(1, 1000)
