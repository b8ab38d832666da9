"""Size classes: the shipped tables against the rules they were read from, and every end point."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import showprep.season
from showprep.husbandry.sizes import (
    SizeClass,
    SizeTable,
    class_of,
    classes_between,
    near_boundary,
)

FILE = Path(str(showprep.season.__file__)).parent / "tables" / "sizes.toml"


def _shipped() -> dict[str, SizeTable]:
    rows = tomllib.loads(FILE.read_text("utf-8"))
    return {
        name: SizeTable(
            name, **row | {"upper": tuple(row["upper"]), "labels": tuple(row.get("labels", ()))}
        )
        for name, row in rows.items()
    }


SHIPPED = _shipped()
FIVES = SizeTable("fives", "cm", (25, 35, 45), lowest=15)


def label(length_cm: float, table: SizeTable) -> str | None:
    found = class_of(length_cm, table)
    return None if found is None else found.label


@pytest.mark.parametrize(
    ("name", "length_cm", "expected"),
    [
        # National combined show of Japan, 52nd, December 2021: the number is the upper limit.
        ("japan-bu-2021", 12.0, "12 bu"),
        ("japan-bu-2021", 12.1, "15 bu"),
        ("japan-bu-2021", 40.0, "40 bu"),
        ("japan-bu-2021", 85.0, "85 bu"),
        ("japan-bu-2021", 85.1, "90 bu"),
        # National young and junior shows of Japan: at most 63 and 36.
        ("japan-young-bu", 63.0, "63 bu"),
        ("japan-young-bu", 63.1, None),
        ("japan-junior-bu", 36.0, "36 bu"),
        ("japan-junior-bu", 36.1, None),
        # United Kingdom, long-standing and proposed in 2023.
        ("uk-long-standing", 14.9, None),
        ("uk-long-standing", 15.0, "size 1"),
        ("uk-long-standing", 75.1, "size 7"),
        ("uk-proposed-2023", 31.0, "size 2"),
        ("uk-proposed-2023", 81.0, "size 7"),
        # Chapter shows in the United States, 2024 and 2025: 10.0 to 19.9 and so on, 80.0 up.
        ("us-ten-cm", 9.9, None),
        ("us-ten-cm", 10.0, "size 1"),
        ("us-ten-cm", 19.9, "size 1"),
        ("us-ten-cm", 20.0, "size 2"),
        ("us-ten-cm", 79.9, "size 7"),
        ("us-ten-cm", 80.0, "size 8"),
        # A show in Texas, 2025: 10, 13, 16 ... 28 in, printed 25, 33, 41 ... 71 cm.
        ("us-inch-8", 24, "size 1"),
        ("us-inch-8", 34, "size 3"),
        ("us-inch-8", 72, "size 8"),
        # A show in Washington State: under 9 in (22.9 cm), 9 to 12, ... over 28 (71.1 cm).
        ("us-inch-7", 22.8, "size 1"),
        ("us-inch-7", 22.9, "size 2"),
        ("us-inch-7", 40.6, "size 3"),
        ("us-inch-7", 71.2, "size 7"),
        # Indonesia, 2014 and 2013, whole centimetres.
        ("indonesia-five-cm", 16, "size 2"),
        ("indonesia-five-cm", 65, "size 11"),
        ("indonesia-five-cm", 66, None),
        ("indonesia-breeders-2013", 66, "size 13"),
        # A Dutch show for one-year-old koi: 15 to 20.9, ... 41 to 50.9; others excluded.
        ("netherlands-one-year", 14.9, None),
        ("netherlands-one-year", 20.9, "size 1"),
        ("netherlands-one-year", 21.0, "size 2"),
        ("netherlands-one-year", 50.9, "size 4"),
        ("netherlands-one-year", 51.0, None),
    ],
)
def test_a_shipped_table_says_what_the_show_wrote(
    name: str, length_cm: float, expected: str | None
) -> None:
    assert label(length_cm, SHIPPED[name]) == expected


@pytest.mark.parametrize("name", SHIPPED)
def test_a_shipped_table_names_its_source(name: str) -> None:
    assert SHIPPED[name].source
    assert SHIPPED[name].grade == "published"
    assert "www" not in SHIPPED[name].source


def test_inch_bounds_are_the_centimetres_printed_beside_them() -> None:
    # The two inch shows print rounded centimetres: 25 33 41 48 56 64 71; 22.9 30.5 40.6 50.8 61.0
    # 71.1.
    texas = [bound * 2.54 for bound in SHIPPED["us-inch-8"].upper]
    assert [round(cm) for cm in texas] == [25, 33, 41, 48, 56, 64, 71]
    washington = [round(bound * 2.54, 1) for bound in SHIPPED["us-inch-7"].upper]
    assert washington == [22.9, 30.5, 40.6, 50.8, 61.0, 71.1]


def test_the_end_point_goes_where_the_table_says() -> None:
    below = SizeTable("below", "cm", (25, 35), upper_included=False)
    assert label(25, FIVES) == "size 1"
    assert label(25, below) == "size 2"
    assert label(35, below) == "size 3"


def test_a_whole_centimetre_table_reads_to_the_nearest() -> None:
    table = SizeTable("whole", "cm", (15, 20), resolution=1)
    assert label(15.4, table) == "size 1"
    assert label(15.5, table) == "size 2"
    assert label(20.3, table) == "size 2"


def test_a_length_between_printed_tenths_has_a_class() -> None:
    table = SHIPPED["us-ten-cm"]
    assert label(19.93, table) == "size 1"
    assert label(19.96, table) == "size 2"


def test_the_classes_a_fish_could_fall_into() -> None:
    assert [c.index for c in classes_between(34, 46, FIVES)] == [1, 2, 3]
    assert [c.index for c in classes_between(30, 30, FIVES)] == [1]
    assert [c.index for c in classes_between(10, 30, FIVES)] == [0, 1]
    assert classes_between(10, 12, FIVES) == ()
    closed = SHIPPED["netherlands-one-year"]
    assert [c.index for c in classes_between(45, 60, closed)] == [3]
    assert [c.index for c in classes_between(10, 60, closed)] == [0, 1, 2, 3]
    assert classes_between(55, 60, closed) == ()
    with pytest.raises(ValueError, match="exceeds"):
        classes_between(31, 30, FIVES)


def test_a_length_near_a_bound_is_undecided() -> None:
    assert near_boundary(34.2, FIVES) == 35
    assert near_boundary(36.0, FIVES) == 35
    assert near_boundary(36.1, FIVES) is None
    assert near_boundary(40, FIVES, 5) == 35
    assert near_boundary(71.0, SHIPPED["us-inch-8"]) == pytest.approx(71.12)
    assert near_boundary(15.3, SHIPPED["netherlands-one-year"]) == 15


@settings(derandomize=True, max_examples=150, deadline=None)
@given(st.sampled_from(sorted(SHIPPED)), st.floats(1, 100), st.floats(0, 20))
def test_a_longer_fish_is_never_in_a_smaller_class(name: str, cm: float, more: float) -> None:
    one, two = class_of(cm, SHIPPED[name]), class_of(cm + more, SHIPPED[name])
    if one is not None and two is not None:
        assert one.index <= two.index
    found = classes_between(cm, cm + more, SHIPPED[name])
    for single in (one, two):
        assert single is None or single in found


@pytest.mark.parametrize(
    ("changed", "said"),
    [
        ({"upper": ()}, "no bounds"),
        ({"upper": (25, 25)}, "must rise"),
        ({"upper": (25, 20)}, "must rise"),
        ({"upper": (0, 20)}, "more than 0"),
        ({"lowest": 25}, "below the first bound"),
        ({"resolution": 0}, "more than 0"),
        ({"labels": ("one", "two")}, "4 classes but 2 labels"),
    ],
)
def test_a_senseless_table_is_refused(changed: dict[str, object], said: str) -> None:
    with pytest.raises(ValueError, match=said):
        SizeTable(**{"name": "x", "unit": "cm", "upper": (25, 35, 45)} | changed)


def test_a_fish_of_no_length_is_refused() -> None:
    with pytest.raises(ValueError, match="must be more than 0"):
        class_of(0, FIVES)


def test_labels_are_the_shows_own() -> None:
    table = SizeTable("bu", "cm", (12, 15), labels=("12 bu", "15 bu", "18 bu"))
    assert class_of(14, table) == SizeClass(1, "15 bu")
