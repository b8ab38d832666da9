"""Numbers in words."""

from __future__ import annotations

import pytest

from showprep.outputs.words.plain import points


@pytest.mark.parametrize(
    ("value", "words"), [(1, "1 point"), (1.0, "1 point"), (2.5, "2.5 points"), (0, "0 points")]
)
def test_points_are_counted_as_one_says_them(value: float, words: str) -> None:
    assert points(value) == words
