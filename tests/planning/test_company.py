"""Whom a fish keeps company with, in days worked out by hand.

The pond has 20 °C and the vat 22. Home from own vats a fish stays 28 days in water of 22 °C, and 42
in water of 20 (the figures of `husbandry.isolation`).
"""

from __future__ import annotations

from datetime import date
from io import StringIO
from typing import Any

from rich.console import Console

from showprep.husbandry.reason import FishId, Reason, reason
from showprep.outputs.why import print_why
from showprep.outputs.words.answer import ShortAnswer
from showprep.planning.plan import Plan, Verdict

SECOND = """\
otterby:
  name: Otterby Show
  judging: 2027-07-03 10:00
  check_out: 2027-07-04 14:00
  travel_hours: 1
  vats: own
  altered_fish: tolerated
"""


def a_fish(name: str, more: str = "", water: str = "pond") -> str:
    return (
        f"{name}:\n  name: {name.title()}\n  variety: showa\n  lives_in: {water}\n  merit: 70\n"
        f"  lengths_cm: {{2027-03-01: 40}}\n{more}"
    )


def of(plan: Plan, fish: str, show: str) -> Verdict:
    return next(one for one in plan.verdicts if (one.fish, one.show) == (fish, show))


def told(plan: Plan, code: str) -> list[Reason]:
    return [one.reason for one in plan.warnings if one.reason.code == code]


def home_from_larkfield(written: Any) -> Any:
    """Aoi went to Larkfield and is home on 13 June: in the vat until 11 July, 28 days later."""
    written.fish = written.fish.split("  defects")[0] + a_fish("ben")
    written.shows += SECOND
    written.noted("on: 2027-05-20, did: entered, fish: aoi, show: larkfield")
    return written.noted("on: 2027-06-11, did: travelled, fish: aoi, show: larkfield")


def test_who_is_home_holds_the_vat_once_the_show_has_passed(written: Any) -> None:
    home_from_larkfield(written)
    found = of(written.plan(date(2027, 6, 20)), "ben", "otterby")
    assert (found.verdict, found.entered) == ("not-eligible", False)
    assert found.reasons[0] == reason(
        "vat-taken",
        water="vat",
        fish=(FishId("aoi"),),
        home=date(2027, 7, 4),
        until=date(2027, 7, 11),
    )


def test_who_comes_home_on_the_day_it_is_cleared_finds_it_empty(written: Any) -> None:
    home_from_larkfield(written)
    later = SECOND.replace("07-03", "07-10").replace("07-04", "07-11")
    written.shows = written.shows.replace(SECOND, later)
    assert of(written.plan(date(2027, 6, 20)), "ben", "otterby").entered
    # A day earlier Aoi is still there.
    early = later.replace("07-10", "07-09").replace("07-11", "07-10")
    written.shows = written.shows.replace(later, early)
    assert not of(written.plan(date(2027, 6, 20)), "ben", "otterby").entered


def test_who_lives_in_the_vat_holds_a_place_of_it(written: Any) -> None:
    written.fish = written.fish.split("  defects")[0] + a_fish("ben") + a_fish("cho")
    written.with_keeper("isolation: {water: vat, holds: 2}")
    on = date(2027, 6, 1)
    assert sum(one.entered for one in written.plan(on).verdicts) == 2
    written.fish += a_fish("daru", "  never_show: all\n", "vat")
    assert sum(one.entered for one in written.plan(on).verdicts) == 1
    # One that may be shown takes its own place when it comes home, and holds it when it stays.
    written.fish = written.fish.replace("  never_show: all\n", "")
    written.with_show("limits: {shortest_cm: 55}")
    written.fish = written.fish.replace("40}", "52}", 2)
    plan = written.plan(on)
    assert [one.fish for one in plan.verdicts if one.entered] == ["aoi"]
    assert len(told(plan, "more-than-vat-holds")) == 1


def test_who_lives_in_the_vat_shares_the_time_apart(written: Any) -> None:
    home_from_larkfield(written)
    written.fish += a_fish("daru", water="vat")
    found = of(written.plan(date(2027, 6, 20)), "daru", "otterby")
    assert found.verdict == "not-eligible"
    shared = next(one for one in found.reasons if one.code == "vat-shared")
    assert shared["fish"] == (FishId("aoi"),) and shared["until"] == date(2027, 7, 11)


