"""The parts that the page is laid out from: jobs in order, wedges and outcomes, hands dealt."""

from __future__ import annotations

from datetime import date
from types import SimpleNamespace
from typing import Any

import pytest
from msgspec.structs import replace

from showprep.husbandry.reason import reason
from showprep.outputs.page.board import board_of
from showprep.outputs.page.chance_curve import MOST_POINTS, chance_curve
from showprep.outputs.page.healing import healing_curves
from showprep.outputs.page.render import next_heading, sentence
from showprep.outputs.page.season_line import scale_for, season_line
from showprep.outputs.page.sheets import cage_cards, dealt, worksheet_pages
from showprep.outputs.words.sheet import Sheet
from showprep.planning.follow_up.agenda import agenda_of
from showprep.planning.plan import Task, TouchUpChance
from tests.outputs.page import plans
from tests.outputs.page.making import DAY, job

SATURDAY = date(2027, 4, 10)


def heading(on: date, *tasks: Task) -> tuple[str, list[date]]:
    agenda = agenda_of(replace(plans.first_show(), planned_on=on, tasks=tasks))
    return next_heading(agenda.next_days), [one.day for one in agenda.next_days]


def handy(day: date) -> Task:
    return job(f"net/{day}", "net", "Net", day, hands=True)


@pytest.mark.parametrize(
    ("on", "days", "told"),
    [
        (SATURDAY - 3 * DAY, [0, 1], ("The coming weekend", [0, 1])),
        (SATURDAY - DAY, [0], ("Tomorrow", [0])),
        (SATURDAY, [0, 1], ("This weekend", [0, 1])),
        (SATURDAY - 7 * DAY, [0], ("Next weekend", [0])),
        (SATURDAY - 30 * DAY, [0], ("Nothing needs your hands for 30 days", [0])),
        (SATURDAY, [1, 2], ("Tomorrow", [1])),  # a Monday is no part of the weekend
        (SATURDAY, [5, 6], ("Next, on Thursday", [5, 6])),
    ],
)
def test_what_comes_next_is_named_as_a_keeper_would(
    on: date, days: list[int], told: tuple[str, list[int]]
) -> None:
    name, offsets = told
    tasks = [handy(SATURDAY + n * DAY) for n in days]
    assert heading(on, *tasks) == (name, [SATURDAY + n * DAY for n in offsets])


def test_no_job_is_lost_and_none_is_told_twice() -> None:
    plan = plans.spring_circuit()
    agenda = agenda_of(plan)
    today = () if agenda.next_days[0].day == agenda.on else agenda.today
    lists = (agenda.late, today, agenda.going_on, agenda.look_at, agenda.meanwhile, agenda.after)
    told = [task.id for some in lists for task in some]
    told += [task.id for one in agenda.next_days for task in one.tasks]
    assert len(told) == len(set(told))
    ahead = {task.id for task in plan.tasks if task.last_day >= plan.planned_on}
    assert ahead | {task.id for task in plan.tasks if task.late} == set(told)
    assert [task for one in agenda.months for task in one.tasks] == sorted(
        plan.tasks, key=lambda task: (task.first_day, task.start.isoformat()[10:], task.id)
    )


def test_a_wound_is_in_time_tight_or_not() -> None:
    healing = plans.first_show().verdicts[0].healing[1]
    due = healing.deadline
    assert replace(healing, usual_on=due, high_on=due).verdict == "ready"
    assert replace(healing, usual_on=due, high_on=due + DAY).verdict == "tight"
    assert replace(healing, usual_on=due, high_on=None).verdict == "tight"
    late = replace(healing, usual_on=due + DAY, high_on=None)
    assert late.verdict == "as-it-is"  # clean after benching: the judge sees it
    assert replace(late, milestone="closed").verdict == "too-late"
    assert replace(healing, usual_on=None, high_on=None).verdict == "as-it-is"


def test_a_wedge_closes_on_the_day_it_is_healed() -> None:
    plan = plans.spring_circuit()
    line = season_line(plan)
    row = next(one for one in line.rows if one.fish.id == "elke")
    span = next(one for one in plan.spans if one.fish == "elke")
    wedge = next(one for one in row.things if one.kind.startswith("heal"))
    assert wedge.at == line.scale.x(span.start)
    longest = span.to_slow or span.end
    assert wedge.days == line.scale.x(longest) - wedge.at
    usual = next(part for part in wedge.parts if part.kind == "usual")
    share = (span.end - span.start) / (longest - span.start)
    assert usual.place == f"p{round(100 * share)}"
    assert row.outcome == "too-late"
    told = [one.verdict for one in row.things if one.verdict]
    assert told == [one.verdict for one in plan.verdicts if one.fish == "elke"]


