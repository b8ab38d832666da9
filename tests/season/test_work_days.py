"""Days with hands free that recur by an iCalendar rule."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

import pytest
from pydantic import ValidationError

from showprep.season.values.work_days import WorkRule, is_among, rule, work_day

SECOND_SATURDAYS = "FREQ=WEEKLY;INTERVAL=2;BYDAY=SA"


def days(text: str, start: str, last: str) -> list[str]:
    """The days of a rule from its first day to `last`, as month-day."""
    first = date.fromisoformat(start)
    one = WorkRule.model_validate({"rule": text, "from": first})
    span = range((date.fromisoformat(last) - first).days + 1)
    every = (first + timedelta(days=number) for number in span)
    return [f"{day:%m-%d}" for day in every if one.has(day)]


# Rules and their days as RFC 5545 (Internet Calendaring and Scheduling, 2009), section 3.8.5.3,
# lists them. UNTIL is a whole day here; there, 00:00 UTC of the next.
PUBLISHED = [
    (
        "FREQ=WEEKLY;INTERVAL=2;UNTIL=19971223;WKST=SU;BYDAY=MO,WE,FR",
        "1997-09-01",
        "09-01 09-03 09-05 09-15 09-17 09-19 09-29 10-01 10-03 10-13 10-15 10-17 10-27 10-29 "
        "10-31 11-10 11-12 11-14 11-24 11-26 11-28 12-08 12-10 12-12 12-22",
    ),
    ("FREQ=MONTHLY;UNTIL=19971223;BYDAY=1FR", "1997-09-05", "09-05 10-03 11-07 12-05"),
    (
        "FREQ=MONTHLY;BYDAY=MO,TU,WE,TH,FR;BYSETPOS=-2",
        "1997-09-29",
        "09-29 10-30 11-27 12-30",
    ),
    (
        "FREQ=MONTHLY;BYDAY=SA;BYMONTHDAY=7,8,9,10,11,12,13",
        "1997-09-13",
        "09-13 10-11 11-08 12-13",
    ),
    ("FREQ=MONTHLY;BYDAY=FR;BYMONTHDAY=13", "1997-09-02", ""),
]


@pytest.mark.parametrize(("text", "start", "listed"), PUBLISHED, ids=lambda value: value[:40])
def test_rules_give_the_days_of_the_standard(text: str, start: str, listed: str) -> None:
    assert days(text, start, "1997-12-31") == listed.split()


@pytest.mark.parametrize(
    ("week_begins", "listed"),
    [("MO", "08-05 08-10 08-19 08-24"), ("SU", "08-05 08-17 08-19 08-31")],
)
def test_the_first_day_of_the_week_matters(week_begins: str, listed: str) -> None:
    """The same section's own example of WKST."""
    text = f"FREQ=WEEKLY;INTERVAL=2;BYDAY=TU,SU;WKST={week_begins}"
    assert days(text, "1997-08-05", "1997-08-31") == listed.split()


def test_every_second_saturday_across_the_years() -> None:
    found = WorkRule.model_validate({"rule": SECOND_SATURDAYS, "from": date(2027, 3, 20)})
    for number in range(-200, 3000):
        day = date(2027, 3, 20) + timedelta(days=number)
        assert found.has(day) is (number >= 0 and number % 14 == 0), day


def test_without_a_first_day_it_counts_from_a_monday_that_begins_a_year() -> None:
    found = work_day(SECOND_SATURDAYS)
    first = date(2001, 1, 6)  # the first Saturday after Monday 1 January 2001
    for number in range(9500, 9900):
        day = first + timedelta(days=number)
        assert is_among(day, [found]) is (number % 14 == 0), day


def test_a_rule_stands_beside_days_of_the_week() -> None:
    both = (work_day("sunday"), work_day(SECOND_SATURDAYS))
    week = [date(2027, 3, 8) + timedelta(days=number) for number in range(14)]
    assert [day.isoformat() for day in week if is_among(day, both)] == [
        *("2027-03-13", "2027-03-14", "2027-03-21"),
    ]


@pytest.mark.parametrize("text", ["FREQ=DAILY;BYMONTH=2;BYMONTHDAY=30", "FREQ=DAILY;BYSETPOS=5"])
def test_a_rule_without_any_day_comes_to_an_end(text: str) -> None:
    assert not WorkRule.model_validate({"rule": text}).has(date(2027, 2, 28))