def test_moved_into_the_pond_too_early_the_pond_is_exposed(written: Any) -> None:
    home_from_larkfield(written).noted("on: 2027-06-20, did: move, fish: aoi, to: pond")
    plan = written.plan(date(2027, 6, 21))
    (stop,) = told(plan, "moved-before-clear")
    assert (stop["fish"], stop["on"], stop["water"]) == (FishId("aoi"), date(2027, 6, 20), "pond")
    # The pond's 20 °C takes 42 days from that day: until 1 August.
    assert stop["others"] == (FishId("ben"),) and stop["until"] == date(2027, 8, 1)
    found = of(plan, "ben", "otterby")
    assert not found.entered
    assert any(one.code == "exposed" and one["until"] == date(2027, 8, 1) for one in found.reasons)


def test_moved_on_the_day_it_is_cleared_nothing_is_exposed(written: Any) -> None:
    home_from_larkfield(written).noted("on: 2027-07-11, did: move, fish: aoi, to: pond")
    assert told(written.plan(date(2027, 7, 12)), "moved-before-clear") == []


def test_a_second_return_starts_the_count_again_and_is_said(written: Any) -> None:
    home_from_larkfield(written).noted("on: 2027-06-20, did: entered, fish: ben, show: otterby")
    written.noted("on: 2027-07-02, did: travelled, fish: ben, show: otterby")
    plan = written.plan(date(2027, 7, 3))
    (again,) = told(plan, "count-starts-again")
    # Home on 4 July, before 11 July: 28 days from then.
    assert again["fish"] == (FishId("ben"),) and again["others"] == (FishId("aoi"),)
    assert again["until"] == date(2027, 8, 1)


def test_with_signs_of_khv_nobody_joins_anybody(written: Any, ids: Any) -> None:
    home_from_larkfield(written)
    on = date(2027, 6, 20)
    assert "larkfield/isolation-clear" in ids(written.plan(on))
    written.noted("on: 2027-06-19, saw: khv signs, fish: aoi")
    plan = written.plan(on)
    assert "larkfield/isolation-clear" not in ids(plan)
    assert told(plan, "khv-stop")[0]["water"] == "vat"
    assert not any(one.entered for one in plan.verdicts)


def test_no_session_handles_two_companies(written: Any) -> None:
    home_from_larkfield(written)
    speck = "  defects: [{kind: shimi, where: left shoulder, size_mm: 2, seen: 2027-03-01}]\n"
    written.fish = written.fish.replace("aoi:\n", "aoi:\n" + speck, 1)
    on, day = date(2027, 6, 20), date(2027, 7, 5)
    assert written.touch_ups(on).against(day) is None  # its own company alone
    written.fish += a_fish("cho", speck)
    assert written.touch_ups(on).against(day) == reason("kept-apart-then", day=day)
    assert written.touch_ups(on).against(date(2027, 7, 11)) != reason(
        "kept-apart-then", day=date(2027, 7, 11)
    )


def test_the_declaration_and_the_cheapest_way_out(written: Any) -> None:
    written.with_show("declaration_months: 6", "entries_close: 2027-05-29")
    written.with_keeper("waters: {pond: {steady_c: 20}, vat: {steady_c: 22}, tub: {steady_c: 20}}")
    new = a_fish("eri", "  came: 2027-05-01\n  moves: [{on: 2027-05-20, to: pond}]\n", "tub")
    written.fish = written.fish.split("  defects")[0] + new
    on = date(2027, 5, 10)
    plan = written.plan(on)
    show = plan.shows[0]
    assert [one.code for one in show.declaration] == [
        "stands-against",
        "way-to-sign",
        "way-to-sign",
        "way-to-sign",
    ]
    against, *ways = show.declaration
    assert [way["cheapest"] for way in ways] == [1, 0, 0]
    drop, test, leave = (way["way"] for way in ways)
    assert [drop.code, test.code, leave.code] == ["drop-move", "test-by", "leave-at-home"]
    assert (drop["frees"], test["frees"]) == ((FishId("aoi"),), (FishId("aoi"), FishId("eri")))
    assert (against["others"], against["ahead"]) == ((), (FishId("aoi"),))
    assert against["on"] == date(2027, 5, 1) and against["since"] == date(2026, 12, 12)
    assert drop["on"] == date(2027, 5, 20) and drop["water"] == "pond"
    assert test["by"] == date(2027, 5, 15)  # two weeks before the form is due
    assert leave["fish"] == (FishId("aoi"), FishId("eri"))
    (bars,) = told(plan, "move-would-bar")
    assert bars["others"] == (FishId("aoi"),)
    # Without the move Aoi never meets it, and her declaration may be signed.
    written.fish = written.fish.replace("  moves: [{on: 2027-05-20, to: pond}]\n", "")
    show = written.plan(on).shows[0]
    assert show.declaration[0] == reason("may-sign-for", fish=(FishId("aoi"),))
    written.fish = written.fish.replace(
        "  came: 2027-05-01\n", "  came: 2027-05-01\n  tested: yes\n"
    )
    (only,) = written.plan(on).shows[0].declaration
    assert only.code == "may-sign"


