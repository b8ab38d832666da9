"""What was presumed because nobody wrote it down, asked once each, with the note that settles it.

An entry, a journey, a touch-up, a move and a fast that were due are taken to have happened where
they bind, and never where they would free. The keeper is asked about each, and told the one line
to write.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date, timedelta

from showprep.husbandry.reason import FishId, ShowId, reason
from showprep.planning.as_of.state import FishState
from showprep.planning.jobs.of_touch_ups import Session, session_waters
from showprep.planning.jobs.of_vat import presumed_to_heal
from showprep.planning.jobs.sending import Sending, fast_from
from showprep.planning.plan import Ask
from showprep.planning.verdicts.touch_ups import unfed_from
from showprep.planning.yard.apart import followed_until
from showprep.planning.yard.course import Course, Step
from showprep.planning.yard.yard import Yard

MOVES_ASKED = timedelta(days=60)
"""A move this old is not asked about any more; where the fish is stays as presumed."""


def asks_of(
    yard: Yard, sendings: Sequence[Sending], sessions: Sequence[Session]
) -> tuple[Ask, ...]:
    """Every question, the gravest kinds first: journeys, touch-ups, fasts, entries, moves."""
    fasts = _fasts(yard, sendings, sessions)
    moves = (*_into_vat(yard), *_moves(yard))
    return (*_journeys(yard), *_cuts(yard), *fasts, *_entries(yard), *moves)


def _journeys(yard: Yard) -> Iterator[Ask]:
    for show, events in yard.events.items():
        fish = tuple(
            one.fish
            for one in yard.courses.going_to(show)
            if one.grade == "presumed" and yard.state.fish[one.fish].gone is None
        )
        over = events.check_out.date() <= yard.on <= followed_until(yard, events)
        if not fish or not over:
            continue
        named = tuple(map(FishId, fish))
        note = reason(
            "note-travelled", fish=fish, show=show, on=events.departure_day, did="travelled"
        )
        yield Ask(
            reason("journey-not-noted", fish=named, show=ShowId(show)), note, fish=fish, show=show
        )


def _entries(yard: Yard) -> Iterator[Ask]:
    for show, form in yard.presumed_forms.items():
        fish = tuple(one.id for one in yard.fish_here() if yard.is_entered(one, show))
        if not fish:
            continue
        question = reason(
            "entries-not-noted",
            fish=tuple(map(FishId, fish)),
            show=ShowId(show),
            reserve=None if form.reserve is None else FishId(form.reserve),
        )
        since = yard.form_in_since(yard.events[show])
        assert since is not None  # else nothing is presumed
        yield Ask(question, reason("note-entered", fish=fish, show=show, on=since), fish, show=show)


def _cuts(yard: Yard) -> Iterator[Ask]:
    for cut in yard.cuts:
        named = tuple(map(FishId, cut.fish))
        question = reason("cut-not-noted", fish=named, on=cut.on, job=cut.job)
        yield Ask(question, reason("note-cut", fish=cut.fish, on=cut.on, job=cut.job), cut.fish)


def _fasts(yard: Yard, sendings: Sequence[Sending], sessions: Sequence[Session]) -> Iterator[Ask]:
    """One question a water: has it been unfed since the first of the fasts that run now?"""
    wanted: dict[str, tuple[date, str | None]] = {}
    for sending in sendings:
        first = fast_from(yard, sending)
        if first < yard.on <= sending.events.departure_day:
            _earliest(wanted, sending.fasts_in, first, sending.events.show)
    for session in sessions:
        for water in session_waters(yard, session):
            first = unfed_from(yard, yard.waters.of(water), session.day)
            if first < yard.on <= session.day:
                _earliest(wanted, water, first, session.show)
    for water, (first, show) in sorted(wanted.items()):
        if water in yard.state.fasting or yard.state.fed_again.get(water, date.min) >= first:
            continue
        note = reason("note-unfed", water=water, on=first)
        yield Ask(reason("unfed-not-noted", water=water, since=first), note, show=show, water=water)


def _earliest(
    wanted: dict[str, tuple[date, str | None]], water: str, first: date, show: str | None
) -> None:
    if water not in wanted or first < wanted[water][0]:
        wanted[water] = (first, show)


def _into_vat(yard: Yard) -> Iterator[Ask]:
    """Fish taken to heal in the vat since their touch-up."""
    for fish, step in presumed_to_heal(yard):
        if step.day < yard.on:
            vat, left, on = step.to_water, step.from_water, step.day
            asked = reason("vat-not-noted", fish=FishId(fish.id), water=vat, on=on)
            note = reason("note-vat", fish=(fish.id,), to=vat, left=left, on=on)
            yield Ask(asked, note, fish=(fish.id,), water=vat)


def _moves(yard: Yard) -> Iterator[Ask]:
    """Moves of the keeper's own whose day passed without a note.

    The moves of a journey are jobs until they are done, or asked about with it.
    """
    found: dict[tuple[date, str, str], list[str]] = {}
    for fish in yard.fish_here():
        for step in yard.course(fish).steps:
            if _is_asked(yard, fish, yard.course(fish), step):
                assert step.to_water is not None and step.from_water is not None
                found.setdefault((step.day, step.from_water, step.to_water), []).append(fish.id)
    for (day, left, water), some in sorted(found.items()):
        ids = tuple(some)
        named = tuple(map(FishId, ids))
        asked = reason("move-not-noted", fish=named, left=left, water=water, on=day)
        yield Ask(asked, reason("note-move", fish=ids, to=water, on=day), fish=ids, water=water)


def _is_asked(yard: Yard, fish: FishState, course: Course, step: Step) -> bool:
    if step.why != "move" or step.grade != "presumed":
        return False
    if not yard.on - MOVES_ASKED <= step.day < yard.on:
        return False
    # A later written move to the same water has said it already, and one it is not in any more
    # is of the past.
    told = any(move.done and move.on >= step.day for move in fish.moves)
    return not told and course.stay_on(yard.on).water in (step.to_water, step.from_water)
