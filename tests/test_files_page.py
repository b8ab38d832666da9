"""docs/files.md names every key of the keeper's files, and none that there is not."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import get_args

import pytest

from showprep.season import records
from showprep.season.facts import shipped_facts
from showprep.season.record import Record
from showprep.season.records import Did, Saw
from showprep.season.values.work_days import WorkRule

PAGE = (Path(__file__).resolve().parent.parent / "docs" / "files.md").read_text("utf-8")
SECTIONS = dict(re.findall(r"^## (\S+)\n(.*?)(?=^## |\Z)", PAGE, re.MULTILINE | re.DOTALL))
RECORDS: dict[str, tuple[type[Record], ...]] = {
    "keeper.yaml": (
        *(records.Keeper, records.Water, records.Isolation, records.Holding),
        *(records.TouchUp, records.Tub, records.Carrying, records.Preferences, records.Away),
        WorkRule,
        *(records.KindFigures, records.MilestoneFigures, records.RationStepRecord),
    ),
    "shows.yaml": (records.Show, records.Window, records.Limits, records.SizeTableRecord),
    "fish/ID.yaml": (records.Fish, records.Defect, records.Move),
    "journal.yaml": (records.JournalEntry,),
}


def keys(record: type[Record]) -> set[str]:
    return {field.alias or name for name, field in record.model_fields.items()}


def named(section: str) -> set[str]:
    """Every word of what stands in backticks."""
    marked = " ".join(re.findall(r"`([^`]*)`", SECTIONS[section]))
    return set(re.findall(r"[a-z_]+", marked))


def first_column(section: str) -> Iterator[str]:
    """The keys that a table explains; `{inner, keys}` are explained beside them."""
    for cell in re.findall(r"^\| (`[^|]*?) \|", SECTIONS[section], re.MULTILINE):
        yield from re.findall(r"`([a-z_]+)`", cell)


@pytest.mark.parametrize(
    ("section", "record"),
    [(section, record) for section, known in RECORDS.items() for record in known],
    ids=lambda value: value if isinstance(value, str) else value.__name__,
)
def test_every_key_is_on_the_page(section: str, record: type[Record]) -> None:
    assert keys(record) <= named(section), keys(record) - named(section)


@pytest.mark.parametrize("section", RECORDS)
def test_every_key_explained_there_is(section: str) -> None:
    there_are = {key for record in RECORDS[section] for key in keys(record)}
    explained = set(first_column(section))
    assert explained or section == "journal.yaml"
    assert explained <= there_are, explained - there_are


def words_after(section: str, start: str) -> list[str]:
    """A list in plain words, from `start` to the full stop, what is in brackets left out."""
    listed = re.search(rf"^{re.escape(start)}: ([^.]*)\.", SECTIONS[section], re.MULTILINE)
    assert listed is not None, start
    return re.sub(r" \([^)]*\)", "", " ".join(listed[1].split())).split(", ")


def test_every_word_of_the_journal_is_on_the_page() -> None:
    assert words_after("journal.yaml", "`did`") == list(get_args(Did))
    assert words_after("journal.yaml", "`saw`") == list(get_args(Saw))


def test_every_kind_of_defect_is_on_the_page() -> None:
    assert sorted(words_after("fish/ID.yaml", "Kinds")) == sorted(shipped_facts().kinds)


@pytest.mark.parametrize(
    ("record", "key", "left_out"),
    [
        (records.Preferences, "sure_enough", "0.8"),
        (records.Preferences, "least_chance", "0.7"),
        (records.Preferences, "speck_returns_after_weeks", "8"),
        (records.Preferences, "touch_up_days_per_fish", "2"),
        (records.Preferences, "alarm_hour", "20"),
        (records.Preferences, "same_class_share", "0.5"),
        (records.Preferences, "touch_up_price", "2"),
        (records.Preferences, "session_price", "1"),
        (records.Show, "counts", "1"),
        (records.Preferences, "use_own_pace", "when enough"),
        (records.Keeper, "units", "metric"),
        (records.Show, "vats", "shared"),
        (records.Show, "altered_fish", "not stated"),
        (records.Fish, "sex", "unknown"),
    ],
)
def test_what_is_taken_when_a_key_is_left_out(
    record: type[Record], key: str, left_out: str
) -> None:
    row = re.search(rf"^\| `{key}` \|.*\| ([^|]*) \|$", PAGE, re.MULTILINE)
    assert row is not None
    default = record.model_fields[key].default
    if isinstance(default, records.ReturnWeeks):
        default = default.usual
    said = f"{default:g}" if isinstance(default, float) else str(default)
    assert (row[1], said) == (left_out, left_out)
