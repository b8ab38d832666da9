"""Appending to the journal: nothing lost, nothing torn, nothing written that does not read back."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from datetime import date, datetime
from pathlib import Path
from typing import Any

import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from showprep.season import journal
from showprep.season.journal import Journal, JournalError, JournalFaulty, append
from showprep.season.journal_text import as_written, block, scalar
from showprep.season.records import JournalEntry
from tests.storms import storm

Folder = Callable[[Mapping[str, str | bytes]], Path]
ENTRY = JournalEntry(on=date(2027, 4, 24), fish="aoi", did="touch-up", bath_mg_per_l=35)
BLOCK = "- on: 2027-04-24\n  did: touch-up\n  fish: aoi\n  bath_mg_per_l: 35\n"
FIRST = "- on: 2027-04-01\n  fish: aoi\n  did: measure\n  measured_cm: 50.5\n"


def text_of(root: Path) -> bytes:
    return (root / "journal.yaml").read_bytes()


def read(text: str | bytes) -> object:
    return yaml.load(text, Loader=yaml.BaseLoader)


def test_a_missing_journal_is_begun(folder: Folder) -> None:
    root = folder({})
    append(root, [ENTRY])
    assert text_of(root) == BLOCK.encode()
    assert sorted(path.name for path in root.iterdir()) == [".journal.lock", "journal.yaml"]


@pytest.mark.parametrize(
    ("old", "gap"),
    [
        ("", ""),
        ("# nothing yet", "\n"),
        ("---\n", ""),
        ("\ufeff# with a mark of byte order\n", ""),
        (FIRST, ""),
        (FIRST.rstrip("\n"), "\n"),
        (FIRST + "\n\n# the end\n", ""),
        (FIRST + "  # the end, without a line end", "\n"),
        (FIRST + "  note: |\n    two\n    lines\n", ""),
        (FIRST + "  note: |+\n    kept\n\n", ""),
        (FIRST + "  note: >-\n    folded", "\n"),
        (FIRST + '  note: "- on: quoted\n    over lines"\n', ""),
        ("- {on: 2027-04-01, fish: aoi, did: weigh, weighed_kg: 2}\n", ""),
        ("-   on: 2027-04-01\n    saw: clean\n", ""),
    ],
)
def test_every_byte_stays_and_the_entry_reads_back(folder: Folder, old: str, gap: str) -> None:
    root = folder({"journal.yaml": old})
    append(root, [ENTRY])
    assert text_of(root) == (old + gap + BLOCK).encode()
    before = read(old) or []
    assert isinstance(before, list)
    assert read(text_of(root)) == [*before, as_written(ENTRY)]


def test_line_ends_and_columns_are_those_of_the_file(folder: Folder) -> None:
    root = folder({"journal.yaml": FIRST.replace("\n", "\r\n").encode()})
    append(root, [ENTRY])
    assert text_of(root) == (FIRST + BLOCK).replace("\n", "\r\n").encode()
    indented = "".join(f"   {line}\n" for line in FIRST.splitlines())
    root = folder({"journal.yaml": indented})
    append(root, [ENTRY, ENTRY])
    assert text_of(root).decode().startswith(indented + "   - on: 2027-04-24\n     did: touch-up\n")
    assert read(text_of(root)) == [*yaml.safe_load("[]"), *_read_list(FIRST + BLOCK + BLOCK)]


def _read_list(text: str) -> list[object]:
    found = read(text)
    assert isinstance(found, list)
    return found


@pytest.mark.parametrize(
    "old",
    [
        "on: 2027-04-01\n",
        "[{on: 2027-04-01}]\n",
        "just words\n",
        "~\n",
        FIRST + "...\n",
        FIRST + "---\n" + FIRST,
        FIRST + "---\n",
        FIRST + ' note: "open\n',
        "- on: 2027-04-01\n\tdid: measure\n",
        b"- on: \xff\n",
        FIRST.encode("utf-16"),
    ],
)
def test_a_faulty_journal_is_left_alone(folder: Folder, old: str | bytes) -> None:
    root = folder({"journal.yaml": old})
    with pytest.raises(JournalFaulty, match=r"^journal\.yaml"):
        append(root, [ENTRY])
    assert text_of(root) == (old if isinstance(old, bytes) else old.encode())
    assert sorted(path.name for path in root.iterdir()) == ["journal.yaml"]


def test_what_others_write_between_two_notes_is_seen(folder: Folder) -> None:
    root = folder({"journal.yaml": "# begun\n"})
    own = Journal(root)
    own.append([ENTRY])
    path = root / "journal.yaml"
    path.write_text(path.read_text() + "  note: by hand\n" + FIRST, encoding="utf-8")
    own.append([ENTRY])
    assert read(text_of(root)) == read(BLOCK + "  note: by hand\n" + FIRST + BLOCK)
    path.write_text(path.read_text() + " - torn", encoding="utf-8")
    with pytest.raises(JournalFaulty):
        own.append([ENTRY])
    path.write_text("  " + FIRST.replace("\n", "\n  ").rstrip(" "), encoding="utf-8")
    own.append([ENTRY])
    assert read(text_of(root)) == read(FIRST + BLOCK)


def test_the_values_are_written_as_a_keeper_would() -> None:
    entry = JournalEntry(
        on=date(2027, 5, 1),
        did="postponed",
        show="spring",
        to_day=datetime(2027, 6, 19, 9, 30),
        read_c=18.25,
        note="Judge: fine skin, a speck #2 by the tail",
    )
    assert block(as_written(entry)) == (
        "- on: 2027-05-01\n  did: postponed\n  show: spring\n  read_c: 18.25\n"
        "  to_day: 2027-06-19 09:30\n"
        '  note: "Judge: fine skin, a speck #2 by the tail"\n'
    )


@settings(deadline=None)
@given(st.text(min_size=1, max_size=40))
def test_any_text_reads_back(text: str) -> None:
    """Read by PyYAML, both its own reader and libyaml's."""
    whole = block({"on": "2027-04-24", "note": text})
    try:
        whole.encode("utf-8")
    except UnicodeEncodeError:
        return
    for loader in (yaml.BaseLoader, yaml.CBaseLoader):
        assert yaml.load(whole, Loader=loader) == [{"on": "2027-04-24", "note": text}]


