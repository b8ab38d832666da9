"""Publishing to a real CalDAV server: Radicale, started here on the loopback address.

RFC 4791 §4.1 and §5.3.2: one UID in a resource, created only where none is (If-None-Match), changed
only over the expected edition (If-Match).
"""

from __future__ import annotations

import os
import random
import signal
import time
from collections.abc import Callable, Iterable
from contextlib import suppress
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from msgspec.structs import replace

from showprep.commands import collect
from showprep.commands import publish as publish_command
from showprep.commands.loading import done_by, load_plan, load_yard_and_plan
from showprep.outputs.calendar.editions import never_done
from showprep.outputs.calendar.identity import uid_of
from showprep.outputs.calendar.ledger import LedgerRow, load, save
from showprep.outputs.failure import Failure
from showprep.outputs.server.connection import Answer, Server, address_of
from showprep.outputs.server.publish import PublishReport
from showprep.outputs.server.read_back import read_back
from showprep.outputs.server.steps import MOVED_THERE, TICKED_THERE, ServerStep
from showprep.outputs.server.whose import ledger_for, ledger_of
from showprep.planning.plan import Plan
from showprep.season.own_files import FOLDER
from showprep.season.reading import read_season
from tests.outputs.calendar.server_yard import MAKE, Radicale, Yard, moved, noted, ticked
from tests.outputs.said import in_reasons
from tests.storms import storm


def of_a_season(plans: Iterable[Plan]) -> list[Plan]:
    """The plans as those of a season with an identity, as every new one has."""
    return [replace(plan, identity="a" * 32) for plan in plans]


def kinds(outcome: PublishReport) -> list[str]:
    return [step.kind for step in outcome.comparison.steps]


def test_create_move_vanish(yard: Yard, two: tuple[Plan, Plan]) -> None:
    assert kinds(yard.publish(two[0])) == ["add"] * 4
    assert yard.holds(two[0])
    outcome = yard.publish(two[1])
    assert kinds(outcome) == ["keep", "change", "change", "add", "remove"]
    assert outcome.done == 4
    assert yard.holds(two[1])
    again = yard.publish(two[1])
    assert kinds(again) == ["keep"] * 4
    assert again.done == 0
    yard.publish(two[0])
    assert yard.holds(two[0])


def test_editions_grow_only_for_what_changed(yard: Yard, two: tuple[Plan, Plan]) -> None:
    yard.publish(two[0])
    yard.publish(two[1])
    sequences = {uid: event["SEQUENCE"] for uid, event in yard.there().items()}
    uid = yard.build.uid
    assert sequences == {uid(0): 0, uid(1): 1, uid(3): 0, uid(4): 1}


def test_nothing_is_changed_unless_told(yard: Yard, two: tuple[Plan, Plan]) -> None:
    outcome = yard.publish(two[0], go=False)
    assert kinds(outcome) == ["add"] * 4
    assert yard.there() == {}
    assert not yard.ledger.parent.exists()
    yard.publish(two[0])
    before = yard.ledger.read_bytes()
    assert "remove" in kinds(yard.publish(two[1], go=False))
    assert yard.holds(two[0])
    assert yard.ledger.read_bytes() == before


def test_hostile_words_and_every_zone(yard: Yard, build: Any) -> None:
    for number in range(2):
        plan = build.random_plan(number, 25, hostile=True)
        yard.publish(plan)
        seen = {uid: str(event["SUMMARY"]) for uid, event in yard.there().items()}
        assert seen == {uid: one.summary for uid, one in build.to_be_seen(plan).items()}


class Killed(BaseException):
    """The process is gone: nothing after this is done."""


def dying(after: int, *, sent: bool) -> Callable[..., Server]:
    """A connection on which the process dies at one request, before or after it was sent."""

    class Dying(Server):
        left = after

        def ask(self, *arguments: Any) -> Answer:
            type(self).left -= 1
            if self.left < 0 and not sent:
                raise Killed
            answer = Server.ask(self, *arguments)
            if self.left < 0:
                raise Killed
            return answer

    return Dying


@pytest.mark.parametrize("sent", [False, True], ids=["before sending", "before the answer"])
def test_killed_at_any_point_and_run_again(
    sent: bool, radicale: Radicale, tmp_path: Path, now: Any, build: Any, two: tuple[Plan, Plan]
) -> None:
    other = build.plan([build.task(0, note="New."), build.task(7)], planned_on=date(2027, 3, 3))
    for after in range(2, storm(5, 9)):
        season = tmp_path / f"{after}"
        season.mkdir()
        yard = Yard(radicale, season, now, build)
        with pytest.raises(Killed):
            yard.publish(two[0], yard.server(dying(min(after, 5), sent=sent)))
        if after % 2:
            yard.publish(two[0])
            assert yard.holds(two[0])
        plan = two[1] if after % 3 else other
        for once_more in range(3):
            # Dies on the second try too, later each time, and in the end is left alone.
            try:
                yard.publish(plan, yard.server(dying(after + once_more, sent=sent)))
            except Killed:
                continue
        outcome = yard.publish(plan)
        assert not outcome.refused
        assert "leave" not in kinds(outcome)
        assert yard.holds(plan)
        assert set(kinds(yard.publish(plan))) == {"keep"}


