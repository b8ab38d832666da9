"""What the files and the journal say together: invented fish, worked through by hand."""

from __future__ import annotations

from datetime import date, datetime

import pytest

from showprep.planning.as_of.state import FishState, State, Treated, postponed, state_of
from showprep.planning.yard.course import course_by_moves
from showprep.season.records import (
    Defect,
    Fish,
    JournalEntry,
    Keeper,
    Move,
    Season,
    Show,
    Water,
    Window,
)


def day(month: int, number: int) -> date:
    return date(2027, month, number)


SPECK = Defect(kind="shimi", where="left shoulder", size_mm=2, seen=day(3, 20), merit_lost=6)
SPLIT = Defect(kind="split-fin", where="tail", seen=day(4, 1), merit_lost=3)


def aoi(**more: object) -> Fish:
    told: dict[str, object] = {
        "name": "Aoi",
        "variety": "kohaku",
        "lives_in": "pond",
        "merit": 82,
        "defects": (SPECK,),
    }
    return Fish.model_validate(told | more)


def entry(month: int, number: int, **told: object) -> JournalEntry:
    return JournalEntry.model_validate({"on": day(month, number), "fish": "aoi"} | told)


def spring() -> Show:
    return Show(
        name="Spring Show",
        judging=datetime(2027, 6, 12, 10),
        arrive=Window.model_validate(
            {"from": datetime(2027, 6, 11, 13), "to": datetime(2027, 6, 11, 20)}
        ),
        check_out=datetime(2027, 6, 13, 14),
        entries_close=day(5, 22),
        travel_hours=2.5,
    )


def season(*journal: JournalEntry, fish: Fish | None = None) -> Season:
    waters = {"pond": Water(steady_c=18, readings_c={day(3, 14): 9.2}), "vat": Water(steady_c=22)}
    return Season(
        keeper=Keeper(time_zone="Europe/Dublin", waters=waters),
        shows={"spring": spring()},
        fish={"aoi": fish or aoi()},
        journal=journal,
    )


def at(on: date, *journal: JournalEntry, fish: Fish | None = None) -> State:
    return state_of(season(*journal, fish=fish), on)


def fish_at(on: date, *journal: JournalEntry, fish: Fish | None = None) -> FishState:
    return at(on, *journal, fish=fish).fish["aoi"]


def test_what_is_not_known_yet_is_not_in_it() -> None:
    fish = aoi(
        lengths_cm={day(3, 1): 50, day(5, 1): 52},
        weights_kg={day(5, 1): 2},
        spawned=day(5, 20),
        defects=(SPECK, SPLIT, SPECK.model_copy(update={"where": "back", "clean": day(5, 1)})),
    )
    told = [
        entry(4, 10, measured_cm=51, did="measure"),
        entry(4, 20, did="touch-up"),
        entry(4, 20, fish=None, water="pond", saw="temperature", read_c=13),
    ]
    early = at(day(3, 25), *told, fish=fish)
    aoi_then = early.fish["aoi"]
    assert aoi_then.lengths == ((day(3, 1), 50),)
    assert [d.where for d in aoi_then.defects] == ["left shoulder", "back"]
    assert all(d.open and d.heals_from == day(3, 20) for d in aoi_then.defects)
    assert (aoi_then.spawned, aoi_then.weights, aoi_then.sedations) == (None, (), ())
    assert early.readings == {"pond": ((day(3, 14), 9.2),), "vat": ()}
    assert early.journal == ()
    late = at(day(5, 20), *told, fish=fish)
    assert late.fish["aoi"].lengths == ((day(3, 1), 50), (day(4, 10), 51), (day(5, 1), 52))
    assert late.fish["aoi"].spawned == day(5, 20)
    assert late.readings["pond"][-1] == (day(4, 20), 13)
    assert [d.where for d in late.fish["aoi"].open_defects] == ["left shoulder", "tail"]


def test_a_touch_up_sedates_and_is_what_healing_is_counted_from() -> None:
    now = fish_at(day(5, 1), entry(4, 24, did="touch-up", bath_mg_per_l=35))
    (speck,) = now.defects
    assert (speck.touched, speck.heals_from, speck.seen) == (day(4, 24), day(4, 24), day(3, 20))
    assert now.sedations == (day(4, 24),)


