"""What is presumed when nobody writes: it binds, it frees nothing, and it is asked about once.

Larkfield is judged on 12 June 2027; the fish leave on the 11th and are home on the 13th. In the
vat of 22 °C fish from own vats are apart for 28 days: until 11 July.
"""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Any

import pytest

from showprep.planning.as_of.note_truth import objections
from showprep.planning.season_plan import make_plan
from showprep.planning.yard.last_plan import last_of
from showprep.season.records import JournalEntry
from tests.planning.told import told

ENTERED = "on: 2027-05-20, did: entered, fish: aoi, show: larkfield"
HOME, CLEAR = date(2027, 6, 13), date(2027, 7, 11)
SECOND = """\
otterby:
  name: Otterby Show
  judging: 2027-07-10 10:00
  check_out: 2027-07-11 14:00
  travel_hours: 1
  vats: own
"""


def questions(plan: Any) -> list[str]:
    return [told(plan, one.question) for one in plan.asks]


@pytest.mark.parametrize("entered", [True, False])
def test_entered_or_chosen_fish_are_presumed_to_have_gone(
    written: Any, ids: Any, job: Any, entered: bool
) -> None:
    if entered:
        written.noted(ENTERED)
    plan = written.plan(date(2027, 6, 14))
    assert questions(plan) == ["Did Aoi go to Larkfield Show?"]
    assert told(plan, plan.asks[0].note) == (
        "Note: --did travelled, or stayed, --fish aoi --show larkfield --on 2027-06-11"
    )
    assert job(plan, "larkfield/isolation-clear").start == CLEAR
    assert {f"larkfield/{one}" for one in ("isolation", "home-scrape", "no-food/vat")} <= ids(plan)


def test_three_weeks_without_a_note_the_plan_is_still_right(written: Any, ids: Any) -> None:
    written.noted(ENTERED)
    written.shows += SECOND
    for day in (date(2027, 6, 21), date(2027, 7, 4)):
        plan = written.plan(day)
        assert {"larkfield/isolation", "larkfield/isolation-clear"} <= ids(plan)
        assert questions(plan) == ["Did Aoi go to Larkfield Show?"]
        # apart until 11 July, so it cannot leave for the show of 10 July
        assert not any(one.entered for one in plan.verdicts if one.show == "otterby")


def test_what_is_not_done_does_not_vanish_on_the_day_the_vat_is_cleared(
    written: Any, ids: Any, job: Any
) -> None:
    written.noted(ENTERED)
    plan = written.plan(date(2027, 7, 20))
    assert job(plan, "larkfield/home-scrape").late
    assert not job(plan, "larkfield/isolation-clear").late  # two weeks are given
    written.noted("on: 2027-07-13, did: move, fish: aoi, to: pond")
    assert "larkfield/isolation-clear" not in ids(written.plan(date(2027, 7, 20)))


def test_stayed_clears_the_chain_and_a_result_proves_the_journey(written: Any, ids: Any) -> None:
    written.noted(ENTERED, "on: 2027-06-14, did: stayed, fish: aoi, show: larkfield")
    plan = written.plan(date(2027, 6, 14))
    assert plan.asks == ()
    assert not [one for one in ids(plan) if one.startswith("larkfield/")]
    written.noted("on: 2027-06-15, did: result, fish: aoi, show: larkfield, result: second")
    plan = written.plan(date(2027, 6, 15))
    assert plan.asks == () and "larkfield/isolation" in ids(plan)


def test_nothing_is_asked_while_they_are_still_there(written: Any) -> None:
    written.noted(ENTERED, "on: 2027-06-05, did: stop feeding, water: pond")
    for day, asked in ((11, 0), (12, 0), (13, 1)):  # checked out on the 13th
        assert len(written.plan(date(2027, 6, day)).asks) == asked


@pytest.mark.parametrize("day", ["2027-06-11", "2027-06-13", "2027-07-01"])
def test_the_journey_may_be_noted_on_any_true_day(written: Any, day: str) -> None:
    season = written.season(date(2027, 7, 2))
    entry = JournalEntry.model_validate(
        {"on": day, "did": "travelled", "fish": "aoi", "show": "larkfield"}
    )
    assert objections(season, entry, Path(), date(2027, 7, 2)) == ()


