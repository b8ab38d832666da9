"""What the keeper must know about a plan before acting on it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import timedelta

from showprep.husbandry.isolation import khv_window_words
from showprep.planning.jobs.of_home import home_warnings
from showprep.planning.jobs.of_touch_ups import keeper_may
from showprep.planning.jobs.of_waters import water_warnings
from showprep.planning.jobs.season_jobs import sendings_of
from showprep.planning.jobs.sending import Sending, fast_of, fasting_water
from showprep.planning.plan import Task, Verdict, Warning_
from showprep.planning.selection import Selection
from showprep.planning.words import counted, listed, spoken
from showprep.planning.yard import Yard


def warnings_of(
    yard: Yard,
    verdicts: Sequence[Verdict],
    selection: Selection,
    tasks: Sequence[Task],
) -> Iterator[Warning_]:
    """Every warning of the plan, the gravest kinds first."""
    for day, water in yard.state.khv_signs:
        text = f"Signs of KHV on {spoken(day)} ({water}): move no fish, tell the authority at once."
        yield Warning_("stop", f"{text} {khv_window_words(own=yard.keeper.figures)}")
    yield from selection.warnings
    yield from _parasite_warnings(yard)
    for sending in sendings_of(yard, selection.solution):
        yield from water_warnings(yard, sending)
        yield from _unfed_warning(yard, sending)
    for events in yard.planned():
        fish = [one.fish for one in verdicts if one.show == events.show and one.entered]
        if fish:
            yield from home_warnings(yard, events, fish)
    yield from _touch_up_warnings(yard, verdicts)
    yield from _entry_warnings(yard, verdicts, tasks)


def _parasite_warnings(yard: Yard) -> Iterator[Warning_]:
    for water, (found, cleared) in sorted(yard.state.parasites.items()):
        if cleared is None:
            yield Warning_(
                "stop",
                f"Parasites in the {water} since {spoken(found)}: every fish of it stays at home "
                "and untouched until a clear check is written down. Ask a vet before you treat.",
            )


def _unfed_warning(yard: Yard, sending: Sending) -> Iterator[Warning_]:
    """The fast should have begun, and the journal does not say that it did."""
    water = fasting_water(yard, sending)
    departure = sending.events.departure_day
    first = departure - timedelta(days=fast_of(yard, sending).days)
    if first < yard.on <= departure and water not in yard.state.fasting:
        yield Warning_(
            "warn",
            f"{sending.events.record.name}: has the {water} been unfed since {spoken(first)}? It "
            "is not written down. A fish that was fed does not travel.",
            show=sending.events.show,
        )


def _touch_up_warnings(yard: Yard, verdicts: Iterable[Verdict]) -> Iterator[Warning_]:
    planned = [one for one in verdicts if one.touch_up is not None and one.touch_up.day is not None]
    if planned and not keeper_may(yard) and not yard.keeper.touch_up.law_stated:
        yield Warning_(
            "warn",
            "You have not said that you checked the law, and for which country (touch_up: "
            "law_checked and law_country): every touch-up in this plan is one to ask a vet about.",
        )
    for one in planned:
        for caution in one.cautions:
            if "dark mark" in caution and one.entered:
                yield Warning_("warn", caution, fish=one.fish, show=one.show)


def _entry_warnings(
    yard: Yard, verdicts: Sequence[Verdict], tasks: Sequence[Task]
) -> Iterator[Warning_]:
    names = {fish.id: fish.record.name for fish in yard.fish_here()}
    for one in verdicts:
        if one.verdict == "too-late":
            show = yard.events[one.show].record.name
            text = f"{names[one.fish]} for {show}: {one.reasons[0]}"
            yield Warning_("warn", text, fish=one.fish, show=one.show)
    late = [task for task in tasks if task.late]
    if late:
        shown = listed([task.title for task in late[:3]] + (["others"] if len(late) > 3 else []))
        yield Warning_("warn", f"{counted(len(late), 'job is', 'jobs are')} late: {shown}.")
