"""The season's end, fish by fish, as text and as JSON."""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from datetime import date
from typing import Any

from msgspec import Struct
from msgspec.structs import asdict

from showprep.outputs.terminal import length_text
from showprep.outputs.words.healing import healing_amount, healing_unit
from showprep.outputs.words.kinds import KINDS
from showprep.outputs.words.plain import counted, spoken_with_year
from showprep.planning.follow_up.year_end import BlemishTold, FishYear, NoteTold, ShowTold, YearEnd
from showprep.planning.yard.own_pace import PaceLine, WaterPace
from showprep.season.records import PLAIN_NOTE
from showprep.season.values.quantities import DEGREE_DAYS, Units, show_degree_days, show_warming

FORMAT = 1  # of the JSON
OUTCOMES = {
    "clean": "clean on {day}",
    "mark left": "a trace stayed",
    "back": "back on {day}",
    "touched up again": "touched up again on {day}",
    "not clean": "not clean yet on {day}",
    "not looked at": "not looked at since",
}


def summary_text(year: YearEnd, units: Units = "metric") -> str:
    """The text: a heading and a few lines a fish, then the yard's own pace."""
    lines = [f"{year.season}, up to {spoken_with_year(year.on)}"]
    if year.since is None:
        lines.append("The journal is empty: there is nothing to look back on yet.")
    for fish in year.fish:
        lines += ["", *_fish(fish, units)]
    pace = [
        *(_pace(one, units) for one in year.pace.lines),
        *(_water(one, units) for one in year.pace.waters),
    ]
    others = [*_notes("note", year.notes), *_notes("noted", year.taken_back)]
    if others:
        lines += ["", "Notes of no one fish", *others]
    if pace:
        lines += ["", "Pace of this yard", *pace]
    return "\n".join(lines) + "\n"


def summary_json(year: YearEnd) -> str:
    """The same as JSON. Dates are ISO 8601; centimetres, kilograms, degrees Celsius."""
    told: dict[str, Any] = {
        "season": year.season,
        "since": year.since,
        "on": year.on,
        "fish": [_fish_json(fish) for fish in year.fish],
        "notes": [asdict(one) for one in year.notes],
        "taken_back": [asdict(one) for one in year.taken_back],
        "pace": [_pace_json(line) for line in year.pace.lines],
        "waters": [
            {"water": one.water, "used": one.used, **asdict(one.offset)} for one in year.pace.waters
        ],
        "format": FORMAT,
    }
    return json.dumps(told, ensure_ascii=False, indent=2, default=_plain) + "\n"


def _fish(fish: FishYear, units: Units) -> Iterator[str]:
    gone = (
        f", {fish.gone} on {spoken_with_year(fish.gone_on)}" if fish.gone and fish.gone_on else ""
    )
    yield f"{fish.name}, {fish.variety}{gone}"
    if fish.lengths:
        day, last = fish.lengths[-1]
        grown = "" if fish.grown_cm is None else f", {_change(fish, units)}"
        yield f"  length: {length_text(last, units)} on {spoken_with_year(day)}{grown}"
    for blemish in fish.blemishes:
        yield f"  {_blemish(blemish, units)}"
    yield from _notes("looked at", fish.looks)
    for show in fish.shows:
        yield f"  {_show(show)}"
    if fish.days_apart:
        yield f"  kept apart: {counted(fish.days_apart, 'day')}"
    for one in fish.treated:
        ordered = ", ordered by a vet" if one.by_vet else ""
        yield f"  treated on {spoken_with_year(one.on)}: {one.what or 'not named'}{ordered}"
    if fish.spawned:
        yield f"  spawned on {spoken_with_year(fish.spawned)}"
    yield from _notes("note", fish.notes)
    yield from _notes("noted", fish.taken_back)


def _notes(heading: str, notes: Sequence[NoteTold]) -> Iterator[str]:
    """A line a note: its day, what it says, and the day on which it was taken back."""
    for one in notes:
        kind = KINDS[one.kind].short if one.kind else None
        of = ", ".join(filter(None, (kind, one.where)))
        word = "" if one.word == PLAIN_NOTE else one.word
        said = f"{word} ({of})" if word and of else word or of
        about = f", {one.about}" if one.about else ""
        text = "; ".join(filter(None, (f"{said}{about}", one.note))).removeprefix(", ")
        back = f", taken back on {spoken_with_year(one.undone)}" if one.undone else ""
        yield f"  {heading}, {spoken_with_year(one.on)}: {text}{back}"


