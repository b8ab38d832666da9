"""`start` writes a season that plans nothing dangerous, and points to what the law says."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from showprep.commands.start import run
from showprep.season.reading import read_season

ON = date(2027, 4, 1)
ROOT = Path(__file__).resolve().parent.parent.parent


def test_a_new_season_asks_about_the_law(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    run(tmp_path / "yard", ON)
    assert "docs/law.md" in capsys.readouterr().out
    written = (tmp_path / "yard" / "keeper.yaml").read_text("utf-8")
    assert "docs/law.md" in written and "own statement" in written
    touch_up = read_season(tmp_path / "yard", ON).season.keeper.touch_up
    assert (touch_up.by, touch_up.law_checked, touch_up.law_stated) == ("nobody", False, False)


def test_a_yes_without_a_country_counts_as_no(tmp_path: Path) -> None:
    run(tmp_path / "yard", ON)
    file = tmp_path / "yard" / "keeper.yaml"
    text = file.read_text("utf-8").replace("law_checked: no", "law_checked: yes")
    file.write_text(text, encoding="utf-8")
    reading = read_season(tmp_path / "yard", ON)
    assert not reading.season.keeper.touch_up.law_stated
    assert any("add the country" in str(note).lower() for note in reading.warnings)
    file.write_text(text.replace("# law_country", "law_country"), encoding="utf-8")
    reading = read_season(tmp_path / "yard", ON)
    assert reading.season.keeper.touch_up.law_stated
    assert not any("country" in str(note) for note in reading.warnings)


def test_the_page_of_the_law_has_every_country_and_is_no_permission() -> None:
    page = (ROOT / "docs" / "law.md").read_text("utf-8")
    rows = [line.split("|")[1:-1] for line in page.splitlines() if line.startswith("| ")]
    countries = {row[0].strip() for row in rows}
    assert countries >= {
        "United Kingdom",
        "European Union",
        "Germany",
        "Netherlands",
        "USA",
        "Japan",
        "elsewhere",
    }
    assert "no permission" in page and "own statement" in page and "2026" in page
    for _, what, body, known in (
        [cell.strip() for cell in row] for row in rows if row[0].strip() != "country"
    ):
        # Where nothing is known the row says "ask"; what is known has its body and how it was read.
        assert what
        assert "ask" in what.lower() or (body or "memory" in known), what
        assert not body or known, what