@pytest.mark.parametrize("plain", ["aoi", "10:30", "22 °C", "it's fine, she ate", "a/b.jpg", "é-5"])
def test_plain_words_stay_plain(plain: str) -> None:
    assert scalar(plain) == plain


@pytest.mark.parametrize("text", ["", "- x", "a: b", "a #b", "x:", " x", "x ", "[x", "'", "*a"])
def test_words_that_yaml_reads_otherwise_are_quoted(text: str) -> None:
    assert scalar(text).startswith('"')


def test_a_link_is_followed_and_the_mode_kept(folder: Folder) -> None:
    root = folder({})
    real = root / "journal-2027.yaml"
    real.write_text(FIRST, encoding="utf-8")
    real.chmod(0o640)
    (root / "journal.yaml").symlink_to(real)
    append(root, [ENTRY])
    assert (root / "journal.yaml").is_symlink()
    assert real.read_text() == FIRST + BLOCK
    assert real.stat().st_mode & 0o777 == 0o640


def test_a_link_out_of_the_season_is_not_written_through(folder: Folder, tmp_path: Path) -> None:
    root = folder({})
    real = tmp_path / "elsewhere.yaml"
    real.write_text(FIRST, encoding="utf-8")
    (root / "journal.yaml").symlink_to(real)
    with pytest.raises(JournalError, match="leads out"):
        append(root, [ENTRY])
    assert real.read_text() == FIRST


@pytest.mark.parametrize("name", [".journal.lock", ".showprep", ".showprep/before"])
@pytest.mark.parametrize("kind", ["link", "dangling", "pipe"])
def test_a_strangers_folder_leads_nowhere(
    name: str, kind: str, folder: Folder, tmp_path: Path
) -> None:
    """Links and pipes in the place of the tool's own files: nothing outside is written, and
    nothing waited for."""
    root = folder({"journal.yaml": FIRST})
    outside = tmp_path / "outside"
    place = root / name
    place.parent.mkdir(exist_ok=True)
    if kind == "pipe":
        os.mkfifo(place)
    else:
        if kind == "link":
            outside.write_text("x") if name == ".journal.lock" else outside.mkdir()
        place.symlink_to(outside)
    before = sorted(tmp_path.rglob("*"))
    with pytest.raises(JournalError):
        append(root, [ENTRY])
    assert text_of(root) == FIRST.encode()
    after = [path for path in sorted(tmp_path.rglob("*")) if path.name != ".journal.lock"]
    assert after == [path for path in before if path.name != ".journal.lock"]


