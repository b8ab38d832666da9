"""Plans made by hand say what they say in plain text; as JSON every saying has a code."""

from __future__ import annotations

from msgspec.structs import replace

from showprep.husbandry.reason import Reason, reason
from showprep.outputs.words import speaker
from showprep.planning.plan import Plan

speaker._sentences()["as-said"] = "{text}"


def said(text: str | Reason | None) -> Reason | None:
    return reason("as-said", text=text) if isinstance(text, str) else text


def in_reasons(plan: Plan) -> Plan:
    """The plan with a reason in place of every plain text."""
    texts = ("title", "note", "late_cost", "counts_from")
    tasks = tuple(
        replace(
            one,
            **{name: said(getattr(one, name)) for name in texts},
            cautions=tuple(map(said, one.cautions)),
        )
        for one in plan.tasks
    )
    warnings = tuple(replace(one, reason=said(one.reason)) for one in plan.warnings)
    left = tuple(replace(one, because=said(one.because)) for one in plan.choice.left_out)
    choice = replace(plan.choice, left_out=left)
    return replace(plan, tasks=tasks, warnings=warnings, choice=choice)
