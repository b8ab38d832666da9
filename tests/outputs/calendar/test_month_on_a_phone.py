"""A busy month of a season, kept with the phone alone, beside its twin kept at the computer.

On the phone the keeper reads the calendar and nothing else, ticks what is due there (in all the
ways that people tick), moves a touch-up, writes into jobs, deletes one, and taps looks, lengths,
readings and where a touched-up fish went into the page beside the pond, and takes a wrong tap back;
at the computer `collect --go` and `publish --go` run by themselves, but for the days on which it is
off, and what was deleted is answered there. The twin writes the same with `note`. Whenever it was
collected, both plans must be the same, nothing ticked may be lost, doubled or late, and the
calendar must hold the plan or name what differs.

The yards are the samples. From kit to journey of one by default, whole seasons of both, many times,
with SHOWPREP_STORMS=full.
"""

from __future__ import annotations

import http.client
import io
import json
import random
import shutil
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import redirect_stderr, redirect_stdout
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, time, timedelta
from pathlib import Path
from typing import Any

import pytest
import yaml
from icalendar import Calendar, Todo
from msgspec.structs import replace

from showprep.commands import collect, loading, note, publish
from showprep.commands.loading import load_yard_and_plan
from showprep.commands.pondside import Pond
from showprep.husbandry.pace import learn
from showprep.outputs.calendar.identity import uid_of
from showprep.outputs.calendar.jobs import jobs_of
from showprep.outputs.calendar.season_identity import known_identity
from showprep.outputs.failure import Failure
from showprep.outputs.home.pond_memory import PondMemory
from showprep.outputs.home.pond_server import serving
from showprep.outputs.json_plan import plan_json
from showprep.outputs.remembered import remembered
from showprep.outputs.server.shown import without_tick
from showprep.planning import season_plan
from showprep.planning.jobs.done_by import MEASURED, RAMPS, SEEN
from showprep.planning.plan import Plan, Task
from showprep.planning.yard import own_pace
from showprep.season.reading import read_season
from tests.outputs.calendar.server_yard import Radicale, moved, noted
from tests.storms import FULL, rounds, storm

SAMPLES = Path(__file__).resolve().parents[3] / "samples"
LAST_PLAN = Path(".showprep") / "plan.json"
DAY = timedelta(days=1)
DELETED = ("touch-up-kit", "pack", "ring-organiser", "net-practice", "isolation-ready")
TICKS = ("✓ ", "✔", "☑ ", "x ", "X ", "completed", "task")
STANDING = ("stop-feeding", "no-food", "feed-again", "feed-half", "feed-quarter",
            "colour-food-stop", "unfed-before-touch-up", *RAMPS)  # fmt: skip


@dataclass(frozen=True)
class Stretch:
    """A sample, the days of it that are played, and the water of it that is read."""

    sample: str
    first: date
    days: int
    pond: str
    keeper: tuple[tuple[str, str], ...] = ()  # what is changed in keeper.yaml

    def __str__(self) -> str:
        return f"{self.sample}-{self.first}{'-vat' if self.keeper else ''}"


COLD = (
    ("[4.5, 4.8, 7.0, 10.0, 14.0, 17.5, 19.5, 19.0, 16.0, 12.0, 8.0, 5.5]",
     "[5, 5, 6, 8, 11, 14, 15, 15, 13, 10, 7, 6]"),
    ("carrying:", "preferences: {heal_in_vat: yes}\ncarrying:"),
)  # fmt: skip
HEALS_IN_VAT = Stretch("first-show", date(2027, 6, 16), storm(13, 34), "main pond", COLD)

STRETCHES = [
    Stretch("first-show", date(2027, 6, 16), 34, "main pond"),
    HEALS_IN_VAT,
    *([Stretch("first-show", date(2027, 6, 1), 48, "main pond")] if FULL else []),
    *([Stretch("first-show", date(2027, 7, 8), 45, "main pond")] if FULL else []),
    *([Stretch("spring-circuit", date(2027, 4, 25), 60, "garden pond")] if FULL else []),
    *([Stretch("spring-circuit", date(2027, 6, 5), 70, "garden pond")] if FULL else []),
]