def test_a_file_under_the_name_once_used_for_the_new_text_is_left(folder: Folder) -> None:
    root = folder({"journal.yaml": FIRST, ".journal.yaml.new": "mine"})
    append(root, [ENTRY])
    assert (root / ".journal.yaml.new").read_text() == "mine"
    assert text_of(root) == (FIRST + BLOCK).encode()


def test_the_journal_before_the_note_is_kept(folder: Folder) -> None:
    root = folder({"journal.yaml": FIRST})
    writer = Journal(root)
    writer.append([ENTRY])
    assert writer.kept == root.resolve() / ".showprep/before/journal.yaml"
    assert writer.kept.read_text() == FIRST


HOLDER = """
import sys
from filelock import FileLock
with FileLock(sys.argv[1]):
    print("held", flush=True)
    sys.stdin.read()
"""


@contextmanager
def holding(lock: Path) -> Iterator[None]:
    """Another program that has the lock, until the end of the block."""
    command = [sys.executable, "-c", HOLDER, str(lock)]
    pipe = subprocess.PIPE
    with subprocess.Popen(command, stdin=pipe, stdout=pipe, text=True) as other:
        assert other.stdout is not None
        assert other.stdout.readline() == "held\n"
        yield
        other.communicate()


def test_a_held_lock_is_not_waited_for_for_ever(
    folder: Folder, monkeypatch: pytest.MonkeyPatch
) -> None:
    root = folder({"journal.yaml": FIRST})
    monkeypatch.setattr(journal, "PATIENCE_S", 0.02)
    with holding(root / ".journal.lock"), pytest.raises(JournalError, match="another"):
        append(root, [ENTRY])
    append(root, [ENTRY])
    assert text_of(root) == (FIRST + BLOCK).encode()


def test_a_journal_too_large_for_the_reader_is_not_made(
    folder: Folder, monkeypatch: pytest.MonkeyPatch
) -> None:
    root = folder({"journal.yaml": FIRST})
    monkeypatch.setattr(journal, "LARGEST_BYTES", len(FIRST) + 10)
    with pytest.raises(JournalError, match="grow beyond"):
        append(root, [ENTRY])
    assert text_of(root) == FIRST.encode()


def test_a_journal_that_may_not_be_written_is_not_replaced(
    folder: Folder, monkeypatch: pytest.MonkeyPatch
) -> None:
    root = folder({"journal.yaml": FIRST})
    monkeypatch.setattr(os, "access", lambda *_: False)  # the superuser may write anything
    with pytest.raises(JournalError, match="may not be written"):
        append(root, [ENTRY])
    assert text_of(root) == FIRST.encode()


FULL = """
import resource, sys
from datetime import date
from pathlib import Path
from showprep.season.journal import JournalError, append
from showprep.season.records import JournalEntry
entry = JournalEntry(on=date(2027, 4, 24), fish="aoi", saw="clean", note="x" * 400)
resource.setrlimit(resource.RLIMIT_FSIZE, (int(sys.argv[2]), int(sys.argv[2])))
try:
    append(Path(sys.argv[1]), [entry])
except JournalError as error:
    print(error)
"""


def need_posix(outside: Any) -> None:
    if not hasattr(os, "fork"):
        outside.missing("this system has no fork and no limits on the size of files")


def run(code: str, *arguments: object) -> str:
    command = [sys.executable, "-c", code, *map(str, arguments)]
    done = subprocess.run(command, capture_output=True, text=True, check=True, timeout=120)
    return done.stdout


@pytest.mark.parametrize("room", [0, 10, len(FIRST), len(FIRST) + 100])
def test_no_room_left_leaves_the_old_journal(folder: Folder, room: int, outside: Any) -> None:
    """A limit on the size of files stands for the full disk: the write itself fails."""
    need_posix(outside)
    root = folder({"journal.yaml": FIRST})
    assert "no room" in run(FULL, root, room)
    assert text_of(root) == FIRST.encode()
    assert sorted(path.name for path in root.iterdir()) == [
        ".journal.lock",
        ".showprep",
        "journal.yaml",
    ]


