"""`today`: sorted by hands and water, short enough for a phone, nothing left out in JSON."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest
from msgspec.structs import replace

from showprep.commands.today import run
from showprep.husbandry.reason import FishId, reason
from showprep.outputs.today import WIDTH, today_json, today_text
from showprep.outputs.words.speaker import Speaker
from showprep.planning.follow_up.agenda import agenda_of
from showprep.planning.plan import (
    Choice,
    FishLine,
    HealingLine,
    Plan,
    ShowLine,
    Task,
    Verdict,
    Warning_,
    WaterLine,
)

ON = date(2027, 5, 1)


def task(name: str, start: int = 0, days: int = 1, **more: object) -> Task:
    first = ON + timedelta(days=start)
    made = Task(
        id=name,
        kind="job",
        title=name.capitalize(),
        fish=(),
        show=None,
        water=None,
        start=first,
        end=first + timedelta(days=days - 1),
        all_day=True,
    )
    return replace(made, **more)


def healing(water: str, high_on: date | None, deadline: date = date(2027, 6, 11)) -> HealingLine:
    return HealingLine(
        defect="split-fin",
        where="tail fin",
        milestone="closed",
        start=date(2027, 4, 20),
        after_touch_up=False,
        deadline=deadline,
        low_on=None,
        usual_on=None,
        high_on=high_on,
        short_days=None,
        low=80,
        usual=160,
        high=300,
        least_days=7,
        unit="degree-days",
        grade="derived",
        water=water,
        gathered_by_deadline=0,
    )


def plan(
    *tasks: Task,
    wounds: Mapping[str, HealingLine] | None = None,
    read: Mapping[str, int] | None = None,
    warnings: tuple[Warning_, ...] = (),
) -> Plan:
    judging = datetime(2027, 6, 12, 10, tzinfo=UTC)
    show = ShowLine(
        "larkfield",
        "Larkfield Spring Show",
        "planned",
        "UTC",
        *[judging] * 8,
        entries_close=None,
        water_c=None,
        altered_fish="tolerated",
        entered=("aoi",),
    )
    waters = tuple(
        WaterLine(
            name,
            ON,
            (18.0,),
            ((ON - timedelta(days=(read or {})[name]), 14.0),) if name in (read or {}) else (),
        )
        for name in ("main pond", "vat")
    )
    verdicts = tuple(
        Verdict(fish, "larkfield", "ready", True, 80, (), healing=(wound,))
        for fish, wound in (wounds or {}).items()
    )
    fish = tuple(FishLine(f, f.title(), "kohaku", "main pond", 80) for f in ("aoi", "ren"))
    return Plan(
        season="yard",
        planned_on=ON,
        time_zone="UTC",
        units="metric",
        shows=(show,),
        fish=fish,
        waters=waters,
        verdicts=verdicts,
        tasks=tasks,
        warnings=warnings,
        choice=Choice(0, True),
    )


def said(made: Plan, width: int = WIDTH) -> str:
    return today_text(agenda_of(made), Speaker.of(made), width)


def test_jobs_are_sorted_by_hands_and_water_and_day() -> None:
    today = agenda_of(
        plan(
            task("scrape", hands=True, water="vat"),
            task("net", hands=True),
            task("feed half", water="main pond"),
            task("fast", start=-3, days=6),
            task("over", start=-3),
            task("pack", start=7, hands=True),
            task("leave", start=8),
        )
    )
    assert [(g.water, [t.id for t in g.tasks]) for g in today.hands] == [
        ("vat", ["scrape"]),
        (None, ["net"]),
    ]
    assert [g.water for g in today.besides] == ["main pond"]
    assert [t.id for t in today.going_on] == ["fast"]
    assert [(d.day, [t.id for t in d.tasks]) for d in today.week] == [(date(2027, 5, 8), ["pack"])]


def test_the_text_reads_from_the_top() -> None:
    look = task("look back at aoi", start=2, kind="look-back")
    missed = task("look at ren", start=-5, kind="look", late=True)
    made = plan(
        task("touch-up: aoi", hands=True, water="main pond"),
        task("send the form", start=-9, late=True, late_cost="Entries close soon."),
        task("kit", start=-2, late=True, late_cost="Something will be missing."),
        task("fast", start=-3, days=6),
        task("pack", start=6, hands=True),
        look,
        missed,
        wounds={"aoi": healing("main pond", date(2027, 5, 10))},
        read={"main pond": 12},
        warnings=(Warning_("stop", "Move no fish."), Warning_("note", "Not here.")),
    )
    assert (
        said(made)
        == """\
