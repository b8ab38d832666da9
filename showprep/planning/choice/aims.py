"""The aims after merit: fewest days, fewest touch-ups, latest days, and the rule for ties.

Each aim is sought with the ones before it held by a row. A row alone leaves the relaxed model
free to trade merit it cannot have for days it does not need, so the aims before are also put into
the objective: on every plan that counts they are constant, so they change no answer, but they
pull the bound to where the answer is.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import floor, gcd, inf

from showprep.planning.choice import pick as picks
from showprep.planning.choice.highs import Outcome
from showprep.planning.choice.model import Model
from showprep.planning.choice.model_limits import build
from showprep.planning.choice.problem import AimResult
from showprep.planning.choice.same_merit import keep_merit
from showprep.planning.choice.work import Work

EVERYTHING, ENTRIES, DAYS = "everything", "the entries chosen", "the touch-up days chosen"
PULL_OF_MERIT, PULL_OF_DAYS = 5.0, 2.0  # measured to be good; any would be right


def later_aims(work: Work, proven: bool) -> None:
    """Seek the later aims over everything, or for the entries chosen if merit is not proven."""
    model = build(work.options, sessions=True)
    if proven:
        keep_merit(work, model)
        if work.interrupted:
            return
    else:
        _keep_entries(work, model)
    if work.interrupted:
        return
    within = _days(work, model, EVERYTHING if proven else ENTRIES)
    if work.interrupted:
        return
    within = _late(work, model, within)
    if not work.interrupted:
        _ties(work, model, within)


def _days(work: Work, model: Model, within: str) -> str:
    """Fewest days, touch-ups and stays in the vat; returns what later proofs hold for."""
    many = _most_touch_ups(model) + 1
    objective = _added(model, _sessions(model, many), (_merit(model), PULL_OF_MERIT * many * many))
    outcome = work.run(model, objective, "days")
    work.take(model, outcome)
    options, pick, proven = work.options, work.pick, outcome.proven
    days, count, stays = (
        picks.days_of(options, pick),
        len(pick.touched),
        picks.stays_of(options, pick),
    )
    value = many * (many * days + count) + stays
    least = days if proven else _least(outcome, objective, model, work, value) // (many * many)
    work.aims.append(AimResult("touch-up days", days, min(max(least, 0), days), proven, within))
    work.aims.append(AimResult("touch-ups", count, count if proven else 0, proven, within))
    model.linear.row([(place, 1.0) for place in model.session.values()], upper=days + 0.5)
    model.linear.row([(place, 1.0) for place in model.touched], lower=count, upper=count)
    model.linear.row([(place, 1.0) for place in _stays(model)], upper=stays + 0.5)
    return within if proven else DAYS


def _most_touch_ups(model: Model) -> int:
    """More touch-ups than this there cannot be."""
    options = model.options
    fish = len(options.by_fish)
    return min(len(model.touched), fish * options.problem.touch_ups_per_fish + len(options.fixed))


def _stays(model: Model) -> list[int]:
    """Columns of touch-ups that heal in the isolation vat."""
    both = zip(model.options.touch_ups, model.touched, strict=True)
    return [place for option, place in both if option.vat is not None]


def _late(work: Work, model: Model, within: str) -> str:
    early = _earliness(model)
    span = 1.0 - min(early, default=0.0)
    prior = (_merit(model), PULL_OF_DAYS * span), (_sessions(model, 1), PULL_OF_DAYS * span)
    objective = _added(model, early, *prior)
    outcome = work.run(model, objective, "late")
    work.take(model, outcome)
    value = picks.earliness_of(work.options, work.pick)
    least = value if outcome.proven else _least(outcome, objective, model, work, value)
    bound = min(max(least, 0), value)
    work.aims.append(AimResult("days before the last", value, bound, outcome.proven, within))
    model.linear.row(enumerate(early), lower=-value - 0.5)
    return within if outcome.proven else DAYS


def _ties(work: Work, model: Model, within: str) -> None:
    lots, early = _lots(model), _earliness(model)
    pull = PULL_OF_DAYS * 2.0**16
    prior = (_merit(model), pull), (_sessions(model, 1), pull), (early, pull / 16)
    objective = _added(model, lots, *prior)
    outcome = work.run(model, objective, "ties")
    work.take(model, outcome)
    value = picks.lots_of(work.options, work.pick)
    least = value if outcome.proven else _least(outcome, objective, model, work, value)
    bound = min(max(least, 0), value)
    work.aims.append(AimResult("fixed rule", value, bound, outcome.proven, within))


def _least(
    outcome: Outcome, objective: Sequence[float], model: Model, work: Work, value: int
) -> int:
    """The bound on the aim itself: what pulls is the same for every plan that counts."""
    if outcome.bound == inf:
        return 0
    written = picks.write(model, work.pick)
    reached = sum(one * each for one, each in zip(objective, written, strict=True))
    return value - floor(outcome.bound - reached + 1e-6)


def _keep_entries(work: Work, model: Model) -> None:
    """Hold the entries as they are, each at least as clean."""
    for number, place in enumerate(model.entered):
        value = 1.0 if number in work.pick.entered else 0.0
        model.linear.col_lower[place] = model.linear.col_upper[place] = value
        if number in model.cleaned and value:
            clean = picks.is_clean(work.options, work.pick, number)
            model.linear.col_lower[model.cleaned[number]] = float(clean)


def _added(model: Model, aim: list[float], *prior: tuple[Sequence[float], float]) -> list[float]:
    total = list(aim)
    for objective, factor in prior:
        for place, value in enumerate(objective):
            total[place] += factor * value
    return total


def _merit(model: Model) -> list[float]:
    """Merit in the coarsest whole unit that fits every entry."""
    earned = model.merit()
    unit = gcd(*(int(value) for value in earned)) or 1
    return [value / unit for value in earned]


def _sessions(model: Model, many: int) -> list[float]:
    """Days before touch-ups before stays in the vat, when `many` is more than there can be."""
    objective = [0.0] * model.linear.columns
    for place in model.session.values():
        objective[place] = -float(many * many)
    for place in model.touched:
        objective[place] = -float(many)
    for place in _stays(model):
        objective[place] -= 1.0
    return objective


def _earliness(model: Model) -> list[float]:
    objective = [0.0] * model.linear.columns
    touch_ups = model.options.touch_ups
    last = max((option.day for option in touch_ups), default=None)
    for option, place in zip(touch_ups, model.touched, strict=True):
        if last is not None:
            objective[place] = -float((last - option.day).days)
    return objective


def _lots(model: Model) -> list[float]:
    objective = [0.0] * model.linear.columns
    for option, place in zip(model.options.touch_ups, model.touched, strict=True):
        objective[place] = -float(picks.lot(option.fish, option.day.isoformat(), option.water))
    for entry, place in zip(model.options.entries, model.entered, strict=True):
        objective[place] = -float(picks.lot(*entry.key))
    return objective