def test_a_scale_shows_every_day_it_is_given() -> None:
    scale = scale_for(SATURDAY, [SATURDAY + 90 * DAY, SATURDAY - 20 * DAY])
    assert scale.shows(SATURDAY + 90 * DAY) and scale.shows(SATURDAY - 20 * DAY)
    assert scale.x(SATURDAY) < scale.x(SATURDAY + DAY)


def test_curves_of_wounds_that_are_not_in_time_come_first() -> None:
    curves = healing_curves(plans.spring_circuit())
    assert curves[0].outcome == "too-late" and curves[0].fish.id == "elke"
    assert curves[-1].outcome == "ready"


def test_the_same_reason_for_several_shows_is_told_once() -> None:
    plan, same = plans.spring_circuit(), (reason("nothing-to-do"),)
    verdicts = tuple(
        replace(one, verdict="ready", reasons=same) if one.fish == "elke" else one
        for one in plan.verdicts
    )
    quiet = replace(plan, verdicts=verdicts, choice=replace(plan.choice, left_out=()))
    elke = next(one for one in board_of(quiet).staying if one.fish.id == "elke")
    assert [len(why.shows) for why in elke.whys] == [3]


def test_hands_are_dealt_in_order_and_none_is_left() -> None:
    assert dealt([1, 2, 3, 4], lambda _: 1.0, 1.0, 2.0) == [(1,), (2, 3), (4,)]
    assert dealt([1], lambda _: 9.0, 1.0, 2.0) == [(), (1,)]
    assert dealt([], lambda _: 1.0, 1.0, 1.0) == [()]


def test_a_worksheet_keeps_every_line_and_repeats_its_heading() -> None:
    lines = tuple(f"line {n}" for n in range(100))
    pages = list(worksheet_pages([Sheet("Bath", (("Fill", lines),))]))
    assert len(pages) > 1 and {page.count for page in pages} == {len(pages)}
    assert tuple(t for page in pages for _, texts in page.sections for t in texts) == lines
    assert {heading for page in pages for heading, _ in page.sections} == {"Fill"}


@pytest.mark.parametrize(
    ("text", "told"), [("so be it", "So be it."), ("Why?", "Why?"), (" a. ", "A.")]
)
def test_a_sentence_has_a_capital_and_a_stop(text: str, told: str) -> None:
    assert sentence(text) == told


def test_a_card_has_the_dates_that_matter_to_its_fish() -> None:
    """The touch-up with its fast and looks, leaving, coming home; no job of the show at large."""
    plan = plans.spring_circuit()
    cards = {card.title: card for card in cage_cards(plan, frozenset())}
    told = [task.kind for task in cards["Aoi"].tasks]
    assert {"unfed-before-touch-up", "touch-up", "look-back", "stop-feeding", "departure"} <= {
        *told
    }
    assert not {"choose-show", "parasite-check", "send-entry", "feed-half"} & {*told}
    starts = [task.first_day for task in cards["Aoi"].tasks]
    assert starts == sorted(starts)
    for fish in plan.fish:
        ahead = [
            one for one in plan.tasks if fish.id in one.fish if one.last_day >= plan.planned_on
        ]
        card = cards.get(fish.name)
        assert card is not None or not ahead
        assert card is None or len(card.tasks) + card.more_tasks == len(ahead)


def test_the_chance_curve_marks_the_day_that_is_planned() -> None:
    days = [TouchUpChance(date(2027, 5, day), day / 40, 0.9) for day in range(1, 31)]

    def told(day: date | None, best: date | None) -> Any:
        return SimpleNamespace(day=day, best=best, curve=tuple(days))

    found = chance_curve(told(date(2027, 5, 20), date(2027, 5, 30)))
    assert found is not None
    assert (found.first, found.last, found.planned) == (days[0].day, days[-1].day, True)
    assert (found.x, found.y) == (round(19 / 29 * 120, 1), round(32 * (1 - days[19].both), 1))
    assert f"{found.x:g},{found.y:g}" in found.points.split()
    assert len(found.points.split()) <= MOST_POINTS + 3
    best = chance_curve(told(None, days[29].day))
    assert best is not None and not best.planned and best.marked == days[29]
    assert chance_curve(told(None, None)) is None
