"""The figures that a keeper may change by name, each with its spread, its source and its grade.

Where two sources differ the figure that is safer for the fish is the typical one, and `source`
says so. A figure that guards a fish may be changed to the safer side only (`safe`).
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from showprep.husbandry.figure_record import Figure
from showprep.husbandry.figures_handling import HANDLING
from showprep.husbandry.figures_preparing import PREPARING

FIGURES: dict[str, Figure] = {row.name: row for row in (*HANDLING, *PREPARING)}


def figure(name: str) -> Figure:
    """Return the figure called `name`; raise KeyError when there is none."""
    return FIGURES[name]


def setting(name: str, own: Mapping[str, float] | None = None) -> float:
    """Return the keeper's own value of figure `name` if there is one, else its typical value.

    Where the figure guards the fish, an own value on the unsafe side is passed over.
    """
    known = FIGURES[name]
    mine = known.typical if own is None else own.get(name, known.typical)
    if known.safe == "lower":
        return min(mine, known.typical)
    return max(mine, known.typical) if known.safe == "higher" else mine


@dataclass(frozen=True, slots=True)
class FiguresInForce(Mapping[str, float]):
    """The figures in force for one keeper: one record, passed in wherever a figure is wanted.

    It is asked by name, `figures["temp_ramp"]`, and answers with the keeper's own value where there
    is one, never on the unsafe side of one that guards the fish. Raises KeyError for a name that no
    figure has. `own` is what the keeper wrote, sound or not.
    """

    own: Mapping[str, float]
    _settings: dict[str, float] = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        settings = {name: setting(name, self.own) for name in FIGURES}
        object.__setattr__(self, "_settings", settings)

    def __getitem__(self, name: str) -> float:
        return self._settings[name]

    def __iter__(self) -> Iterator[str]:
        return iter(FIGURES)

    def __len__(self) -> int:
        return len(FIGURES)


SHIPPED = FiguresInForce({})
"""The figures as shipped, for answers that no keeper's files stand behind."""
