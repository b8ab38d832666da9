"""The jobs of one show: their windows, the day they are put on, and what becomes of them."""

from __future__ import annotations

from datetime import date, datetime, timedelta
from typing import Any

import pytest

from showprep.husbandry.figures import SHIPPED
from showprep.husbandry.reason import Centimetres, FishId, reason
from showprep.planning.jobs.draft import Draft, place
from showprep.planning.jobs.of_shows import job_rows, job_table
from tests.planning.told import codes

ON = date(2027, 1, 4)
JUDGING = date(2027, 6, 12)
EVENTS = {
    "judging": JUDGING,
    "benching": date(2027, 6, 11),
    "departure": date(2027, 6, 11),
    "home": date(2027, 6, 13),
    "entries_close": date(2027, 5, 22),
    "photos_due": date(2027, 5, 20),
    "vat_booked_by": date(2027, 4, 10),
}
WINDOWS = [(row.kind, row.event, row.days(SHIPPED)[0], row.days(SHIPPED)[2]) for row in job_table()]


@pytest.fixture
def full(written: Any) -> Any:
    """A show that asks for everything, and a keeper with Saturdays only."""
    written.fish = written.fish.split("  defects:")[0]
    written.with_keeper("work_days: [saturday]")
    return written.with_show(
        "entries_close: 2027-05-22",
        "photos_due: 2027-05-20",
        "vat_booked_by: 2027-04-10",
        "declaration_months: 6",
        "health_certificate: yes",
    )


@pytest.fixture
def planned(full: Any) -> Any:
    return full.plan(ON)


@pytest.mark.parametrize(("kind", "event", "earliest", "latest"), WINDOWS)
def test_each_job_falls_in_its_window(
    planned: Any, job: Any, kind: str, event: str, earliest: int, latest: int
) -> None:
    task = job(planned, f"larkfield/{kind}")
    first, last = (EVENTS[event] + timedelta(days=days) for days in (earliest, latest))
    assert max(first, ON) <= task.start <= last
    assert (task.late, task.late_cost, task.show) == (False, None, "larkfield")
    assert task.grade in ("published", "derived", "common practice", "assumption", "keeper's own")
    assert task.note
    if task.hands:
        in_window = (last - max(first, ON)).days >= 6
        assert task.start.weekday() == 5 or not in_window


SOUND = {
    "kind": "look",
    "event": "judging",
    "earliest": -3,
    "ideal": -2,
    "latest": -1,
    "hands": False,
    "grade": "assumption",
    "source": "invented",
}


def test_a_sound_row_is_read() -> None:
    assert [row.kind for row in job_rows([SOUND])] == ["look"]


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"only_if": "spawning"}, "only_if"),
        ({"event": "breakfast"}, "event"),
        ({"ideal": "-2"}, "ideal"),
        ({"until_sentt": True}, "until_sentt"),
        ({"latest": -4}, "do not rise"),
        ({"before": "no_such_figure"}, "no_such_figure"),
        ({"before": "linf"}, "no figure in days called linf"),
        ({"grade": "hearsay"}, "grade"),
    ],
)
def test_a_row_with_a_fault_is_refused_by_its_number_and_kind(
    change: dict[str, object], said: str
) -> None:
    with pytest.raises(ValueError, match=r"jobs\.toml, job 2 \(look\)") as told:
        job_rows([SOUND, SOUND | change])
    assert said in str(told.value)


@pytest.mark.parametrize(
    ("kind", "day"),
    [
        # from the fact sheet's table of an exhibitor's steps, counted back from Saturday 12 June
        ("choose-show", date(2027, 3, 14)),  # 90 days, about three months
        ("first-look", date(2027, 3, 13)),  # 90 days is a Sunday: the Saturday before
        ("last-treatment", date(2027, 4, 13)),  # 60 days
        ("net-practice", date(2027, 5, 22)),  # 21 days, a Saturday
        ("final-check", date(2027, 5, 29)),  # 10 days before is Wednesday 2 June
        ("pack", date(2027, 6, 5)),  # 4 days before departure is Monday 7 June
        ("entries-close", date(2027, 5, 22)),
        ("send-entry", date(2027, 5, 15)),  # a week in hand
        ("home-scrape", date(2027, 6, 19)),  # 5 days after home is Friday: the day after
        ("home-scrape-again", date(2027, 6, 26)),  # 14 days after is Sunday the 27th
    ],
)
def test_days_worked_out_by_hand(planned: Any, job: Any, kind: str, day: date) -> None:
    assert job(planned, f"larkfield/{kind}").start == day


