"""`pondside`: a page for the phone beside the pond; what is tapped goes into the journal."""

from __future__ import annotations

import hashlib
import json
import os
import queue
import sys
import threading
from collections.abc import Callable, Collection, Mapping, Sequence
from datetime import date
from pathlib import Path
from typing import Any

import typer

from showprep.commands import note
from showprep.commands.bath import read_afresh
from showprep.commands.interrupts import choice_is_over
from showprep.commands.loading import load, load_yard_and_plan
from showprep.commands.share import LONGEST_MINUTES
from showprep.outputs.failure import Failure
from showprep.outputs.home.pond_memory import PondMemory, only_one
from showprep.outputs.home.pond_page import LastPhoto, PondSession, dose_of, pond_state
from showprep.outputs.home.pond_photos import PondPhotos
from showprep.outputs.home.pond_server import Tap, serving
from showprep.outputs.home.qr import qr_lines
from showprep.outputs.home.share import own_address, refuse_beyond_home
from showprep.outputs.remembered import remember
from showprep.outputs.words import pondside as words
from showprep.outputs.words.plain import spoken
from showprep.outputs.words.speaker import Speaker
from showprep.planning.as_of.note_truth import advice
from showprep.planning.follow_up.agenda import agenda_of
from showprep.planning.worksheets.bath_records import BathSheet
from showprep.planning.worksheets.bath_season import NoBath, baths, sessions_in
from showprep.season.problems import SeasonError

WRITTEN_ALREADY = frozenset({"noted-already", "nothing-to-take-back"})
PLAN_ANEW, STOP = "plan", "stop"
A_LOOK_AT_THE_DAY = 1.0  # seconds between two looks whether midnight has passed


def run(
    *,
    season: Path,
    minutes: float,
    host: str | None,
    port: int,
    day: Callable[[], date],
    beyond_home: bool = False,
    new_address: bool = False,
) -> None:
    """Serve the page of a season at `host` (None: this computer's address on the local network)
    for `minutes`, more than 0 and at most 240, or until Ctrl-C.

    `day` tells the day whenever it is asked. The plan is worked out anew in this thread after what
    was noted, while others answer. Raises SeasonError for faults in the season's files, Failure
    for anything else.
    """
    if not 0 < minutes <= LONGEST_MINUTES:
        raise Failure(f"--minutes must be more than 0 and at most {LONGEST_MINUTES:g}.", 2)
    place = host or own_address()
    if not beyond_home:
        refuse_beyond_home(place)
    load(season, day())  # the warnings of the files, told once
    with only_one(season):
        pond = Pond(season, PondMemory(season, new_address=new_address), day)
        pond.memory.sweep()
        pond.photos.sweep()
        pond.plan_anew()
        memory = pond.memory
        with serving(
            pond, memory.token, place, port, wanted=memory.port, beyond_home=beyond_home
        ) as address:
            # Ctrl-C is how a keeper stops it: from the first line on, and whatever is being done.
            clock = threading.Timer(minutes * 60, pond.wishes.put, (STOP,))
            clock.daemon = True
            try:
                memory.keep_port(int(address.split("/")[2].rpartition(":")[2]))
                _introduce(address, minutes, photos=pond.photos.readable)
                clock.start()
                pond.follow()
            except KeyboardInterrupt:
                typer.echo("")
            finally:
                clock.cancel()
    typer.echo(words.STOPPED)


def _introduce(address: str, minutes: float, *, photos: bool) -> None:
    coloured = sys.stdout.isatty() and not os.environ.get("NO_COLOR")
    for line in (*qr_lines(address, coloured=coloured), "", address, ""):
        typer.echo(line)
    for line in words.introduction(minutes):
        typer.echo(line)
    if not photos:
        typer.echo(words.NO_PHOTOS)
    sys.stdout.flush()


