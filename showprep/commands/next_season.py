"""`next-season`: a season carried over into the next year; the old folder stays untouched."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from tempfile import TemporaryDirectory

from showprep.commands.loading import load
from showprep.commands.streams import say
from showprep.outputs.failure import Failure
from showprep.outputs.remembered import remembered
from showprep.outputs.words.plain import counted, listed, spoken_with_year
from showprep.planning.verdicts.company import standing_on
from showprep.planning.yard.presumed import yard_as_known
from showprep.planning.yard.yard import Yard
from showprep.season.carry_over import CarriedOver, carried_over
from showprep.season.problems import SeasonError
from showprep.season.reading import read_season
from showprep.season.starting import write_season


def run(old: Path, new: Path, on: date) -> None:
    """Write the folder `new` from the season in `old`, and say what was taken over.

    Raises SeasonError for faults in the old season; Failure while fish are kept apart there, since
    their days would be lost, and for a folder in use. Then nothing is written.
    """
    if new.exists() and (not new.is_dir() or any(new.iterdir())):
        raise Failure(f"{new} is there already and not empty. Name a new folder.", status=2)
    yard = yard_as_known(load(old, on).season, on, remembered(old, on))
    _refuse_kept_apart(yard, on)
    here = {fish.id for fish in yard.fish_here()}
    season = read_season(old, on).season
    carried = carried_over(old, season, frozenset(season.fish.keys() - here))
    with TemporaryDirectory() as room:
        copy = Path(room) / "season"
        write_season(copy, carried.texts)
        try:
            read_season(copy, on)
        except SeasonError as error:
            told = f"The new season would have faults:\n{error}\nNothing was written."
            raise Failure(told) from None
    write_season(new, carried.texts)
    for line in _told(carried, old, new):
        say(line)


def _refuse_kept_apart(yard: Yard, on: date) -> None:
    apart = [group for group in standing_on(yard, on) if group.first <= on]
    names = sorted({yard.state.fish[one].record.name for group in apart for one in group.fish})
    if names:
        until = [group.clear for group in apart]
        end = None if None in until else max(day for day in until if day is not None)
        when = "" if end is None else f", until {spoken_with_year(end)}"
        raise Failure(
            f"{listed(names, 'and')} {'is' if len(names) == 1 else 'are'} still kept apart{when}: "
            "the new season would know nothing of that. Carry it over afterwards, or with --on a "
            "day after that. Nothing was written."
        )


def _told(carried: CarriedOver, old: Path, new: Path) -> list[str]:
    fish = counted(len(carried.fish), "fish", "fish")
    left = f"; left behind: {listed(carried.left, 'and')}" if carried.left else ""
    return [
        f"{new}: {fish} carried over{left}.",
        f"{counted(len(carried.shows), 'show')} as drafts, their days 52 weeks on: confirm each.",
        f"{counted(carried.entries, 'entry', 'entries')} of the journal go on telling something; "
        f"{carried.entries_left} stay in {old} with its photos. Nothing there was changed.",
        "Ask again whether touch-ups are lawful where you live: docs/law.md is no permission.",
        f"Now run\n  showprep check {new}\n  showprep plan {new}",
    ]