class Phone:
    """The calendar as one keeper's phone shows it, and the page beside the pond."""

    def __init__(self, radicale: Radicale, path: str, chance: random.Random) -> None:
        self.radicale, self.path, self.chance = radicale, path, chance
        self.tells_when = chance.random() < 0.7  # most write LAST-MODIFIED, not all
        self.edited: dict[str, date] = {}  # the day each was last changed

    def events(self) -> dict[str, Any]:
        status, data = self.radicale.ask("GET", self.path)
        assert status == 200
        found = [e for e in Calendar.from_ical(data).walk() if e.name in ("VEVENT", "VTODO")]
        events = {str(event["UID"]): event for event in found}
        assert len(events) == len(found), "a job is there twice"
        return events

    def edit(self, uid: str, now: datetime, change: Callable[[Any], None]) -> None:
        place = f"{self.path}{uid}.ics"
        calendar = Calendar.from_ical(self.radicale.ask("GET", place)[1])
        (event,) = (one for one in calendar.walk() if one.name in ("VEVENT", "VTODO"))
        event = change(event) or event
        self.edited[uid] = now.date()
        calendar.subcomponents = [event]
        if self.tells_when:
            event.pop("LAST-MODIFIED", None)
            event.add("LAST-MODIFIED", now)
        told = {"Content-Type": "text/calendar"}
        assert self.radicale.ask("PUT", place, calendar.to_ical(), **told)[0] in (201, 204)

    def tick(self, uid: str, now: datetime, how: str) -> None:
        def change(event: Any) -> Any:
            if how not in ("completed", "task"):
                event["SUMMARY"] = f"{how}{event['SUMMARY']}"
                return event
            done = Todo() if how == "task" else event
            for name, value in event.items():
                done["DUE" if name == "DTEND" and how == "task" else name] = value
            done["STATUS"] = "COMPLETED"
            if how == "task" and self.tells_when:
                done.add("COMPLETED", now)
            return done

        self.edit(uid, now, change)


@dataclass
class Page:
    """The page beside the pond, as its scripts ask for it."""

    pond: Pond
    address: str
    taps: int = 0

    def _asked(self, method: str, name: str, body: bytes = b"") -> Any:
        place = self.address.split("/")
        line = http.client.HTTPConnection(place[2], timeout=20)
        head = {"Content-Type": "application/json", "Origin": f"http://{place[2]}"}
        try:
            line.request(method, f"/{place[3]}/{name}", body or None, head if body else {})
            answer = line.getresponse()
            assert answer.status == 200
            return json.loads(answer.read())
        finally:
            line.close()

    def cards(self) -> dict[str, Any]:
        self.pond.plan_anew()
        shown = self._asked("GET", "state")
        return {card["id"]: card for group in shown["groups"] for card in group["cards"]}

    def tap(
        self, on: date, given: Mapping[str, str], fish: Sequence[str], *, undo: bool = False
    ) -> None:
        self.taps += 1
        sent = {"tap": f"month-on-phone-{self.taps:06d}", "on": on.isoformat()}
        sent |= {"given": dict(given), "fish": list(fish), "undo": undo}
        told = self._asked("POST", "tap", json.dumps(sent).encode())
        assert told["ok"], (sent, told)


Told = tuple[dict[str, str], tuple[str, ...]]


@dataclass(frozen=True)
class Note:
    """What the twin writes at the computer."""

    on: date
    given: dict[str, str]
    fish: tuple[str, ...] = ()
    undo: bool = False