Sat 1 May 2027, yard
Larkfield Spring Show is judged in 42 days, with 1 fish.

STOP: Move no fish.

Late
- Kit. Due Thu 29 April. Something will be missing.
- Send the form. Due Thu 22 April. Entries close soon.

Today, with hands
- main pond: Touch-up: aoi

Going on
- Fast, until Mon 3 May

Look at
- Look at ren: late, due Mon 26 April.
- Look back at aoi: Mon 3 May.

The next seven days
- Fri 7 May: Pack (hands)

Read the main pond: its last reading, of Mon 19 April, is 12
days old, and Aoi heals by its warmth.
"""
    )


def test_a_sick_fish_heads_what_is_late() -> None:
    late = [task(f"job {number}", -number, late=True) for number in range(1, 8)]
    vet = task("ring a vet", -30, late=True, kind="vet")
    assert agenda_of(plan(*late, vet)).late == (vet, *late)


def test_an_idle_day_says_so() -> None:
    assert said(plan()).endswith("\nNothing is to be done today.\n")


def test_a_long_list_is_cut_in_text_but_not_in_json() -> None:
    late = [task(f"late {n}", start=-n - 1, late=True) for n in range(9)]
    week = [task(f"soon {n}", start=3) for n in range(13)]
    today = agenda_of(plan(*late, *week))
    speaker = Speaker()
    text = today_text(today, speaker)
    assert "- and 4 more, in the plan" in text and "- and 3 more, in the plan" in text
    told = json.loads(today_json(today, speaker))
    assert len(told["late"]) == 9 and len(told["week"][0]["tasks"]) == 13
    assert told["late"][0]["id"] == "late 0"


@pytest.mark.parametrize("width", [30, 40, 60])
def test_lines_keep_within_the_width(width: int) -> None:
    made = plan(task("a job with a title that goes on and on for a while", water="main pond"))
    assert max(map(len, said(made, width).splitlines())) <= width


def test_the_reading_that_helps_most() -> None:
    soon, far = date(2027, 6, 8), date(2027, 5, 10)
    wounds = {"aoi": healing("vat", far), "ren": healing("main pond", soon)}
    near = agenda_of(plan(wounds=wounds)).reading
    assert near is not None and near.water == "main pond"
    assert near.why == reason("not-read-of-late", fish=(FishId("ren"),), more=0)
    fresh = agenda_of(plan(wounds=wounds, read={"main pond": 2})).reading
    assert fresh is not None and fresh.water == "vat"
    assert agenda_of(plan(wounds=wounds, read={"main pond": 2, "vat": 1})).reading is None
    healed = {"aoi": healing("vat", ON)}
    assert agenda_of(plan(wounds=healed)).reading is None


def test_the_command_prints_text_and_json(
    folder: Callable[[Mapping[str, str | bytes]], Path], capsys: pytest.CaptureFixture[str]
) -> None:
    root = folder(
        {
            "keeper.yaml": "time_zone: Europe/Dublin\nwaters: {pond: {steady_c: 18}}\n",
            "shows.yaml": "lark: {name: Lark, judging: 2027-06-12 10:00, travel_hours: 2}\n",
            "fish.yaml": "aoi: {name: Aoi, variety: kohaku, lives_in: pond, merit: 80}\n",
        }
    )
    run(root, ON, as_json=False)
    assert capsys.readouterr().out.startswith("Sat 1 May 2027, season\nLark is judged in 42 days")
    run(root, ON, as_json=True)
    assert json.loads(capsys.readouterr().out)["on"] == "2027-05-01"
