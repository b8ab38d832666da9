"""Stretches of each fish's season, to draw: touch-up, healing, fast, show, time apart."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import timedelta
from typing import Literal

from showprep.planning.plan import FishLine, Span, Task, Verdict
from showprep.planning.yard.apart import apart_after
from showprep.planning.yard.yard import Yard

BEHIND = timedelta(days=30)
"""How far back from the day of the plan a season is drawn."""

SPAN_OF_TASK: Mapping[str, Literal["fast", "look-back"]] = {
    "stop-feeding": "fast",
    "unfed-before-touch-up": "fast",
    "look-back": "look-back",
    "look": "look-back",
}


def spans_of(
    yard: Yard, fish: Sequence[FishLine], verdicts: Sequence[Verdict], tasks: Iterable[Task]
) -> tuple[Span, ...]:
    """Every span, by fish and then by day; where a fish is when, its course says."""
    known = {one.id for one in fish}
    every = [*_of_verdicts(verdicts), *_of_tasks(tasks), *_of_courses(yard)]
    kept = {span for span in every if span.fish in known}
    return tuple(sorted(kept, key=lambda s: (s.fish, s.start, s.kind, s.end, s.show or "", s.of)))


def _of_verdicts(verdicts: Sequence[Verdict]) -> Iterator[Span]:
    shown: set[tuple[str, str, str, object]] = set()
    for verdict in sorted(verdicts, key=lambda one: not one.entered):
        for healing in verdict.healing:
            planned = verdict.touch_up is not None and verdict.touch_up.day is not None
            if healing.after_touch_up and not planned and healing.start >= healing.deadline:
                continue
            if healing.after_touch_up and verdict.touch_up is not None and not planned:
                continue  # supposed only: nothing is planned
            key = (verdict.fish, healing.defect, healing.milestone, healing.start)
            if key in shown or healing.usual_on is None:
                continue
            shown.add(key)
            yield Span(
                fish=verdict.fish,
                kind=healing.milestone,
                start=healing.start,
                end=healing.usual_on,
                to_slow=healing.high_on,
                of=healing.defect,
                show=verdict.show,
                in_time=healing.usual_on <= healing.deadline,
            )
        if verdict.entered and verdict.touch_up is not None and verdict.touch_up.day is not None:
            day = verdict.touch_up.day
            yield Span(verdict.fish, "touch-up", day, day, None, "touch-up", verdict.show)


def _of_tasks(tasks: Iterable[Task]) -> Iterator[Span]:
    for task in tasks:
        kind = SPAN_OF_TASK.get(task.kind)
        if kind is None:
            continue
        for fish in task.fish:
            yield Span(fish, kind, task.first_day, task.last_day, None, task.kind, task.show)


def _of_courses(yard: Yard) -> Iterator[Span]:
    """At the show, and kept apart afterwards: written down, presumed or planned."""
    for going in yard.courses.goings:
        events = yard.events[going.show]
        apart = [
            stay
            for stay in yard.courses[going.fish].stays
            if stay.show == going.show and stay.why == "kept apart"
        ]
        over = events.home_day
        if apart:
            over = apart[-1].last or apart_after(yard, events).last
        if over < yard.on - BEHIND:
            continue
        first, home = events.departure_day, events.home_day
        yield Span(going.fish, "at-show", first, home, None, "", going.show)
        if apart:
            start = apart[0].first
            yield Span(going.fish, "isolation", start, over, None, "isolation", going.show)