def at_the_computer(task: Task, homes: Mapping[str, str]) -> Iterator[Told]:
    """What a keeper notes who has done this job, in the journal's own words."""
    if task.kind in ("to-holding", "move", "into-vat", "vat-back") and task.water:
        yield {"did": "move", "to": task.water}, task.fish
    elif task.kind == "isolation-clear":
        for one in task.fish:
            yield {"did": "move", "to": homes[one]}, (one,)
    elif task.kind in ("stop-feeding", "no-food", "unfed-before-touch-up") and task.water:
        yield {"did": "stop feeding", "water": task.water}, ()
    elif task.kind == "feed-again" and task.water:
        yield {"did": "feed again", "water": task.water}, ()
    elif task.kind == "touch-up":
        yield {"did": "touch-up"}, task.fish
    elif task.kind in ("send-entry", "entries-close") and task.show:
        yield {"did": "sent", "show": task.show}, ()
    elif task.kind == "departure" and task.show:
        yield {"did": "travelled", "show": task.show}, task.fish
    else:
        yield {"did": "job", "job": task.id}, ()


@dataclass
class Month:
    """Two folders of one season, and the keeper who lives with both."""

    phone_folder: Path
    desk_folder: Path
    phone: Phone
    page: Page
    url: str
    chance: random.Random
    today: date
    pond: str  # the water that is read
    homes: Mapping[str, str]  # where each fish lives
    tasks: dict[str, Task] = field(default_factory=dict)  # of the plan published last, by UID
    desk: list[Note] = field(default_factory=list)
    ticked: dict[str, date] = field(default_factory=dict)  # the day it was done on, by job
    words: list[str] = field(default_factory=list)
    moved: set[str] = field(default_factory=set)
    deleted: dict[str, date | None] = field(default_factory=dict)  # by job; None: answered
    cut: dict[str, date] = field(default_factory=dict)  # touched up, by fish
    told_in: dict[str, str] = field(default_factory=dict)  # by words or day: the UID of the job
    seen: set[tuple[object, ...]] = field(default_factory=set)
    said: str = ""

    # By itself at the computer

    def computer(self) -> None:
        now = datetime.combine(self.today, time(5), UTC)
        about = {"season": self.phone_folder, "url": self.url, "user": "hana", "now": now}
        told = io.StringIO()
        with redirect_stdout(told), redirect_stderr(told):
            try:
                collect.run(**about, go=True, today=self.today)
            except Failure as left:
                assert "left open" in str(left), (left, told.getvalue())
            self.collected = told.getvalue()
        self._compare()
        back = self._answered()
        told = io.StringIO()
        with redirect_stdout(told), redirect_stderr(told):
            try:
                publish.run(
                    **about,
                    go=True,
                    on=self.today,
                    overwrite=False,
                    keep_password=False,
                    keep_plan=back,
                )
            except Failure as differs:
                told.write(str(differs))
                assert "differ" in str(differs), (differs, told.getvalue())
        self.said = told.getvalue()
        self._calendar_holds_the_plan()

    def _desk_plan(self) -> Plan:
        for one in self.desk:
            on, given, fish = one.on, one.given, one.fish
            if "touch_up_on" in given and not self.phone.tells_when:
                on = self.today  # it is known from the day on which it was collected
            uid = self.told_in.pop(given.get("note", given.get("touch_up_on", "")), None)
            if uid is not None and self.phone.tells_when:
                on = self.phone.edited[uid]  # a phone tells of its last change alone
            jobs = {given["job"]} if "job" in given else None  # it was planned when it was done
            said = {"on": min(on, self.today).isoformat(), **given}
            note.written(self.desk_folder, said, fish, self.today, jobs=jobs, undo=one.undo)
        self.desk.clear()
        _, plan = load_yard_and_plan(self.desk_folder, self.today)
        return plan

    def _compare(self) -> None:
        _, of_phone = load_yard_and_plan(self.phone_folder, self.today)
        # What each remembers of the plan before is the same: it is the journals that are compared.
        shutil.copy(self.phone_folder / LAST_PLAN, self.desk_folder / LAST_PLAN)
        of_desk = self._desk_plan()
        one, other = plan_json(of_phone), plan_json(of_desk)
        diff = list(different(one, other))
        assert not diff, f"{self.today}:\n" + "\n".join(diff[:12]) + f"\n{self.collected}"
        standing = {task.id for task in of_phone.tasks if task.kind not in STANDING}
        lost = self.ticked.keys() & standing
        assert not lost, f"{self.today}: ticked, and not done: {lost}\n{self.collected}"
        written = journal(self.phone_folder)
        count = Counter(str(sorted(one.items())) for one in written if "undone" not in one)
        count.subtract(
            str(sorted((key, value) for key, value in one.items() if key != "undone"))
            for one in written
            if "undone" in one
        )
        twice = [key for key, times in count.items() if times > 1]
        assert not twice, f"{self.today}: {twice}"

    def _calendar_holds_the_plan(self) -> None:
        _, plan = load_yard_and_plan(self.phone_folder, self.today)
        identity = known_identity(self.phone_folder)
        plan = replace(plan, identity=identity)
        there = self.phone.events()
        self.tasks = {uid_of(task.id, identity): task for task in plan.tasks}
        titles = [str(event["SUMMARY"]) for event in there.values()]
        assert not [title for title in titles if title.count("Done: ") > 1]
        for job in jobs_of(plan, plan.tasks):
            event = there.get(job.uid)
            same = event is not None and (
                str(event["SUMMARY"]) == job.summary
                and instant(event.start) == instant(job.start)
                and instant(event.end) == instant(job.end)
                and str(event["DESCRIPTION"]).startswith(job.description)
            )
            goes_on = (
                event is not None
                and job.about.kind in STANDING
                and job.about.task in self.ticked
                and without_tick(str(event["SUMMARY"])) == job.summary
            )
            named = job.summary in self.said
            told = f"{self.today}: {job.summary} is stale and not named\n{self.said}"
            assert same or goes_on or named, told

    # By the keeper

    def live(self) -> None:
        """One day with the phone."""
        evening = datetime.combine(self.today, time(19), UTC)
        events = self.phone.events()
        for uid, event in sorted(events.items()):
            first, last = days_of(event)
            title = str(event["SUMMARY"])
            task = self.tasks.get(uid)
            if task is None or title.startswith("Done: ") or task.id in self.ticked:
                continue
            if first <= self.today and not title.startswith(TICKS):
                self._due(uid, task, first, last, evening)
        self._what_is_late(events, evening)
        self._move_a_touch_up(evening)
        self._write_into_a_job(events, evening)
        self._delete_a_job(events)
        self._at_the_pond()

    def _what_is_late(self, events: Mapping[str, Any], now: datetime) -> None:
        """A tick of several in one event tells nothing; that of one alone, that it was done."""
        uid = uid_of("late", known_identity(self.phone_folder))
        event = events.get(uid)
        late = [task for task in self.tasks.values() if task.late]
        if (
            event is None
            or self.chance.random() < 0.5
            or not str(event["SUMMARY"]).startswith("Late")
        ):
            return
        if len(late) == 1 and late[0].kind not in SEEN | MEASURED:
            if late[0].id in self.ticked or days_of(event)[0] != self.today:
                return
            self._done(late[0])
        self.phone.tick(uid, now, self.chance.choice(TICKS))

    def _due(self, uid: str, task: Task, first: date, last: date, now: datetime) -> None:
        if task.kind in SEEN or task.kind in MEASURED:
            return  # at the pond
        if task.kind in STANDING and self.today > first:
            return  # what has begun goes on
        if task.kind == "into-vat" and not set(task.fish) <= self.cut.keys():
            return  # touched up first
        wait = self.chance.random()
        if wait < 0.25 and self.today < last:
            return
        if wait < 0.05:
            return  # forgotten: it will be late
        if wait > 0.85 and task.kind != "touch-up" and self._tapped(task):
            return
        if self.today > last:  # done later than it stands there: first put on its day, then ticked
            self.phone.edit(uid, now, lambda event: moved(event, (self.today - first).days))
        self._day_not_told(uid)
        self.phone.tick(uid, now, self.chance.choice(TICKS))
        self._done(task)

    def _day_not_told(self, uid: str) -> None:
        """Ticked before anybody collected that it was moved, it tells that it was done alone."""
        days = [
            one for one in self.desk if self.told_in.get(one.given.get("touch_up_on", "")) == uid
        ]
        for one in days:
            self.desk.remove(one)
            del self.told_in[one.given["touch_up_on"]]

    def _done(self, task: Task) -> None:
        self.ticked[task.id] = self.today
        if task.kind == "touch-up":
            self.cut |= dict.fromkeys(task.fish, self.today)
        # A fish is put into the vat on the day of its touch-up, however late that is told.
        on = task.first_day if task.kind == "into-vat" and task.late else self.today
        self.desk += [Note(on, given, fish) for given, fish in at_the_computer(task, self.homes)]

    def _tapped(self, task: Task) -> bool:
        card = self.page.cards().get(task.id)
        if card is None:
            return False
        if task.kind == "into-vat":
            return self._where_it_went(task, card)
        for row in card["rows"]:
            for button in row["buttons"]:
                self.page.tap(self.today, button["given"], button["fish"])
        self._done(task)
        return True

    def _at_the_pond(self) -> None:
        due = [task for task in self.tasks.values() if task.first_day <= self.today]
        there = [task for task in due if task.late or task.kind in SEEN | MEASURED]
        cards = self.page.cards() if there else {}
        for task in there:
            card = cards.get(task.id)
            if card is None:
                continue
            if task.kind in SEEN or task.kind in MEASURED:
                for row in card["rows"]:
                    self._answer(task, row)
            elif card["late"] and task.id not in self.ticked and task.kind != "touch-up":
                self._tapped(task)
        if self.today.toordinal() % 5 == 0:
            c = 17 + self.chance.randrange(0, 30) / 10
            if self.chance.random() < 0.3:
                self._taken_back({"water": self.pond, "read_c": f"{c + 5}"}, ())
            self._both({"water": self.pond, "read_c": f"{c}"}, ())

    def _where_it_went(self, task: Task, card: Mapping[str, Any]) -> bool:
        """Into the vat, or it stayed: sometimes the wrong one is tapped first, and taken back."""
        ((first, *others),) = [row["buttons"] for row in card["rows"]]
        right = first
        if others and self.chance.random() < 0.4:
            (right,) = others
        if others and self.chance.random() < 0.4:
            wrong = next(one for one in (first, *others) if one is not right)
            self._taken_back(wrong["given"], wrong["fish"])
        self._both(right["given"], right["fish"])
        self.ticked[task.id] = self.today
        return True

    def _both(self, given: Mapping[str, str], fish: Sequence[str], *, undo: bool = False) -> None:
        self.page.tap(self.today, given, fish, undo=undo)
        self.desk.append(Note(self.today, dict(given), tuple(fish), undo))

    def _taken_back(self, given: Mapping[str, str], fish: Sequence[str]) -> None:
        self._both(given, fish)
        self._both(given, fish, undo=True)

    def _answer(self, task: Task, row: Mapping[str, Any]) -> None:
        if self.chance.random() < 0.2 and self.today < task.last_day:
            return
        fish = list(row.get("fish") or (row["buttons"][0]["fish"] if row["buttons"] else ()))
        if row.get("field") == "length":
            self._both({"measured_cm": f"{self._length(fish[0])}"}, fish)
        elif row.get("field") == "result":
            self._both({**row["given"], "result": "second"}, fish)
        elif row["buttons"]:
            labels = {button["label"]: button for button in row["buttons"]}
            if "Clean" in labels:
                young = self.today - self.cut.get(fish[0], self.today) < 14 * DAY
                wanted = "Not yet" if young else "Clean"
            else:
                wanted = "No parasites"
            told = (self.today, wanted, *fish)
            if told not in self.seen:  # one look at a fish is enough for two shows
                self.seen.add(told)
                self._both(labels[wanted]["given"], fish)

    def _length(self, fish: str) -> float:
        _, plan = load_yard_and_plan(self.desk_folder, self.today)
        return next(one.length_cm for one in plan.fish if one.id == fish) or 50.0

    def _move_a_touch_up(self, now: datetime) -> None:
        for uid, task in sorted(self.tasks.items()):
            near = DAY <= task.first_day - self.today <= 10 * DAY
            if task.kind != "touch-up" or not near or task.id in self.moved:
                continue
            self.moved.add(task.id)
            if self.chance.random() < 0.5:
                by = self.chance.choice((1, 7))
                self.phone.edit(uid, now, lambda event, by=by: moved(event, by))
                to = task.first_day + by * DAY
                given = {"touch_up_on": to.isoformat()}
                self.told_in[to.isoformat()] = uid
                about = {"show": task.show} if task.show else {}
                self.desk.append(Note(self.today, given | about, task.fish))

    def _write_into_a_job(self, events: Mapping[str, Any], now: datetime) -> None:
        open_ = sorted(uid for uid in events if uid in self.tasks)
        if open_ and self.chance.random() < 0.15:
            uid, words = self.chance.choice(open_), f"Seen by the keeper, {len(self.words)}."
            self.phone.edit(uid, now, lambda event: noted(event, words))
            self.words.append(words)
            self.told_in[words] = uid
            fish, day = self.tasks[uid].fish, days_of(events[uid])[0]
            on = self.today if self.phone.tells_when else day  # or when collected, if that is first
            self.desk.append(Note(on, {"note": words}, fish if len(fish) == 1 else ()))

    def _delete_a_job(self, events: Mapping[str, Any]) -> None:
        """One that is still to come: by mistake, or because it is done already."""
        open_ = sorted(
            uid
            for uid, task in self.tasks.items()
            if uid in events and task.kind in DELETED and task.first_day > self.today
            and task.id not in self.ticked | self.deleted
        )  # fmt: skip
        if open_ and self.chance.random() < 0.1:
            uid = self.chance.choice(open_)
            self.deleted[self.tasks[uid].id] = self.today
            assert self.phone.radicale.ask("DELETE", f"{self.phone.path}{uid}.ics")[0] in (200, 204)

    def _answered(self) -> tuple[str, ...]:
        """Of what was deleted: what is noted as done, and the ids of what is put back.

        Left open it stays for some days, and is named every time.
        """
        back = []
        for task_id, on in sorted(self.deleted.items()):
            if on is None or self.chance.random() < 0.5:
                continue
            planned = {task.id for task in self.tasks.values()}
            if task_id not in planned:
                continue
            self.deleted[task_id] = None
            if self.chance.random() < 0.5:
                back.append(task_id)
                continue
            self.ticked[task_id] = self.today
            given = {"did": "job", "job": task_id}
            said = {**given, "on": self.today.isoformat()}
            note.written(self.phone_folder, said, (), self.today, jobs={task_id})
            self.desk.append(Note(self.today, given))
        return tuple(back)


