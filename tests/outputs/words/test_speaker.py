"""A value is spoken as its type and the keeper's units ask."""

from __future__ import annotations

from datetime import date, datetime

import pytest

from showprep.husbandry.reason import (
    Celsius,
    Centimetres,
    FishId,
    Kelvin,
    Kilograms,
    Litres,
    Millimetres,
    ShowId,
    Value,
    reason,
)
from showprep.outputs.words.speaker import Speaker

SPEAKER = Speaker("us", date(2027, 5, 1), {"aoi": "Aoi"}, {"lark": "Larkfield"})


@pytest.mark.parametrize(
    ("value", "how", "text"),
    [
        (Celsius(20), "", "68 °F"),
        (Kelvin(5), "", "9 °F"),
        (Centimetres(50.8), "", "20 in"),
        (Millimetres(12.7), "", "0.5 in"),
        (Litres(37.85411784), "", "10 US gal"),
        (Kilograms(0.45359237), "", "1 lb"),
        (FishId("aoi"), "", "Aoi"),
        (FishId("unheard-of"), "", "unheard-of"),
        (ShowId("lark"), "", "Larkfield"),
        (date(2027, 6, 12), "", "Sat 12 June"),
        (date(2028, 6, 12), "", "Mon 12 June 2028"),
        (date(2027, 6, 12), "year", "Sat 12 June 2027"),
        (datetime(2027, 6, 12, 9, 5), "", "Sat 12 June 09:05"),
        (datetime(2027, 6, 12, 9, 5), "time", "09:05"),
        (1, "day", "1 day"),
        (3, "day", "3 days"),
        (2, "entry/entries", "2 entries"),
        (("a", "b", "c"), "or", "a, b or c"),
        (("a", "b"), "", "a and b"),
        (2.5, "g", "2.5"),
        (None, "", ""),
    ],
)
def test_a_value_is_spoken_by_its_type(value: Value, how: str, text: str) -> None:
    assert SPEAKER.formatted(value, how) == text


def test_a_reason_tells_what_it_holds() -> None:
    inner = reason("closed", days=3)
    outer = reason("short", because=(inner,), days=4)
    assert outer["days"] == 4
    assert [one.code for one in outer.inner()] == ["short", "closed"]
    with pytest.raises(KeyError):
        outer["weeks"]