@pytest.mark.skipif(not hasattr(os, "fork"), reason="no fork there")
@pytest.mark.parametrize("noted", [False, True], ids=["untouched", "with a note from the phone"])
def test_a_process_killed_while_it_publishes(yard: Yard, build: Any, noted: bool) -> None:
    """At any moment: nothing is there twice, nothing of neither plan, and the next run ends it.

    What the keeper wrote on the phone stays, although each plan changes that job.
    """
    chance = random.Random(f"killed while it publishes {noted}")
    plans = [
        build.plan(
            [build.task(one, title=f"{words} {one}") for one in range(first, first + 12)],
            planned_on=date(2027, 3, 2 + number),
        )
        for number, (words, first) in enumerate((("Before", 0), ("After", 4), ("Later", 8)))
    ]
    titles = {str(one.summary) for plan in plans for one in build.to_be_seen(plan).values()}
    began = time.perf_counter()
    yard.publish(plans[0])
    usual = time.perf_counter() - began
    uid, words_on_phone = build.uid(9), "The blue net is by the gate."
    if noted:  # job 9 stands in all three plans
        yard.edit_on_phone(9, b"DESCRIPTION:", b"DESCRIPTION:" + words_on_phone.encode() + b" ")
    for number in range(storm(4, 60)):
        plan = plans[chance.randrange(3)]
        child = os.fork()
        if child == 0:
            with suppress(BaseException):
                yard.publish(plan)
            os._exit(0)
        time.sleep(chance.uniform(0, 1.2) * usual)
        os.kill(child, signal.SIGKILL)
        os.waitpid(child, 0)
        assert {str(event["SUMMARY"]) for event in yard.there().values()} <= titles
        if number % 3 == 2:
            outcome = yard.publish(plan)
            left = [one for one in outcome.comparison.steps if one.kind == "leave"]
            assert not outcome.refused and not left
            if noted:
                assert words_on_phone in str(yard.there()[uid]["DESCRIPTION"])
            else:
                assert yard.holds(plan)
    outcome = yard.publish(plans[1])
    assert not outcome.refused and (noted or yard.holds(plans[1]))
    assert set(kinds(yard.publish(plans[1]))) == {"keep"}


def test_a_connection_lost_half_way(yard: Yard, build: Any, radicale: Radicale) -> None:
    plan = build.plan([build.task(number) for number in range(12)])

    class Lost(Server):
        asked = 0

        def ask(self, *arguments: Any) -> Answer:
            type(self).asked += 1
            if self.asked == 7:
                radicale.stop()
            return Server.ask(self, *arguments)

    with pytest.raises(Failure, match=r"broke|refuses"):
        yard.publish(plan, yard.server(Lost))
    radicale.start()
    assert 0 < len(yard.there()) < 12
    assert set(kinds(yard.publish(plan))) == {"keep", "add"}
    assert yard.holds(plan)


def test_changed_on_the_phone_meanwhile(yard: Yard, two: tuple[Plan, Plan]) -> None:
    yard.publish(two[0])
    yard.edit_on_phone(1, b"SUMMARY:Leave 1", b"SUMMARY:Leave earlier")
    yard.edit_on_phone(2, b"SUMMARY:Stop feeding 2", b"SUMMARY:Mine now")
    outcome = yard.publish(two[1])
    left = [step for step in outcome.comparison.steps if step.kind == "leave"]
    assert {step.uid for step in left} == {yard.build.uid(1), yard.build.uid(2)}
    assert all("phone" in step.because for step in left)
    assert str(yard.there()[yard.build.uid(1)]["SUMMARY"]) == "Leave earlier"
    yard.publish(two[1], overwrite=True)
    assert yard.holds(two[1])


def test_a_phone_that_hushed_an_alarm_has_changed_nothing(
    yard: Yard, two: tuple[Plan, Plan]
) -> None:
    """A phone writes into the event that an alarm was seen (RFC 9074 §6); the job still moves."""
    yard.publish(two[0])
    seen = b"ACTION:DISPLAY\r\nACKNOWLEDGED:20270302T080000Z\r\n"
    yard.edit_on_phone(1, b"ACTION:DISPLAY\r\n", seen)
    yard.edit_on_phone(0, b"ACTION:DISPLAY\r\n", seen)
    outcome = yard.publish(two[1])
    assert "leave" not in kinds(outcome)
    assert yard.holds(two[1])
    assert b"ACKNOWLEDGED" in yard.radicale.ask("GET", yard.resource(0))[1]


def test_an_alarm_that_was_not_sent_before_the_phone_spoke(yard: Yard, build: Any) -> None:
    """Only the alarm changes, the run dies before sending, a phone hushes the old alarm: the new
    alarm must still arrive."""
    early, late = (build.plan([build.task(0, alarm=timedelta(hours=hours))]) for hours in (4, 15))
    yard.publish(early)
    with pytest.raises(Killed):
        yard.publish(late, yard.server(dying(2, sent=False)))
    yard.edit_on_phone(0, b"ACTION:DISPLAY\r\n", b"ACTION:DISPLAY\r\nX-SEEN:1\r\n")
    assert kinds(yard.publish(late)) == ["change"]
    assert b"TRIGGER:-PT15H" in yard.radicale.ask("GET", yard.resource(0))[1]


