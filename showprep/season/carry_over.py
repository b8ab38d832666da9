"""A season carried over into the next year: new files, the old ones left as they are.

The yard and the fish are taken over as they are written, with their comments; fish that left stay
behind. The journal keeps what goes on telling something: lengths, looks (the yard's own pace,
scars), temperatures (the water's curve), treatments. Shows become drafts, the same weekday a year
on.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from datetime import date, datetime, timedelta
from pathlib import Path
from typing import Any

from msgspec import Struct

from showprep.season.checks.shows import DRAFT_MARK
from showprep.season.editors import first_line
from showprep.season.entry_text import entry_text, values_of
from showprep.season.journal_text import as_written, blocks
from showprep.season.reading import FISH, JOURNAL, KEEPER, SHOWS, files_of
from showprep.season.records import JournalEntry, Season, Show, Window
from showprep.season.yaml.nodes import read_document

A_YEAR = timedelta(weeks=52)  # the same weekday
DRAFT = f"{DRAFT_MARK} last season's days, 52 weeks on; not confirmed."
SHOWS_HEAD = (
    "# Drafts: last season's shows, each day 52 weeks on. Ask every show for its days and rules,\n"
    "# put them right, and take the word Draft out of the note.\n"
)
OF_LAST_SEASON = frozenset(
    (
        *("entered", "sent", "travelled", "stayed", "result", "job", "not done"),
        *("sold", "lost", "cancelled", "postponed"),
    )
)
_DAYS = ("judging", "benching", "check_out", "entries_close", "photos_due", "vat_booked_by")


class CarriedOver(Struct, frozen=True):
    """The new files by name, and how much was taken over of what there was."""

    texts: Mapping[str, str]
    fish: tuple[str, ...]
    left: tuple[str, ...]  # fish that are no longer the keeper's
    shows: tuple[str, ...]
    entries: int
    entries_left: int


def carried_over(folder: Path, season: Season, gone: Collection[str]) -> CarriedOver:
    """The files of the next season; `gone` are the fish that left."""
    here = [one for one in season.fish if one not in gone]
    texts = {KEEPER: (folder / KEEPER).read_text("utf-8-sig")}
    texts[SHOWS] = first_line(SHOWS) + SHOWS_HEAD
    units = season.keeper.units
    for show_id, show in season.shows.items():
        values: dict[str, Any] = values_of(next_year(show), units)
        values.pop("cancelled", None)
        texts[SHOWS] += entry_text({show_id: values})
    texts |= _fish_files(folder, gone)
    kept = [one for entry in season.journal if (one := _kept(entry, here)) is not None]
    if kept:
        written = [as_written(entry, units) for entry in kept]
        texts[JOURNAL] = first_line(JOURNAL) + blocks(written, 0, "\n")
    return CarriedOver(
        texts,
        tuple(season.fish[one].name for one in here),
        tuple(season.fish[one].name for one in season.fish if one in gone),
        tuple(show.name for show in season.shows.values()),
        len(kept),
        len(season.journal) - len(kept),
    )


def next_year(show: Show) -> Show:
    """The show a year on, marked as a draft."""
    changed: dict[str, Any] = {
        name: value + A_YEAR
        for name in _DAYS
        if isinstance(value := getattr(show, name), date | datetime)
    }
    if show.arrive is not None:
        moved = {"from_": show.arrive.from_ + A_YEAR, "to": show.arrive.to + A_YEAR}
        changed["arrive"] = Window.model_construct(_fields_set={"from_", "to"}, **moved)
    changed["note"] = f"{DRAFT} {show.note or ''}".strip()
    return show.model_copy(update=changed)


def _kept(entry: JournalEntry, here: Collection[str]) -> JournalEntry | None:
    """The entry as it goes on; None where it was of last season, or of a fish that left."""
    if entry.did in OF_LAST_SEASON or entry.show is not None or entry.job is not None:
        return None
    if entry.fish is not None and entry.fish not in here:
        return None
    if entry.photo is None:
        return entry
    # The picture stays in the old folder.
    told = entry.model_copy(update={"photo": None})
    about = {"on", "fish", "water", "photo"}
    return told if entry.model_fields_set - about else None


def _fish_files(folder: Path, gone: Collection[str]) -> Iterator[tuple[str, str]]:
    files = files_of(folder)
    for path, name in files.fish:
        if path.stem not in gone:
            yield name, path.read_text("utf-8-sig")
    if files.fish_list is not None:
        yield FISH, _without(files.fish_list[0], gone)


def _without(path: Path, gone: Collection[str]) -> str:
    """The list of fish without the lines of those that left."""
    document = read_document(path, FISH)
    lines = path.read_text("utf-8-sig").splitlines(keepends=True)
    ids = list(document.data or {})
    starts = [document.place((one,), of_key=True).line - 1 for one in ids]
    ends = [*starts[1:], len(lines)]
    left = {
        number
        for one, start, end in zip(ids, starts, ends, strict=True)
        if one in gone
        for number in range(start, end)
    }
    return "".join(line for number, line in enumerate(lines) if number not in left)