def test_what_a_show_does_not_ask_for_is_no_job(written: Any, ids: Any) -> None:
    written.fish = written.fish.split("  defects:")[0]
    found = ids(written.plan(ON))
    asked = (
        "history-check",
        "health-test",
        "warm-for-test",
        "photos-due",
        "book-vat",
        "send-entry",
    )
    assert not {f"larkfield/{kind}" for kind in asked} & found


def test_a_show_nobody_goes_to_makes_no_jobs(written: Any) -> None:
    written.fish += "  never_show: [larkfield]\n"
    assert written.plan(date(2027, 3, 1)).tasks == ()


TITLE, COST = reason("job-of-show", job="pack"), reason("job-of-show-late", job="pack")


def draft(first: int, ideal: int, last: int, hands: bool = True) -> Draft:
    days = [date(2027, 5, day) for day in (first, ideal, last)]
    return Draft("one/job", "job", TITLE, *days, hands=hands, late_cost=COST)


@pytest.mark.parametrize(
    ("window", "day"),
    [
        ((1, 13, 20), 8),  # Thursday: the Saturday before
        ((10, 13, 20), 15),  # no Saturday before it: the one after
        ((1, 15, 20), 15),  # a Saturday itself
        ((10, 12, 14), 12),  # no Saturday at all: the day itself, and said so
    ],
)
def test_a_job_with_hands_moves_to_a_work_day(
    full: Any, window: tuple[int, int, int], day: int
) -> None:
    task = place(full.yard(ON), draft(*window))
    assert task is not None
    assert task.start == date(2027, 5, day)
    is_work_day = date(2027, 5, day).weekday() == 5
    assert codes(task.cautions) == ([] if is_work_day else ["no-free-hands-in-window"])


def test_away_days_are_no_work_days(full: Any) -> None:
    full.with_keeper("away: [{from: 2027-05-08, to: 2027-05-09}]")
    task = place(full.yard(ON), draft(1, 13, 20))
    assert task is not None
    assert task.start == date(2027, 5, 1)


def test_a_job_whose_ideal_day_has_passed_is_for_now_and_then_late(full: Any) -> None:
    for on, start, late in ((14, 15, False), (16, 16, False), (20, 20, False), (21, 20, True)):
        task = place(full.yard(date(2027, 5, on)), draft(1, 13, 20))
        assert task is not None
        assert (task.start.day, task.late) == (start, late), on
        assert task.late_cost == (COST if late else None)


def test_a_job_written_down_as_done_is_gone(full: Any, ids: Any) -> None:
    assert "larkfield/pack" in ids(full.plan(ON))
    full.noted("on: 2027-01-04, did: job, job: larkfield/pack")
    assert "larkfield/pack" not in ids(full.plan(ON))


def test_once_the_form_is_sent_choosing_and_sending_are_over(full: Any, ids: Any) -> None:
    full.noted("on: 2027-03-01, did: sent, show: larkfield")
    found = ids(full.plan(date(2027, 3, 20)))
    assert (
        not {f"larkfield/{kind}" for kind in ("choose-show", "send-entry", "entries-close")} & found
    )
    assert "larkfield/photos-due" in found


def test_fish_measured_lately_need_no_first_look(full: Any, ids: Any) -> None:
    full.fish = full.fish.replace("2027-03-01", "2027-01-04")
    assert "larkfield/first-look" in ids(full.plan(date(2027, 3, 1)))  # before the 120 days
    full.noted("on: 2027-03-01, did: measure, fish: aoi, measured_cm: 50.5")
    assert "larkfield/first-look" not in ids(full.plan(date(2027, 3, 1)))


