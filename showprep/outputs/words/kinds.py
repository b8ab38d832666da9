"""What the kinds of defect are called, and what a keeper is told of each (`kinds.toml`)."""

from __future__ import annotations

import importlib.resources
import tomllib
from collections.abc import Mapping
from typing import TYPE_CHECKING

from msgspec import Struct

from showprep.husbandry.reason import Blemish, Reason

if TYPE_CHECKING:
    from showprep.outputs.words.speaker import Sentences, Speaker


class KindWords(Struct, frozen=True):
    """The words of one kind: its full name, and the note to the keeper as the file has it."""

    name: str
    note: str

    @property
    def short(self) -> str:
        """The name without what stands in brackets behind it."""
        return self.name.split(" (")[0]


def _read() -> Mapping[str, KindWords]:
    path = importlib.resources.files("showprep.outputs.words").joinpath("kinds.toml")
    rows = tomllib.loads(path.read_text("utf-8"))
    return {kind: KindWords(row["name"], row["note"]) for kind, row in rows.items()}


KINDS = _read()


def blemish_text(blemish: Blemish, *, small: bool = False) -> str:
    """`Net mark, left flank`; `small` as within a sentence."""
    name = KINDS[blemish.kind].short
    first = name[:1].lower() if small else name[:1].upper()
    return f"{first}{name[1:]}, {blemish.where}" if blemish.where else f"{first}{name[1:]}"


def of_kind(kind: str) -> str:
    """A kind in a table or a heading, as one says it: `net mark`, `lost scale`."""
    return kind.replace("-", " ")


def _note(speaker: Speaker, reason: Reason) -> str:
    return speaker.filled(KINDS[str(reason["kind"])].note, reason)


SENTENCES: Sentences = {
    "red-spots-stay": (
        "Red spots seen on {since} were still there on {on}: a stress flush is gone within three "
        "days, so these are a sign of illness and go to a vet."
    ),
    "kind-note": _note,
}
