"""What the records say against each other: each check once wrong, with its place and words."""

from __future__ import annotations

from datetime import date, datetime
from pathlib import Path

import pytest

from showprep.outputs.words.kinds import KINDS
from showprep.season.checks import journal as check_journal
from showprep.season.checks.checked import Checked
from showprep.season.facts import grave_kinds, shipped_facts
from showprep.season.reading import findings
from showprep.season.records import (
    PLAIN_NOTE,
    Defect,
    Did,
    Fish,
    JournalEntry,
    Keeper,
    Saw,
    Season,
    Show,
    Water,
)
from showprep.season.values.kinds import kind, kind_words, nearest_kind

ON = date(2027, 4, 1)
MEASURED = '  did: measure\n  fish: aoi\n  measured_cm: 52\n  note: "calm in the bowl"\n'


def replaced(files, file: str, right: str, wrong: str) -> dict[str, str | bytes]:
    text = str(files[file])
    assert right in text
    return {**files, file: text.replace(right, wrong, 1)}


# The file, a line's right words, the wrong ones, and all that is then told.
FAULTS = [
    ("keeper.yaml", "    steady_c: 22\n", "", [
        "keeper.yaml:10:3: isolation vat: no temperature is given. "
        "Write either monthly_c (twelve monthly means) or steady_c."]),
    ("keeper.yaml", "    litres: 28000\n", "    steady_c: 20\n", [
        "keeper.yaml:6:3: main pond: both are given. "
        "Write either monthly_c (twelve monthly means) or steady_c."]),
    ("keeper.yaml", "water: isolation vat", "water: isolation vatt", [
        "keeper.yaml:13:20: there is no water called 'isolation vatt'. "
        "Did you mean isolation vat?"]),
    ("keeper.yaml", "carrying:", "holding: {water: tub}\ncarrying:", [
        "keeper.yaml:21:18: there is no water called 'tub'. "
        "Write isolation vat or main pond."]),
    ("keeper.yaml", "to: 2027-04-12", "to: 2027-04-09", [
        "keeper.yaml:4:31: the last day away (2027-04-09) comes before the first (2027-04-10). "
        "Turn the two round."]),
    ("keeper.yaml", "2027-03-20: 9.8", "2027-05-20: 9.8", [
        "Note: keeper.yaml:9:47: 2027-05-20 lies after the day of this plan, 2027-04-01, so this "
        "is left out. If the date is a slip, put it right."]),
    ("keeper.yaml", "strength_percent: 10 ", "strength_percent: 10\n  strength_mg_per_ml: 105 ", [
        "keeper.yaml:21:23: the strength is given twice, as strength_percent and as "
        "strength_mg_per_ml. "
        "Write strength_percent (by volume) or strength_mg_per_ml, as on the label."]),
    ("keeper.yaml", "law_country: Ireland", "fish_per_day: 3", [
        "Note: keeper.yaml:16:16: the country is not said, so your own statement counts as no: ask "
        "a vet. Add the country whose law you checked, such as law_country: Ireland."]),
    ("keeper.yaml", "strength_percent: 10 ", "strength_mg_per_ml: 10 % ", [
        "keeper.yaml:20:23: '10 %' is not in mg per mL. "
        "Write strength_percent (by volume) or strength_mg_per_ml, as on the label."]),
    ("keeper.yaml", "strength_percent: 10 ", "strength_percent: 105 mg/mL ", [
        "keeper.yaml:20:21: '105 mg/mL' is not in percent. "
        "Write strength_percent (by volume) or strength_mg_per_ml, as on the label."]),
    ("keeper.yaml", "strength_percent: 10 ", "strength_percent: 10 % ", []),
    ("keeper.yaml", "strength_percent: 10 ", "strength_mg_per_ml: 105 ", []),
    ("keeper.yaml", "carrying:", "size_tables: {mine: {upper: [25, 20]}}\ncarrying:", [
        "keeper.yaml:21:15: size table mine: the bounds must rise, but 20 follows 25. "
        "Write the upper bounds from small to large."]),
    ("keeper.yaml", "carrying:",
     "defect_kinds: {shimy: {}, shimi: {clean: {low: 9, usual: 5, high: 6}}}\ncarrying:", [
        "keeper.yaml:21:16: there is no kind of defect called 'shimy'. Did you mean shimi?",
        "keeper.yaml:21:42: low, usual and high must rise from 0 or more, not 9.0, 5.0, 6.0. "
        "Write the smallest as low."]),
    ("keeper.yaml", "carrying:",
     "defect_kinds: {stitches: {closed: {low: 100, usual: 200, high: 330}}}\ncarrying:", [
        "Note: keeper.yaml:21:16: stitches would be out before the incision they hold is closed. "
        "The later days of the incision are used."]),
    ("keeper.yaml", "carrying:",
     "defect_kinds: {incision: {closed: {low: 20, usual: 30, high: 60, unit: days}}}\ncarrying:", [
        "keeper.yaml:21:16: stitches are in degree-days and the incision in days. "
        "Write both in the same unit."]),
    ("keeper.yaml", "carrying:",
     "defect_kinds: {stitches: {closed: {low: 200, usual: 400, high: 700}}}\ncarrying:", []),
    ("keeper.yaml", "carrying:", "figures: {clove_targit: 30, clove_target: 60}\ncarrying:", [
        "keeper.yaml:21:11: there is no figure called 'clove_targit'. Did you mean clove_target?",
        "keeper.yaml:21:43: clove_target guards the fish and can only be made stricter: 35 mg/L "
        "or less, not 60. The figure as shipped is 35."]),
    ("keeper.yaml", "carrying:", "rations:\n"
     "  - {from_c: 0, below_c: 8, low: 0, typical: 0, high: 0, feeds: none, diet: none}\n"
     "  - {from_c: 9, below_c: 9, low: 2, typical: 1, high: 3, feeds: daily, diet: wheat}\n"
     "carrying:", [
        "keeper.yaml:23:5: low, typical and high do not rise: 2, 1, 3. Write the smallest as low.",
        "keeper.yaml:23:14: the step before ends at 8 °C, this one begins at 9 °C. Write 8 °C.",
        "keeper.yaml:23:26: the step ends at 9 °C, where it begins or before. "
        "Write more than 9 °C."]),
    ("shows.yaml", "check_out: 2027-06-13 14:00", "check_out: 2027-06-11 14:00", [
        "shows.yaml:5:14: check-out (2027-06-11 14:00) comes before judging (2027-06-12 10:00). "
        "Check-out follows judging."]),
    ("shows.yaml", "fee: 30", "benching: 2027-06-10 10:00", [
        "shows.yaml:13:13: benching (2027-06-10 10:00) comes before arrival (2027-06-11 13:00). "
        "Benching follows arrival."]),
    ("shows.yaml", "to: 2027-06-11 20:00", "to: 2027-06-11 12:00", [
        "shows.yaml:4:40: the arrival window ends before it begins. Turn the two round."]),
    ("shows.yaml", "to: 2027-06-11 20:00", "to: 2027-06-12 20:00", [
        "shows.yaml:4:40: the arrival window ends after judging has begun. "
        "Put the later one right."]),
    ("shows.yaml", "entries_close: 2027-05-22", "entries_close: 2027-06-22", [
        "shows.yaml:6:18: 2027-06-22 comes after arrival (2027-06-11). "
        "Write a day before arrival."]),
    ("shows.yaml", "fee: 30", "photos_due: 2027-06-12", [
        "shows.yaml:13:15: 2027-06-12 comes after arrival (2027-06-11). "
        "Write a day before arrival."]),
    ("shows.yaml", "check_out: 2027-06-13", "check_out: 2027-07-13", [
        "Note: shows.yaml:5:14: 32 days lie between arrival and check-out. "
        "If a month is a slip, put it right."]),
    ("shows.yaml", "limits: {fish: 4", "limits: {fish: 4, fish_at_least: 5", [
        "shows.yaml:12:36: fish_at_least (5) is more than fish (4). Turn the two round."]),
    ("shows.yaml", "limits: {fish: 4", "limits: {points: 4", [
        "Note: shows.yaml:12:20: points is given without points_by_size, so no points can be "
        "counted. Write points_by_size, the points of each size class, smallest first."]),
    ("shows.yaml", "limits: {fish: 4", "limits: {points_by_size: [1, 2, 3]", [
        "shows.yaml:12:28: 3 points for 7 size classes. "
        "Write one for each class, smallest first."]),
    ("shows.yaml", "limits: {fish: 4", "limits: {varieties: [Kohaku, kohaka]", [
        "Note: shows.yaml:12:32: there is no variety called 'kohaka'. Did you mean kohaku?"]),
    ("shows.yaml", "upper: [25, 35", "upper: [45, 35", [
        "shows.yaml:11:10: size table larkfield: the bounds must rise, but 35 follows 45. "
        "Write the upper bounds from small to large."]),
    ("shows.yaml", "{unit: cm, upper: [25, 35, 45, 55, 65, 75], upper_included: yes}",
     "uk-long-standin", [
        "shows.yaml:11:10: there is no size table called 'uk-long-standin'. "
        "Did you mean uk-long-standing?"]),
    ("fish/aoi.yaml", "lives_in: main pond", "lives_in: mian pond", [
        "fish/aoi.yaml:5:11: there is no water called 'mian pond'. Did you mean main pond?"]),
    ("fish/aoi.yaml", "sex: female", "moves: [{on: 2027-05-01, to: vat}]", [
        "fish/aoi.yaml:3:30: there is no water called 'vat'. Write isolation vat or main pond."]),
    ("fish/aoi.yaml", "kind: shimi", "kind: shimy", [
        "fish/aoi.yaml:9:12: there is no kind of defect called 'shimy'. Did you mean shimi?"]),
    ("fish/aoi.yaml", "kohaku", "kohaka", [
        "Note: fish/aoi.yaml:2:10: there is no variety called 'kohaka'. Did you mean kohaku?"]),
    ("fish/aoi.yaml", "sex: female", "must_show: [larkfeld]", [
        "fish/aoi.yaml:3:13: there is no show called 'larkfeld'. Did you mean larkfield?"]),
    ("fish/aoi.yaml", "sex: female", "never_show: [larkfield, oak]", [
        "fish/aoi.yaml:3:25: there is no show called 'oak'. There is larkfield."]),
    ("fish/aoi.yaml", "sex: female", "must_show: [larkfield]\nnever_show: [larkfield]", [
        "fish/aoi.yaml:3:13: aoi must and must never go to larkfield. "
        "Take it out of must_show or never_show."]),
    ("fish/aoi.yaml", "sex: female", "must_show: [larkfield]\nnever_show: all", [
        "fish/aoi.yaml:3:13: aoi must and must never go to larkfield. "
        "Take it out of must_show or never_show."]),
    ("fish/aoi.yaml", "seen: 2027-03-20", "seen: 2027-04-02", [
        "fish/aoi.yaml:9:59: it was seen on 2027-04-02, after the day of this plan, 2027-04-01. "
        "Put the date right, or plan with --on 2027-04-02."]),
    ("fish/aoi.yaml", "2027-03-20: 52.0}", "2027-04-20: 52.0}", [
        "Note: fish/aoi.yaml:7:44: 2027-04-20 lies after the day of this plan, 2027-04-01, so "
        "this is left out. If the date is a slip, put it right."]),
    ("fish/aoi.yaml", "sex: female", "spawned: 2027-06-01", [
        "Note: fish/aoi.yaml:3:10: 2027-06-01 lies after the day of this plan, 2027-04-01, so "
        "this is left out. If the date is a slip, put it right."]),
    ("fish/aoi.yaml", "merit_lost: 6", "clean: 2027-03-01", [
        "fish/aoi.yaml:9:78: 2027-03-01 comes before the day it was seen, 2027-03-20. "
        "Put the wrong one right."]),
    ("fish/aoi.yaml", "merit_lost: 6", "lost_share: 20 %", [
        "Note: fish/aoi.yaml:9:83: lost_share says nothing about shimi. Take the line out."]),
    ("fish/aoi.yaml", "kind: shimi", "kind: frayed fin", [
        "Note: fish/aoi.yaml:9:5: how much of the fin is gone is not said (frayed-fin). "
        "Add lost_share, such as 0.2 or 20 %."]),
    ("fish/aoi.yaml", "2027-03-20: 52.0}", "2027-03-20: 49.4}", [
        "fish/aoi.yaml:7:44: 49.4 cm on 2027-03-20 is shorter than the 50.5 cm before. "
        "A fish does not shrink: put the wrong one right."]),
    ("fish/aoi.yaml", "2027-03-20: 52.0}", "2027-03-20: 49.5}", []),
    ("journal.yaml", "did: measure", "did: measure\n  saw: clean", [
        "journal.yaml:2:3: did and saw are given. Write one of the two; what was done and what "
        "was seen are entries of their own."]),
    ("journal.yaml", MEASURED, "  fish: aoi\n", [
        "journal.yaml:2:3: neither did nor saw is given. Write did or saw, or note with your own "
        "words."]),
    ("journal.yaml", "fish: aoi", "fish: ao", [
        "journal.yaml:4:9: there is no fish called 'ao'. Did you mean aoi?"]),
    ("journal.yaml", "fish: aoi", "fish: aoi\n  show: larkfeld", [
        "journal.yaml:5:9: there is no show called 'larkfeld'. Did you mean larkfield?"]),
    ("journal.yaml", "water: main pond", "water: mainpond", [
        "journal.yaml:1:45: there is no water called 'mainpond'. Did you mean main pond?"]),
    ("journal.yaml", "did: measure", "did: move\n  to: vatt", [
        "journal.yaml:4:7: there is no water called 'vatt'. Write isolation vat or main pond."]),
    ("journal.yaml", "did: measure", "saw: new defect\n  defect: Shimy", [
        "journal.yaml:4:11: there is no kind of defect called 'shimy'. Did you mean shimi?"]),
    ("journal.yaml", "  measured_cm: 52\n", "", [
        "journal.yaml:2:3: 'measure' is noted, but not its measured_cm. "
        "Add a line 'measured_cm: ...'."]),
    ("journal.yaml", "water: main pond, read_c: 9.9", "water: main pond", [
        "journal.yaml:1:3: 'temperature' is noted, but not its read_c. Add a line 'read_c: ...'."]),
    ("journal.yaml", "on: 2027-03-27", "on: 2027-03-13", [
        "Note: journal.yaml:2:7: 2027-03-13 stands after an entry of 2027-03-21. If the date is a "
        "slip, put it right; the journal is read by date."]),
    ("journal.yaml", "on: 2027-03-27", "on: 2072-03-27", [
        "Note: journal.yaml:2:7: 2072-03-27 lies after the day of this plan, 2027-04-01, so this "
        "is left out. If the date is a slip, put it right."]),
    ("journal.yaml", "note:", "photo: photos/aoi.jpg\n  note:", [
        "Note: journal.yaml:6:10: there is no photo photos/aoi.jpg. "
        "Put the photo there, or take the line out."]),
    ("journal.yaml", "note:", "photo: ../aoi.jpg\n  note:", [
        "journal.yaml:6:10: ../aoi.jpg is not inside the season folder. Write its place inside, "
        "with forward slashes, such as photos/aoi.jpg."]),
    ("journal.yaml", "note:", "photo: /etc/passwd\n  note:", [
        "journal.yaml:6:10: /etc/passwd is not inside the season folder. Write its place inside, "
        "with forward slashes, such as photos/aoi.jpg."]),
]  # fmt: skip


