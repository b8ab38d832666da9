"""The words, shapes and colours of the verdicts: one set for every output."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Literal

from msgspec import Struct

from showprep.planning.plan import VerdictWord

if TYPE_CHECKING:
    from showprep.outputs.words.speaker import Sentences


class VerdictWords(Struct, frozen=True):
    """What a verdict is called and means; `tone` names its colour, its own code its shape."""

    text: str
    tone: Literal["go", "care", "no"]
    meaning: str

    @property
    def title(self) -> str:
        return self.text[:1].upper() + self.text[1:]


VERDICTS: Mapping[VerdictWord, VerdictWords] = {
    "ready": VerdictWords(
        "ready", "go", "nothing to do, or heals by itself and is likely to show nothing"
    ),
    "ready-after-touch-up": VerdictWords(
        "ready after touch-up",
        "go",
        "a speck can come off, and it is likely that nothing shows",
    ),
    "tight": VerdictWords(
        "tight", "care", "it may well show nothing, but that is less sure than you ask for"
    ),
    "as-it-is": VerdictWords(
        "as it is", "care", "can go, with a blemish the judge will probably see"
    ),
    "too-late": VerdictWords(
        "too late", "no", "a wound may well not be closed by the journey: stays at home"
    ),
    "vet-first": VerdictWords("vet first", "no", "something only a vet may deal with"),
    "not-eligible": VerdictWords(
        "not eligible", "no", "a rule, papers, time kept apart or rest stands against it"
    ),
}
LEVELS: Mapping[str, str] = {"stop": "STOP", "warn": "Caution", "note": "Note"}


def verdict_text(word: str) -> str:
    """A verdict's words; an earlier plan may hold one that is not known any more."""
    known = VERDICTS.get(word)  # type: ignore[call-overload]
    return known.text if known is not None else word.replace("-", " ")


SENTENCES: Sentences = {
    "nothing-to-do": "Nothing to do.",
    "touch-up-planned": "Touch-up planned for {day}: chance {chance}.",
    "touch-up-planned-in-vat": (
        "Touch-up planned for {day}, healed in the {water}: chance {chance}."
    ),
    "asked-of-the-vet": "Ask the vet for {day}: chance {chance}.",
    "asked-of-the-vet-in-vat": "Ask the vet for {day}, healed in the {water}: chance {chance}.",
    "no-touch-up-planned": "No touch-up is planned for it: it goes with the speck seen.",
    "together": "All its blemishes together: chance {chance}.",
    "off-food-vet": "Off its food since {since}: a vet first.",
}