def test_lengths_and_names_are_told_as_the_keeper_has_them(full: Any, job: Any) -> None:
    full.with_keeper("units: us").with_show("limits: {fish: 2, longest_cm: 70 cm}")
    full.with_keeper(
        "waters:",
        "  pond: {gallons: 5000, steady_f: 68}",
        "  vat: {gallons: 1000, steady_c: 22 C}",
        "touch_up: {by: keeper, law_checked: yes, bath_gallons: 8, strength_percent: 10}",
    )
    full.fish = full.fish.replace("50}", "20 in}")
    plan = full.plan(ON)
    assert plan.shows[0].limits == (
        reason("limit-fish", most=2),
        reason("limit-longest", most=Centimetres(70)),
    )
    assert job(plan, "larkfield/check-out").note == reason("check-out-how", fish=(FishId("aoi"),))


def test_late_jobs_say_what_being_late_costs(full: Any) -> None:
    plan = full.plan(date(2027, 6, 1))
    late = {task.kind for task in plan.tasks if task.late}
    assert {"parasite-check", "entries-close", "book-vat"} <= late
    assert "send-entry" not in late  # entries are closed: that job says what to do
    before_the_close = {task.kind for task in full.plan(date(2027, 5, 22)).tasks if task.late}
    assert "send-entry" in before_the_close
    assert "last-treatment" not in late  # a moment: nothing to make up for
    assert all(task.late_cost for task in plan.tasks if task.late)
    assert "jobs-are-late" in codes(plan.warnings)


def test_the_journey_hour_by_hour(planned: Any, job: Any) -> None:
    def at(kind: str) -> tuple[str, str]:
        task = job(planned, f"larkfield/{kind}")
        assert not task.all_day
        assert task.time_zone == "Europe/Dublin"
        assert isinstance(task.start, datetime)
        assert isinstance(task.end, datetime)
        return task.start.strftime("%d %H:%M"), task.end.strftime("%d %H:%M")

    assert at("bag") == ("11 09:30", "11 11:00")  # an hour and a half, never in a hurry
    assert at("departure") == ("11 11:00", "11 13:00")
    assert at("arrive") == ("11 13:00", "11 20:00")
    assert at("benching")[0] == "11 13:00"
    assert at("judging")[0] == "12 10:00"
    assert at("check-out") == ("13 14:00", "13 16:00")
    arrive = job(planned, "larkfield/arrive")
    assert codes(arrive.cautions) == ["no-air-into-bags"]


def test_at_the_show_only_what_is_to_come_is_left(full: Any, ids: Any) -> None:
    full.noted("on: 2027-06-11, did: travelled, fish: aoi, show: larkfield")
    found = ids(full.plan(JUDGING))
    assert {"larkfield/judging", "larkfield/check-out", "larkfield/home-scrape"} <= found
    gone = ("bag", "departure", "pack", "first-look", "send-entry", "benching")
    assert not {f"larkfield/{kind}" for kind in gone} & found


@pytest.mark.parametrize(
    ("rule", "on_form", "goes"),
    [
        ("allowed", "reserve-on-form", "reserve-steps-in"),
        ("not stated", "reserve-on-form", "reserve-steps-in"),
        ("not allowed", None, "reserve-none"),
    ],
)
def test_form_and_go_or_stay_tell_of_the_first_reserve(
    full: Any, job: Any, rule: str, on_form: str | None, goes: str
) -> None:
    full.fish += """\
ren:
  name: Ren
  variety: showa
  lives_in: pond
  merit: 70
  lengths_cm: {2027-03-20: 40.0}
"""
    full.with_show(f"reserve_on_form: {rule}", "limits: {fish: 1}")
    plan = full.plan(ON)
    (entered,) = {one.fish for one in plan.verdicts if one.entered}
    (reserve,) = {"aoi", "ren"} - {entered}
    assert plan.choice.reserves == (("larkfield", reserve),)
    form, check = (job(plan, f"larkfield/{kind}").note for kind in ("send-entry", "final-check"))
    if on_form is None:
        assert form.code == "job-of-show-how"
    else:
        told = form["reserve"]
        assert (told.code, told["fish"], told["rule"]) == (on_form, FishId(reserve), rule)
    assert check["reserve"].code == goes