KILLED = """
import os, random, signal, sys, time
from datetime import date
from pathlib import Path
from showprep.season.journal import append
from showprep.season.records import JournalEntry

root, chance = Path(sys.argv[1]), random.Random(7)
path = root / "journal.yaml"
entry = JournalEntry(on=date(2027, 4, 24), fish="aoi", saw="clean", note="x" * 200)
append(root, [entry])  # what is imported on first use is no part of a usual note
step = path.read_bytes()
begun = time.perf_counter()
child = os.fork()  # as below: the fork itself may take longer than the step
if child == 0:
    append(root, [entry])
    os._exit(0)
os.waitpid(child, 0)
usual = time.perf_counter() - begun
counts = {"old": 0, "new": 0, "torn": 0}
for _ in range(int(sys.argv[2])):
    old = path.read_bytes()
    child = os.fork()
    if child == 0:
        append(root, [entry])
        os._exit(0)
    time.sleep(chance.uniform(0, 1.2 * usual))
    os.kill(child, signal.SIGKILL)
    os.waitpid(child, 0)
    now = path.read_bytes()
    counts["old" if now == old else "new" if now == old + step else "torn"] += 1
append(root, [entry])
print(counts["old"], counts["new"], counts["torn"])
"""


def test_killed_at_random_points_it_is_the_old_one_or_the_new_one(
    folder: Folder, outside: Any
) -> None:
    need_posix(outside)
    root = folder({})
    kills = storm(50, 200)
    old, new, torn = map(int, run(KILLED, root, kills).split())
    assert (old + new, torn) == (kills, 0)
    assert old and new, "the points must lie on both sides of the step"
    whole = read(text_of(root))
    assert isinstance(whole, list) and len(whole) == new + 3


STOPPED = """
import os, sys
from datetime import date
from pathlib import Path
from showprep.season import journal
from showprep.season.records import JournalEntry

root, every = Path(sys.argv[1]), int(sys.argv[2])
path = root / "journal.yaml"
entry = JournalEntry(on=date(2027, 4, 24), fish="aoi", saw="clean")
journal.append(root, [entry])
before = path.read_bytes()
stop_at, count = 0, 0
def watch(frame, event, argument):
    global count
    if "journal" not in frame.f_code.co_filename:
        return None
    count += event == "line"
    if count == stop_at:
        os._exit(9)
    return watch
for stop_at in range(5, 1000, every):
    path.write_bytes(before)
    pid = os.fork()
    if pid == 0:
        sys.settrace(watch)
        journal.append(root, [entry])
        os._exit(0)
    code = os.waitstatus_to_exitcode(os.waitpid(pid, 0)[1])
    print(code, path.read_bytes() in (before, before + before))
    if code == 0:
        break
"""


def test_stopped_at_lines_all_along_it_is_whole(folder: Folder, outside: Any) -> None:
    need_posix(outside)
    root = folder({})
    ends = run(STOPPED, root, 5).splitlines()
    assert len(ends) > 15
    assert ends == ["9 True"] * (len(ends) - 1) + ["0 True"]


WRITER = """
import sys
from datetime import date
from pathlib import Path
from showprep.season.journal import Journal
from showprep.season.records import JournalEntry
own = Journal(Path(sys.argv[1]))
for number in range(int(sys.argv[3])):
    note = f"{sys.argv[2]} {number}"
    own.append([JournalEntry(on=date(2027, 4, 24), water="pond", saw="temperature", note=note)])
"""


def test_a_storm_of_writers_loses_no_note(folder: Folder) -> None:
    writing, notes = storm(4, 8), storm(50, 200)
    root = folder({"journal.yaml": "# before the storm"})
    writers = [
        subprocess.Popen([sys.executable, "-c", WRITER, str(root), str(number), str(notes)])
        for number in range(writing)
    ]
    assert [writer.wait(timeout=120) for writer in writers] == [0] * writing
    text = text_of(root)
    assert text.startswith(b"# before the storm\n- on: 2027-04-24\n")
    entries = yaml.load(text, Loader=yaml.CBaseLoader)
    told = [entry["note"] for entry in entries]
    assert sorted(told) == sorted(
        f"{writer} {n}" for writer in range(writing) for n in range(notes)
    )
    for writer in range(writing):
        assert [n for n in told if n.startswith(f"{writer} ")] == [
            f"{writer} {n}" for n in range(notes)
        ]
