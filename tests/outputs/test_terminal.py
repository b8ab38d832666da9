"""What is printed into a pipe: no spaces that only fill a line, whatever is printed."""

from __future__ import annotations

import pytest
from rich.table import Table

from showprep.outputs.terminal import plain_console


def test_a_line_ends_with_its_last_word(capsys: pytest.CaptureFixture[str]) -> None:
    table = Table.grid(padding=(0, 2, 0, 0))
    table.add_column(width=20)
    table.add_row("Aoi", "ready")
    console = plain_console()
    console.print(table)
    console.print("a line without a table   ")
    assert capsys.readouterr().out == "Aoi                   ready\na line without a table\n"