def test_water_too_cold_clears_nobody_whatever_the_show_asks(written: Any) -> None:
    # Below 16 °C no time counts.
    written.with_keeper("waters: {pond: {steady_c: 12}, vat: {steady_c: 22}}")
    written.fish = written.fish.split("  defects")[0] + a_fish("eri", "  came: 2027-03-01\n")
    (mates,) = told(written.plan(date(2027, 5, 10)), "mates-of-new")
    assert mates["others"] == (FishId("aoi"),) and mates["until"] is None
    written.fish = written.fish.replace(
        "  came: 2027-03-01\n", "  came: 2027-03-01\n  tested: yes\n"
    )
    assert told(written.plan(date(2027, 5, 10)), "mates-of-new") == []


def test_why_counts_the_days_to_the_day_it_may_join_the_others(written: Any) -> None:
    # Home on 13 June, cleared on Sunday 11 July; with Saturdays alone it is moved on the 17th.
    written.fish = written.fish.split("  defects")[0]

    def homecoming() -> str:
        file = StringIO()
        plan = written.plan(date(2027, 6, 1))
        print_why(plan, "aoi", "larkfield", Console(width=200, file=file))
        found = (line.strip() for line in file.getvalue().splitlines())
        return next(line for line in found if line.startswith("may join"))

    assert homecoming() == ("may join the others from Sun 11 July 2027, 28 days after coming home")
    written.with_keeper("work_days: [saturday]")
    assert homecoming() == (
        "may join the others from Sat 17 July 2027, 34 days after coming home, as hands are free: "
        "cleared on Sun 11 July, 28 days after coming home"
    )


def test_why_nobody_is_fit_is_named(written: Any) -> None:
    written.fish = written.fish.split("  defects")[0] + a_fish("ben")
    on = date(2027, 6, 1)
    written.with_show("limits: {longest_cm: 30}")

    def nobody() -> str:
        answer = ShortAnswer(written.plan(on))
        return answer.nobody(answer.shows[0])

    assert nobody() == "Nobody to Larkfield: no fish is fit for it (Aoi and Ben too long)."
    written.with_show("limits: {longest_cm: 51}")
    written.noted("on: 2027-05-30, saw: spawned, fish: ben")
    told = nobody()
    assert told.startswith("Nobody to Larkfield: no fish is fit for it (")
    assert "Aoi too long" in told and "Ben spawned lately" in told
    written.journal = ""
    written.with_show("limits: {fish: 4}")
    written.noted("on: 2027-05-30, saw: khv signs, fish: aoi")
    assert "no fish is fit for it; signs of KHV" in nobody()


def declared(written: Any, fish: str, show: str, on: date) -> str:
    """What `why` prints under the question of the declaration."""
    file = StringIO()
    print_why(written.plan(on), fish, show, Console(width=300, file=file))
    rest = file.getvalue().split("May the declaration be signed?\n")[1]
    return rest.split("\n\n")[0]