@pytest.mark.parametrize(("file", "right", "wrong", "messages"), FAULTS)
def test_each_check(told, season_files, file, right, wrong, messages) -> None:
    assert told(replaced(season_files, file, right, wrong)) == messages


def test_a_time_that_clocks_leave_out(told, season_files) -> None:
    # Clocks in Dublin go forward at 01:00 UTC on the last Sunday of March: 28 March 2027 (tz
    # database; Directive 2000/84/EC, article 2).
    season_files["shows.yaml"] = "ash: {name: Ash, judging: 2027-03-28 01:30, travel_hours: 1}\n"
    assert told(season_files) == [
        "Note: shows.yaml:1:27: clocks go forward on 2027-03-28, so there is no 01:30. "
        "If judging is then, write the hour after."
    ]
    season_files["shows.yaml"] = (
        "ash: {name: Ash, judging: 2027-03-28 01:30, travel_hours: 1, time_zone: UTC}\n"
    )
    assert told(season_files) == []


def test_points_without_sizes(told, season_files) -> None:
    season_files["shows.yaml"] = (
        "ash: {name: Ash, judging: 2027-06-12 10:00, travel_hours: 1, "
        "limits: {points: 9, points_by_size: [1, 2]}}\n"
    )
    assert told(season_files) == [
        "shows.yaml:1:98: points_by_size is given without sizes. Write the show's sizes."
    ]


