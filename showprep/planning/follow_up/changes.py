"""What differs from the plan made before, job by job, and why where that can be known."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from datetime import date, timedelta

from msgspec import Struct

from showprep.husbandry.reason import Celsius, FishId, Reason, ShowId, Value, reason
from showprep.planning.as_of.records import water_told
from showprep.planning.as_of.state import State
from showprep.planning.jobs.done_by import is_done
from showprep.planning.plan import Change, Plan
from showprep.planning.yard.last_plan import LastJob, LastPlan, LastVerdict, last_of
from showprep.planning.yard.yard import Yard
from showprep.season.records import PLAIN_NOTE, JournalEntry
from showprep.season.values.show_times import day_of

MOST_REASONS = 3
# Said of a whole water or season: they can move jobs of fish that they do not name.
# What decides by itself: beside it nothing else is a reason.
DECISIVE = ("sold", "lost", "cancelled", "postponed")
FAR_REACHING = (
    "sold",
    "lost",
    "cancelled",
    "postponed",
    "parasites",
    "no parasites",
    "khv signs",
    "khv clear",
)
# Written down for the record: no date hangs on them.
WITHOUT_EFFECT = (
    *("weigh", "measure", "result", "job", "sent", "entered", "temperature", PLAIN_NOTE),
    *("stop feeding", "feed again", "closed"),
)
STAY_AT_HOME = ("feed-again", "pond-eats-again")  # of the fish that do not go


class News(Struct, frozen=True):
    """What has come in since the last plan."""

    yard: Yard
    since: date  # the day of the last plan
    entries: tuple[JournalEntry, ...]
    readings: tuple[tuple[str, date, float], ...]  # water, day, degrees Celsius

    @property
    def state(self) -> State:
        return self.yard.state

    def about(
        self, fish: Collection[str], show: str | None, water: str | None
    ) -> tuple[JournalEntry, ...]:
        """The entries that name one of these fish, the show, or a water that they are in."""
        waters = self._waters(fish, water)
        return tuple(
            entry
            for entry in self.entries
            if entry.fish in fish
            or (entry.show is not None and entry.show == show and entry.fish is None)
            or (entry.water is not None and entry.water in waters)
        )

    def why(
        self,
        fish: Collection[str],
        show: str | None,
        water: str | None,
        *,
        of_others: bool = False,
    ) -> tuple[Reason, ...]:
        """The reasons: what decides first, then what names it, then warmth.

        Entries of the last plan's own day were most likely in it: they count only where nothing
        newer does. `of_others`: failing that, what became of other fish may be the reason.
        """
        of_it = [one for one in self.about(fish, show, water) if one.word not in WITHOUT_EFFECT]
        far = [
            one
            for one in self.entries
            if one.word in FAR_REACHING or (of_others and one.word not in WITHOUT_EFFECT)
        ]
        decisive = [one for one in of_it if one.word in DECISIVE]
        found = next((some for some in map(self._newer, (decisive, of_it, far)) if some), ())
        reasons = [told(entry, self.yard) for entry in found]
        reasons = reasons or [told(entry, self.yard) for entry in decisive or of_it or far]
        reasons += self._warmth(fish, water) if not decisive else []
        return tuple(dict.fromkeys(reasons))[-MOST_REASONS:]

    def decisive(self, show: str | None) -> bool:
        """Has the show itself been moved or called off?"""
        return any(one.word in DECISIVE and one.show == show for one in self.entries if show)

    def _newer(self, entries: Collection[JournalEntry]) -> tuple[JournalEntry, ...]:
        return tuple(entry for entry in entries if entry.on > self.since)

    def _waters(self, fish: Collection[str], water: str | None) -> set[str | None]:
        """A water, and those that the fish are in, or were in before they left for a show."""
        courses, on = self.yard.courses.by_fish, self.yard.on
        return {water} | {courses[one].water_before(on) for one in fish if one in courses}

    def _warmth(self, fish: Collection[str], water: str | None) -> list[Reason]:
        names = self._waters(fish, water)
        latest = {name: (day, c) for name, day, c in self.readings if name in names}
        return [
            reason("water-read", water=name, read=Celsius(c), on=day)
            for name, (day, c) in latest.items()
        ]


def news_since(yard: Yard, last: date) -> News:
    """Entries and readings of the days since the last plan, its own day included."""
    state = yard.state
    readings = (
        (water, day, c)
        for water, found in sorted(state.readings.items())
        for day, c in found
        if day >= last
    )
    entries = [entry for entry in state.journal if entry.on >= last]
    entries += [
        one.model_copy(update={"on": one.undone})
        for one in state.taken_back
        if one.undone is not None and one.undone >= last
    ]
    return News(yard, last, tuple(entries), tuple(readings))


def told(entry: JournalEntry, yard: Yard) -> Reason:
    """An entry as a reason: what was noted, of whom or of which water, and when."""
    fish = yard.state.fish.get(entry.fish or "")
    values: dict[str, Value] = {
        "word": entry.word,
        "on": entry.on,
        "fish": FishId(fish.id) if fish else None,
        "show": ShowId(entry.show) if entry.show else None,
        "water": water_told(entry, yard.courses.by_fish),
        "to": day_of(entry.to_day) if entry.to_day is not None else entry.touch_up_on or entry.to,
        "what": entry.job or entry.treatment,
        "kind": entry.defect,
    }
    if entry.undone is not None:
        return reason("taken-back", **values)
    return reason("noted", **values)


AHEAD = timedelta(days=14)  # done this much before its day, it was still that job
UNDONE = (reason("not-noted-as-done"),)


def changes(before: LastPlan, now: Plan, yard: Yard) -> tuple[Change, ...]:
    """What changed from `before` to `now`: verdicts first, then jobs by day.

    `yard` is the yard for which `now` was made; what was noted and read since the last
    plan is taken for the reason where it names the fish, show or water.
    """
    after = last_of(now)
    news = news_since(yard, before.planned_on)
    return (
        *_verdicts(before, after, news),
        *_jobs(before, after, news),
    )


def _verdicts(before: LastPlan, after: LastPlan, news: News) -> Iterator[Change]:
    for pair, new in after.verdicts.items():
        old = before.verdicts.get(pair)
        if old is not None and old != new:
            yield _verdict(pair, old, new, news)
    for (fish, show), old in before.verdicts.items():
        if (fish, show) not in after.verdicts and old.entered and not _is_past(show, news):
            what = reason("no-longer-goes", fish=FishId(fish), show=ShowId(show))
            yield Change("verdict", what, news.why((fish,), show, None))


def _verdict(pair: tuple[str, str], old: LastVerdict, new: LastVerdict, news: News) -> Change:
    fish, show = pair
    parts: list[Reason] = []
    if old.verdict != new.verdict:
        parts.append(reason("verdict-becomes", old=old.verdict, new=new.verdict))
    if old.entered != new.entered:
        parts.append(reason("now-goes") if new.entered else reason("now-stays-at-home"))
    if old.touch_up_day != new.touch_up_day:
        parts.append(_touch_up(old.touch_up_day, new.touch_up_day))
    what = reason("verdict-changed", fish=FishId(fish), show=ShowId(show), parts=tuple(parts))
    why = news.why((fish,), show, None, of_others=old.entered != new.entered)
    return Change("verdict", what, why)


def _is_past(show: str, news: News) -> bool:
    known = news.state.shows.get(show)
    return known is not None and known.judging.date() < news.state.on and not known.cancelled


def _touch_up(old: date | None, new: date | None) -> Reason:
    if new is None:
        return reason("touch-up-dropped")
    if old is None:
        return reason("touch-up-set", day=new)
    return reason("touch-up-moved", old=old, new=new)


def _jobs(before: LastPlan, after: LastPlan, news: News) -> Iterator[Change]:
    yield from _swaps(before, after, news)
    yield from _days_passed(before, after, news)
    ids = sorted({*before.jobs, *after.jobs}, key=lambda one: _place(one, before, after))
    for job_id in ids:
        old, new = before.jobs.get(job_id), after.jobs.get(job_id)
        if old is None and new is not None:
            what = reason("job-new", title=new.title, at=new.start)
            yield Change("new", what, _why(new, news))
        elif old is not None and new is None and not _day_has_passed(old, after, news):
            yield _ended(old, news)
        elif old is not None and new is not None:
            yield from _changed(old, new, after.planned_on, news)


def _place(job_id: str, before: LastPlan, after: LastPlan) -> tuple[date, str]:
    job = after.jobs.get(job_id) or before.jobs[job_id]
    return job.first_day, job_id


def _changed(old: LastJob, new: LastJob, on: date, news: News) -> Iterator[Change]:
    if new.late and not old.late:
        yield Change("moved", reason("job-late", title=new.title, at=new.start), UNDONE)
    elif old.start != new.start:
        what = reason("job-moved", title=new.title, old=old.start, new=new.start)
        undone = old.first_day < on and not news.decisive(new.show)
        yield Change("moved", what, UNDONE if undone else _why(new, news))


def _swaps(before: LastPlan, after: LastPlan, news: News) -> Iterator[Change]:
    """Fish that come into or leave the jobs of a show: once, not job by job."""
    found: dict[tuple[str | None, tuple[str, ...], tuple[str, ...]], int] = {}
    for job_id, new in after.jobs.items():
        old = before.jobs.get(job_id)
        if old is None or {*old.fish} == {*new.fish} or new.kind in STAY_AT_HOME:
            continue
        come = tuple(one for one in new.fish if one not in old.fish)
        gone = tuple(one for one in old.fish if one not in new.fish)
        key = (new.show, come, gone)
        found[key] = found.get(key, 0) + 1
    for (show, come, gone), count in found.items():
        what = reason(
            "jobs-fish-changed",
            jobs=count,
            show=ShowId(show) if show else None,
            come=tuple(map(FishId, come)),
            gone=tuple(map(FishId, gone)),
        )
        yield Change("moved", what, news.why({*come, *gone}, show, None))


def _ended(old: LastJob, news: News) -> Change:
    """A job that is no longer planned: done, or not wanted any more."""
    if _done(old, news):
        return Change("done", reason("job-done", title=old.title))
    if old.late:
        return Change("gone", reason("job-dropped", title=old.title))
    what = reason("job-not-planned", title=old.title, at=old.start)
    return Change("gone", what, _why(old, news))


def _done(old: LastJob, news: News) -> bool:
    since = old.first_day - AHEAD
    told = is_done(news.yard, old.kind, old.fish, old.show, old.water, since)
    return told or old.id in news.state.jobs_done or old.id in news.state.jobs_begun


def _day_has_passed(old: LastJob, after: LastPlan, news: News) -> bool:
    return (
        old.id not in after.jobs
        and old.first_day < after.planned_on
        and not old.late
        and not _done(old, news)
    )


def _days_passed(before: LastPlan, after: LastPlan, news: News) -> Iterator[Change]:
    """Jobs whose day came and went with nothing to do about it now: once for each show."""
    by_show: dict[str | None, list[LastJob]] = {}
    for job in before.jobs.values():
        if _day_has_passed(job, after, news):
            by_show.setdefault(job.show, []).append(job)
    for show, jobs in by_show.items():
        if len(jobs) == 1:
            what = reason("job-day-passed", title=jobs[0].title, at=jobs[0].start)
        else:
            of = ShowId(show) if show else None
            what = reason("jobs-days-passed", jobs=len(jobs), show=of)
        yield Change("gone", what)


def _why(job: LastJob, news: News) -> tuple[Reason, ...]:
    return news.why(job.fish, job.show, job.water)