def test_changed_between_the_look_and_the_change(yard: Yard, two: tuple[Plan, Plan]) -> None:
    yard.publish(two[0])

    class Slow(Server):
        def ask(self, method: str, *arguments: Any) -> Answer:
            if method == "PUT" and yard.resource(1) == arguments[0]:
                yard.edit_on_phone(1, b"SUMMARY:Leave 1", b"SUMMARY:Just now")
            return Server.ask(self, method, *arguments)

    outcome = yard.publish(two[1], yard.server(Slow))
    assert [step.uid for step, _ in outcome.refused] == [yard.build.uid(1)]
    assert "phone" in outcome.refused[0][1]
    assert str(yard.there()[yard.build.uid(1)]["SUMMARY"]) == "Just now"
    assert "leave" in kinds(yard.publish(two[1]))


def step_of(report: PublishReport, uid: str) -> ServerStep:
    (found,) = (step for step in report.comparison.steps if step.uid == uid)
    return found


def test_three_ways_the_plans_day_and_the_keepers_words(yard: Yard, two: tuple[Plan, Plan]) -> None:
    """The plan moved the job, the keeper wrote into it, coloured it and set an alarm of their own:
    all of it stands afterwards, and once more after the next change."""
    yard.publish(two[0])
    note = b"DESCRIPTION:Stop all food\\; keep the water still and clear.\\n"
    yard.edit_on_phone(1, b"\nSUMMARY:Leave 1\r\n", b"\nSUMMARY:Leave 1\r\nCOLOR:teal\r\n")
    yard.edit_on_phone(1, b"TRIGGER:-PT1H", b"TRIGGER:-PT3H")
    yard.edit_on_phone(
        1, note, b"DESCRIPTION:Bring Aoi's net.\\n\\n" + note[len(b"DESCRIPTION:") :]
    )
    outcome = yard.publish(two[1])
    assert step_of(outcome, yard.build.uid(1)).kind == "change"
    assert outcome.differ(went=True) == 0
    event = yard.there()[yard.build.uid(1)]
    expected = yard.build.to_be_seen(two[1])[yard.build.uid(1)]
    assert event["DTSTART"].dt.astimezone(UTC) == expected.start
    assert str(event["DESCRIPTION"]) == f"{expected.description}\n\nBring Aoi's net."
    assert str(event["COLOR"]) == "teal"
    assert [alarm["TRIGGER"].dt for alarm in event.walk("VALARM")] == [timedelta(hours=-3)]
    assert set(kinds(yard.publish(two[1]))) == {"keep"}
    yard.publish(two[0])
    event = yard.there()[yard.build.uid(1)]
    assert str(event["DESCRIPTION"]).count("Bring Aoi's net.") == 1
    assert (
        event["DTSTART"].dt.astimezone(UTC)
        == yard.build.to_be_seen(two[0])[yard.build.uid(1)].start
    )


def test_a_job_moved_by_hand_is_a_conflict_until_it_is_settled(
    yard: Yard, two: tuple[Plan, Plan]
) -> None:
    yard.publish(two[0])
    old = b"DTSTART;TZID=Europe/Dublin:20270611T063000"
    yard.edit_on_phone(1, old, old.replace(b"20270611", b"20270610"))
    for go in (False, True):
        outcome = yard.publish(two[1], go=go)
        step = step_of(outcome, yard.build.uid(1))
        assert (step.kind, step.because) == ("leave", MOVED_THERE)
        assert step.phone_day == date(2027, 6, 10)
        assert step.old_day == date(2027, 6, 11)
        assert step.day == date(2027, 6, 18)
    assert outcome.differ(went=True) == 1
    said = "\n".join(publish_command.lines(outcome))
    assert "the phone has 2027-06-10, the plan has 2027-06-18 (before: 2027-06-11)" in said
    assert "--keep-plan larkfield/job-1 or --keep-phone larkfield/job-1" in said
    kept = yard.publish(two[1], keep_phone=["larkfield/job-1"])
    assert (kept.differ(went=True), kept.settled) == (1, 1)
    again = yard.publish(two[1])
    assert (again.differ(went=True), again.settled) == (1, 1), "what was settled stays settled"
    said = "\n".join(publish_command.lines(again))
    assert "As you said: Leave 1, since it was moved on the phone; the phone has 2027-06-10" in said
    assert yard.there()[yard.build.uid(1)]["DTSTART"].dt.date() == date(2027, 6, 10)
    assert yard.publish(two[0]).settled == 0, "another plan asks again"
    yard.publish(two[1], keep_plan=["larkfield/job-1"])
    assert yard.holds(two[1])
    with pytest.raises(Failure, match="no job with the id 'larkfield/nothing'"):
        yard.publish(two[1], keep_plan=["larkfield/nothing"])


def test_a_tick_waits_for_the_journal(yard: Yard, two: tuple[Plan, Plan]) -> None:
    yard.publish(two[0])
    yard.edit_on_phone(1, b"\nSUMMARY:Leave 1", "\nSUMMARY:✓ Leave 1".encode())
    outcome = yard.publish(two[1])
    assert step_of(outcome, yard.build.uid(1)).because == TICKED_THERE
    assert outcome.differ(went=True) == 1

    def done_on(row: LedgerRow) -> date | None:
        return date(2027, 5, 23) if row.task == "larkfield/job-1" else None

    without = yard.build.plan([task for task in two[1].tasks if task.id != "larkfield/job-1"])
    outcome = yard.publish(without, done_on=done_on)
    assert outcome.differ(went=True) == 0
    event = yard.there()[yard.build.uid(1)]
    assert str(event["SUMMARY"]) == "Done: Leave 1, 23 May"
    assert event["DTSTART"].dt == date(2027, 5, 23)
    assert not event.walk("VALARM")
    assert set(kinds(yard.publish(without, done_on=done_on))) == {"keep"}


