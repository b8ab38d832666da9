"""The plan as JSON, with exactly the keys that docs/files.md names. Dates are ISO 8601."""

from __future__ import annotations

import json
from datetime import date, datetime
from typing import Any

from showprep.husbandry.reason import (
    Blemish,
    Celsius,
    Centimetres,
    Chance,
    FishId,
    Kelvin,
    Kilograms,
    Litres,
    Millimetres,
    Reason,
    ShowId,
    Value,
)
from showprep.outputs.words.speaker import Speaker
from showprep.planning.entries.records import EntryWorth, Prices
from showprep.planning.plan import (
    Ask,
    Choice,
    ExpectedClass,
    ExpectedLength,
    HealingLine,
    Plan,
    PlannedTouchUp,
    Task,
    Verdict,
    Warning_,
)

FORMAT = 2
"""Of the JSON: 2 since verdicts and touch-ups have chances."""


def plan_text(plan: Plan) -> str:
    """The JSON text, the same bytes for the same plan."""
    return json.dumps(plan_json(plan), ensure_ascii=False, indent=2) + "\n"


def plan_json(plan: Plan) -> dict[str, Any]:
    """The plan as plain lists and mappings."""
    speaker = Speaker.of(plan)
    return {
        "season": plan.season,
        "planned_on": plan.planned_on.isoformat(),
        "verdicts": [_verdict(speaker, one) for one in plan.verdicts],
        "tasks": [_task(speaker, one) for one in plan.tasks],
        "warnings": [_warning(speaker, one) for one in plan.warnings],
        "asks": [ask_json(speaker, one) for one in plan.asks],
        "presumed_gone": {show: list(fish) for show, fish in plan.presumed_gone.items()},
        "presumed_forms": {
            show: {"fish": sorted(form.fish), "reserve": form.reserve}
            for show, form in plan.presumed_forms.items()
        },
        "healed_in": {
            fish: {day.isoformat(): water for day, water in sorted(days.items())}
            for fish, days in sorted(plan.healed_in.items())
        },
        "choice": _choice(speaker, plan.choice),
        "format": FORMAT,
    }


def _verdict(speaker: Speaker, one: Verdict) -> dict[str, Any]:
    return {
        "fish": one.fish,
        "show": one.show,
        "verdict": one.verdict,
        "entered": one.entered,
        "merit": one.merit,
        "reasons": [reason_json(speaker, why) for why in one.reasons],
        "chance_clean": one.chance_clean,
        "chance_closed": one.chance_closed,
        "touch_up": _touch_up(one.touch_up),
        "healing": [_healing(healing) for healing in one.healing],
        "length_cm": _length(one.length),
        "size_class": _size_class(one.size_class),
    }


def reason_json(speaker: Speaker, reason: Reason) -> dict[str, Any]:
    """A reason as its code, its values and its sentence."""
    return {"code": reason.code, "values": _values(reason), "text": speaker.text(reason)}


def _values(reason: Reason) -> dict[str, Any]:
    return {name: _value(value) for name, value in reason.values}


# An amount is told with its unit: {"celsius": 12.0}.
_AMOUNTS = {
    Celsius: "celsius",
    Kelvin: "kelvin",
    Centimetres: "centimetres",
    Millimetres: "millimetres",
    Litres: "litres",
    Kilograms: "kilograms",
}


def _value(value: Value) -> Any:
    if isinstance(value, Reason):
        return {"code": value.code, "values": _values(value)}
    if isinstance(value, tuple):
        return [_value(one) for one in value]
    if isinstance(value, date | datetime):
        return value.isoformat()
    if isinstance(value, Chance):
        return {"chance": value.share}
    if isinstance(value, FishId | ShowId):
        return value.id
    if isinstance(value, Blemish):
        return {"kind": value.kind, "where": value.where}
    if isinstance(value, str | int | float | None):
        return value
    return {_AMOUNTS[type(value)]: value.amount}