@pytest.mark.parametrize("sizes", ["uk-long-standing", "mine"])
def test_points_of_a_named_table(told, season_files, sizes: str) -> None:
    season_files["keeper.yaml"] = (
        str(season_files["keeper.yaml"])
        + "size_tables: {mine: {upper: [25, 35, 45, 55, 65, 75, 85], above: no}}\n"
    )
    season_files["shows.yaml"] = (
        "ash: {name: Ash, judging: 2027-06-12 10:00, travel_hours: 1, "
        f"sizes: {sizes}, limits: {{points: 9, points_by_size: [1, 2, 3, 4, 5, 6, 7]}}}}\n"
    )
    assert told(season_files) == []


def test_a_photo_in_the_folder(told, season_files) -> None:
    season_files["photos/aoi.jpg"] = b"\xff\xd8"
    files = replaced(season_files, "journal.yaml", "note:", "photo: photos/aoi.jpg\n  note:")
    assert told(files) == []


@pytest.mark.parametrize("strength", ["20 drops", "1:10", "110", "0", "-1", "nan", "1,5"])
def test_a_strength_that_means_nothing_sure(told, season_files, strength: str) -> None:
    wrong = f'strength_percent: "{strength}" '
    (line,) = told(replaced(season_files, "keeper.yaml", "strength_percent: 10 ", wrong))
    assert line.startswith("keeper.yaml:20:21: ")