def test_the_jobs_of_a_cancelled_show_go_whatever_the_phone_did(
    yard: Yard, two: tuple[Plan, Plan]
) -> None:
    yard.publish(two[0])
    yard.edit_on_phone(1, b"\nSUMMARY:Leave 1", b"\nSUMMARY:Mine")
    off = replace(two[0].shows[0], standing="cancelled")
    outcome = yard.publish(yard.build.plan([], shows=(off,)))
    assert outcome.differ(went=True) == 0
    assert yard.there() == {}


def test_before_anything_is_changed_every_change_is_a_difference(
    yard: Yard, two: tuple[Plan, Plan]
) -> None:
    assert yard.publish(two[0], go=False).differ(went=False) == 4
    yard.publish(two[0])
    report = yard.publish(two[1], go=False)
    assert report.differ(went=False) == 4
    (line,) = (one for one in publish_command.lines(report) if "Leave 1" in one)
    assert line.startswith("Change    2027-06-18  Leave 1 (was 2027-06-11)")
    assert yard.publish(two[0], go=False).differ(went=False) == 0


def test_taken_off_on_the_phone(yard: Yard, two: tuple[Plan, Plan]) -> None:
    yard.publish(two[0])
    yard.radicale.ask("DELETE", yard.resource(1))
    assert "leave" in kinds(yard.publish(two[1]))
    assert yard.build.uid(1) not in yard.there()
    yard.publish(two[1], overwrite=True)
    assert yard.holds(two[1])


def test_a_calendar_made_anew_is_filled_again(yard: Yard, two: tuple[Plan, Plan]) -> None:
    yard.publish(two[0])
    yard.radicale.ask("DELETE", yard.path)
    yard.radicale.ask("MKCALENDAR", yard.path, MAKE)
    outcome = yard.publish(two[0])
    assert outcome.comparison.emptied
    assert yard.holds(two[0])


def test_only_what_the_ledger_made_is_removed(yard: Yard, two: tuple[Plan, Plan]) -> None:
    yard.publish(two[0])
    own = b"BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:x\r\nBEGIN:VEVENT\r\nUID:dentist\r\n"
    own += b"DTSTAMP:20270101T000000Z\r\nDTSTART;VALUE=DATE:20270401\r\nSUMMARY:Dentist\r\n"
    own += b"END:VEVENT\r\nEND:VCALENDAR\r\n"
    yard.put(f"{yard.path}dentist.ics", own)
    outcome = yard.publish(yard.build.plan([]), overwrite=True)
    assert outcome.comparison.strangers == 1
    assert yard.there().keys() == {"dentist"}


def test_a_lost_ledger_is_told_by_the_events(yard: Yard, two: tuple[Plan, Plan]) -> None:
    """The keeper's words stay, what left the plan goes, what was changed on the phone is known."""
    one, other = of_a_season(two)
    yard.publish(one)
    uid = yard.uid(one)
    yard.edit(uid[1], lambda event: noted(event, "The net is torn."))
    yard.edit(uid[4], lambda event: moved(event, 2))
    yard.ledger.unlink()
    outcome = yard.publish(other)
    assert "no ledger" in outcome.notes[0]
    by_uid = {step.uid: step.kind for step in outcome.comparison.steps}
    assert by_uid == {
        uid[0]: "keep",
        uid[1]: "change",
        uid[2]: "remove",
        uid[3]: "add",
        uid[4]: "leave",
    }
    assert step_of(outcome, uid[4]).because == MOVED_THERE
    assert yard.publish(other).notes == []
    there = yard.there()
    assert str(there[uid[1]]["DESCRIPTION"]).count("The net is torn.") == 1
    assert there[uid[1]]["DTSTART"].dt.date() == date(2027, 6, 18)
    yard.publish(other, keep_plan=["larkfield/job-4"])
    assert set(kinds(yard.publish(other))) == {"keep"}
    assert yard.there().keys() == {uid[0], uid[1], uid[3], uid[4]}


def test_an_older_ledger_put_back(yard: Yard, two: tuple[Plan, Plan]) -> None:
    """What was published after it is not taken for what a phone did, and leaves no ghost."""
    one, other = of_a_season(two)
    yard.publish(one)
    older = yard.ledger.read_bytes()
    yard.publish(other)
    for plan in (other, one):
        yard.ledger.write_bytes(older)
        outcome = yard.publish(plan)
        assert "older than the calendar" in outcome.notes[0]
        assert outcome.differ(went=True) == 0
        assert yard.holds(plan)
        assert yard.publish(plan).notes == []