class Pond:
    """A season behind the page: its plan as the phone sees it, and the journal a tap goes into."""

    def __init__(self, season: Path, memory: PondMemory, day: Callable[[], date]) -> None:
        self.season, self.memory, self.day = season, memory, day
        self.photos = PondPhotos(season)
        self._last_photos: Mapping[str, str] = {}
        self.wishes: queue.Queue[str] = queue.Queue()
        self._one_at_a_time = threading.Lock()
        self._shown: dict[str, Any] = {}
        self._sessions: Mapping[str, BathSheet | NoBath] = {}
        self._jobs: Collection[str] = ()
        self._number = 0
        self._trouble = ""
        self._planned_for: date | None = None

    def follow(self) -> None:
        """Plan anew whenever something was noted or a day has begun, until told to stop."""
        while True:
            try:
                wish = self.wishes.get(timeout=A_LOOK_AT_THE_DAY)
            except queue.Empty:
                if self.day() == self._planned_for:
                    continue
                wish = PLAN_ANEW
            while not self.wishes.empty() and wish != STOP:  # several taps, one plan
                wish = self.wishes.get()
            if wish == STOP:
                return
            try:
                self.plan_anew()
            except (SeasonError, Failure) as error:
                self._planned_for = self.day()
                self._trouble = str(error)
                self._number += 1

    def plan_anew(self) -> None:
        """Work the plan out as the journal stands. Raises SeasonError, Failure."""
        on = self.day()
        try:
            yard, plan = load_yard_and_plan(self.season, on)
        finally:
            choice_is_over()
        remember(self.season, plan)
        isolation = yard.keeper.isolation
        home = isolation.water if isolation is not None else None
        sessions = [
            PondSession(task, bath)
            for task, bath in zip(sessions_in(plan), baths(yard, plan), strict=True)
            if task.first_day == on
        ]
        self._sessions = {one.task.id: one.bath for one in sessions}
        photos = {one.id: one.photos[-1] for one in yard.fish_here() if one.photos}
        keys = {fish: _photo_key(place) for fish, (_, place) in photos.items()}
        self._last_photos = {keys[fish]: place for fish, (_, place) in photos.items()}
        last = {fish: LastPhoto(keys[fish], when) for fish, (when, _) in photos.items()}
        shown = last if self.photos.readable else None
        self._shown = pond_state(plan, agenda_of(plan), home, sessions, shown)
        self._jobs = frozenset(task.id for task in plan.tasks)
        self._trouble, self._planned_for = "", on
        self._number += 1

    def state(self, seen: int) -> bytes:
        """As `PondKeeper` has it."""
        planning = not self.wishes.empty()
        if seen == self._number:
            told: dict[str, Any] = {"number": seen, "same": True, "planning": planning}
        else:
            more = {"number": self._number, "planning": planning, "trouble": self._trouble}
            told = {**self._shown, **more}
        return json.dumps(told, ensure_ascii=False).encode()

    def photo(self, key: str) -> bytes | None:
        """As `PondKeeper` has it: the last of a fish, that the journal names."""
        place = self._last_photos.get(key)
        return self.photos.shown(place) if place is not None else None

    def take(self, tap: Tap) -> Mapping[str, object]:
        """As `PondKeeper` has it: one tap after the other, through the checks of `note`.

        A look whose photo cannot be kept is noted without it, and says so.
        """
        picture, lost = b"", ""
        if tap.photo and self.memory.how(tap.id) != "done":
            try:
                picture = self.photos.picture(tap.photo)
            except Failure as error:
                lost = str(error)
        with self._one_at_a_time:
            before, place = self.memory.how(tap.id), ""
            if before == "done":
                return {"ok": True, "told": words.DONE_ALREADY}
            if tap.on > self.day():
                return _refused(words.AHEAD.format(day=spoken(tap.on)))
            try:
                if before is None:
                    self.memory.keep(tap.id, "begun")
                if picture:
                    place, lost = self._kept(tap, picture)
                told, mind = self._written(tap, place)
            except SeasonError as error:
                self._not_kept(place)
                return _refused(str(error), again=True)
            except Failure as error:
                # The program was killed in this tap, after the journal was written.
                if before == "begun" and error.codes & WRITTEN_ALREADY:
                    told, mind = words.DONE_ALREADY, ()
                else:
                    self._not_kept(place)
                    if error.status == 2:
                        self.memory.forget(tap.id)
                    return _refused(words.for_phone(str(error)), again=error.status != 2)
            self.memory.keep(tap.id, "done")
            self.wishes.put(PLAN_ANEW)
        return {"ok": True, "told": told, "mind": [*([lost] if lost else []), *mind]}

    def confirm(self, read: Mapping[str, str]) -> Mapping[str, object]:
        """As `PondKeeper` has it."""
        sheet = self._sessions.get(read["job"])
        if not isinstance(sheet, BathSheet) or sheet.refused:
            return _refused(words.NO_SESSION)
        ask, litres = sheet.ask, read["litres"].strip()
        if ask.units != "metric" and litres.replace(".", "", 1).isdigit():
            litres += " gal"
        given = {
            "agent": ask.agent,
            "units": ask.units,
            "litres": litres,
            "target_mg_per_l": read["target"].strip(),
        }
        if ask.strength is not None:
            percent = ask.strength.percent_v_v is not None
            key = "strength_percent" if percent else "strength_mg_per_ml"
            given[key] = read["strength"].strip()
        try:
            read_afresh({key: one for key, one in given.items() if one}, sheet.check_word)
        except Failure as error:
            return _refused(words.for_phone(str(error)))
        return {"ok": True, "word": sheet.check_word, **dose_of(sheet)}

    def _kept(self, tap: Tap, picture: bytes) -> tuple[str, str]:
        """The photo's place in the season, or why there is none. Raises Failure where the phone
        should send it again."""
        try:
            return self.photos.keep(tap.photo, picture, tap.fish[0], tap.on), ""
        except Failure as error:
            if error.status != 2:
                raise
            return "", str(error)

    def _not_kept(self, place: str) -> None:
        if place:
            self.photos.take_away(place)

    def _written(self, tap: Tap, photo: str) -> tuple[str, Sequence[str]]:
        """What was written down, and what the keeper should know at once."""
        given = {"on": tap.on.isoformat(), **tap.given, **({"photo": photo} if photo else {})}
        season, entries = note.written(
            self.season, given, tap.fish, self.day(), undo=tap.undo, jobs=self._jobs
        )
        figures = season.keeper.figures
        speaker = Speaker(
            units=season.keeper.units,
            fish={name: fish.name for name, fish in season.fish.items()},
            shows={name: show.name for name, show in season.shows.items()},
        )
        found = dict.fromkeys(one for entry in entries for one in advice(entry, figures))
        worse = any(entry.note == words.WORSE_NOTE for entry in entries) and not tap.undo
        mind = [*speaker.texts(found), *([words.WORSE] if worse else [])]
        return words.noted_text(speaker, entries, season.keeper.units), mind


def _photo_key(place: str) -> str:
    return hashlib.sha256(place.encode()).hexdigest()[:16]


def _refused(why: str, *, again: bool = False) -> Mapping[str, object]:
    """`again`: the phone keeps the tap, for it is no fault of what was tapped."""
    return {"ok": False, "refused": why, "again": again}