def test_varieties_by_other_names(told, season_files) -> None:
    for name in ("sanke", "Taisho Sanke", "taisho sanshoku", "ochiba-shigure"):
        assert told(replaced(season_files, "fish/aoi.yaml", "kohaku", name)) == []


def test_every_entry_says_what_it_needs() -> None:
    from typing import get_args

    assert set(check_journal.NEEDS) == {*get_args(Did), *get_args(Saw), PLAIN_NOTE}
    keys = {
        key
        for needs in check_journal.NEEDS.values()
        for need in needs
        for key in need.split(" or ")
    }
    assert keys <= set(JournalEntry.model_fields)


def test_a_season_made_by_hand_is_checked_too() -> None:
    """Records may be made with typed values; checks need no files."""
    season = Season(
        keeper=Keeper(time_zone="UTC", waters={"pond": Water(steady_c=18)}),
        shows={"ash": Show(name="Ash", judging=datetime(2027, 6, 12, 10), travel_hours=1.5)},
        fish={
            "aoi": Fish(
                name="Aoi",
                variety="kohaku",
                lives_in="pound",
                merit=80,
                lengths_cm={date(2027, 3, 1): 50},
                defects=(Defect(kind="shimi", seen=date(2027, 3, 1)),),
                must_show=("ash",),
            )
        },
        journal=(JournalEntry(on=date(2027, 3, 2), saw="spawned", fish="aoi"),),
    )
    (found,) = findings(Checked(season, ON, Path()))
    assert found.path == ("fish", "aoi", "lives_in")
    assert found.severity == "fault"


