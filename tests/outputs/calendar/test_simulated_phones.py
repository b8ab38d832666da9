"""Invented seasons that are published again and again, while people use the calendar on phones.

Each step is one that happens: the plan changes, a job is noted, moved, ticked, deleted, copied or
coloured on a phone, another computer publishes, the ledger is lost or an older one put back, a run
is killed. What the calendar holds is read back by another library after every run, and compared
with the plan here, by rules of the test's own: no job is stale, a ghost or there twice without
being named, the count in the last line is true, and the keeper's own words stay.
"""

from __future__ import annotations

import random
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from icalendar import Calendar
from msgspec.structs import replace

from showprep.outputs.calendar.export import export_calendar
from showprep.outputs.calendar.jobs import jobs_of
from showprep.outputs.calendar.ledger import LedgerRow, ledger_path
from showprep.outputs.server.connection import Answer, Server
from showprep.outputs.server.publish import PublishReport
from showprep.outputs.server.whose import ledger_of
from showprep.planning.plan import Plan
from tests.outputs.calendar.importers import (
    Store,
    by_sequence,
    feed,
    newer_last_modified,
    shown,
)
from tests.outputs.calendar.server_yard import Radicale, Yard, moved, noted, ticked
from tests.storms import rounds

STEPS = 20
FIRST_DAY = date(2027, 3, 1)


class Killed(BaseException):
    """The process is gone."""


@dataclass
class Changing:
    """A season whose plan changes: jobs come, move, get other words, go, and are done."""

    build: Any
    chance: random.Random
    jobs: dict[int, dict[str, Any]] = field(default_factory=dict)
    done: dict[str, date] = field(default_factory=dict)
    day: int = 0

    def plan(self) -> Plan:
        tasks = []
        for number, about in self.jobs.items():
            values = {name: value for name, value in about.items() if name != "timed"}
            make = self.build.timed if about["timed"] else self.build.task
            tasks.append(make(number, **values))
        planned_on = FIRST_DAY + timedelta(days=self.day)
        plan: Plan = self.build.plan(tasks, planned_on=planned_on, identity="c" * 32)
        return plan

    def add(self) -> None:
        number = len(self.jobs) + len(self.done) + self.chance.randrange(1000)
        if number in self.jobs or f"larkfield/job-{number}" in self.done:
            return
        self.jobs[number] = {"timed": self.chance.random() < 0.4, **self._when()}
        if self.jobs[number].pop("timed"):
            self.jobs[number] = {"timed": True, **self._when(timed=True)}
        else:
            self.jobs[number]["timed"] = False

    def _when(self, *, timed: bool = False) -> dict[str, Any]:
        day = date(2027, 4, 1) + timedelta(days=self.chance.randrange(150))
        if not timed:
            return {"start": day, "end": day + timedelta(days=self.chance.randrange(3))}
        start = datetime(day.year, day.month, day.day, self.chance.randrange(24), 15, tzinfo=UTC)
        return {"start": start, "end": start + timedelta(hours=2)}

    def change(self) -> None:
        if self.jobs:
            about = self.jobs[self.chance.choice(sorted(self.jobs))]
            if self.chance.random() < 0.6:
                about.update(self._when(timed=about["timed"]))
            else:
                about["note"] = f"Other words {self.chance.randrange(9)}."

    def drop(self) -> None:
        if self.jobs:
            self.jobs.pop(self.chance.choice(sorted(self.jobs)))

    def do(self) -> None:
        if self.jobs:
            number = self.chance.choice(sorted(self.jobs))
            self.jobs.pop(number)
            self.done[f"larkfield/job-{number}"] = FIRST_DAY + timedelta(days=self.day)

    def done_on(self, row: LedgerRow) -> date | None:
        return self.done.get(row.task or "")