def test_it_is_read_as_it_is_mostly_written() -> None:
    assert rule(" rrule:freq=weekly;interval=2;byday=sa; ") == SECOND_SATURDAYS


@pytest.mark.parametrize(
    ("text", "right"),
    [
        ("FREQ=WEEKLY", "BYDAY=SA"),
        ("INTERVAL=2;BYDAY=SA", "FREQ=DAILY, WEEKLY"),
        ("FREQ=HOURLY;BYDAY=SA", "FREQ=DAILY, WEEKLY"),
        ("FREQ=WEEKLY;BYDAY=SA;COUNT=4", "UNTIL=20271031"),
        ("FREQ=WEEKLY;BYDAY=SA;UNTIL=2027-10-31", "UNTIL=20271031"),
        ("FREQ=WEEKLY;BYDAY=SA;UNTIL=20270231", "a day that there is"),
        ("FREQ=WEEKLY;BYDAY=2SA", "INTERVAL=2"),
        ("FREQ=WEEKLY;BYDAY=SA;INTERVAL=0", "FREQ=WEEKLY;INTERVAL=2"),
        ("FREQ=WEEKLY;BYDAY=SA;BYHOUR=9", "FREQ, INTERVAL, BYDAY"),
        ("FREQ=WEEKLY;BYDAY=SA;BYDAY=SU", "one of the two"),
        ("FREQ=WEEKLY;BYDAY=SA;BYMONTHDAY=3", "DAILY, MONTHLY or YEARLY"),
        ("every second saturday =", "FREQ=DAILY"),
        ("FREQ=WEEKLY;BYDAY=" + "SA," * 100 + "SU", "at most"),
    ],
)
def test_what_is_no_rule_of_days_is_refused(text: str, right: str) -> None:
    with pytest.raises(ValidationError) as caught:
        WorkRule.model_validate({"rule": text})
    (error,) = caught.value.errors()
    assert right in error["ctx"]["right"]


def test_faults_are_told_with_their_line(told: Any, season_files: dict[str, str]) -> None:
    def lines(work_days: str) -> list[str]:
        text = season_files["keeper.yaml"].replace("[saturday, sunday]", work_days)
        found: list[str] = told({**season_files, "keeper.yaml": text})
        return found

    assert lines(f'[sunday, {{rule: "{SECOND_SATURDAYS}", from: 2027-03-20}}]') == []
    assert lines("[sunday, FREQ=WEEKLY;BYDAY=SA]") == []
    (fault,) = lines("[sunday, FREQ=WEEKLY;BYDAY=2SA]")
    assert fault.startswith("keeper.yaml:3:21: work_days, item 2: ")
    (fault,) = lines("[FREQ=WEEKLY;BYDAY=SA,SU]")  # the comma ends the item of the list
    assert fault.startswith("keeper.yaml:3:34: work_days, item 2: ") and "quotes" in fault
    (fault,) = lines("[sunday, {rule: FREQ=WEEKLY;BYDAY=SA, since: 2027-03-20}]")
    assert fault.startswith("keeper.yaml:3:50: work_days, item 2, since: ")
    assert "rule and from." in fault
    (fault,) = lines("[{from: 2027-03-20}]")
    assert "rule is missing" in fault
    (fault,) = lines("[{rule: FREQ=WEEKLY;BYDAY=SO}]")
    assert fault.startswith("keeper.yaml:3:20: work_days, item 1, rule: ")


def test_days_that_hang_on_an_unsaid_beginning_are_named(
    told: Any, season_files: dict[str, str]
) -> None:
    """On 1 April 2027 the next of the Saturdays counted from 2001 is the 10th."""
    for written, note in (
        (f"[{SECOND_SATURDAYS}]", "2027-04-10, 2027-04-24 and 2027-05-08"),
        ("[FREQ=WEEKLY;BYDAY=SA;UNTIL=20270101]", "no day in the 366 days from 2027-04-01"),
        ("[{rule: FREQ=WEEKLY;BYDAY=SA, from: 2029-01-01}]", "no day"),
    ):
        text = season_files["keeper.yaml"].replace("[saturday, sunday]", written)
        (warning,) = told({**season_files, "keeper.yaml": text})
        assert warning.startswith("Note: keeper.yaml:3:13: work_days: FREQ=WEEKLY;")
        assert note in warning
