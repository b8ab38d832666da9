"""A session keeps its name for good, and a touch-up that nobody noted binds and frees nothing."""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import date, timedelta
from typing import Any

from msgspec import structs

from showprep.outputs.json_plan import plan_text
from showprep.planning.season_plan import make_plan
from showprep.planning.yard.last_plan import LastPlan, PresumedCut, last_from, last_of
from tests.planning.told import told

ON = date(2027, 4, 1)
SPECK = "  defects: [{kind: shimi, where: left shoulder, size_mm: 2, seen: 2027-03-01}]\n"
AARO = (
    "aaro:\n  name: Aaro\n  variety: kohaku\n  lives_in: pond\n  merit: 70\n"
    "  lengths_cm: {2027-03-01: 50}\n" + SPECK
)


def session(plan: Any) -> Any:
    (found,) = [task for task in plan.tasks if task.kind in ("touch-up", "ask-a-vet")]
    return found


def test_another_fish_that_comes_first_renames_no_session(written: Any) -> None:
    before = written.plan(ON)
    assert session(before).id == "touch-up/aoi/larkfield"
    written.fish += AARO
    alone = written.plan(ON + timedelta(1))
    assert session(alone).fish == ("aaro", "aoi")  # one session, its first fish another
    assert session(alone).id == "touch-up/aaro/larkfield"
    day = ON + timedelta(1)
    after = make_plan(written.season(day), day, "test", last=last_of(before))
    assert session(after).fish == ("aaro", "aoi")
    kept = {one.id for one in before.tasks} & {one.id for one in after.tasks}
    assert {"touch-up/aoi/larkfield", "kit/aoi/larkfield", "unfed/aoi/larkfield/pond"} <= kept


def test_the_look_back_keeps_its_name_when_the_show_has_passed(written: Any) -> None:
    written.noted("on: 2027-06-01, did: touch-up, fish: aoi")
    written.noted("on: 2027-05-20, did: entered, fish: aoi, show: larkfield")
    names = set()
    for day in (date(2027, 6, 2), date(2027, 6, 12), date(2027, 6, 14), date(2027, 6, 18)):
        plan = written.plan(day)
        names |= {one.id for one in plan.tasks if one.id.startswith("look-back-2")}
    assert names == {"look-back-2/aoi/larkfield"}


def due_on(plan: LastPlan, day: date) -> LastPlan:
    """The same plan with its session on another day."""
    jobs = {
        key: replace(one, start=day) if one.kind == "touch-up" else one
        for key, one in plan.jobs.items()
    }
    return structs.replace(plan, jobs=jobs)


def test_a_touch_up_that_nobody_noted_is_asked_about_and_spaces_the_next(written: Any) -> None:
    # The best day is 15 May, the last one likely enough 24 May. Twelve days after 25 April is
    # 7 May; twelve days after 14 May would be 26 May, too late.
    before = last_of(written.plan(ON))
    assert session(written.plan(ON)).start == date(2027, 5, 15)
    last = due_on(before, date(2027, 4, 25))
    plan = make_plan(written.season(date(2027, 4, 26)), date(2027, 4, 26), "test", last=last)
    (ask,) = plan.asks
    assert told(plan, ask.question) == "Was the touch-up of Aoi done on Sun 25 April?"
    assert told(plan, ask.note) == (
        "Note: --did touch-up --fish aoi --on 2027-04-25, or --did 'not done' "
        "--job touch-up/aoi/larkfield"
    )
    # it frees nothing: the speck still wants its touch-up, under the name it had
    assert session(plan).id == "touch-up/aoi/larkfield"
    assert session(plan).start >= date(2027, 5, 7)
    # the plan of that day alone is enough to know it the day after
    day = date(2027, 4, 27)
    third = make_plan(written.season(day), day, "test", last=last_of(plan))
    assert [one.question for one in third.asks] == [ask.question]

    late = due_on(before, date(2027, 5, 14))
    plan = make_plan(written.season(date(2027, 5, 15)), date(2027, 5, 15), "test", last=late)
    assert [one.kind for one in plan.tasks if one.kind == "touch-up"] == []


def test_not_done_and_done_both_settle_it(written: Any) -> None:
    last, day = due_on(last_of(written.plan(ON)), date(2027, 5, 5)), date(2027, 5, 6)
    written.noted(f"on: {day}, did: not done, job: touch-up/aoi/larkfield")
    plan = make_plan(written.season(day), day, "test", last=last)
    assert plan.asks == ()
    assert session(plan).start == date(2027, 5, 15)
    written.journal = ""
    written.noted("on: 2027-05-05, did: touch-up, fish: aoi")
    plan = make_plan(written.season(day), day, "test", last=last)
    assert plan.asks == ()
    assert "look-back-1/aoi/larkfield" in {one.id for one in plan.tasks}


def test_what_is_remembered_survives_being_written(written: Any) -> None:
    last, day = due_on(last_of(written.plan(ON)), date(2027, 5, 5)), date(2027, 5, 6)
    plan = make_plan(written.season(day), day, "test", last=last)
    read = last_from(json.loads(plan_text(plan)))
    assert read is not None
    assert (
        read.cuts
        == last_of(plan).cuts
        == (PresumedCut("touch-up/aoi/larkfield", date(2027, 5, 5), ("aoi",)),)
    )
