"""`check`: read the files and report every fault; `--slips` asks which values to read again."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator
from dataclasses import asdict
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from msgspec import Struct

from showprep.commands.loading import tell_warnings
from showprep.commands.streams import say
from showprep.husbandry.reason import Reason
from showprep.outputs.words.plain import counted
from showprep.season.additions import copied
from showprep.season.problems import Problem, SeasonError
from showprep.season.reading import Reading, read_season
from showprep.season.yaml.slipped import Slip, slips_of

if TYPE_CHECKING:
    from showprep.outputs.words.speaker import Speaker

MOST_TRIED = 600  # plans; each takes about as long as `plan` does without costs
FORMAT = 1  # of the JSON
TOLD = 5  # values to read again
EFFECTS_TOLD = 3


def run(folder: Path, on: date, *, as_json: bool, slips: bool = False) -> None:
    """Print what is wrong, or that nothing is."""
    try:
        reading = read_season(folder, on)
    except SeasonError as error:
        if as_json:
            _print({"problems": _plain(error.problems)})
            raise SystemExit(3) from None
        raise
    if slips:
        _run_slips(folder, on, reading, as_json=as_json)
        return
    if as_json:
        _print({"problems": _plain(reading.warnings)})
        return
    tell_warnings(reading.warnings)
    season = reading.season
    shows, entries = counted(len(season.shows), "show"), len(season.journal)
    noted = counted(entries, "entry", "entries")
    say(f"No faults: {shows}, {len(season.fish)} fish, {noted} in the journal.")


def _plain(problems: Iterable[Problem]) -> list[dict[str, object]]:
    return [asdict(problem) for problem in problems]


def _print(data: dict[str, object]) -> None:
    print(json.dumps({**data, "format": FORMAT}, ensure_ascii=False, indent=2))  # noqa: T201


class ReadAgain(Struct, frozen=True):
    """A value whose slip nobody would notice and would move something."""

    file: str
    slip: Slip
    effects: tuple[Reason, ...]
    weight: float


def _run_slips(folder: Path, on: date, reading: Reading, *, as_json: bool) -> None:
    from showprep.outputs.json_plan import reason_json
    from showprep.outputs.words.speaker import Speaker
    from showprep.planning.season_plan import make_plan

    found, tried, left = _read_again(folder, on, reading)
    speaker = Speaker.of(make_plan(reading.season, on, costs=False, tells=False))
    if as_json:
        values = [
            {
                "file": one.file,
                "line": one.slip.line,
                "column": one.slip.column,
                "written": one.slip.written,
                "meant": one.slip.meant,
                "how": one.slip.how,
                "effects": [reason_json(speaker, effect) for effect in one.effects],
            }
            for one in found
        ]
        _print({"read_again": values, "tried": tried, "left": left})
        return
    tell_warnings(reading.warnings)
    for line in _lines(speaker, found, tried, left):
        print(line)  # noqa: T201


def _lines(speaker: Speaker, found: list[ReadAgain], tried: int, left: int) -> Iterator[str]:
    if not found:
        yield f"No slip of {counted(tried, 'value')} tried would pass unseen and move anything."
    else:
        yield f"Read {'this' if len(found) == 1 else f'these {len(found)}'} again:"
    for one in found:
        slip = one.slip
        yield f"{one.file}:{slip.line}: {slip.key}: {slip.written}"
        yield f"  If {slip.meant} was meant ({slip.how}):"
        for effect in one.effects[:EFFECTS_TOLD]:
            yield f"    {speaker.text(effect)}"
        more = len(one.effects) - EFFECTS_TOLD
        if more > 0:
            yield f"    and {counted(more, 'more change')}."
    if left:
        yield f"{counted(left, 'possible slip')} not tried: the season is too large."


def _read_again(folder: Path, on: date, reading: Reading) -> tuple[list[ReadAgain], int, int]:
    """The values whose unseen slips move most, the slips tried, and those left untried."""
    from showprep.planning.follow_up.slip_effects import slip_effects, weight_of
    from showprep.planning.season_plan import worked_out
    from showprep.planning.yard.presumed import yard_as_known

    asked = {(one.file, one.line) for one in reading.warnings}
    written = worked_out(yard_as_known(reading.season, on), "season", costs=False, tells=False)
    worst: dict[tuple[str, int, int], ReadAgain] = {}
    tried = left = 0
    with copied(folder) as (copy, texts):
        for file, text in texts.items():
            for slip in slips_of(text):
                (copy / file).write_text(slip.text, encoding="utf-8")
                try:
                    other = read_season(copy, on)
                except SeasonError:
                    continue  # it would be seen
                if {(one.file, one.line) for one in other.warnings} != asked:
                    continue  # it would be asked about
                if tried >= MOST_TRIED:
                    left += 1
                    continue
                tried += 1
                meant = worked_out(
                    yard_as_known(other.season, on), "season", costs=False, tells=False
                )
                effects = slip_effects(written, meant)
                weight = sum(map(weight_of, effects))
                place = (file, slip.line, slip.column)
                if effects and (place not in worst or weight > worst[place].weight):
                    worst[place] = ReadAgain(file, slip, effects, weight)
            (copy / file).write_text(text, encoding="utf-8")
    found = sorted(worst.values(), key=lambda one: (-one.weight, one.file, one.slip.line))
    return found[:TOLD], tried, left
