"""Numbers in words."""

from __future__ import annotations

import pytest

from showprep.planning.words import marks


@pytest.mark.parametrize(
    ("value", "words"), [(1, "1 mark"), (1.0, "1 mark"), (2.5, "2.5 marks"), (0, "0 marks")]
)
def test_marks_are_counted_as_one_says_them(value: float, words: str) -> None:
    assert marks(value) == words