def test_a_fish_with_a_result_did_not_stay(written: Any) -> None:
    written.noted("on: 2027-06-12, did: result, fish: aoi, show: larkfield, result: first")
    season = written.season(date(2027, 6, 14))
    entry = JournalEntry.model_validate(
        {"on": "2027-06-14", "did": "stayed", "fish": "aoi", "show": "larkfield"}
    )
    found = objections(season, entry, Path(), date(2027, 6, 14))
    assert [one.code for one in found] == ["won-there"]


def test_a_fast_that_should_run_is_asked_about_once(written: Any, job: Any) -> None:
    first = job(written.plan(date(2027, 5, 20)), "larkfield/stop-feeding/pond").start
    plan = written.plan(date(2027, 6, 10))
    assert first < plan.planned_on
    asked = [one for one in plan.asks if one.question.code == "unfed-not-noted"]
    assert [one.water for one in asked] == ["pond"]
    assert f"--on {first}" in told(plan, asked[0].note)
    written.noted(f"on: {first}, did: stop feeding, water: pond")
    assert written.plan(date(2027, 6, 10)).asks == ()


def test_a_move_of_the_keepers_own_is_presumed_and_asked_about(written: Any) -> None:
    written.fish += "  moves: [{on: 2027-04-05, to: vat}]\n"
    assert written.plan(date(2027, 4, 5)).asks == ()
    plan = written.plan(date(2027, 4, 7))
    assert questions(plan) == ["Did Aoi move from the pond to the vat on Mon 5 April?"]
    assert told(plan, plan.asks[0].note) == "Note: --did move --fish aoi --to vat --on 2027-04-05"
    assert plan.fish[0].lives_in == "vat"
    written.noted("on: 2027-04-06, did: move, fish: aoi, to: vat")
    assert written.plan(date(2027, 4, 7)).asks == ()


def test_a_note_taken_back_frees_nobody_that_was_presumed_to_have_gone(written: Any) -> None:
    """Told to go, noted as stayed by mistake, and the note taken back: it is presumed gone again.

    The plan made in between is remembered as well, and knew nothing of a journey.
    """
    last = last_of(written.plan(date(2027, 6, 10)))
    assert last.going("larkfield") == {"aoi"}
    written.noted("on: 2027-06-11, did: stayed, fish: aoi, show: larkfield")
    season, on = written.season(date(2027, 6, 14)), date(2027, 6, 14)
    between = make_plan(season, on, "test", last=last)
    assert questions(between) == []
    written.noted("on: 2027-06-11, did: stayed, fish: aoi, show: larkfield, undone: 2027-06-15")
    season, on = written.season(date(2027, 6, 15)), date(2027, 6, 15)
    after = make_plan(season, on, "test", last=last_of(between))
    assert questions(after) == ["Did Aoi go to Larkfield Show?"]
    assert "larkfield/isolation" in {task.id for task in after.tasks}


BEN = """\
ben:
  name: Ben
  variety: showa
  lives_in: pond
  merit: 70
  lengths_cm: {2027-03-01: 45}
"""
CLOSED = "entries_close: 2027-05-22"


@pytest.fixture
def closing(written: Any) -> Any:
    """Aoi of 80 and Ben of 70 points for the one place at Larkfield; entries close on 22 May."""
    written.fish = written.fish.split("  defects")[0] + BEN
    return written.with_show(CLOSED, "limits: {fish: 1}")


def going(plan: Any) -> tuple[str, ...]:
    found: tuple[str, ...] = plan.shows[0].entered
    return found