def test_why_tells_whom_a_move_would_bar_and_whom_a_test_frees(written: Any) -> None:
    """Two ponds, two that came untested: one still alone in the tub, one in the big pond since."""
    written.with_keeper(
        "waters:",
        "  pond: {litres: 20000, steady_c: 19}",
        "  vat: {litres: 4000, steady_c: 22}",
        "  small pond: {steady_c: 19}",
        "  tub: {steady_c: 20}",
    )
    written.with_show("declaration_months: 3", "entries_close: 2027-05-29")
    written.shows += SECOND.replace("2027-07", "2027-09") + "  declaration_months: 12\n"
    new = "  came: 2027-03-20\n  moves: [{on: 2027-05-20, to: small pond}]\n"
    written.fish = written.fish.split("  defects")[0] + "".join(
        (
            a_fish("cho", water="small pond"),
            a_fish("dai", new, "tub"),
            a_fish("eri", "  came: 2026-11-10\n"),
        )
    )
    on = date(2027, 5, 1)
    # Three months before 12 June are 12 March: Dai alone came later, and is to meet Cho.
    told = declared(written, "cho", "larkfield", on)
    assert "For Aoi and Eri, who go, the declaration may be signed" in told
    assert "Dai came without a test on Sat 20 March 2027" in told
    assert "is to meet Cho on Thu 20 May" in told and "has met Cho" not in told
    assert "Cheapest: drop the move of Dai into the small pond on Thu 20 May" in told
    assert "may then be signed for Cho" in told
    assert "Or: have a vet test Dai for KHV by Sat 15 May" in told
    # Twelve months before 3 September reach back to Eri, who has been with Aoi since.
    told = declared(written, "aoi", "otterby", on)
    assert "Eri came without a test on Tue 10 November 2026" in told and "has met Aoi" in told
    assert "have a vet test Eri" in told and "may then be signed for Aoi and Eri" in told
    assert "leave Aoi, Cho, Dai and Eri at home" in told
    assert not of(written.plan(on), "aoi", "otterby").entered


def test_a_move_is_dropped_for_those_that_it_alone_would_bar(written: Any) -> None:
    """Dai has been with Cho in the small pond from the first day, and is to join Aoi's on 1 June.

    Dropped, Aoi may go and Cho may not; but where Cho is to join Aoi as well, to drop it is no use.
    """
    written.with_keeper("waters: {pond: {steady_c: 20}, vat: {steady_c: 22}, tub: {steady_c: 20}}")
    written.with_show("declaration_months: 12", "entries_close: 2027-05-29")
    new = "  came: 2027-04-10\n  moves: [{on: 2027-06-01, to: pond}]\n"
    aoi = written.fish.split("  defects")[0]
    written.fish = aoi + a_fish("cho", water="tub") + a_fish("dai", new, "tub")
    told = declared(written, "aoi", "larkfield", date(2027, 5, 1))
    assert "Cheapest: drop the move of Dai into the pond on Tue 1 June" in told
    assert "may then be signed for Aoi." in told
    joins = "  moves: [{on: 2027-06-05, to: pond}]\n"
    written.fish = aoi + a_fish("cho", joins, "tub") + a_fish("dai", new, "tub")
    assert "drop the move" not in declared(written, "aoi", "larkfield", date(2027, 5, 1))


def test_why_follows_a_meeting_at_second_hand_and_knows_a_test_too_late(written: Any) -> None:
    """Dai sat with Fay in the tub; Fay alone was moved into the pond, where Aoi and Ben are."""
    written.with_keeper("waters: {pond: {steady_c: 20}, vat: {steady_c: 22}, tub: {steady_c: 20}}")
    written.with_show("declaration_months: 6", "entries_close: 2027-05-12")
    written.fish = written.fish.split("  defects")[0] + "".join(
        (a_fish("ben"), a_fish("dai", "  came: 2027-04-01\n", "tub"), a_fish("fay", "", "tub"))
    )
    on = date(2027, 5, 1)
    assert "For Aoi and Ben, who go, the declaration may" in declared(
        written, "aoi", "larkfield", on
    )
    written.noted("on: 2027-04-20, did: move, fish: fay, to: pond")
    told = declared(written, "aoi", "larkfield", on)
    assert "Dai came without a test on Thu 1 April 2027" in told
    assert "has met Aoi, Ben and Fay" in told and "drop the move" not in told
    # Two weeks before the form of 12 May are over: to stay at home is sure, a test is not.
    assert "Cheapest: leave Aoi, Ben, Dai and Fay at home" in told
    assert "Or: have a vet test Dai for KHV now: the answer may come too late" in told
    against = next(one for one in of(written.plan(on), "ben", "larkfield").reasons)
    assert (against.code, against["met"]) == ("other-untested", date(2027, 4, 20))
    # Signs of KHV: no way out is offered at all.
    written.noted("on: 2027-04-30, saw: khv signs, fish: fay")
    told = declared(written, "aoi", "larkfield", on)
    assert "Not to be signed" in told and "Cheapest" not in told and "Or:" not in told
