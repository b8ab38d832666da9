"""The plan as JSON, with exactly the keys that docs/files.md names. Dates are ISO 8601."""

from __future__ import annotations

import json
from datetime import date, datetime
from typing import Any

from showprep.planning.plan import (
    Choice,
    Healing,
    Length,
    Plan,
    SizeClass,
    Task,
    TouchUp,
    Verdict,
    Warning_,
)


def plan_text(plan: Plan) -> str:
    """The JSON text, the same bytes for the same plan."""
    return json.dumps(plan_json(plan), ensure_ascii=False, indent=2) + "\n"


def plan_json(plan: Plan) -> dict[str, Any]:
    """The plan as plain lists and mappings."""
    return {
        "season": plan.season,
        "planned_on": plan.planned_on.isoformat(),
        "verdicts": [_verdict(one) for one in plan.verdicts],
        "tasks": [_task(one) for one in plan.tasks],
        "warnings": [_warning(one) for one in plan.warnings],
        "choice": _choice(plan.choice),
    }


def _verdict(one: Verdict) -> dict[str, Any]:
    return {
        "fish": one.fish,
        "show": one.show,
        "verdict": one.verdict,
        "entered": one.entered,
        "merit": one.merit,
        "reasons": list(one.reasons),
        "touch_up": _touch_up(one.touch_up),
        "healing": [_healing(healing) for healing in one.healing],
        "length_cm": _length(one.length),
        "size_class": _size_class(one.size_class),
    }


def _touch_up(touch_up: TouchUp | None) -> dict[str, Any] | None:
    if touch_up is None:
        return None
    return {
        "earliest": _day(touch_up.earliest),
        "latest": _day(touch_up.latest),
        "latest_if_usual": _day(touch_up.latest_if_usual),
        "day": _day(touch_up.day),
    }


def _healing(healing: Healing) -> dict[str, Any]:
    return {
        "defect": healing.defect,
        "milestone": healing.milestone,
        "usual_on": _day(healing.usual_on),
        "high_on": _day(healing.high_on),
        "short_days": healing.short_days,
    }


def _length(length: Length | None) -> dict[str, float] | None:
    if length is None:
        return None
    return {"expected": length.expected, "low": length.low, "high": length.high}


def _size_class(size: SizeClass | None) -> dict[str, Any] | None:
    return None if size is None else {"expected": size.expected, "possible": list(size.possible)}


def _task(task: Task) -> dict[str, Any]:
    return {
        "id": task.id,
        "kind": task.kind,
        "title": task.title,
        "fish": list(task.fish),
        "show": task.show,
        "water": task.water,
        "start": _day(task.start),
        "end": _day(task.end),
        "all_day": task.all_day,
        "late": task.late,
        "cautions": list(task.cautions),
    }


def _warning(warning: Warning_) -> dict[str, Any]:
    return {
        "level": warning.level,
        "text": warning.text,
        "fish": warning.fish,
        "show": warning.show,
    }


def _choice(choice: Choice) -> dict[str, Any]:
    return {
        "merit": choice.merit,
        "proven": choice.proven,
        "left_out": [
            {"fish": one.fish, "show": one.show, "cost": one.cost, "because": one.because}
            for one in choice.left_out
        ],
    }


def _day(moment: date | datetime | None) -> str | None:
    return None if moment is None else moment.isoformat()
