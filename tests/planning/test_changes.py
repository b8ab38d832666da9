"""What changed since the last plan, on an invented yard planned twice."""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import date, datetime

import pytest

from showprep.outputs.json_plan import plan_text
from showprep.planning.change_reasons import news_since
from showprep.planning.changes import changes
from showprep.planning.last_plan import LastPlan, last_from, last_of
from showprep.planning.plan import Change, Plan
from showprep.planning.season_plan import make_plan
from showprep.planning.state import state_of
from showprep.season.records import Defect, Fish, JournalEntry, Keeper, Season, Show, Water

SPECK = Defect(kind="shimi", where="left shoulder", size_mm=2, seen=date(2027, 3, 20))


def entry(on: date, **told: object) -> JournalEntry:
    return JournalEntry.model_validate({"on": on} | told)


def season(*journal: JournalEntry) -> Season:
    keeper = Keeper.model_validate(
        {
            "time_zone": "Europe/Dublin",
            "waters": {"pond": Water(steady_c=20), "vat": Water(steady_c=22)},
            "isolation": {"water": "vat", "holds": "4"},
            "touch_up": {
                "by": "keeper",
                "law_checked": "yes",
                "law_country": "Ireland",
                "strength_percent": "10",
            },
        }
    )
    show = Show(
        name="Larkfield Spring Show",
        judging=datetime(2027, 6, 12, 10),
        entries_close=date(2027, 5, 22),
        travel_hours=2,
        altered_fish="tolerated",
        vats="own",
    )
    fish = {
        name.casefold(): Fish(
            name=name, variety="kohaku", lives_in="pond", merit=80, defects=(SPECK,)
        )
        for name in ("Aoi", "Ren")
    }
    return Season(keeper=keeper, shows={"larkfield": show}, fish=fish, journal=journal)


def plan(on: date, *journal: JournalEntry) -> Plan:
    return make_plan(season(*journal), on)


def since(before: date, now: date, *journal: JournalEntry) -> tuple[Change, ...]:
    """What changed between two plans; the journal is known to the second alone."""
    earlier = [one for one in journal if one.on < before]
    first = last_of(plan(before, *earlier))
    return changes(first, plan(now, *journal), state_of(season(*journal), now))


def job(found: tuple[Change, ...], words: str) -> Change:
    matching = [change for change in found if words in change.text]
    assert len(matching) == 1, [change.text for change in found]
    return matching[0]


def test_nothing_changed_says_nothing() -> None:
    assert since(date(2027, 4, 6), date(2027, 4, 6)) == ()


def test_the_plan_in_a_file_remembers_the_same() -> None:
    made = plan(date(2027, 4, 6))
    assert last_from(json.loads(plan_text(made))) == last_of(made)


@pytest.mark.parametrize("data", [None, [], {}, {"tasks": 3}, {"planned_on": "x", "tasks": []}])
def test_a_file_that_holds_no_plan_is_none(data: object) -> None:
    assert last_from(data) is None


def test_a_fish_sold_leaves_with_its_reason() -> None:
    found = since(
        date(2027, 4, 6), date(2027, 4, 9), entry(date(2027, 4, 8), fish="ren", did="sold")
    )
    gone = job(found, "Ren no longer goes to Larkfield Spring Show")
    assert (gone.kind, gone.why) == ("verdict", "Ren was sold on Thu 8 April.")
    assert not [one for one in found if one.kind == "new" and "Ren" in one.text]


def test_a_show_cancelled_clears_its_chain() -> None:
    off = entry(date(2027, 4, 8), show="larkfield", did="cancelled")
    found = since(date(2027, 4, 6), date(2027, 4, 9), off)
    gone = job(found, "No longer planned: Leave for Larkfield")
    assert gone.why == "Larkfield Spring Show was cancelled; heard on Thu 8 April."
    assert {change.kind for change in found} <= {"gone", "verdict"}


def test_a_show_postponed_moves_its_chain() -> None:
    off = entry(date(2027, 4, 8), show="larkfield", did="postponed", to_day=date(2027, 7, 3))
    moved = job(since(date(2027, 4, 6), date(2027, 4, 9), off), "Leave for Larkfield")
    assert moved.kind == "moved"
    assert "moved from Fri 11 June 11:00 to Fri 2 July 11:00" in moved.text
    assert "was moved to Sat 3 July; heard on Thu 8 April" in moved.why


def test_a_touch_up_done_is_done_and_looks_back() -> None:
    first = plan(date(2027, 4, 6))
    day = next(one.touch_up.day for one in first.verdicts if one.touch_up)
    assert day is not None
    told = [entry(day, fish=fish, did="touch-up") for fish in ("aoi", "ren")]
    found = since(date(2027, 4, 6), day, *told)
    assert job(found, "Touch-up: Aoi").kind == "done"
    assert job(found, "Lay out the kit").kind == "done"
    assert not [change for change in found if "Look back" in change.text]
    assert "becomes ready, no touch-up is planned any more" in job(found, "Aoi for").text


def test_a_job_not_done_is_late() -> None:
    found = since(date(2027, 4, 6), date(2027, 5, 23))
    late = [change for change in found if "late, it was due" in change.text]
    assert late and "Nothing in the journal" in late[0].why


def test_a_job_noted_by_its_id_is_done() -> None:
    first = plan(date(2027, 4, 6)).tasks[0]
    told = entry(date(2027, 4, 7), did="job", job=first.id)
    assert job(since(date(2027, 4, 6), date(2027, 4, 7), told), f"Done: {first.title}")


def test_warmth_that_was_read_is_a_reason_of_last_resort() -> None:
    told = [
        entry(date(2027, 4, 7 + n), water="pond", saw="temperature", read_c=13) for n in range(4)
    ]
    news = news_since(state_of(season(*told), date(2027, 4, 11)), date(2027, 4, 9))
    assert news.why(("aoi",), None, None) == "The pond read 13 °C on Sat 10 April."
    assert news.why((), None, "vat") == ""
    told.append(entry(date(2027, 4, 10), fish="aoi", did="vet"))
    news = news_since(state_of(season(*told), date(2027, 4, 11)), date(2027, 4, 9))
    both = "A vet saw Aoi on Sat 10 April and the pond read 13 °C on Sat 10 April."
    assert news.why(("aoi",), None, None) == both


def test_jobs_are_told_by_day_and_texts_are_sentences() -> None:
    made = plan(date(2027, 4, 6))
    nothing = LastPlan(date(2027, 4, 5), {}, {})
    found = changes(nothing, made, state_of(season(), date(2027, 4, 6)))
    assert [change.kind for change in found] == ["new"] * len(made.tasks)
    assert all(change.text.endswith(".") for change in found)


def test_fish_that_join_or_leave_a_job_are_named() -> None:
    made = plan(date(2027, 4, 6))
    shared = next(task for task in made.tasks if len(task.fish) == 2)
    alone = replace(shared, fish=("aoi",))
    tasks = tuple(alone if task is shared else task for task in made.tasks)
    before = last_of(replace(made, tasks=tasks))
    found = changes(before, made, state_of(season(), made.planned_on))
    assert [change.text for change in found] == ["1 job of Larkfield Spring Show: now with Ren."]
