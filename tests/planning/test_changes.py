"""What changed since the last plan, on an invented yard planned twice."""

from __future__ import annotations

import json
from datetime import date, datetime

import pytest
from msgspec.structs import replace

from showprep.husbandry.reason import Celsius, FishId, Reason, ShowId, reason
from showprep.outputs.json_plan import plan_text
from showprep.planning.follow_up.changes import changes, news_since
from showprep.planning.plan import Change, Plan
from showprep.planning.season_plan import make_plan
from showprep.planning.yard.last_plan import LastPlan, last_from, last_of
from showprep.planning.yard.presumed import yard_as_known
from showprep.season.records import Defect, Fish, JournalEntry, Keeper, Season, Show, Water
from tests.planning.told import codes

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
    return changes(first, plan(now, *journal), yard_as_known(season(*journal), now))


LEAVE = reason("leave", show=ShowId("larkfield"))


def told(found: tuple[Change, ...], code: str, title: Reason | None = None) -> Change:
    """The one change with this code and, of a job, with this title."""
    matching = [
        change
        for change in found
        if change.what.code == code and (title is None or change.what["title"] == title)
    ]
    assert len(matching) == 1, [change.what for change in found]
    return matching[0]


def noted(change: Change) -> tuple[object, object]:
    """The word of the journal that is given as the one reason, and its day."""
    (why,) = change.why
    return why["word"], why["on"]


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
    gone = told(found, "no-longer-goes")
    assert (gone.kind, gone.what["fish"]) == ("verdict", FishId("ren"))
    assert noted(gone) == ("sold", date(2027, 4, 8))
    assert not [one for one in found if one.kind == "new" and "id='ren'" in str(one.what)]


def test_a_show_cancelled_clears_its_chain() -> None:
    off = entry(date(2027, 4, 8), show="larkfield", did="cancelled")
    found = since(date(2027, 4, 6), date(2027, 4, 9), off)
    gone = told(found, "job-not-planned", LEAVE)
    assert noted(gone) == ("cancelled", date(2027, 4, 8))
    assert {change.kind for change in found} <= {"gone", "verdict"}


def test_a_show_postponed_moves_its_chain() -> None:
    off = entry(date(2027, 4, 8), show="larkfield", did="postponed", to_day=date(2027, 7, 3))
    moved = told(since(date(2027, 4, 6), date(2027, 4, 9), off), "job-moved", LEAVE)
    assert moved.kind == "moved"
    days = [moved.what[name].replace(tzinfo=None) for name in ("old", "new")]
    assert days == [datetime(2027, 6, 11, 11), datetime(2027, 7, 2, 11)]
    assert noted(moved) == ("postponed", date(2027, 4, 8))
    assert moved.why[0]["to"] == date(2027, 7, 3)


def test_a_touch_up_done_is_done_and_looks_back() -> None:
    first = plan(date(2027, 4, 6))
    day = next(one.touch_up.day for one in first.verdicts if one.touch_up)
    assert day is not None
    done = [entry(day, fish=fish, did="touch-up") for fish in ("aoi", "ren")]
    found = since(date(2027, 4, 6), day, *done)
    both = (FishId("aoi"), FishId("ren"))
    assert told(found, "job-done", reason("touch-up", fish=both)).kind == "done"
    assert told(found, "job-done", reason("touch-up-kit", fish=both)).kind == "done"
    assert "look-back" not in codes(one.what for one in found)
    (of_aoi,) = [one for one in found if one.what.code == "verdict-changed"][:1]
    assert of_aoi.what["fish"] == FishId("aoi")
    assert of_aoi.what["parts"] == (
        reason("verdict-becomes", old="ready-after-touch-up", new="ready"),
        reason("touch-up-dropped"),
    )


def test_a_job_not_done_is_late() -> None:
    found = since(date(2027, 4, 6), date(2027, 5, 23))
    late = [change for change in found if change.what.code == "job-late"]
    assert late and late[0].why == (reason("not-noted-as-done"),)


def test_a_job_noted_by_its_id_is_done() -> None:
    first = plan(date(2027, 4, 6)).tasks[0]
    done = entry(date(2027, 4, 7), did="job", job=first.id)
    assert told(since(date(2027, 4, 6), date(2027, 4, 7), done), "job-done", first.title)


def test_warmth_that_was_read_is_a_reason_of_last_resort() -> None:
    read = [
        entry(date(2027, 4, 7 + n), water="pond", saw="temperature", read_c=13) for n in range(4)
    ]
    news = news_since(yard_as_known(season(*read), date(2027, 4, 11)), date(2027, 4, 9))
    warmth = reason("water-read", water="pond", read=Celsius(13), on=date(2027, 4, 10))
    assert news.why(("aoi",), None, None) == (warmth,)
    assert news.why((), None, "vat") == ()
    read.append(entry(date(2027, 4, 10), fish="aoi", did="vet"))
    news = news_since(yard_as_known(season(*read), date(2027, 4, 11)), date(2027, 4, 9))
    seen, read_then = news.why(("aoi",), None, None)
    assert (seen["word"], read_then) == ("vet", warmth)


def test_jobs_are_told_by_day() -> None:
    made = plan(date(2027, 4, 6))
    nothing = LastPlan(date(2027, 4, 5), {}, {})
    found = changes(nothing, made, yard_as_known(season(), date(2027, 4, 6)))
    assert [change.kind for change in found] == ["new"] * len(made.tasks)
    assert {change.what["title"] for change in found} == {task.title for task in made.tasks}
    days = [change.what["at"] for change in found]
    assert days == sorted(days, key=lambda at: at.date() if isinstance(at, datetime) else at)


def test_fish_that_join_or_leave_a_job_are_named() -> None:
    made = plan(date(2027, 4, 6))
    shared = next(task for task in made.tasks if len(task.fish) == 2)
    alone = replace(shared, fish=("aoi",))
    tasks = tuple(alone if task is shared else task for task in made.tasks)
    before = last_of(replace(made, tasks=tasks))
    found = changes(before, made, yard_as_known(season(), made.planned_on))
    (change,) = found
    assert (change.what["jobs"], change.what["show"]) == (1, ShowId("larkfield"))
    assert (change.what["come"], change.what["gone"]) == ((FishId("ren"),), ())
