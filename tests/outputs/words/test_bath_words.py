"""How a share of carp is told, and a dose."""

from __future__ import annotations

import pytest

from showprep.outputs.words.bath import carp_dead, millilitres_text


@pytest.mark.parametrize(
    ("share", "words"),
    [
        (0.0, "fewer than 1 carp in 1,000"),
        (0.00099, "fewer than 1 carp in 1,000"),
        (0.001, "about 1 carp in 1,000"),
        (0.0086, "about 9 carp in 1,000"),
        (0.0096, "about 1 carp in 100"),
        (0.456, "about 46 carp in 100"),
        (0.994, "about 99 carp in 100"),
        (0.996, "nearly every carp"),
    ],
)
def test_the_share_in_words(share: float, words: str) -> None:
    assert carp_dead(share) == words


@pytest.mark.parametrize(
    ("millilitres", "words"), [(0.57, "0.57 mL"), (9.9, "9.90 mL"), (22.9, "22.9 mL")]
)
def test_a_dose_as_a_syringe_reads_it(millilitres: float, words: str) -> None:
    assert millilitres_text(millilitres) == words