def _change(fish: FishYear, units: Units) -> str:
    first, size = fish.lengths[0]
    return f"from {length_text(size, units)} on {spoken_with_year(first)}"


def _blemish(blemish: BlemishTold, units: Units) -> str:
    name = f"{blemish.kind}, {blemish.where}" if blemish.where else blemish.kind
    begun = f"found on {spoken_with_year(blemish.seen)}"
    if blemish.touched:
        begun = f"touched up on {spoken_with_year(blemish.touched)}"
    elif blemish.vet:
        begun = f"seen to by a vet on {spoken_with_year(blemish.vet)}"
    parts = [begun]
    if blemish.clean_on and blemish.outcome != "clean":
        parts.append(f"clean on {spoken_with_year(blemish.clean_on)}{_after(blemish, units)}")
    day = spoken_with_year(blemish.outcome_on) if blemish.outcome_on else ""
    timed = blemish.outcome in ("clean", "not clean")
    parts.append(
        OUTCOMES[blemish.outcome].format(day=day) + (_after(blemish, units) if timed else "")
    )
    return f"{name}: {'; '.join(parts)}"


def _after(blemish: BlemishTold, units: Units) -> str:
    if blemish.days is None or blemish.degree_days is None:
        return ""
    gathered = show_degree_days(blemish.degree_days, units)
    return f" (after {counted(blemish.days, 'day')}, {gathered} {DEGREE_DAYS[units]})"


def _show(show: ShowTold) -> str:
    told = show.result or ("went" if show.travelled else "entered, did not go")
    remarks = f" The judge: {show.remarks}" if show.remarks else ""
    return f"{show.name}, {spoken_with_year(show.judging)}: {told}.{remarks}"


def _pace(line: PaceLine, units: Units) -> str:
    unit = healing_unit(line.unit, units)
    what = "weeks until it is back" if line.milestone == "back" else f"{line.milestone}, {unit}"
    table, own = (
        ", ".join(healing_amount(one, line.unit, units, 0) for one in (r.low, r.usual, r.high))
        for r in (line.pace.table, line.pace.own)
    )
    name = "speck come back" if line.milestone == "back" else KINDS[line.kind].name
    stand = "used" if line.used else "not used"
    if not line.pace.enough:
        stand += ", too few to move much"
    return (
        f"  {name}, {what}: table {table}; own {own} "
        f"from {counted(line.pace.count, 'look')} ({stand})"
    )


def _water(one: WaterPace, units: Units) -> str:
    warmer = "warmer" if one.offset.offset_c >= 0 else "colder"
    stand = "used for dates" if one.used else "not used"
    return (
        f"  {one.water}: {show_warming(abs(one.offset.offset_c), units)} {warmer} than its curve, "
        f"from {counted(one.offset.readings, 'reading')} ({stand})"
    )


def _plain(value: Any) -> Any:
    """A day, or a record within a record, as JSON has it."""
    return asdict(value) if isinstance(value, Struct) else date.isoformat(value)


def _fish_json(fish: FishYear) -> dict[str, Any]:
    told = asdict(fish)
    told["lengths_cm"] = {day.isoformat(): cm for day, cm in told.pop("lengths")}
    told["weights_kg"] = {day.isoformat(): kg for day, kg in told.pop("weights")}
    told["treated"] = [
        {"on": one.on, "with": one.what, "by_vet": one.by_vet} for one in fish.treated
    ]
    return told


def _pace_json(line: PaceLine) -> dict[str, Any]:
    return {
        "kind": line.kind,
        "milestone": line.milestone,
        "unit": line.unit,
        "table": asdict(line.pace.table),
        "own": {name: round(value, 1) for name, value in asdict(line.pace.own).items()},
        "observations": line.pace.count,
        "worth": round(line.pace.weight, 2),
        "enough": line.pace.enough,
        "used": line.used,
    }