def instant(moment: Any) -> Any:
    return moment.astimezone(UTC) if isinstance(moment, datetime) else moment


def days_of(event: Any) -> tuple[date, date]:
    start, end = event.start, event.end
    if isinstance(start, datetime):
        return start.date(), end.date()
    return start, end - DAY


def journal_bytes(folder: Path) -> bytes:
    return (folder / "journal.yaml").read_bytes()


def journal(folder: Path) -> list[dict[str, str]]:
    path = folder / "journal.yaml"
    text = path.read_text("utf-8") if path.exists() else ""
    return yaml.load(text, Loader=yaml.BaseLoader) or []


def different(one: Any, other: Any, where: str = "") -> Iterator[str]:
    """Where two answers of `plan --json` are not the same."""
    if isinstance(one, dict) and isinstance(other, dict):
        for key in sorted(one.keys() | other.keys()):
            yield from different(one.get(key), other.get(key), f"{where}/{key}")
    elif isinstance(one, list) and isinstance(other, list):
        ids = [
            {(row.get("id") or f"{row.get('fish')}-{row.get('show')}"): row for row in rows}
            if all(isinstance(row, dict) for row in rows)
            else dict(enumerate(rows))
            for rows in (one, other)
        ]
        if any(len(rows) != len(found) for rows, found in zip((one, other), ids, strict=True)):
            ids = [dict(enumerate(one)), dict(enumerate(other))]
        yield from different(
            {str(key): row for key, row in ids[0].items()},
            {str(key): row for key, row in ids[1].items()},
            where,
        )
    elif one != other:
        yield f"{where}: on the phone {one!r}, at the computer {other!r}"