def test_a_touch_up_leaves_other_marks_alone_and_takes_all_specks_of_the_fish() -> None:
    other = SPECK.model_copy(update={"where": "back"})
    now = fish_at(day(5, 1), entry(4, 24, did="touch-up"), fish=aoi(defects=(SPECK, SPLIT, other)))
    assert [d.touched for d in now.defects] == [day(4, 24), None, day(4, 24)]
    one = fish_at(
        day(5, 1),
        entry(4, 24, did="touch-up", where="Back"),
        fish=aoi(defects=(SPECK, SPLIT, other)),
    )
    assert [d.touched for d in one.defects] == [None, None, day(4, 24)]


def test_looks_say_clean_or_not_and_the_last_word_counts() -> None:
    touched = entry(4, 24, did="touch-up")
    (speck,) = fish_at(day(5, 9), touched, entry(5, 8, saw="not clean")).defects
    assert speck.open and speck.not_clean_on == day(5, 8)
    told = [touched, entry(5, 8, saw="not clean"), entry(5, 15, saw="clean")]
    (speck,) = fish_at(day(5, 30), *told, entry(5, 29, saw="clean")).defects
    assert (speck.clean_on, speck.still_clean_on) == (day(5, 15), day(5, 29))
    assert (speck.closed_on, speck.not_clean_on, speck.open) == (day(5, 15), day(5, 8), False)
    (speck,) = fish_at(day(5, 30), *told, entry(5, 20, saw="not clean")).defects
    assert speck.open and speck.clean_on is None and speck.not_clean_on == day(5, 20)


def test_closed_and_not_closed() -> None:
    fish = aoi(defects=(SPLIT,))
    (split,) = fish_at(day(5, 1), entry(4, 10, saw="not closed"), fish=fish).defects
    assert (split.not_closed_on, split.not_clean_on, split.closed_on) == (day(4, 10),) * 2 + (None,)
    told = [entry(4, 10, saw="not closed"), entry(4, 20, saw="closed")]
    (split,) = fish_at(day(5, 1), *told, fish=fish).defects
    assert split.closed_on == day(4, 20) and split.open
    (split,) = fish_at(day(5, 1), *told, entry(4, 25, saw="not closed"), fish=fish).defects
    assert split.closed_on is None


def test_a_mark_that_stays_is_never_clean_and_keeps_its_merit_lost() -> None:
    told = [entry(4, 24, did="touch-up"), entry(6, 1, saw="mark left", merit_lost=2)]
    (speck,) = fish_at(day(6, 2), *told).defects
    assert speck.mark_left and speck.open and speck.closed_on == day(6, 1)
    assert speck.merit_lost == 2


def test_a_speck_that_comes_back_opens_a_new_chapter() -> None:
    told = [
        entry(4, 24, did="touch-up"),
        entry(5, 20, saw="clean"),
        entry(7, 1, saw="speck back", size_mm=1),
    ]
    old, new = fish_at(day(7, 2), *told).defects
    assert not old.open and old.ended_on == day(7, 1)
    assert new.open and new.came_back and new.touched is None
    assert (new.seen, new.heals_from, new.size_mm) == (day(7, 1), day(7, 1), 1)
    assert (new.where, new.merit_lost) == ("left shoulder", 6)
    *_, again = fish_at(day(8, 1), *told, entry(7, 10, did="touch-up")).defects
    assert again.touched == day(7, 10) and again.came_back


def test_a_second_touch_up_ends_the_first_chapter() -> None:
    told = [entry(4, 24, did="touch-up"), entry(5, 8, saw="not clean"), entry(6, 5, did="touch-up")]
    first, second = fish_at(day(6, 6), *told).defects
    assert first.ended_on == day(6, 5) and first.not_clean_on == day(5, 8) and not first.open
    assert second.touched == day(6, 5) and second.not_clean_on is None and second.open