def test_an_older_ledger_and_what_the_phone_did_since(yard: Yard, two: tuple[Plan, Plan]) -> None:
    one, other = of_a_season(two)
    yard.publish(one)
    older = yard.ledger.read_bytes()
    yard.publish(other)
    uid = yard.uid(one)
    yard.edit(uid[1], ticked)
    yard.edit(uid[3], lambda event: moved(event, -1))
    yard.ledger.write_bytes(older)
    ledger, _ = ledger_for(
        yard.ledger, yard.look(), "a" * 32, set(uid.values()), yard.now, other.planned_on
    )
    touched = {(one.touch, one.row.summary) for one in read_back(ledger, yard.look())}
    assert touched == {("ticked", "Leave 1"), ("moved", "Stop feeding 3")}
    outcome = yard.publish(other)
    assert step_of(outcome, uid[1]).because == TICKED_THERE
    assert step_of(outcome, uid[3]).because == MOVED_THERE
    assert outcome.differ(went=True) == 2


def test_two_computers_take_turns(yard: Yard, two: tuple[Plan, Plan], tmp_path: Path) -> None:
    """Each with a ledger of its own: the calendar holds the plan of the one that went last."""
    plans = of_a_season(two)
    ours, theirs = yard.ledger, tmp_path / "other" / FOLDER / yard.ledger.name
    (tmp_path / "other").mkdir()
    for turn in range(4):
        yard.ledger = (ours, theirs)[turn % 2]
        plan = plans[turn // 2]
        assert yard.publish(plan).differ(went=True) == 0
        assert yard.holds(plan)


def test_a_copied_season_leaves_the_first_ones_jobs(
    yard: Yard, two: tuple[Plan, Plan], tmp_path: Path
) -> None:
    """The folder was copied with its ledger, then given an identity of its own."""
    first, _ = of_a_season(two)
    yard.publish(first)
    for known in (first.identity, None):  # older ledgers do not name their season
        ledger = load(yard.ledger)
        assert ledger is not None
        save(yard.ledger, replace(ledger, season=known))
        copied = replace(first, identity=f"{'b' * 31}{known is None:d}")
        old, yard.ledger = yard.ledger, ledger_of(tmp_path, yard.address, "hana", copied.identity)
        assert old != yard.ledger
        before = yard.there().keys()
        yard.publish(copied)
        assert before < yard.there().keys()
        assert len(yard.there().keys() - before) == 4
        yard.ledger = old


def test_a_copy_made_on_the_phone_is_named(yard: Yard, two: tuple[Plan, Plan]) -> None:
    one, other = of_a_season(two)
    yard.publish(one)
    for number, new in ((1, "copy-1"), (0, "copy-0")):
        _, data = yard.radicale.ask("GET", f"{yard.path}{yard.uid(one)[number]}.ics")
        name = yard.uid(one)[number].encode()
        assert yard.put(f"{yard.path}{new}.ics", data.replace(name, new.encode())) == 201
    outcome = yard.publish(other)
    assert [(copy.title, copy.day) for copy in outcome.comparison.copies] == [
        ("Stop feeding 0", date(2027, 5, 1)),
        ("Leave 1", date(2027, 6, 11)),
    ]
    assert [copy.title for copy in outcome.comparison.stale] == ["Leave 1"]
    assert outcome.differ(went=True) == 1
    said = "\n".join(publish_command.lines(outcome))
    assert "Copied on a phone: Leave 1, on 2027-06-11, which is not its day." in said


def test_moved_by_hand_and_gone_from_the_plan(yard: Yard, two: tuple[Plan, Plan]) -> None:
    one, other = of_a_season(two)
    yard.publish(one)
    uid = yard.uid(one)[2]
    yard.edit(uid, lambda event: moved(event, 3))
    outcome = yard.publish(other)
    said = "\n".join(publish_command.lines(outcome))
    assert (
        "moved on the phone; the phone has 2027-05-06, the plan does not have it any more." in said
    )
    yard.publish(other, keep_phone=["larkfield/job-2"])
    for _ in range(2):
        outcome = yard.publish(other)
        assert (step_of(outcome, uid).settled, outcome.differ(went=True)) == (True, 1)
    yard.publish(other, keep_plan=["larkfield/job-2"])
    assert yard.holds(other)


def test_wrong_password_and_wrong_places(yard: Yard, two: tuple[Plan, Plan]) -> None:
    wrong = Server(yard.address, "hana", "carp pond")
    with pytest.raises(Failure, match="password") as caught:
        yard.publish(two[0], wrong)
    assert "carp pond" not in str(caught.value) + repr(wrong)
    for path, words in (("/hana/", "no calendar"), ("/hana/none/", "no calendar at this")):
        address = address_of(yard.radicale.url(path))
        with pytest.raises(Failure, match=words):
            yard.publish(two[0], Server(address, "hana", "pond water"))
    assert not yard.ledger.exists()


SEASON = {
    "keeper.yaml": "time_zone: Europe/Dublin\nwaters: {pond: {steady_c: 18}}\n",
    "shows.yaml": "elm: {name: Elm, judging: 2027-06-12 10:00, travel_hours: 2}\n",
    "fish.yaml": "aoi: {name: Aoi, variety: kohaku, lives_in: pond, merit: 80}\n",
}


def test_what_is_ticked_comes_back_and_the_rest_is_left_open(
    yard: Yard, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Tick, tick of a look, move, note, delete: the tick of a deed and the words are written."""
    for name, text in SEASON.items():
        (yard.season / name).write_text(text)
    on = date(2027, 5, 20)
    plan = load_plan(yard.season, on)
    plan = replace(plan, tasks=tuple(task for task in plan.tasks if task.all_day and not task.late))
    look = yard.build.task(1, id="elm/look", kind="look", title="Look at Aoi")
    deeds = [task for task in plan.tasks if task.kind not in (*collect.SEEN, *collect.MEASURED)]
    done, later, written, deleted = deeds[:4]
    plan = replace(plan, tasks=(*plan.tasks, *in_reasons(yard.build.plan([look])).tasks))
    yard.publish(plan)

    for task, change in (
        (done.id, ticked),
        ("elm/look", ticked),
        (later.id, lambda event: moved(event, 2)),
        (written.id, lambda event: noted(event, "The net is torn.")),
    ):
        yard.edit(uid_of(task), change)
    yard.radicale.ask("DELETE", f"{yard.path}{uid_of(deleted.id)}.ics")
    monkeypatch.setenv("SHOWPREP_PASSWORD", "pond water")

    def collected(go: bool) -> str:
        url = yard.radicale.url(yard.path)
        with pytest.raises(Failure, match="left open"):
            collect.run(season=yard.season, url=url, user="hana", go=go, today=on, now=yard.now)
        return capsys.readouterr().out

    said = collected(go=False)
    assert "Say --go" in said
    assert not (yard.season / "journal.yaml").exists()
    said = collected(go=True)
    for words in ("The net is torn.", "never taken as done", "what was seen", "Moved: "):
        assert words in said
    assert "2 changes written to journal.yaml, 3 left open." in said
    entries = read_season(yard.season, on).season.journal
    assert len(entries) == 2
    assert [one.note for one in entries if one.note] == [
        f"{yard.ledger_title(written.id)}: The net is torn."
    ]
    assert done.id not in {task.id for task in load_plan(yard.season, on).tasks}
    assert "0 changes written to journal.yaml, 3 left open." in collected(go=True)
    assert read_season(yard.season, on).season.journal == entries, "written once, however often"
    yard.edit(uid_of(written.id), lambda event: noted(event, "It was mended."))
    assert "1 change written to journal.yaml, 3 left open." in collected(go=True)
    last = read_season(yard.season, on).season.journal[-1]
    assert last.note == f"{yard.ledger_title(written.id)}: It was mended."


WITH_A_SPECK = {
    "keeper.yaml": SEASON["keeper.yaml"]
    + "touch_up: {by: keeper, law_checked: yes, law_country: Ireland, bath_litres: 30,"
    " strength_percent: 10}\n",
    "shows.yaml": SEASON["shows.yaml"],
    "fish.yaml": "aoi: {name: Aoi, variety: kohaku, lives_in: pond, merit: 80,"
    " lengths_cm: {2027-03-01: 50},"
    " defects: [{kind: shimi, where: left shoulder, size_mm: 2, seen: 2027-03-01}]}\n",
}


@pytest.fixture
def with_a_speck(yard: Yard, monkeypatch: pytest.MonkeyPatch) -> Yard:
    for name, text in WITH_A_SPECK.items():
        (yard.season / name).write_text(text)
    monkeypatch.setenv("SHOWPREP_PASSWORD", "pond water")
    return yard


def collected(yard: Yard, on: date, *, go: bool) -> None:
    url = yard.radicale.url(yard.path)
    collect.run(season=yard.season, url=url, user="hana", go=go, today=on, now=yard.now)


def test_a_touch_up_moved_on_the_phone_becomes_the_keepers_day(
    with_a_speck: Yard, capsys: pytest.CaptureFixture[str]
) -> None:
    yard, on = with_a_speck, date(2027, 4, 20)
    plan = load_plan(yard.season, on)
    (before,) = (task for task in plan.tasks if task.kind == "touch-up")
    yard.publish(plan)
    yard.edit(uid_of(before.id), lambda event: moved(event, 8))
    yard.edit(uid_of(before.id), lambda event: noted(event, "Jan comes to help."))
    collected(yard, on, go=True)
    said = capsys.readouterr().out
    later = before.first_day + timedelta(days=8)
    assert f"touch_up_on: {later}" in said
    assert "Aoi: clean 8 in 10 becomes 6 in 10." in said
    plan = load_plan(yard.season, on)
    (after,) = (task for task in plan.tasks if task.kind == "touch-up")
    assert (after.id, after.first_day) == (before.id, later)
    outcome = yard.publish(plan)
    assert outcome.differ(went=True) == 0
    event = yard.there()[uid_of(after.id)]
    assert event["DTSTART"].dt == later
    assert "Jan comes to help." in event["DESCRIPTION"]
    assert set(kinds(yard.publish(plan))) == {"keep"}


def test_a_day_on_which_nothing_is_planned_any_more_is_noted_once(with_a_speck: Yard) -> None:
    yard, on = with_a_speck, date(2027, 4, 20)
    plan = load_plan(yard.season, on)
    (before,) = (task for task in plan.tasks if task.kind == "touch-up")
    yard.publish(plan)
    yard.edit(uid_of(before.id), lambda event: moved(event, 22))  # too near the journey
    collected(yard, on, go=True)
    entries = read_season(yard.season, on).season.journal
    assert [one.touch_up_on for one in entries] == [before.first_day + timedelta(days=22)]
    assert "touch-up" not in {task.kind for task in load_plan(yard.season, on).tasks}
    collected(yard, on + timedelta(days=1), go=True)
    assert read_season(yard.season, on + timedelta(days=1)).season.journal == entries


def test_a_deleted_job_is_asked_about(with_a_speck: Yard, monkeypatch: pytest.MonkeyPatch) -> None:
    yard, on = with_a_speck, date(2027, 4, 20)
    plan = load_plan(yard.season, on)
    net = next(task for task in plan.tasks if task.kind == "net-practice")
    yard.publish(plan)
    yard.radicale.ask("DELETE", f"{yard.path}{uid_of(net.id)}.ics")
    monkeypatch.setattr(collect, "load_with_notes", lambda season, on: (plan, never_done, (), {}))
    said = ""
    monkeypatch.setattr(collect, "terminal", lambda: lambda question: said)
    for said in ("m", ""):  # noqa: B007, what is answered
        for go in (True, False):
            with pytest.raises(Failure, match="left open"):
                collected(yard, on, go=go)
    assert not (yard.season / "journal.yaml").exists()
    said = "n"
    collected(yard, on, go=False)
    (written,) = read_season(yard.season, on).season.journal
    assert (written.did, written.job, written.note) == ("job", net.id, "not needed")
    assert net.id not in {task.id for task in load_plan(yard.season, on).tasks}


def test_what_the_answers_about_a_deleted_job_come_to() -> None:
    row = LedgerRow("", 0, "", "CONFIRMED", "Net", "2027-06-05", "2027-06-06", task="elm/net")
    cut = replace(row, kind="touch-up", fish=("aoi",), task="touch-up/aoi/elm")

    def told(row: LedgerRow, said: str) -> Any:
        return collect._of_deletion(row, lambda question: said)

    assert told(row, "done") == ({"did": "job", "job": "elm/net"}, ())
    assert told(cut, "d") == ({"did": "touch-up"}, ("aoi",))
    assert "the speck is in the fish's file" in told(cut, "not needed")
    for one in (row, cut):
        assert "--keep-plan" in told(one, "mistake")
        assert "never taken as done" in str(collect._of_deletion(one, None))


def test_a_job_completed_as_a_task_counts_as_ticked(with_a_speck: Yard) -> None:
    """Some programs make a task (VTODO) of what was done: RFC 5545 §3.6.2, §3.8.1.11."""
    yard, on = with_a_speck, date(2027, 4, 20)
    plan = load_plan(yard.season, on)
    net = next(task for task in plan.tasks if task.kind == "net-practice")
    yard.publish(plan)
    path = f"{yard.path}{uid_of(net.id)}.ics"
    _, data = yard.radicale.ask("GET", path)
    for old, new in (
        (b"BEGIN:VEVENT", b"BEGIN:VTODO"),
        (b"END:VEVENT", b"END:VTODO"),
        (b"DTEND;", b"DUE;"),
        (b"STATUS:CONFIRMED", b"STATUS:COMPLETED\r\nPERCENT-COMPLETE:100"),
        (b"TRANSP:TRANSPARENT\r\n", b""),
    ):
        assert old in data
        data = data.replace(old, new)
    yard.radicale.ask("DELETE", path)
    assert yard.put(path, data) == 201
    collected(yard, on, go=True)
    plan = load_plan(yard.season, on)
    assert net.id not in {task.id for task in plan.tasks}

    def done_on(row: LedgerRow) -> date | None:
        return on if row.task == net.id else None

    outcome = yard.publish(plan, done_on=done_on)
    assert outcome.differ(went=True) == 0
    assert str(yard.there()[uid_of(net.id)]["SUMMARY"]).startswith("Done: ")


def test_the_dry_run_says_why_a_day_moves(
    with_a_speck: Yard, capsys: pytest.CaptureFixture[str]
) -> None:
    yard = with_a_speck

    def published(on: date, *, go: bool) -> str:
        with suppress(Failure):
            publish_command.run(
                season=yard.season,
                url=yard.radicale.url(yard.path),
                user="hana",
                go=go,
                overwrite=False,
                keep_password=False,
                on=on,
                now=yard.now,
            )
        return capsys.readouterr().out

    published(date(2027, 4, 20), go=True)
    (yard.season / "journal.yaml").write_text(
        "- {on: 2027-04-22, fish: aoi, touch_up_on: 2027-05-24}\n"
    )
    said = published(date(2027, 4, 22), go=False)
    (line,) = (one for one in said.splitlines() if "  Touch-up: Aoi" in one)
    assert line.startswith("Change    2027-05-24  Touch-up: Aoi (was 2027-05-15). ")
    assert "Mon 24 May was set for the touch-up of Aoi" in line


def test_an_emptied_calendar_says_nothing(yard: Yard, two: tuple[Plan, Plan]) -> None:
    yard.publish(two[0])
    ledger = load(yard.ledger)
    assert ledger is not None
    assert read_back(ledger, yard.look()) == ()
    for number in (0, 1, 2, 4):
        yard.radicale.ask("DELETE", yard.resource(number))
    with pytest.raises(Failure, match="made anew"):
        read_back(ledger, yard.look())


def gone_on(yard: Yard, on: date) -> PublishReport:
    """The season as it stands, published on a day by the command's own means."""
    planned, plan = load_yard_and_plan(yard.season, on)
    return yard.publish(plan, done_on=done_by(planned))


def test_a_fast_that_was_ticked_has_begun_and_stays_in_sight(with_a_speck: Yard) -> None:
    """Whoever feeds the pond on its second day must see it; it is noted once, however often."""
    yard = with_a_speck
    plan = load_plan(yard.season, date(2027, 4, 20))
    (fast,) = (task for task in plan.tasks if task.kind == "stop-feeding")
    on = fast.first_day
    assert fast.last_day > on
    gone_on(yard, on)
    yard.edit(uid_of(fast.id), ticked)
    collected(yard, on, go=True)
    (entry,) = read_season(yard.season, on).season.journal
    assert (entry.on, entry.did, entry.water, entry.job) == (on, "stop feeding", "pond", fast.id)
    later = on + timedelta(days=1)
    there = gone_on(yard, later)
    kinds = {step.uid: step.kind for step in there.comparison.steps}
    assert kinds[uid_of(fast.id)] == "keep"
    assert str(yard.there()[uid_of(fast.id)]["SUMMARY"]).startswith("✓ ")
    assert "unfed-not-noted" not in [
        ask.question.code for ask in load_plan(yard.season, later).asks
    ]
    with suppress(Failure):
        collected(yard, later, go=True)
    assert read_season(yard.season, later).season.journal == (entry,)


def test_what_is_late_moves_on_though_it_was_ticked(
    with_a_speck: Yard, capsys: pytest.CaptureFixture[str]
) -> None:
    yard, on, uid = with_a_speck, date(2027, 5, 22), uid_of("late")
    gone_on(yard, on)
    assert "more" in str(yard.there()[uid]["SUMMARY"])
    yard.edit(uid, ticked)
    with pytest.raises(Failure, match="left open"):
        collected(yard, on, go=True)
    assert "it stands for several jobs" in capsys.readouterr().out
    same_day = gone_on(yard, on)
    assert [step.uid for step in same_day.comparison.steps if step.kind == "leave"] == [uid]
    gone_on(yard, on + timedelta(days=1))
    event = yard.there()[uid]
    assert str(event["SUMMARY"]).startswith("Late: ")
    assert event["DTSTART"].dt.date() == on + timedelta(days=1)


def test_of_one_late_job_a_tick_is_the_deed(yard: Yard, build: Any) -> None:
    one = build.task(1, late=True)
    first, second = (build.plan([one], planned_on=date(2027, 6, 1 + n)) for n in range(2))
    yard.publish(first)
    uid = uid_of("late")
    yard.edit(uid, ticked)
    (touched,) = read_back(load(yard.ledger), yard.look())
    assert (touched.touch, touched.row.task, touched.row.kind) == ("ticked", one.id, one.kind)

    def done_on(row: LedgerRow) -> date | None:
        return date(2027, 6, 1) if row.task == one.id else None

    other = build.plan([build.task(2, late=True)], planned_on=date(2027, 6, 2))
    assert [s.kind for s in yard.publish(second).comparison.steps] == ["leave"], "not told yet"
    yard.publish(other, done_on=done_on)
    assert str(yard.there()[uid]["SUMMARY"]) == "Late: Stop feeding 2"
    yard.publish(build.plan([], planned_on=date(2027, 6, 3)), done_on=lambda row: date(2027, 6, 2))
    assert str(yard.there()[uid]["SUMMARY"]) == "Done: Stop feeding 2, 2 Jun"


def test_a_done_job_keeps_its_title_however_often_it_is_published(yard: Yard, two: Any) -> None:
    yard.publish(two[0])
    empty = replace(two[1], tasks=())
    for _ in range(4):
        yard.publish(empty, done_on=lambda row: date(2027, 4, 30))
    titles = [str(event["SUMMARY"]) for event in yard.there().values()]
    assert titles
    assert all(title.count("Done: ") == 1 and title.endswith(", 30 Apr") for title in titles)


@pytest.mark.parametrize(
    ("name", "when", "noted_on"),
    [
        ("LAST-MODIFIED", datetime(2027, 5, 21, 9, tzinfo=UTC), date(2027, 5, 21)),
        ("COMPLETED", datetime(2027, 5, 21, 23, 30, tzinfo=UTC), date(2027, 5, 22)),  # in Dublin
        ("LAST-MODIFIED", datetime(2027, 6, 30, 9, tzinfo=UTC), date(2027, 5, 23)),
        (None, None, date(2027, 5, 20)),
    ],
)
def test_a_job_of_several_days_is_noted_on_the_day_of_its_tick(
    yard: Yard, build: Any, name: str | None, when: datetime | None, noted_on: date
) -> None:
    """RFC 5545 §3.8.7.3 and §3.8.2.1: when the phone last changed it, or completed it."""
    days = {"start": date(2027, 5, 20), "end": date(2027, 5, 23)}
    yard.publish(build.plan([build.task(1, kind="pack", **days)]))

    def change(event: Any) -> None:
        ticked(event)
        if name is not None:
            event.pop(name, None)
            event.add(name, when)

    yard.edit(uid_of("larkfield/job-1"), change)
    (touched,) = read_back(load(yard.ledger), yard.look())
    assert collect._day(touched, {"did": "job"}, "Europe/Dublin") == noted_on
