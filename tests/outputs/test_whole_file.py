"""Files are written whole or not at all."""

from __future__ import annotations

import os
import re
from pathlib import Path

import pytest

from showprep.outputs.failure import Failure
from showprep.outputs.whole_file import alone_in, refuse_unfit, write_whole


def test_a_new_file_and_an_old_one(tmp_path: Path) -> None:
    path = tmp_path / "koi.ics"
    write_whole(path, b"one")
    path.chmod(0o640)
    write_whole(path, b"two")
    assert path.read_bytes() == b"two"
    assert path.stat().st_mode & 0o777 == 0o640
    assert list(tmp_path.iterdir()) == [path]


def test_what_is_no_file_is_left(tmp_path: Path) -> None:
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    for place in (tmp_path, pipe):
        with pytest.raises(Failure, match="no file") as caught:
            write_whole(place, b"x")
        assert caught.value.status == 2


def test_a_link_is_followed(tmp_path: Path) -> None:
    web = tmp_path / "web"
    web.mkdir()
    link = tmp_path / "koi.ics"
    link.symlink_to(web / "koi.ics")
    write_whole(link, b"x")
    assert link.is_symlink()
    assert (web / "koi.ics").read_bytes() == b"x"


def test_a_failure_leaves_the_old_file_and_no_scraps(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "koi.ics"
    write_whole(path, b"old")

    def full(handle: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(Failure, match=r"No space left.*Nothing there was changed"):
        write_whole(path, b"new")
    assert path.read_bytes() == b"old"
    assert list(tmp_path.iterdir()) == [path]


def test_no_folder(tmp_path: Path) -> None:
    with pytest.raises(Failure, match="nowhere"):
        write_whole(tmp_path / "nowhere" / "koi.ics", b"x")
    with pytest.raises(Failure, match="nowhere"), alone_in(tmp_path / "nowhere"):
        pass


@pytest.mark.parametrize(
    ("place", "words"),
    [
        ("", "is a folder. Name a file in it, such as"),
        ("pipe", "no file that could be replaced"),
        ("/dev/zero", "no file that could be replaced"),
        ("gone/koi.ics", "There is no folder"),
        ("keeper.yaml", "taken for a file of the season: name it koi.ics"),
    ],
)
def test_an_unfit_place_is_refused_before_it_is_read(
    tmp_path: Path, place: str, words: str
) -> None:
    os.mkfifo(tmp_path / "pipe")
    with pytest.raises(Failure, match=re.escape(words)) as caught:
        refuse_unfit(tmp_path / place, "koi.ics")
    assert caught.value.status == 2
    refuse_unfit(tmp_path / "koi.ics", "koi.ics")
