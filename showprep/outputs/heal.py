"""One question about one blemish, and the list of kinds: text for a terminal, or JSON."""

from __future__ import annotations

import json
import textwrap
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from showprep.outputs.json_plan import reason_json
from showprep.outputs.words.heal import Part, heal_parts, kind_parts
from showprep.outputs.words.kinds import KINDS
from showprep.outputs.words.speaker import Speaker
from showprep.planning.worksheets.heal import HealSheet, KindLine

FORMAT = 1  # of the JSON


def heal_text(speaker: Speaker, sheet: HealSheet, width: int) -> str:
    """The answer, wrapped at `width` characters."""
    return _text(heal_parts(speaker, sheet), width)


def kinds_text(
    speaker: Speaker,
    lines: Sequence[KindLine],
    called: Mapping[str, Sequence[str]],
    waters: Sequence[float],
    width: int,
) -> str:
    """The list, wrapped at `width` characters."""
    return _text(kind_parts(speaker, lines, called, waters), width)


def _text(parts: Iterable[Part], width: int) -> str:
    blocks = []
    for heading, texts in parts:
        lines = textwrap.wrap(heading, width, subsequent_indent="  ", break_on_hyphens=False)
        for one in texts:
            lines += textwrap.wrap(
                one,
                width,
                initial_indent="  ",
                subsequent_indent="    ",
                break_on_hyphens=False,
                drop_whitespace=True,
            )
        blocks.append("\n".join(lines))
    return "\n\n".join(blocks) + "\n"


def heal_json(speaker: Speaker, sheet: HealSheet) -> str:
    """The answer as JSON: dates ISO 8601, degrees Celsius, chances from 0 to 1."""
    ask = sheet.ask
    told: dict[str, Any] = {
        "kind": ask.kind,
        "on": ask.on.isoformat(),
        "seen": ask.seen.isoformat(),
        "by": ask.by.isoformat(),
        "water_c": ask.water_c,
        "warm_to_c": ask.warm_to_c,
        "may": sheet.may,
        "why": reason_json(speaker, sheet.why),
        "shows_nothing": sheet.unseen,
        "milestones": [
            {
                "milestone": one.name,
                "low_on": _iso(one.days.low_on),
                "usual_on": _iso(one.days.usual_on),
                "high_on": _iso(one.days.high_on),
                "chance": one.chance,
                "short_days": one.short_days,
            }
            for one in sheet.healed
        ],
        "touch_up": None if sheet.touch_up is None else sheet.touch_up.day.isoformat(),
        "no_touch_up_because": (
            None if sheet.nothing_because is None else reason_json(speaker, sheet.nothing_because)
        ),
        "touch_up_days": [
            {"day": one.day.isoformat(), "healed": one.healed, "not_back": one.not_back}
            for one in sheet.curve
        ],
        "helps": [reason_json(speaker, one) for one in sheet.helps],
        "cautions": [reason_json(speaker, one) for one in sheet.cautions],
    }
    return _json(told)


def kinds_json(
    lines: Sequence[KindLine], called: Mapping[str, Sequence[str]], waters: Sequence[float]
) -> str:
    """The list as JSON; days by water [°C] as low, usual and high."""
    return _json(
        {
            "kinds": [
                {
                    "id": line.kind.id,
                    "name": KINDS[line.kind.id].name,
                    "called": list(called[line.kind.id]),
                    "may": line.kind.may,
                    "days": {
                        name: {
                            f"{water:g}": list(one)
                            for water, one in zip(waters, found, strict=True)
                        }
                        for name, found in line.days
                    },
                }
                for line in lines
            ]
        }
    )


def _iso(day: Any) -> str | None:
    return None if day is None else str(day.isoformat())


def _json(told: Mapping[str, Any]) -> str:
    whole = {"format": FORMAT, **told}
    return json.dumps(whole, ensure_ascii=False, indent=2) + "\n"