def test_new_defects_are_added_once() -> None:
    told = [
        entry(5, 1, saw="new defect", defect="lost-scale", where="left flank", merit_lost=4),
        entry(5, 3, saw="new defect", defect="lost-scale", where="Left flank", size_mm=6),
    ]
    _, scale = fish_at(day(5, 4), *told).defects
    assert (scale.kind, scale.seen, scale.merit_lost, scale.size_mm) == (
        "lost-scale",
        day(5, 1),
        4,
        6,
    )
    _, plain = fish_at(day(5, 4), entry(5, 1, saw="new defect", defect="net-mark")).defects
    assert plain.merit_lost == 5


def test_a_vet_sees_to_what_is_no_plain_speck() -> None:
    ulcer = Defect(kind="ulcer", where="belly", seen=day(4, 2))
    now = fish_at(day(5, 1), entry(4, 8, did="vet"), fish=aoi(defects=(SPECK, ulcer)))
    assert [d.vet for d in now.defects] == [None, day(4, 8)]
    assert now.defects[1].heals_from == day(4, 8)
    assert fish_at(day(5, 1), entry(4, 8, did="vet")).defects[0].vet == day(4, 8)


def test_lost_sold_and_what_was_weighed() -> None:
    now = fish_at(day(5, 1), entry(4, 8, did="sold", weighed_kg=2.5))
    assert (now.gone, now.gone_on, now.weights) == ("sold", day(4, 8), ((day(4, 8), 2.5),))
    assert fish_at(day(4, 7), entry(4, 8, did="lost")).gone is None


def test_a_move_done_stands_for_the_one_planned() -> None:
    fish = aoi(moves=(Move(on=day(4, 10), to="vat", ramp_c_per_day=1),))
    now = fish_at(day(4, 5), entry(4, 3, did="move", to="vat"), fish=fish)
    assert [(m.on, m.to, m.done, m.c_per_day) for m in now.moves] == [(day(4, 3), "vat", True, 1)]
    course = course_by_moves("pond", now.moves, day(4, 5))
    assert (course.water_on(day(4, 2)), course.water_on(day(4, 3))) == ("pond", "vat")
    back = fish_at(day(6, 5), entry(6, 3, did="move", to="pond"), fish=fish)
    assert [m.to for m in back.moves] == ["vat", "pond"]


def test_spawning_feeding_and_photos() -> None:
    told = [
        entry(5, 1, saw="off food"),
        entry(5, 3, saw="off food", photo="a.jpg"),
        entry(5, 4, saw="spawned"),
    ]
    now = fish_at(day(5, 5), *told)
    assert (now.off_food_since, now.spawned) == (day(5, 1), day(5, 4))
    assert now.photos == ((day(5, 3), "a.jpg"),)
    assert fish_at(day(5, 9), *told, entry(5, 8, saw="feeding well")).off_food_since is None


def test_treatments_of_the_fish_and_of_its_water() -> None:
    told = [
        entry(4, 1, did="treatment", treatment="salt"),
        entry(4, 2, fish=None, water="pond", did="treatment", treatment="praziquantel"),
        entry(4, 2, fish=None, water="vat", did="treatment", treatment="formalin"),
        entry(4, 3, did="move", to="vat"),
        entry(4, 4, fish=None, water="pond", did="treatment"),
    ]
    salt = Treated(day(4, 1), "salt")
    treated = fish_at(day(5, 1), *told).treated
    assert treated == (salt, Treated(day(4, 2), "praziquantel"))
    told.insert(0, entry(4, 1, did="sold"))
    assert fish_at(day(5, 1), *told).treated == (salt,)
    ordered = entry(4, 1, did="treatment", treatment="formalin", by_vet="yes", parasite="flukes")
    (found,) = fish_at(day(5, 1), ordered).treated
    assert found == Treated(day(4, 1), "formalin", True, "flukes")


