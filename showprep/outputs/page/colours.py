"""The page's colours: the project's own, by what they mean, in light and in dark.

Colour never says anything alone: every meaning also has a shape and a word. The three tones of a
verdict lie far enough apart in lightness to be told apart in grey print, and for readers with
each kind of colour blindness; the tests work both out from published formulae.
"""

from __future__ import annotations

from collections.abc import Mapping

LIGHT: Mapping[str, str] = {
    "ground": "#e2ebe9",  # water in shade: what the season lies on
    "paper": "#f3f7f5",
    "lit": "#ffffff",
    "beam": "#ffffff",  # a show: a column of light on the water
    "ink": "#10211f",
    "faint": "#3f5354",
    "line": "#8aa09d",
    "go": "#00465e",
    "care": "#8c5f00",
    "no": "#400324",
    "warmth": "#7b2f12",
    "water": "#b9cdcb",
    "focus": "#7a2ea0",
}
DARK: Mapping[str, str] = {
    "ground": "#0c1615",
    "paper": "#14211f",
    "lit": "#1f312e",
    "beam": "#334e4a",
    "ink": "#eef4f1",
    "faint": "#b4c6c2",
    "line": "#6d8480",
    "go": "#c6f1fb",
    "care": "#e6b44c",
    "no": "#e76c9b",
    "warmth": "#f0b08f",
    "water": "#27403d",
    "focus": "#e5b3ff",
}
TONES: tuple[str, ...] = ("go", "care", "no")


def custom_properties(palette: Mapping[str, str]) -> str:
    """The palette as CSS custom properties."""
    return "".join(f"--{name}:{value};" for name, value in palette.items())