def test_once_entries_closed_the_form_stays_as_the_plan_had_it(closing: Any, verdict: Any) -> None:
    closing.noted("on: 2027-05-22, did: weigh, fish: ben, weighed_kg: 2.1")
    for day, asked in ((22, 0), (23, 1), (30, 1)):
        plan = closing.plan(date(2027, 5, day))
        assert going(plan) == ("aoi",)
        assert len([one for one in plan.asks if one.question.code == "entries-not-noted"]) == asked
    assert questions(plan)[0] == (
        "Is Aoi entered in Larkfield Show (reserve: Ben), and nobody else?"
    )
    assert told(plan, plan.asks[0].note) == (
        "Note all that are: --did entered --fish aoi --show larkfield --on 2027-05-22"
    )
    # Ben is worth more now, and too late.
    closing.fish = closing.fish.replace("merit: 70", "merit: 90")
    last = last_of(plan)
    after = make_plan(closing.season(date(2027, 5, 31)), date(2027, 5, 31), "test", last=last)
    assert going(after) == ("aoi",)
    # But for what the keeper says of the form.
    closing.noted("on: 2027-05-20, did: entered, fish: ben, show: larkfield")
    after = make_plan(closing.season(date(2027, 5, 31)), date(2027, 5, 31), "test", last=last)
    assert going(after) == ("ben",)
    assert verdict(after, "aoi").reasons[0].code == "entries-closed"
    assert questions(after) == []


def test_the_form_is_that_of_the_day_it_was_sent(closing: Any, verdict: Any) -> None:
    closing.noted("on: 2027-05-10, did: sent, show: larkfield")
    last = last_of(closing.plan(date(2027, 5, 9)))
    closing.fish = closing.fish.replace("merit: 70", "merit: 90")
    assert going(closing.plan(date(2027, 5, 9))) == ("ben",)
    # Aoi was told to go the day before; Ben was put higher before the form went.
    on = date(2027, 5, 10)
    plan = make_plan(closing.season(on), on, "test", last=last)
    assert going(plan) == ("ben",)
    closing.fish = closing.fish.replace("merit: 90", "merit: 60")
    on = date(2027, 5, 12)
    after = make_plan(closing.season(on), on, "test", last=last_of(plan))
    assert going(after) == ("ben",)
    assert after.presumed_forms["larkfield"].fish == {"ben"}


def test_the_reserve_steps_in_for_one_that_stays_and_never_besides(
    closing: Any, verdict: Any
) -> None:
    closing.with_show("limits: {fish: 2}")
    closing.fish += BEN.replace("ben", "cho").replace("Ben", "Cho").replace("70", "65")
    last = last_of(closing.plan(date(2027, 5, 22)))
    on = date(2027, 5, 30)
    plan = make_plan(closing.season(on), on, "test", last=last)
    assert (going(plan), plan.choice.reserves) == (("aoi", "ben"), (("larkfield", "cho"),))
    closing.with_show("limits: {fish: 3}")  # the rules grew; the form did not
    plan = make_plan(closing.season(on), on, "test", last=last)
    assert going(plan) == ("aoi", "ben")
    closing.noted("on: 2027-05-29, did: stayed, fish: ben, show: larkfield")
    plan = make_plan(closing.season(on), on, "test", last=last)
    assert going(plan) == ("aoi", "cho")
    assert verdict(plan, "ben").reasons[0].code == "not-on-presumed-form"


def test_one_taken_to_be_entered_that_may_not_go_is_a_stop(closing: Any) -> None:
    closing.noted("on: 2027-05-25, saw: new defect, defect: ulcer, where: back, fish: aoi")
    plan = closing.plan(date(2027, 5, 26))
    assert going(plan) == ("ben",)  # the reserve
    stops = [one.reason.code for one in plan.warnings if one.level == "stop"]
    assert "presumed-entered-and-barred" in stops


def test_where_nobody_could_have_been_entered_nothing_is_presumed(closing: Any) -> None:
    closing.noted(
        "on: 2027-05-20, saw: khv signs, water: pond", "on: 2027-05-26, saw: khv clear, water: pond"
    )
    assert going(closing.plan(date(2027, 5, 25))) == ()
    plan = closing.plan(date(2027, 5, 26))
    assert going(plan) == ("aoi",)
    assert plan.presumed_forms == {}


def test_a_plan_that_knew_nothing_of_the_show_bars_nobody_from_it(closing: Any) -> None:
    """The show was written into the files late; the plan of the day before had none."""
    shows, closing.shows = closing.shows, "{}\n"
    last = last_of(closing.plan(date(2027, 5, 25)))
    assert last.going("larkfield") is None
    closing.shows, on = shows, date(2027, 5, 26)
    assert going(make_plan(closing.season(on), on, "test", last=last)) == ("aoi",)