def test_parasites_are_found_in_a_water_and_cleared_there() -> None:
    told = [entry(5, 1, saw="parasites"), entry(5, 3, fish=None, water="pond", saw="parasites")]

    def found(on: date) -> dict[str, tuple[date, date | None]]:
        last = at(on, *told).parasites
        return {water: (find.found, find.cleared) for water, find in last.items()}

    assert found(day(5, 4)) == {"pond": (day(5, 1), None)}
    # seen last on the 3rd: a clean scrape counts from the 17th, 14 days after
    told.append(entry(5, 16, fish=None, water="pond", saw="no parasites"))
    assert found(day(5, 16)) == {"pond": (day(5, 1), None)}
    told.append(entry(5, 17, fish=None, water="pond", saw="no parasites"))
    assert found(day(5, 17)) == {"pond": (day(5, 1), day(5, 17))}
    told.append(entry(6, 1, fish=None, water="pond", saw="parasites"))
    assert found(day(6, 1)) == {"pond": (day(6, 1), None)}
    assert [find.found for find in at(day(6, 1), *told).finds] == [day(5, 1), day(6, 1)]
    assert at(day(5, 1), entry(5, 1, saw="no parasites")).parasites == {}


def test_fasts_jobs_forms_and_signs() -> None:
    told = [
        entry(5, 1, fish=None, water="pond", did="stop feeding"),
        entry(5, 2, fish=None, water="pond", did="stop feeding"),
        entry(5, 2, fish=None, did="job", job="spring-oxygen"),
        entry(5, 3, fish=None, did="sent", show="spring"),
        entry(5, 3, did="entered", show="spring"),
        entry(5, 4, saw="khv signs"),
        entry(6, 12, did="result", show="spring", result="second", remarks="fine skin"),
    ]
    now = at(day(6, 13), *told)
    assert at(day(5, 22), *told).fasting == {"pond": day(5, 1)}
    assert now.fasting == {}, "six weeks later it is asked about anew"
    again = entry(6, 10, fish=None, water="pond", did="stop feeding")
    assert at(day(6, 13), *told, again).fasting == {"pond": day(6, 10)}
    assert now.jobs_done == {"spring-oxygen": day(5, 2)}
    assert now.sent == {"spring": day(5, 3)}
    assert now.khv_signs == ((day(5, 4), "pond"),)
    assert now.fish["aoi"].entered == {"spring"}
    assert now.fish["aoi"].results == ((day(6, 12), "spring", "second", "fine skin"),)
    fed = entry(5, 5, fish=None, water="pond", did="feed again")
    assert at(day(5, 6), *told, fed).fasting == {}


def test_a_fast_ends_with_the_touch_up_and_one_of_a_planned_job_is_no_job_done() -> None:
    told = [
        entry(5, 1, fish=None, water="pond", did="stop feeding", job="unfed/aoi/spring/pond"),
        entry(5, 2, did="touch-up"),
    ]
    assert at(day(5, 2), *told).fasting == {"pond": day(5, 1)}
    assert at(day(5, 3), *told).fasting == {}
    assert at(day(5, 3), *told).jobs_done == {}
    assert at(day(5, 3), *told).jobs_begun == {"unfed/aoi/spring/pond": day(5, 1)}


def test_the_journal_is_read_by_date_whatever_its_order() -> None:
    told = [entry(5, 20, saw="clean"), entry(4, 24, did="touch-up")]
    (speck,) = fish_at(day(5, 21), *told).defects
    assert (speck.touched, speck.clean_on) == (day(4, 24), day(5, 20))


def test_a_show_that_moves_takes_its_chain_along() -> None:
    later = postponed(spring(), datetime(2027, 6, 19, 9, 30))
    assert later.judging == datetime(2027, 6, 19, 9, 30)
    assert later.arrive is not None
    assert later.arrive.from_ == datetime(2027, 6, 18, 13)
    assert later.check_out == datetime(2027, 6, 20, 14)
    assert later.entries_close == day(5, 22)
    earlier = postponed(spring(), day(6, 5))
    assert earlier.judging == datetime(2027, 6, 5, 10)
    assert earlier.entries_close == day(5, 15)


@pytest.mark.parametrize("on", [day(4, 30), day(5, 1)])
def test_a_show_called_off_or_moved_counts_from_the_day_it_was_heard(on: date) -> None:
    off = entry(5, 1, fish=None, did="cancelled", show="spring")
    assert at(on, off).shows["spring"].cancelled is (on == day(5, 1))
    moved = entry(5, 3, fish=None, did="postponed", show="spring", to_day=day(7, 3))
    told = at(day(5, 4), off, moved).shows["spring"]
    assert (told.judging, told.cancelled) == (datetime(2027, 7, 3, 10), False)