def _touch_up(touch_up: PlannedTouchUp | None) -> dict[str, Any] | None:
    if touch_up is None:
        return None
    return {
        "earliest": _day(touch_up.earliest),
        "latest": _day(touch_up.latest),
        "best": _day(touch_up.best),
        "day": _day(touch_up.day),
        "water": touch_up.water if touch_up.day is not None else None,
        "chance_healed": touch_up.chance_healed,
        "chance_not_back": touch_up.chance_not_back,
    }


def _healing(healing: HealingLine) -> dict[str, Any]:
    return {
        "defect": healing.defect,
        "milestone": healing.milestone,
        "usual_on": _day(healing.usual_on),
        "high_on": _day(healing.high_on),
        "short_days": healing.short_days,
    }


def _length(length: ExpectedLength | None) -> dict[str, float] | None:
    if length is None:
        return None
    return {"expected": length.expected, "low": length.low, "high": length.high}


def _size_class(size: ExpectedClass | None) -> dict[str, Any] | None:
    return None if size is None else {"expected": size.expected, "possible": list(size.possible)}


def _task(speaker: Speaker, task: Task) -> dict[str, Any]:
    return {
        "id": task.id,
        "kind": task.kind,
        "code": task.title.code,
        "values": _values(task.title),
        "title": speaker.say(task.title),
        "fish": list(task.fish),
        "show": task.show,
        "water": task.water,
        "start": _day(task.start),
        "end": _day(task.end),
        "all_day": task.all_day,
        "late": task.late,
        "cautions": [reason_json(speaker, one) for one in task.cautions],
        "late_cost": _reason(speaker, task.late_cost),
        "note": _reason(speaker, task.note),
        "counts_from": _reason(speaker, task.counts_from),
    }


def _reason(speaker: Speaker, reason: Reason | None) -> dict[str, Any] | None:
    return None if reason is None else reason_json(speaker, reason)


def _warning(speaker: Speaker, warning: Warning_) -> dict[str, Any]:
    return {
        "level": warning.level,
        **reason_json(speaker, warning.reason),
        "fish": warning.fish,
        "show": warning.show,
    }


def ask_json(speaker: Speaker, ask: Ask) -> dict[str, Any]:
    """What was presumed: its code and values, the question, and the note that settles it."""
    return {
        "code": ask.question.code,
        "values": _values(ask.question),
        "text": speaker.say(ask.question),
        "note": speaker.say(ask.note),
        "fish": list(ask.fish),
        "show": ask.show,
        "water": ask.water,
    }


def _choice(speaker: Speaker, choice: Choice) -> dict[str, Any]:
    return {
        "merit": choice.merit,
        "worth": choice.worth,
        "bound": choice.bound,
        "proven": choice.proven,
        "left_out": [
            {
                "fish": one.fish,
                "show": one.show,
                "cost": one.cost,
                "at_most": one.at_most,
                "because": reason_json(speaker, one.because),
            }
            for one in choice.left_out
        ],
        "entries": [_entry(one) for one in choice.entries],
        "prices": _prices(choice.prices),
        "reserves": [{"show": show, "fish": fish} for show, fish in choice.reserves],
    }


def _entry(one: EntryWorth) -> dict[str, Any]:
    return {
        "fish": one.fish,
        "show": one.show,
        "merit": one.merit,
        "share": one.share,
        "counts": one.weight,
        "worth": one.worth,
        "touch_up": _day(one.touch_up_on),
        "touch_up_gains": one.touch_up_gains,
    }


def _prices(prices: Prices | None) -> dict[str, Any] | None:
    if prices is None:
        return None
    return {
        "worth_showing": prices.worth_showing,
        "touch_up": prices.touch_up,
        "session": prices.session,
        "same_class_share": prices.same_class_share,
        "journeys": [
            {"show": show, "price": price, "a_fish": dict(prices.fish)[show]}
            for show, price in prices.journeys
        ],
    }


def _day(moment: date | datetime | None) -> str | None:
    return None if moment is None else moment.isoformat()