@dataclass
class Simulated(Changing):
    """Such a season, with two computers and a calendar on a server."""

    yard: Yard = field(kw_only=True)
    folders: list[Path] = field(kw_only=True)
    older: list[tuple[Path, bytes]] = field(default_factory=list)
    ours: set[str] = field(default_factory=set)  # every name ever given
    words: dict[str, str] = field(default_factory=dict)
    copies: int = 0
    computer: int = 0
    said: list[str] = field(default_factory=list)

    # What happens on phones

    def touch(self) -> None:
        there = sorted(uid for uid in self.yard.there() if uid in self.ours)
        if not there:
            return
        uid, what = self.chance.choice(there), self.chance.randrange(6)
        path = f"{self.yard.path}{uid}.ics"
        if what == 0:
            self.words[uid] = f"Seen by the keeper {len(self.said)}."
            self.yard.edit(uid, lambda event: noted(event, self.words[uid]))
        elif what == 1:
            self.yard.edit(uid, lambda event: moved(event, self.chance.choice((-3, 2, 9))))
        elif what == 2:
            self.yard.edit(uid, ticked)
        elif what == 3:
            self.yard.radicale.ask("DELETE", path)
            self.words.pop(uid, None)
        elif what == 4:
            self.copies += 1
            _, data = self.yard.radicale.ask("GET", path)
            name = f"copy-{self.copies}"
            self.yard.put(f"{self.yard.path}{name}.ics", data.replace(uid.encode(), name.encode()))
        else:
            self.yard.edit(uid, lambda event: event.add("COLOR", "teal"))
        self.said.append(f"touched {uid[:8]} {what}")

    # What happens to computers

    def other_computer(self) -> None:
        self.computer = 1 - self.computer

    def lose(self) -> None:
        self._ledger().unlink(missing_ok=True)

    def put_back(self) -> None:
        if self.older:
            path, data = self.chance.choice(self.older)
            path.write_bytes(data)

    def _ledger(self) -> Path:
        folder = self.folders[self.computer]
        return ledger_of(folder, self.yard.address, "hana", "c" * 32)

    def publish(self, **told: Any) -> PublishReport:
        self.yard.ledger = path = self._ledger()
        if path.exists():
            self.older.append((path, path.read_bytes()))
        if self.chance.random() < 0.25:
            try:
                self._published(self.yard.server(dying(self.chance.randrange(12))), **told)
            except Killed:
                self.said.append("killed")
        return self._published(None, **told)

    def _published(self, server: Server | None, **told: Any) -> PublishReport:
        plan = self.plan()
        self.ours |= {job.uid for job in jobs_of(plan, plan.tasks)}
        return self.yard.publish(plan, server, done_on=self.done_on, **told)

    # What must be so

    def check(self, report: PublishReport) -> None:
        plan, there = self.plan(), self.yard.there()
        planned = {job.uid: job for job in jobs_of(plan, plan.tasks)}
        named = {step.uid for step in report.comparison.steps if step.kind == "leave"}
        differ = []
        for uid, job in planned.items():
            event = there.get(uid)
            same = event is not None and (
                str(event["SUMMARY"]),
                instant(event["DTSTART"].dt),
                instant(event["DTEND"].dt),
            ) == (job.summary, instant(job.start), instant(job.end))
            if not same:
                differ.append(uid)
            assert same or uid in named, f"{job.summary} is stale and not named"
            if same and event is not None:
                assert str(event["DESCRIPTION"]).startswith(job.description)
                words = self.words.get(uid, "")
                assert words in str(event["DESCRIPTION"]), "the keeper's words are lost"
        for uid, event in there.items():
            title = str(event["SUMMARY"])
            if uid in self.ours and uid not in planned and "Done: " not in title:
                differ.append(uid)
                assert uid in named, f"{title} is a ghost and not named"
        titles = {(job.summary, first_day(job.start)) for job in planned.values()}
        differ += [
            f"copy: {copy.title}"
            for copy in report.comparison.copies
            if (copy.title.removeprefix("✓ "), copy.day) not in titles
        ]
        told = [step.uid for step in report.comparison.steps if step.kind == "leave"]
        told += [f"copy: {copy.title}" for copy in report.comparison.stale]
        assert sorted(told) == sorted(differ)
        assert report.differ(went=True) == len(told)
        assert not report.refused
        self.yard.ledger = self._ledger()
        assert not self.yard.publish(plan, go=False, done_on=self.done_on).notes, "told again"


def instant(moment: Any) -> Any:
    return moment.astimezone(UTC) if isinstance(moment, datetime) else moment


def first_day(moment: Any) -> date:
    return moment.date() if isinstance(moment, datetime) else moment


def dying(after: int) -> Any:
    class Dying(Server):
        left = after

        def ask(self, *arguments: Any) -> Answer:
            type(self).left -= 1
            if self.left < 0:
                raise Killed
            return Server.ask(self, *arguments)

    return Dying


@pytest.mark.parametrize("number", rounds(1, 100))
def test_a_season_of_changes(
    number: int, radicale: Radicale, tmp_path: Path, now: Any, build: Any
) -> None:
    chance = random.Random(f"a calendar on a phone {number}")
    folders = [tmp_path / name for name in ("first", "second")]
    for folder in folders:
        (folder / ".showprep").mkdir(parents=True)
    yard = Yard(radicale, folders[0], now, build)
    season = Simulated(build, chance, yard=yard, folders=folders)
    for _ in range(5):
        season.add()
    season.check(season.publish())
    happens = [season.add, season.change, season.change, season.drop, season.do]
    happens += [season.touch] * 5 + [season.other_computer, season.lose, season.put_back]
    for _ in range(STEPS):
        season.day += chance.randrange(3)
        for one in chance.choices(happens, k=chance.randrange(1, 4)):
            season.said.append(one.__name__)
            one()
        report = season.publish()
        season.check(report)
        left = [step for step in report.comparison.steps if step.kind == "leave" and step.task]
        if left and chance.random() < 0.4:
            step = chance.choice(left)
            way = chance.choice(("keep_plan", "keep_phone"))
            season.said.append(f"{way} {step.uid[:8]}")
            season.check(season.publish(**{way: [step.uid]}))


