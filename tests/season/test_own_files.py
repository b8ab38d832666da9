"""What a killed run left is taken away by the next, and nothing else is."""

from __future__ import annotations

import os
from pathlib import Path

from showprep.season.own_files import STILL_WRITTEN_S, stage, temporary_name


def test_only_old_left_overs_of_the_same_file_go(tmp_path: Path) -> None:
    page = tmp_path / "page.html"
    foreign = tmp_path / "elsewhere"
    foreign.write_text("kept", encoding="utf-8")
    old, young, other, link, folder = (
        tmp_path / f"{temporary_name(place)}{ending}"
        for place, ending in (
            (page, "aaaaaaaa"),
            (page, "bbbbbbbb"),
            (tmp_path / "plan.json", "cccccccc"),
            (page, "dddddddd"),
            (page, "eeeeeeee"),
        )
    )
    keepers = tmp_path / ".page.html.before"
    for path in (old, young, other, keepers):
        path.write_text("half", encoding="utf-8")
    link.symlink_to(foreign)
    folder.mkdir()
    (folder / "inside").write_text("half", encoding="utf-8")
    now = stage(tmp_path / "clock", b"", 0o600).stat().st_mtime
    for path in (old, other, keepers, folder):
        os.utime(path, times=(now, now - STILL_WRITTEN_S - 60))
    staged = stage(page, b"whole", 0o600)
    assert staged.read_bytes() == b"whole"
    assert not old.exists() and not folder.exists()
    assert all(path.exists() for path in (young, other, keepers, link, foreign))
