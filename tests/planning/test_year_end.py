"""A season looked back on: an invented fish in water of a steady 18 °C, 10 degree-days a day."""

from __future__ import annotations

from datetime import date, datetime

from showprep.planning.follow_up.year_end import FishYear, YearEnd, year_end
from showprep.season.records import Defect, Fish, JournalEntry, Keeper, Season, Show, Water

END = date(2027, 10, 31)


def entry(month: int, day: int, **told: object) -> JournalEntry:
    return JournalEntry.model_validate({"on": date(2027, month, day), "fish": "aoi"} | told)


def looked_back(*journal: JournalEntry, on: date = END) -> YearEnd:
    keeper = Keeper.model_validate(
        {
            "time_zone": "Europe/Dublin",
            "waters": {"pond": Water(steady_c=18), "vat": Water(steady_c=22)},
            "isolation": {"water": "vat", "holds": "3"},
        }
    )
    show = Show(name="Lark Show", judging=datetime(2027, 6, 12, 10), travel_hours=2)
    aoi = Fish(
        name="Aoi",
        variety="kohaku",
        lives_in="pond",
        merit=82,
        lengths_cm={date(2027, 3, 20): 50},
        defects=(Defect(kind="shimi", where="left shoulder", seen=date(2027, 3, 20)),),
    )
    return year_end(
        Season(keeper=keeper, shows={"lark": show}, fish={"aoi": aoi}, journal=journal), on
    )


def aoi(*journal: JournalEntry, on: date = END) -> FishYear:
    (fish,) = looked_back(*journal, on=on).fish
    return fish


def test_growth_from_the_first_to_the_last_length() -> None:
    fish = aoi(entry(9, 20, did="measure", measured_cm=54.5, weighed_kg=2.5))
    assert fish.grown_cm == 4.5
    assert fish.weights == ((date(2027, 9, 20), 2.5),)
    assert aoi().grown_cm is None


def test_a_touch_up_and_how_it_healed() -> None:
    fish = aoi(
        entry(4, 24, did="touch-up", bath_mg_per_l=35, minutes_to_recovery=4),
        entry(5, 4, saw="not clean"),
        entry(5, 14, saw="clean"),
    )
    (blemish,) = fish.blemishes
    assert (blemish.outcome, blemish.outcome_on, blemish.days) == ("clean", date(2027, 5, 14), 20)
    assert blemish.degree_days == 200
    assert (blemish.bath_mg_per_l, blemish.minutes_to_recovery) == (35, 4)


def test_every_way_it_can_end() -> None:
    touched = entry(4, 24, did="touch-up")
    assert aoi(touched).blemishes[0].outcome == "not looked at"
    assert aoi(touched, entry(5, 8, saw="not clean")).blemishes[0].outcome == "not clean"
    stays = aoi(touched, entry(5, 8, saw="mark left")).blemishes[0]
    assert (stays.outcome, stays.days) == ("mark left", None)
    twice = aoi(touched, entry(6, 24, did="touch-up"), entry(7, 20, saw="clean")).blemishes
    assert [blemish.outcome for blemish in twice] == ["touched up again", "clean"]
    back = aoi(touched, entry(5, 20, saw="clean"), entry(7, 3, saw="speck back")).blemishes
    assert [blemish.outcome for blemish in back] == ["back", "not looked at"]
    assert (back[0].clean_on, back[0].days, back[0].degree_days) == (date(2027, 5, 20), 26, 260)


def test_shows_and_results() -> None:
    fish = aoi(
        entry(5, 1, did="entered", show="lark"),
        entry(6, 11, did="travelled", show="lark"),
        entry(6, 12, did="result", show="lark", result="second", remarks="fine skin"),
    )
    (show,) = fish.shows
    assert (show.travelled, show.result, show.remarks) == (True, "second", "fine skin")
    stayed = aoi(entry(5, 1, did="entered", show="lark")).shows[0]
    assert not stayed.travelled


def test_days_apart_are_counted_by_the_moves() -> None:
    moves = [entry(6, 13, did="move", to="vat"), entry(7, 4, did="move", to="pond")]
    assert aoi(*moves).days_apart == 21
    assert aoi(moves[0], on=date(2027, 6, 20)).days_apart == 8
    sold = entry(6, 15, did="sold")
    assert aoi(moves[0], sold).days_apart == 3
    assert aoi(moves[0], sold).gone == "sold"


def test_an_empty_journal_and_the_pace() -> None:
    assert looked_back().since is None
    year = looked_back(entry(4, 24, did="touch-up"), entry(5, 14, saw="clean"))
    assert year.since == date(2027, 4, 24)
    assert [line.milestone for line in year.pace.lines] == ["clean", "back"]
