"""`start` writes a season that plans nothing dangerous, and points to what the law says."""

from __future__ import annotations

import errno
from datetime import date
from pathlib import Path

import pytest

from showprep.commands.start import run
from showprep.outputs.failure import Failure
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


def test_it_writes_the_folder_whole_or_not_at_all(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A disk that is full in the middle leaves nothing, an empty folder stays empty."""
    (tmp_path / "empty").mkdir()
    (tmp_path / "link").symlink_to("empty")
    true, count = Path.write_text, [0]

    def full(path: Path, *words: object, **named: object) -> int:
        count[0] += 1
        if count[0] % 3 == 0:
            raise OSError(errno.ENOSPC, "No space left on device")
        return true(path, *words, **named)  # type: ignore[arg-type]

    monkeypatch.setattr(Path, "write_text", full)
    for name in ("new", "empty", "link", "a/b"):
        with pytest.raises(OSError, match="No space"):
            run(tmp_path / name, ON)
    left = sorted(path.relative_to(tmp_path).as_posix() for path in tmp_path.rglob("*"))
    assert left == ["a", "empty", "link"]
    monkeypatch.undo()
    for name in ("new", "link", "a/b"):
        run(tmp_path / name, ON)
        assert read_season(tmp_path / name, ON).season.fish.keys() == {"aoi", "hana"}
    assert (tmp_path / "link").is_symlink()
    assert not [path for path in tmp_path.iterdir() if path.name.startswith(".")]
    with pytest.raises(Failure, match="not empty; nothing was changed"):
        run(tmp_path / "empty", ON)


def test_the_folder_one_stands_in_is_filled_in_place(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    before = tmp_path.stat().st_ino
    run(Path(), ON)
    assert tmp_path.stat().st_ino == before
    assert read_season(Path(), ON).season.fish.keys() == {"aoi", "hana"}
