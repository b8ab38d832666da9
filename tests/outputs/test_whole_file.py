"""Files are written whole or not at all."""

from __future__ import annotations

import errno
import os
import re
import subprocess
import sys
from pathlib import Path

import pytest
from filelock import FileLock

from showprep.outputs import whole_file
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


HOLDER = """
import sys
from pathlib import Path
from showprep.outputs.whole_file import alone_in
with alone_in(Path(sys.argv[1])):
    print("alone", flush=True)
    sys.stdin.read()
"""


def holder(folder: Path) -> subprocess.Popen[str]:
    """Another run that is alone in the folder until its input ends, or it is killed."""
    command = [sys.executable, "-c", HOLDER, str(folder)]
    pipe = subprocess.PIPE
    other = subprocess.Popen(command, stdin=pipe, stdout=pipe, text=True)
    assert other.stdout is not None and other.stdout.readline() == "alone\n"
    return other


def test_a_run_that_does_not_finish_is_told_of(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(whole_file, "PATIENCE_S", 0.05)
    with holder(tmp_path) as other:
        with pytest.raises(Failure) as caught, alone_in(tmp_path):
            pass
        other.communicate()
    assert caught.value.status == 1
    with alone_in(tmp_path):
        pass
    assert list(tmp_path.iterdir()) == []


def test_a_killed_run_leaves_no_lock(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(whole_file, "PATIENCE_S", 5)
    with holder(tmp_path) as other:
        other.kill()
    with alone_in(tmp_path):
        pass
    assert list(tmp_path.iterdir()) == []


def test_where_there_are_no_locks_it_writes_all_the_same(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def none_here(lock: FileLock) -> None:
        raise OSError(errno.ENOLCK, "No locks available")

    monkeypatch.setattr(FileLock, "_acquire", none_here)
    with alone_in(tmp_path):
        write_whole(tmp_path / "koi.ics", b"x")
    assert [path.name for path in tmp_path.iterdir()] == ["koi.ics"]


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
