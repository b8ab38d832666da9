"""From which temperature on warmth heals: three cases instead of one base, and what follows.

No pair of experiments fits a hard zero at 8 °C. Bluegill healed little in 56 days at 6 °C, which
bounds the base of deep repair above 1 to 4 °C (Knights & Lasee 1996, Transactions of the
American Fisheries Society). Pigment came to goldfish wounds at 6.1 °C (Biological Bulletin 1931;
author Smith, from memory) and two other fish healed at 5 °C (Anderson & Roberts 1975, Journal of
Fish Biology 7:173), which bound it from above. So 5 °C is the usual case, 2 and 8 °C the outer
ones, weighted 1, 2, 1 (derived; the weights are an assumption).

Requirements are written in degree-days above 8 °C. They were seen at some temperature A, so with
another base b they are R (A - b) / (A - 8): the days at A stay what they were.
"""

from __future__ import annotations

from showprep.husbandry.split_log_normal import SplitLogNormal
from showprep.husbandry.thermal_time import BASE_C

BASES_C: tuple[tuple[float, float], ...] = ((2.0, 0.25), (5.0, 0.5), (8.0, 0.25))
"""Base of healing [°C] and its share of belief (derived; shares an assumption)."""

ANCHOR_C = 25.0
ANCHOR_OF_CUTS_C = 16.0
"""Temperature [°C] the figures come from: incisions and stitches 16, all others 25 (derived)."""

_SEEN_AT_16_C = frozenset({"incision", "stitches"})


def anchor_of(kind: str) -> float:
    """The temperature [°C] that the figures of a kind of defect were seen at."""
    return ANCHOR_OF_CUTS_C if kind in _SEEN_AT_16_C else ANCHOR_C


def anchored(figures: SplitLogNormal, anchor_c: float, base_c: float) -> SplitLogNormal:
    """A requirement in degree-days above 8 °C, written for the base `base_c` [°C].

    Raises ValueError unless the anchor lies above both bases.
    """
    if not anchor_c > max(base_c, BASE_C):
        raise ValueError(f"the anchor ({anchor_c} °C) must lie above the base ({base_c} °C)")
    return figures.times((anchor_c - base_c) / (anchor_c - BASE_C))
