"""Told apart in grey print, by colour-blind readers, and against what lies behind.

Relative luminance and contrast: W3C Web Content Accessibility Guidelines (WCAG) 2.2, 2023, success
criteria 1.4.3 and 1.4.11 and the definitions there. Lightness L*: CIE 15:2004 (and CIE 1976 L*a*b*
in ISO/CIE 11664-4:2019), from the linear light of IEC 61966-2-1 (sRGB). Colour blindness: Machado,
Oliveira & Fernandes 2009, "A physiologically-based model for simulation of color vision
deficiency", IEEE Transactions on Visualization and Computer Graphics 15:1291-1298, matrices of
severity 1.0, applied to linear light. The matrices and the sRGB figures are from memory; the least
differences asked for are this project's own.
"""

from __future__ import annotations

from collections.abc import Mapping
from itertools import combinations

import pytest

from showprep.outputs.page.colours import DARK, LIGHT, TONES

Light = tuple[float, float, float]
SIGHT: dict[str, tuple[Light, Light, Light]] = {
    "every colour": ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)),
    "protanopia": (
        (0.152286, 1.052583, -0.204868),
        (0.114503, 0.786281, 0.099216),
        (-0.003882, -0.048116, 1.051998),
    ),
    "deuteranopia": (
        (0.367322, 0.860646, -0.227968),
        (0.280085, 0.672501, 0.047413),
        (-0.011820, 0.042940, 0.968881),
    ),
    "tritanopia": (
        (1.255528, -0.076749, -0.178779),
        (-0.078411, 0.930809, 0.147602),
        (0.004733, 0.691367, 0.303900),
    ),
}
LEAST_LIGHTNESS = {"every colour": 14.0}  # L*, in grey print
LEAST_LIGHTNESS_COLOUR_BLIND = 10.0
LEAST_DIFFERENCE = 20.0  # CIE 1976 colour difference


def linear(colour: str) -> Light:
    parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    red, green, blue = (p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts)
    return red, green, blue


def seen(light: Light, sight: str) -> Light:
    red, green, blue = (
        min(1.0, max(0.0, sum(k * part for k, part in zip(row, light, strict=True))))
        for row in SIGHT[sight]
    )
    return red, green, blue


def lab(light: Light) -> Light:
    red, green, blue = light
    xyz = (
        (0.4124564 * red + 0.3575761 * green + 0.1804375 * blue) / 0.95047,
        0.2126729 * red + 0.7151522 * green + 0.0721750 * blue,
        (0.0193339 * red + 0.1191920 * green + 0.9503041 * blue) / 1.08883,
    )
    x, y, z = (t ** (1 / 3) if t > (6 / 29) ** 3 else t * (29 / 6) ** 2 / 3 + 4 / 29 for t in xyz)
    return 116 * y - 16, 500 * (x - y), 200 * (y - z)


def contrast(one: str, other: str) -> float:
    def luminance(colour: str) -> float:
        red, green, blue = linear(colour)
        return 0.2126 * red + 0.7152 * green + 0.0722 * blue

    brighter, darker = sorted((luminance(one), luminance(other)), reverse=True)
    return (brighter + 0.05) / (darker + 0.05)


def test_the_arithmetic_is_right() -> None:
    """Black on white is 21:1 (WCAG 2.2); middle grey #777777 is L* 50.03 (worked by hand)."""
    assert contrast("#000000", "#ffffff") == pytest.approx(21.0)
    assert lab(linear("#777777"))[0] == pytest.approx(50.03, abs=0.05)
    assert lab(linear("#ffffff")) == pytest.approx((100.0, 0.0, 0.0), abs=0.02)


@pytest.mark.parametrize("palette", [LIGHT, DARK])
@pytest.mark.parametrize("sight", SIGHT)
def test_the_three_tones_are_told_apart(palette: Mapping[str, str], sight: str) -> None:
    least = LEAST_LIGHTNESS.get(sight, LEAST_LIGHTNESS_COLOUR_BLIND)
    for one, other in combinations(TONES, 2):
        a, b = (lab(seen(linear(palette[tone]), sight)) for tone in (one, other))
        assert abs(a[0] - b[0]) >= least
        assert sum((p - q) ** 2 for p, q in zip(a, b, strict=True)) ** 0.5 >= LEAST_DIFFERENCE


@pytest.mark.parametrize("palette", [LIGHT, DARK])
def test_words_and_shapes_stand_out_from_what_lies_behind(palette: Mapping[str, str]) -> None:
    """WCAG 2.2: 4.5:1 for text (1.4.3), 3:1 for shapes and focus rings (1.4.11)."""
    for behind in ("paper", "ground", "lit"):
        for text in ("ink", "faint", *TONES):
            assert contrast(palette[text], palette[behind]) >= 4.5, (text, behind)
        for shape in ("warmth", "focus"):
            assert contrast(palette[shape], palette[behind]) >= 3.0, (shape, behind)
    for shape in ("ink", "faint", *TONES):
        assert contrast(palette[shape], palette["beam"]) >= 3.0, shape


def test_a_show_is_a_lighter_column() -> None:
    for palette, least in ((LIGHT, 7.0), (DARK, 20.0)):
        ground, beam = (lab(linear(palette[name]))[0] for name in ("ground", "beam"))
        assert beam - ground >= least