# Counts that no season can mean, which would carry a date out of the calendar.
@pytest.mark.parametrize(
    ("file", "right", "wrong", "most"),
    [
        ("shows.yaml", "fast_days: 7 ", "fast_days: 31 ", 30),
        ("shows.yaml", "declaration_months: 6", "declaration_months: 121", 120),
        ("keeper.yaml", "sure_enough: .8", "sure_enough: 999999999", 1),
        ("keeper.yaml", "sure_enough: .8", "days_between_shows: 999999999", 1000),
    ],
)
def test_counts_are_those_of_a_season(
    told, season_files, file: str, right: str, wrong: str, most: int
) -> None:
    (found,) = told(replaced(season_files, file, right, wrong))
    assert found.endswith(f"Write {most} or less.")


@pytest.mark.parametrize(
    ("wrong", "right"),
    [
        ("1e15", "write more than 0 and at most 520 weeks."),
        ("{low: 4, usual: 3, high: 9}", "write the smallest as low."),
        ("{low: 4, usual: 8}", "add a line 'high: ...'."),
    ],
)
def test_the_weeks_until_a_speck_is_back(told, season_files, wrong: str, right: str) -> None:
    files = replaced(
        season_files, "keeper.yaml", "returns_after_weeks: 8", f"returns_after_weeks: {wrong}"
    )
    (found,) = told(files)
    assert found.lower().endswith(right)


def test_ready_is_never_less_likely_than_what_is_planned(told, season_files) -> None:
    files = replaced(season_files, "keeper.yaml", "sure_enough: .8", "sure_enough: .6")
    (found,) = told(files)
    assert "least_chance (0.7) is above sure_enough (0.6)" in found


@pytest.mark.parametrize("key", ["accept_tight: no", "spare_days: 4"])
def test_keys_that_went_name_what_to_write(told, season_files, key: str) -> None:
    files = replaced(season_files, "keeper.yaml", "sure_enough: .8", key)
    (found,) = told(files)
    assert "this key is gone" in found
    assert "least_chance" in found and "sure_enough" in found


