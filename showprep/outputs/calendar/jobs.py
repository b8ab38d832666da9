"""A job of the plan as a calendar shows it."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Mapping
from datetime import UTC, date, datetime, time, timedelta
from itertools import pairwise
from typing import Literal
from zoneinfo import ZoneInfo

from msgspec import Struct
from msgspec.structs import replace

from showprep.outputs.calendar.identity import uid_of
from showprep.outputs.calendar.text import SUMMARY_LONGEST, clean, clean_line, shorten
from showprep.outputs.calendar.zones import UTC_NAMES
from showprep.outputs.failure import Failure
from showprep.outputs.words.answer import short_names
from showprep.outputs.words.plain import spoken
from showprep.outputs.words.speaker import Speaker
from showprep.outputs.words.verdicts import LEVELS
from showprep.planning.plan import Plan, Task

# Raised whenever the same job would be written with other bytes than before.
PROFILE = 1
ALARM_LONGEST = timedelta(minutes=40_320)  # the longest reminder Google Calendar takes: 28 days
# A moment has no length, and an event must end later than it starts: shown as a quarter of an hour.
MOMENT = timedelta(minutes=15)
AT_SHOW = frozenset({"departure", "arrive", "benching", "judging", "check-out"})
LATE = "Late: "
LATE_RINGS = time(18)  # after work, when something can still be done

Status = Literal["CONFIRMED", "CANCELLED"]


class About(Struct, frozen=True):
    """What a job is about, by ids; not written on the phone, but remembered in the ledger."""

    task: str = ""
    kind: str = ""
    fish: tuple[str, ...] = ()
    show: str | None = None
    water: str | None = None


NOBODY = About()


class Job(Struct, frozen=True):
    """What one event says, apart from its sequence and stamps.

    All-day: `start` is the first day, `end` the day after the last (RFC 5545 §3.8.2.2: the end is
    not part of the event). Timed: both are instants, shown in `zone` (None: shown in UTC).
    `alarm` is how long before the start it rings.
    """

    uid: str
    summary: str
    description: str
    start: date
    end: date
    zone: str | None = None
    status: Status = "CONFIRMED"
    alarm: timedelta | None = None
    place: str = ""
    about: About = NOBODY
    late: bool = False  # what is late: it moves on with each new plan

    @property
    def all_day(self) -> bool:
        return not isinstance(self.start, datetime)

    @property
    def minutes_before(self) -> int | None:
        """How many minutes before the start it rings."""
        return self.alarm // timedelta(minutes=1) if self.alarm is not None else None

    def content(self) -> str:
        """A hash of all that is written, apart from sequence and stamps."""
        parts: tuple[object, ...] = (
            PROFILE,
            self.uid,
            self.summary,
            self.description,
            self.start.isoformat(),
            self.end.isoformat(),
            self.zone,
            self.status,
            self.minutes_before,
        )
        if self.place:  # last, and only where there is one: jobs without keep the hash they had
            parts = (*parts, self.place)
        return hashlib.sha256(repr(parts).encode("utf-8")).hexdigest()[:32]


def job_of(
    task: Task,
    plan_zone: str,
    speaker: Speaker,
    season: str = "",
    place: str | None = None,
    short: Mapping[str, str] | None = None,
) -> Job:
    """The calendar's view of one task; `season` is the identity of its season, `place` where its
    show is. The title names shows as in `short`: the first 30 characters are all that some phones
    show, and they belong to the job."""
    full = clean_line(speaker.say(task.title)) or clean_line(task.kind) or "Job"
    brief = speaker if short is None else replace(speaker, shows=short)
    title = shorten(clean_line(brief.say(task.title)) or full)
    start, end, zone = _span(task, plan_zone)
    return Job(
        uid=uid_of(task.id, season),
        summary=title,
        description=_description(speaker, task, full, title),
        start=start,
        end=end,
        zone=zone,
        alarm=_alarm(task.alarm),
        place=clean_line(place or "") if task.kind in AT_SHOW else "",
        about=_about(task),
    )


def _about(task: Task) -> About:
    return About(task.id, task.kind, task.fish, task.show, task.water)


def jobs_of(plan: Plan, tasks: Iterable[Task], part: str = "") -> tuple[Job, ...]:
    """The jobs of these tasks in the order of their UIDs, which no change of plan disturbs.

    What is late is one job on the day of the plan, named after the `part` of the season. Raises
    Failure when two tasks carry one id.
    """
    short = short_names({show.id: show.name for show in plan.shows})
    speaker, every = replace(Speaker.of(plan), on_phone=True), list(tasks)
    late = [task for task in every if task.late]
    places = {show.id: show.place for show in plan.shows}
    jobs = [
        job_of(task, plan.time_zone, speaker, plan.identity, places.get(task.show or ""), short)
        for task in every
        if not task.late
    ]
    if late:
        jobs.append(_late_job(plan, speaker, replace(speaker, shows=short), late, part))
    jobs.sort(key=lambda job: job.uid)
    for one, other in pairwise(jobs):
        if one.uid == other.uid:
            raise Failure(
                f"Two jobs of the plan carry the same id ({one.summary!r} and {other.summary!r});"
                " nothing was written. This is a fault of the program, not of the season."
            )
    return tuple(jobs)


def _late_job(plan: Plan, speaker: Speaker, brief: Speaker, late: list[Task], part: str) -> Job:
    """All that is late, on the day of the plan, where it can still be done: the vet first, then
    what was due last, of which most can be saved. It rings in the evening, as the
    alarms of days that are still to come do."""
    late = sorted(late, key=lambda task: (task.kind != "vet", -task.last_day.toordinal(), task.id))
    lines = []
    for task in late:
        cost = f" {clean_line(speaker.say(task.late_cost))}" if task.late_cost else ""
        title = clean_line(speaker.say(task.title)) or task.kind
        lines.append(f"{title}. Due {spoken(task.last_day)}.{cost}")
        if task.note:
            lines.append(speaker.say(task.note))
        lines.extend(f"{LEVELS['warn']}: {speaker.say(caution)}" for caution in task.cautions)
    first = clean_line(brief.say(late[0].title)) or late[0].kind
    rings = datetime.combine(plan.planned_on, LATE_RINGS, ZoneInfo(plan.time_zone)).astimezone(UTC)
    start, end, zone = _local(rings, rings + MOMENT, plan.time_zone)
    more = f" and {len(late) - 1} more" if len(late) > 1 else ""
    return Job(
        uid=uid_of(f"late {part}".strip(), plan.identity),
        summary=f"{shorten(f'{LATE}{first}', SUMMARY_LONGEST - len(more))}{more}",
        description=clean("\n".join(clean(line) for line in lines)),
        start=start,
        end=end,
        zone=zone,
        alarm=timedelta(0),
        about=_about(late[0]) if len(late) == 1 else About("late", "late"),
        late=True,
    )


def _span(task: Task, plan_zone: str) -> tuple[date, date, str | None]:
    if not isinstance(task.start, datetime) or not isinstance(task.end, datetime):
        return task.first_day, task.day_after, None
    zone = task.time_zone or plan_zone
    if task.start.utcoffset() is None or task.end.utcoffset() is None:
        raise Failure(f"The job {task.id!r} has a time without a zone: a fault of the program.")
    start, end = task.start.astimezone(UTC), task.end.astimezone(UTC)
    if task.kind == "arrive":
        end = start  # the time to aim at: the hours in which the doors are open are no job
    if end <= start:
        end = start + MOMENT
    return _local(start, end, zone)


def _local(start: datetime, end: datetime, zone: str) -> tuple[date, date, str | None]:
    """Two instants in UTC as they are written for a zone."""
    if zone in UTC_NAMES:
        return start, end, None
    local = start.astimezone(ZoneInfo(zone)), end.astimezone(ZoneInfo(zone))
    # The hour that comes twice in autumn: its second passing can only be said in UTC, and of the
    # first readers do not agree which is meant.
    if any(map(_comes_twice, local)):
        return start, end, None
    return *local, zone


def _comes_twice(moment: datetime) -> bool:
    return moment.replace(fold=0).utcoffset() != moment.replace(fold=1).utcoffset()


def _alarm(before: timedelta | None) -> timedelta | None:
    """Whole minutes before the start, 0 to 28 days.

    Outlook stores the absolute value of a trigger, so one after the start would ring before it.
    """
    if before is None:
        return None
    minutes = timedelta(minutes=before // timedelta(minutes=1))
    return min(max(minutes, timedelta(0)), ALARM_LONGEST)


def _description(speaker: Speaker, task: Task, full: str, title: str) -> str:
    lines = [full] if title != full else []
    if isinstance(task.start, datetime) and task.time_zone not in (None, speaker.zone):
        lines.append(f"Starts {speaker.say(task.start)}.")
    if task.note:
        lines.append(speaker.say(task.note))
    lines.extend(f"{LEVELS['warn']}: {speaker.say(caution)}" for caution in task.cautions)
    if task.fish:
        lines.append("Fish: " + ", ".join(speaker.fish.get(fish, fish) for fish in task.fish))
    if task.water:
        lines.append(f"Water: {task.water}")
    if task.counts_from:
        lines.append(f"When: {speaker.say(task.counts_from)}")
    return clean("\n".join(line for line in map(clean, lines) if line))
