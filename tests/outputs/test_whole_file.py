"""Files are written whole or not at all."""

from __future__ import annotations

import errno
import os
import re
import shutil
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from filelock import FileLock

from showprep.outputs import whole_file
from showprep.outputs.calendar.season_identity import identity_of
from showprep.outputs.failure import Failure
from showprep.outputs.whole_file import (
    alone_in,
    is_own_calendar,
    is_own_page,
    is_own_plan,
    refuse_unfit,
    write_together,
    write_whole,
)
from showprep.season.journal import Journal, JournalError
from showprep.season.records import JournalEntry


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
    write_whole(link, b"x", follow=True)
    assert link.is_symlink()
    assert (web / "koi.ics").read_bytes() == b"x"


def test_a_link_that_nobody_named_is_replaced(tmp_path: Path) -> None:
    (tmp_path / "outside").write_bytes(b"mine")
    link = tmp_path / "share.ics"
    link.symlink_to(tmp_path / "outside")
    write_whole(link, b"x")
    assert not link.is_symlink()
    assert link.read_bytes() == b"x"
    assert (tmp_path / "outside").read_bytes() == b"mine"


@pytest.mark.parametrize("kind", ["link", "pipe", "folder"])
def test_a_lock_that_is_no_file_is_refused(kind: str, tmp_path: Path) -> None:
    place, other = tmp_path / ".showprep.lock", tmp_path / "other"
    other.write_bytes(b"mine")
    {"link": lambda: place.symlink_to(other), "pipe": lambda: os.mkfifo(place)}.get(
        kind, place.mkdir
    )()
    with pytest.raises(Failure, match="no file of showprep"), alone_in(tmp_path):
        pass
    assert other.read_bytes() == b"mine"


@pytest.mark.parametrize("name", [".showprep"])
@pytest.mark.parametrize("kind", ["link", "pipe"])
def test_the_hidden_folder_is_no_way_out(name: str, kind: str, tmp_path: Path) -> None:
    season, outside = tmp_path / "season", tmp_path / "outside"
    season.mkdir()
    outside.mkdir()
    place = season / name
    if kind == "link":
        place.symlink_to(outside)
    else:
        os.mkfifo(place)
    with pytest.raises(Failure, match="Cannot make the folder"):
        identity_of(season)
    assert list(outside.iterdir()) == []


def test_several_files_change_together_or_not_at_all(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    one, two, new = (tmp_path / name for name in ("one", "two", "new"))
    one.write_bytes(b"1")
    two.write_bytes(b"2")
    replace, calls = Path.replace, []

    def fails_third(path: Path, target: Path) -> Path:
        calls.append(target)
        if len(calls) == 3:
            raise OSError(errno.EIO, "Input/output error")
        return replace(path, target)

    monkeypatch.setattr(Path, "replace", fails_third)
    with pytest.raises(Failure, match="Nothing there was changed"):
        write_together({one: b"A", new: b"B", two: b"C"})
    assert (one.read_bytes(), two.read_bytes(), new.exists()) == (b"1", b"2", False)
    assert sorted(tmp_path.iterdir()) == [one, two]


@pytest.fixture
def small_disk(tmp_path: Path) -> Iterator[Path]:
    """A real disk of 64 kB that is full: only where this test may mount one."""
    place = tmp_path / "disk"
    place.mkdir()
    mount, unmount = shutil.which("mount"), shutil.which("umount")
    if mount is None or unmount is None:
        pytest.skip("no program to mount a small disk")
    options = ["-t", "tmpfs", "-o", "size=64k", "tmpfs", str(place)]
    if subprocess.run([mount, *options], capture_output=True, check=False).returncode:
        pytest.skip("a small disk to fill may not be mounted here")
    yield place
    subprocess.run([unmount, str(place)], check=True)


def test_a_disk_that_is_full_loses_nothing(small_disk: Path) -> None:
    old = small_disk / "koi.ics"
    write_whole(old, b"old")
    journal = small_disk / "journal.yaml"
    journal.write_text("- {on: 2027-03-01, did: feed again}\n")
    with pytest.raises(Failure, match=r"No space left.*Nothing there was changed"):
        write_together({old: b"new", small_disk / "page.html": b"x" * 100_000})
    (small_disk / "rest").write_bytes(b"x" * (free(small_disk) - 4096))
    entry = JournalEntry.model_validate({"on": "2027-03-02", "did": "stop feeding", "fish": "aoi"})
    with pytest.raises(JournalError):
        Journal(small_disk).append([entry] * 100)
    assert old.read_bytes() == b"old"
    assert journal.read_text() == "- {on: 2027-03-01, did: feed again}\n"
    assert not [path for path in small_disk.iterdir() if path.name.startswith((".koi", ".page"))]


def free(folder: Path) -> int:
    found = os.statvfs(folder)
    return found.f_bavail * found.f_frsize


@pytest.mark.parametrize(
    ("own", "good"),
    [
        (is_own_calendar, b"BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:-//showprep//koi show"),
        (is_own_page, b'<html><meta name="generator" content="showprep">'),
        (is_own_plan, b'{\n "season": "x"'),
    ],
)
def test_a_strangers_file_is_not_replaced_unasked(
    own: Callable[[bytes], bool], good: bytes, tmp_path: Path
) -> None:
    place = tmp_path / "koi.ics"
    for data in (good, b""):
        place.write_bytes(data)
        refuse_unfit(place, "koi.ics", own, replace=False)
    place.write_bytes(b"BEGIN:VCALENDAR\r\nPRODID:-//mine//\r\n")
    with pytest.raises(Failure, match="--replace") as caught:
        refuse_unfit(place, "koi.ics", own, replace=False)
    assert caught.value.status == 2
    refuse_unfit(place, "koi.ics", own, replace=True)


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