@pytest.fixture
def planned_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """What is worked out of the same files on the same day, or of the same looks, is worked out
    once; which look would tell most, which takes as long as all else, is left out."""
    known: dict[tuple[object, ...], Any] = {}
    plan_of = loading.plan_of

    def remembering(season: Any, folder: Path, on: date, *more: Any) -> Any:
        last = repr(remembered(folder, on))
        key = (folder, on, (folder / "journal.yaml").exists() and journal_bytes(folder), last)
        if key not in known:
            known[key] = plan_of(season, folder, on, *more)
        return known[key]

    paces: dict[tuple[str, str], Any] = {}

    def learning(table: Any, looks: Iterable[Any]) -> Any:
        seen = tuple(looks)
        key = (repr(table), repr(seen))
        if key not in paces:
            paces[key] = learn(table, seen)
        return paces[key]

    monkeypatch.setattr(own_pace, "learn", learning)
    monkeypatch.setattr(loading, "plan_of", remembering)
    monkeypatch.setattr(season_plan, "tells_most", lambda *given: ())


@pytest.mark.usefixtures("planned_once")
@pytest.mark.parametrize("number", rounds(1, 4))
@pytest.mark.parametrize("stretch", STRETCHES, ids=str)
def test_a_month_with_the_phone_alone(
    number: int,
    stretch: Stretch,
    radicale: Radicale,
    tmp_path: Path,
    outside: Any,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    outside.module("waitress")
    monkeypatch.setenv("SHOWPREP_PASSWORD", "pond water")
    folders = [tmp_path / where / stretch.sample for where in ("phone", "desk")]
    for folder in folders:
        shutil.copytree(SAMPLES / stretch.sample, folder)
        (folder / LAST_PLAN).parent.mkdir(exist_ok=True)
        file = folder / "keeper.yaml"
        for old, new in stretch.keeper:
            assert old in file.read_text("utf-8")
            file.write_text(file.read_text("utf-8").replace(old, new), "utf-8")
    files = read_season(folders[1], stretch.first)
    chance = random.Random(f"a month on a phone {number}")
    identity = folders[0] / ".showprep" / "identity"  # jobs are read in its order: not a new one
    identity.write_text(f"{chance.getrandbits(128):032x}")
    path = radicale.calendar()
    month: Month
    pond = Pond(folders[0], PondMemory(folders[0]), lambda: month.today)
    with serving(pond, pond.memory.token, "127.0.0.1", 0) as address:
        month = Month(
            folders[0],
            folders[1],
            Phone(radicale, path, chance),
            Page(pond, address),
            radicale.url(path),
            chance,
            stretch.first,
            stretch.pond,
            {name: fish.lives_in for name, fish in files.season.fish.items()},
        )
        first = {"season": folders[0], "url": month.url, "user": "hana"}
        with redirect_stdout(io.StringIO()):
            publish.run(
                **first,
                go=True,
                overwrite=False,
                keep_password=False,
                on=stretch.first,
                now=datetime.combine(stretch.first, time(5), UTC),
            )
        for days in range(stretch.days):
            month.today = stretch.first + days * DAY
            if days == 0 or chance.random() < (0.85 if FULL else 0.3):  # it is off at times
                month.computer()
            month.live()
        month.today += DAY
        month.computer()
    told = " ".join(str(entry.get("note")) for entry in journal(folders[0]))
    assert all(words in told for words in month.words)
