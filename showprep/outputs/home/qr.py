"""An address as a QR code in the terminal, for the phone's camera."""

from __future__ import annotations

_BLOCKS = {(0, 0): "█", (0, 1): "▀", (1, 0): "▄", (1, 1): " "}  # light is drawn, dark is left out
_WHITE_ON_BLACK, _PLAIN = "\x1b[97;40m", "\x1b[0m"


def qr_lines(text: str, *, coloured: bool = False) -> list[str]:
    """The code in half blocks, two rows of it in a line, with the four light modules around it
    that ISO/IEC 18004 asks for.

    On a terminal with dark letters on light it would be inverted; `coloured` sets both colours, so
    that it is right on any.
    """
    import segno

    rows = [list(row) for row in segno.make(text, error="m", micro=False).matrix_iter(border=4)]
    if len(rows) % 2:
        rows.append([0] * len(rows[0]))
    lines = [
        "".join(_BLOCKS[bool(above), bool(below)] for above, below in zip(*pair, strict=True))
        for pair in zip(rows[::2], rows[1::2], strict=True)
    ]
    return [f"{_WHITE_ON_BLACK}{line}{_PLAIN}" for line in lines] if coloured else lines
