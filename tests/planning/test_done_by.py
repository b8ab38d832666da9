"""What the journal says in its own words ends a job, on an invented yard."""

from __future__ import annotations

from datetime import date, datetime

import pytest

from showprep.planning.jobs.done_by import is_done
from showprep.planning.yard.yard import Yard, yard_on
from showprep.season.records import Fish, JournalEntry, Keeper, Season, Show, Water

DUE = date(2027, 5, 8)


def yard(*told: dict[str, object], on: date = DUE) -> Yard:
    keeper = Keeper(
        time_zone="Europe/Dublin", waters={"pond": Water(steady_c=18), "vat": Water(steady_c=22)}
    )
    fish = {
        name: Fish(name=name.title(), variety="kohaku", lives_in="pond", merit=80)
        for name in ("aoi", "ren")
    }
    show = Show(name="Lark", judging=datetime(2027, 6, 12, 10), travel_hours=2)
    journal = tuple(JournalEntry.model_validate({"on": DUE} | one) for one in told)
    return yard_on(Season(keeper=keeper, shows={"lark": show}, fish=fish, journal=journal), on)


def done(kind: str, *told: dict[str, object], fish: str = "aoi ren") -> bool:
    return is_done(yard(*told), kind, fish.split(), "lark", None, DUE)


def test_a_look_is_done_when_every_fish_was_looked_at() -> None:
    one = {"fish": "aoi", "saw": "clean"}
    assert not done("look-back", one)
    assert done("look-back", one, {"fish": "ren", "saw": "not clean"})
    assert done("look-back", one, {"fish": "ren", "did": "sold"})
    assert done("look-back", one, fish="aoi")


def test_a_look_long_before_is_not_that_look() -> None:
    early = {"fish": "aoi", "saw": "clean", "on": date(2027, 5, 5)}
    earlier = early | {"on": date(2027, 5, 4)}
    assert done("look", early, fish="aoi")
    assert not done("look", earlier, fish="aoi")


def test_what_is_not_clean_wants_another_look_after_a_week() -> None:
    told = {"fish": "aoi", "saw": "not clean", "on": date(2027, 5, 8)}
    for later, wanted in ((date(2027, 5, 14), True), (date(2027, 5, 15), False)):
        now = yard(told, on=later)
        assert is_done(now, "look", ["aoi"], None, None, DUE) is wanted
        assert is_done(now, "look-back", ["aoi"], None, None, DUE)


def test_a_scrape_is_of_a_water() -> None:
    assert done("parasite-check", {"water": "pond", "saw": "no parasites"})
    assert done("parasite-check", {"fish": "ren", "saw": "parasites"})
    assert not done("parasite-check", {"water": "vat", "saw": "no parasites"})
    assert not done("clear-check", {"water": "pond", "saw": "parasites"})


@pytest.mark.parametrize("looked_in", [("pond",), ("vat",), ("pond", "vat")])
def test_a_check_before_a_show_is_of_the_water_the_fish_leave(looked_in: tuple[str, ...]) -> None:
    # Aoi is in the vat from 1 May and goes home on 20 May, three weeks before she leaves; the vat
    # was looked at on the 8th with her in it, the pond, which she joins, on the same day. Either
    # alone says nothing of the other water. It holds on every day, wherever she is on it.
    there = {"did": "move", "fish": "aoi", "on": date(2027, 5, 1), "to": "vat"}
    back = {"did": "move", "fish": "aoi", "on": date(2027, 5, 20), "to": "pond"}
    goes = {"did": "entered", "fish": "aoi", "show": "lark", "on": date(2027, 5, 3)}
    scrapes = [{"water": one, "saw": "no parasites"} for one in looked_in]
    for day in (20, 30):
        now = yard(there, goes, back, *scrapes, on=date(2027, 5, day))
        told = is_done(now, "parasite-check", ["aoi"], "lark", None, DUE)
        assert told is (looked_in == ("pond", "vat"))


def test_a_form_is_of_a_show() -> None:
    assert done("send-entry", {"show": "lark", "did": "sent"})
    assert not done("send-entry", {"fish": "aoi", "show": "lark", "did": "entered"})


@pytest.mark.parametrize("kind", ["pack", "leave", "look-back"])
def test_what_nobody_told_is_not_done(kind: str) -> None:
    assert not done(kind)
    assert not done(kind, fish="")