def test_an_empty_feeding_table_is_a_fault(told, season_files) -> None:
    season_files["keeper.yaml"] = str(season_files["keeper.yaml"]) + "rations: []\n"
    (found,) = told(season_files)
    assert found.startswith("keeper.yaml:23:10: ")


def test_months_that_no_water_can_follow(told, season_files) -> None:
    wild = "[0, 35, 0, 35, 0, 35, 0, 35, 0, 35, 0, 35]"
    right = "[4.5, 4.8, 7.0, 10.0, 14.0, 17.5, 19.5, 19.0, 16.0, 12.0, 8.0, 5.5]"
    (found,) = told(replaced(season_files, "keeper.yaml", right, wild))
    assert found.startswith("keeper.yaml:8:16: main pond: to have these monthly means the water")


@pytest.mark.parametrize(("by", "note"), [("keeper", ""), ("vet", "Note: ")])
def test_an_agent_without_a_sheet(told, season_files, by: str, note: str) -> None:
    files = replaced(season_files, "keeper.yaml", "agent: clove oil", "agent: vodka")
    (found,) = told(replaced(files, "keeper.yaml", "by: keeper", f"by: {by}"))
    assert found.startswith(f"{note}keeper.yaml:19:10: there is no sheet for 'vodka'")


@pytest.mark.parametrize(
    ("written", "meant"),
    [
        ("missing scale", "lost-scale"),
        ("white spots", None),
        ("ulcr", "ulcer"),
        ("stiches", "stitches"),
        ("split fins", "split-fin"),
    ],
)
def test_a_near_miss_never_points_at_a_graver_illness(written: str, meant: str | None) -> None:
    assert nearest_kind(written, grave_kinds()) == meant


@pytest.mark.parametrize("name", [row.name for row in KINDS.values()])
def test_the_boards_own_phrase_for_a_kind_is_understood(name: str) -> None:
    """Whole, and without what stands in brackets."""
    meant = next(kind for kind, row in KINDS.items() if row.name == name)
    assert kind(name) == kind(name.partition(" (")[0].upper()) == meant


def test_words_of_kinds_are_of_kinds_that_there_are() -> None:
    assert list(kind_words()) == list(shipped_facts().kinds)


def test_no_word_of_a_grave_kind_alone_is_a_near_miss_of_a_slight_one() -> None:
    """`white spots` is no pox, `missing scale` no raised one."""
    for word in ("white spots", "white spot", "red line", "black mark", "scale"):
        assert nearest_kind(word, grave_kinds()) not in grave_kinds()


def test_a_lay_word_is_taken_and_confirmed(read, season_files) -> None:
    season_files["fish/aoi.yaml"] = str(season_files["fish/aoi.yaml"]).replace("shimi", "Torn fin")
    season_files["journal.yaml"] = (
        str(season_files["journal.yaml"])
        + "- {on: 2027-03-28, saw: new defect, fish: aoi, defect: Split fin}\n"
        + "- {on: 2027-03-29, saw: new defect, fish: aoi, defect: ana-aki}\n"
    )
    reading = read(season_files)
    assert reading.season.fish["aoi"].defects[0].kind == "split-fin"
    assert [entry.defect for entry in reading.season.journal[2:]] == ["split-fin", "ulcer"]
    told = [str(one) for one in reading.warnings]
    assert told[:1] == [
        "fish/aoi.yaml:9:12: Torn fin: split-fin. It is read as split-fin; write that if it is "
        "right, or the kind that is meant."
    ]
    assert [one.partition(". ")[0] for one in told[1:]] == ["journal.yaml:8:56: ana-aki: ulcer"]


@pytest.mark.parametrize(
    ("written", "right"),
    [
        ("black spot", "'black spot' may be several kinds. Write shimi or deep-shimi."),
        ("torn finn", "there is no kind of defect called 'torn-finn'. Did you mean split-fin?"),
        ("white spots", "there is no kind of defect called 'white-spots'. There are 21"),
    ],
)
def test_a_word_that_is_not_sure_is_asked_about(
    told, season_files, written: str, right: str
) -> None:
    season_files["fish/aoi.yaml"] = str(season_files["fish/aoi.yaml"]).replace("shimi", written)
    assert right in next(line for line in told(season_files) if not line.startswith("Note"))
