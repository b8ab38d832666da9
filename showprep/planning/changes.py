"""What differs from the plan made before, job by job, and why where that can be known."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, datetime, timedelta

from showprep.planning.change_reasons import News, names_of, news_since
from showprep.planning.done_by import is_done
from showprep.planning.last_plan import LastJob, LastPlan, LastVerdict, last_of
from showprep.planning.plan import Change, Plan
from showprep.planning.state import State
from showprep.planning.words import counted, spoken

AHEAD = timedelta(days=14)  # done this much before its day, it was still that job
STAY_AT_HOME = ("feed-again", "pond-eats-again")  # of the fish that do not go
UNDONE = "Nothing in the journal says that it was done."
VERDICT_WORDS = {"ready-after-touch-up": "ready after touch-up"}


def changes(before: LastPlan, now: Plan, state: State) -> tuple[Change, ...]:
    """What changed from `before` to `now`: verdicts first, then jobs by day.

    `state` is the season as it stood when `now` was made; what was noted and read since the last
    plan is taken for the reason where it names the fish, show or water.
    """
    after = last_of(now)
    news = news_since(state, before.planned_on)
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
            text = f"{_names((fish,), news)} no longer goes to {_show(show, news)}."
            yield Change("verdict", text, news.why((fish,), show, None))


def _verdict(pair: tuple[str, str], old: LastVerdict, new: LastVerdict, news: News) -> Change:
    fish, show = pair
    parts = []
    if old.verdict != new.verdict:
        parts.append(f"{_word(old.verdict)} becomes {_word(new.verdict)}")
    if old.entered != new.entered:
        parts.append("now goes" if new.entered else "now stays at home")
    if old.touch_up_day != new.touch_up_day:
        parts.append(_touch_up(old.touch_up_day, new.touch_up_day))
    text = f"{_names((fish,), news)} for {_show(show, news)}: {', '.join(parts)}."
    why = news.why((fish,), show, None, of_others=old.entered != new.entered)
    return Change("verdict", text, why)


def _is_past(show: str, news: News) -> bool:
    known = news.state.shows.get(show)
    return known is not None and known.judging.date() < news.state.on and not known.cancelled


def _touch_up(old: date | None, new: date | None) -> str:
    if new is None:
        return "no touch-up is planned any more"
    if old is None:
        return f"touch-up planned for {spoken(new)}"
    return f"touch-up moved from {spoken(old)} to {spoken(new)}"


def _jobs(before: LastPlan, after: LastPlan, news: News) -> Iterator[Change]:
    yield from _swaps(before, after, news)
    yield from _gone_by(before, after, news)
    ids = sorted({*before.jobs, *after.jobs}, key=lambda one: _place(one, before, after))
    for job_id in ids:
        old, new = before.jobs.get(job_id), after.jobs.get(job_id)
        if old is None and new is not None:
            text = f"New: {new.title}, {_day(new)}."
            yield Change("new", text, _why(new, news))
        elif old is not None and new is None and not _has_gone_by(old, after, news):
            yield _ended(old, news)
        elif old is not None and new is not None:
            yield from _changed(old, new, after.planned_on, news)


def _place(job_id: str, before: LastPlan, after: LastPlan) -> tuple[date, str]:
    job = after.jobs.get(job_id) or before.jobs[job_id]
    return job.first_day, job_id


def _changed(old: LastJob, new: LastJob, on: date, news: News) -> Iterator[Change]:
    if new.late and not old.late:
        text = f"{new.title}: late, it was due on {_day(new)}."
        yield Change("moved", text, UNDONE)
    elif old.start != new.start:
        text = f"{new.title}: moved from {_day(old)} to {_day(new)}."
        undone = old.first_day < on and not news.decisive(new.show)
        yield Change("moved", text, UNDONE if undone else _why(new, news))


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
        parts = [f"with {_names(come, news)}"] if come else []
        parts += [f"without {_names(gone, news)}"] if gone else []
        what = f"{counted(count, 'job')} of {_show(show, news)}" if show else counted(count, "job")
        why = news.why({*come, *gone}, show, None)
        yield Change("moved", f"{what}: now {' and '.join(parts)}.", why)


def _ended(old: LastJob, news: News) -> Change:
    """A job that is no longer planned: done, or not wanted any more."""
    if _done(old, news):
        return Change("done", f"Done: {old.title}.", "")
    if old.late:
        return Change("gone", f"Dropped: {old.title}. It was late, and its time is over.", "")
    return Change("gone", f"No longer planned: {old.title}, {_day(old)}.", _why(old, news))


def _done(old: LastJob, news: News) -> bool:
    since = old.first_day - AHEAD
    told = is_done(news.state, old.kind, old.fish, old.show, old.water, since)
    return told or old.id in news.state.jobs_done


def _has_gone_by(old: LastJob, after: LastPlan, news: News) -> bool:
    return (
        old.id not in after.jobs
        and old.first_day < after.planned_on
        and not old.late
        and not _done(old, news)
    )


def _gone_by(before: LastPlan, after: LastPlan, news: News) -> Iterator[Change]:
    """Jobs whose day came and went with nothing to do about it now: once for each show."""
    by_show: dict[str | None, list[LastJob]] = {}
    for job in before.jobs.values():
        if _has_gone_by(job, after, news):
            by_show.setdefault(job.show, []).append(job)
    for show, jobs in by_show.items():
        if len(jobs) == 1:
            text = f"{jobs[0].title}: its day, {_day(jobs[0])}, has gone by."
        else:
            of = f" of {_show(show, news)}" if show else ""
            text = f"{len(jobs)} jobs{of}: their days have gone by."
        yield Change("gone", text, "")


def _why(job: LastJob, news: News) -> str:
    return news.why(job.fish, job.show, job.water)


def _day(job: LastJob) -> str:
    if isinstance(job.start, datetime):
        return f"{spoken(job.first_day)} {job.start:%H:%M}"
    return spoken(job.first_day)


def _word(verdict: str) -> str:
    return VERDICT_WORDS.get(verdict, verdict.replace("-", " "))


def _names(fish: tuple[str, ...], news: News) -> str:
    return ", ".join(names_of(fish, news.state))


def _show(show: str, news: News) -> str:
    return news.state.shows[show].name if show in news.state.shows else show