@dataclass
class Files(Changing):
    """The same season as files in a folder that two computers share: one to subscribe to, one to
    import by hand. The sharing loses the ledger at times, sets it back, or sets the file back."""

    folder: Path = field(kw_only=True)
    stores: dict[str, Store] = field(default_factory=lambda: {one: {} for one in TAKES})
    older: list[dict[Path, bytes]] = field(default_factory=list)
    lost: set[str] = field(default_factory=set)  # of these no importer can be told that they go
    step: int = 0
    set_back: bool = False  # since the last writing

    def keep(self) -> None:
        self.older.append({path: path.read_bytes() for path in self.folder.iterdir()})

    def lose(self) -> None:
        for path in self.folder.glob("*.ledger.json"):
            path.unlink()
        self.forget()

    def put_back(self) -> None:
        """One of the two: a file set back with its own ledger cannot be told from a new one."""
        if self.set_back:
            return
        self.set_back = True
        which = self.chance.choice((".json", ".ics"))
        for path, data in self.chance.choice(self.older).items():
            if path.suffix == which:
                path.write_bytes(data)
        self.forget()

    def copy_over(self) -> None:
        """The ledger of the one file in place of the other's."""
        one, other = (ledger_path(self.folder / name) for name in ("feed.ics", "import.ics"))
        if one.exists():
            other.write_bytes(one.read_bytes())
        self.forget()

    def forget(self) -> None:
        self.lost |= {uid for store in self.stores.values() for uid in store}

    def write(self, now: datetime) -> None:
        plan = self.plan()
        self.step, self.set_back = self.step + 1, False
        for name, purpose in (("feed.ics", "subscribe"), ("import.ics", "import")):
            export_calendar(
                plan,
                self.folder / name,
                now=now + timedelta(days=self.day, minutes=self.step),
                purpose=purpose,  # type: ignore[arg-type]
                done_on=self.done_on,
            )
        self.keep()
        planned = self.build.to_be_seen(plan)
        for who, (name, take) in TAKES.items():
            take(self.stores[who], self.build.events(self.folder / name))
            left = shown(self.stores[who])
            for uid, seen in planned.items():
                assert left[uid][2:] == (seen.summary, seen.description), f"stale: {who}"
                assert instant(left[uid][0]) == instant(seen.start), f"stale: {who}"
            ghosts = {
                uid
                for uid, event in left.items()
                if uid not in planned and not event[2].startswith("Done: ")
            }
            if take is not feed:
                ghosts = {
                    uid
                    for uid in ghosts - self.lost
                    if first_day(left[uid][1]) > plan.planned_on  # one that is over stays as it is
                }
            assert not ghosts, f"{who}: {[left[uid][2] for uid in ghosts]}"


TAKES = {
    "subscribes": ("feed.ics", feed),
    "imports, by sequence": ("import.ics", by_sequence),
    "imports, by last change": ("import.ics", newer_last_modified),
    "imports what is there": ("import.ics", feed),
}


@pytest.mark.parametrize("number", rounds(2, 100))
def test_a_season_of_changed_files(number: int, tmp_path: Path, now: Any, build: Any) -> None:
    season = Files(build, random.Random(f"files on a phone {number}"), folder=tmp_path)
    for _ in range(5):
        season.add()
    season.write(now)
    happens = [season.add, season.change, season.change, season.drop, season.do]
    happens += [season.lose, season.put_back, season.copy_over]
    for _ in range(STEPS):
        season.day += season.chance.randrange(3)
        for one in season.chance.choices(happens, k=season.chance.randrange(1, 4)):
            one()
        season.write(now)


def test_every_event_is_read_by_another_library(yard: Yard, build: Any) -> None:
    """The mark is no hindrance: what a reader sees is what the plan says."""
    plan = replace(build.random_plan(7, 12, hostile=False), identity="c" * 32)
    yard.publish(plan)
    _, data = yard.radicale.ask("GET", yard.path)
    assert len(Calendar.from_ical(data).walk("VEVENT")) == 12
    assert yard.holds(plan)
