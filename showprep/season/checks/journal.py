"""Checks of the journal: each entry says one thing, of something that exists."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from pathlib import PurePosixPath

from showprep.season.checks.checked import Checked, Finding
from showprep.season.records import PLAIN_NOTE, JournalEntry
from showprep.season.values.unit_keys import key_in
from showprep.season.values.wording import listed

COMES_IN_WITHIN = timedelta(days=7)
"""What was done is often written down some days later, after what was done since (a rule of this
program)."""

NEEDS: dict[str, tuple[str, ...]] = {
    "touch-up": ("fish",),
    "treatment": ("fish or water",),
    "move": ("fish", "to"),
    "measure": ("fish", "measured_cm"),
    "weigh": ("fish", "weighed_kg"),
    "stop feeding": ("fish or water",),
    "feed again": ("fish or water",),
    "entered": ("fish", "show"),
    "sent": ("show",),
    "travelled": ("fish", "show"),
    "stayed": ("fish", "show"),
    "result": ("fish", "show"),
    "vet": ("fish",),
    "job": ("job",),
    "not done": ("job",),
    "sold": ("fish",),
    "lost": ("fish",),
    "cancelled": ("show",),
    "postponed": ("show", "to_day"),
    "touch-up day": ("fish", "touch_up_on"),
    "closed": ("fish",),
    "not closed": ("fish",),
    "clean": ("fish",),
    "not clean": ("fish",),
    "mark left": ("fish",),
    "speck back": ("fish",),
    "new defect": ("fish", "defect"),
    "parasites": ("fish or water",),
    "no parasites": ("fish or water",),
    "spawned": ("fish",),
    "off food": ("fish",),
    "feeding well": ("fish",),
    "temperature": ("water", "read_c"),
    "khv signs": ("fish or water",),
    "khv clear": ("fish or water",),
    PLAIN_NOTE: ("note or photo",),
}
"""What an entry has to say beside its day; without it the entry would tell nothing."""

OF_TREATING: dict[str, tuple[str, ...]] = {
    "treatment": ("treatment",),
    "by_vet": ("treatment",),
    "parasite": ("treatment", "parasites"),
    "touch_up_on": ("touch-up day",),
}
"""What is said of a treatment, a find or a day set alone, by the entries it belongs to. Elsewhere
nobody would read it, and the keeper would think somebody did."""


def one_thing(checked: Checked) -> Iterator[Finding | None]:
    """Each entry has at most one of did and saw, and what goes with it."""
    units = checked.season.keeper.units
    for at, entry in enumerate(checked.season.journal):
        path = ("journal", at)
        if entry.did is not None and entry.saw is not None:
            right = "write one of the two; what was done and what was seen are entries of their own"
            yield Finding(path, "did and saw are given", right)
            continue
        if entry.word == PLAIN_NOTE and entry.note is None and entry.photo is None:
            right = "write did or saw, or note with your own words"
            yield Finding(path, "neither did nor saw is given", right)
            continue
        for need in NEEDS[entry.word]:
            keys = need.split(" or ")
            if all(getattr(entry, key) is None for key in keys):
                asked = [key_in(key, units) for key in keys]
                what = f"'{entry.word}' is noted, but not its {listed(asked)}"
                yield Finding(path, what, f"add a line '{asked[0]}: ...'")


def in_its_place(checked: Checked) -> Iterator[Finding | None]:
    """What was used, against what, and that a vet ordered it stand where they are read."""
    for at, entry in enumerate(checked.season.journal):
        for key, words in OF_TREATING.items():
            if getattr(entry, key) is None or entry.word in words:
                continue
            right = f"write it with did: {words[0]}{' or saw: parasites' * (len(words) > 1)}"
            yield Finding(("journal", at, key), f"{key} is said of {entry.word!r}", right)


def names_exist(checked: Checked) -> Iterator[Finding | None]:
    season = checked.season
    waters = season.keeper.waters
    for at, entry in enumerate(season.journal):
        path = ("journal", at)
        yield checked.unknown((*path, "fish"), "fish", entry.fish, season.fish)
        yield checked.unknown((*path, "show"), "show", entry.show, season.shows)
        yield checked.unknown((*path, "water"), "water", entry.water, waters)
        yield checked.unknown((*path, "to"), "water", entry.to, waters)
        yield checked.kind((*path, "defect"), entry.defect)


def days_follow(checked: Checked) -> Iterator[Finding | None]:
    """Entries are written oldest first, or some days later, as they come in from a phone or from
    paper; and none is ahead of the day of the plan."""
    latest: JournalEntry | None = None
    for at, entry in enumerate(checked.season.journal):
        path = ("journal", at, "on")
        yield checked.future(path, entry.on)
        if latest is not None and entry.on < latest.on - COMES_IN_WITHIN:
            what = f"{entry.on} stands after an entry of {latest.on}"
            right = "if the date is a slip, put it right; the journal is read by date"
            yield Finding(path, what, right, "warning")
        elif latest is None or entry.on > latest.on:
            latest = entry


def photos_exist(checked: Checked) -> Iterator[Finding | None]:
    """A photo is a file inside the season folder."""
    for at, entry in enumerate(checked.season.journal):
        if entry.photo is None:
            continue
        path, name = ("journal", at, "photo"), PurePosixPath(entry.photo)
        if name.is_absolute() or ".." in name.parts or "\\" in entry.photo or ":" in entry.photo:
            right = "write its place inside, with forward slashes, such as photos/aoi.jpg"
            yield Finding(path, f"{entry.photo} is not inside the season folder", right)
        elif not _is_file(checked, entry.photo):
            right = "put the photo there, or take the line out"
            # A photo that was moved since is no reason to have no plan.
            yield Finding(path, f"there is no photo {entry.photo}", right, "warning")


def _is_file(checked: Checked, name: str) -> bool:
    try:
        return (checked.folder / name).is_file()
    except (OSError, ValueError):
        return False


JOURNAL_CHECKS = (one_thing, in_its_place, names_exist, days_follow, photos_exist)
