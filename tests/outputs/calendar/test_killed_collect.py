"""`collect`, killed by signals while it reads the server, asks, and writes the journal.

What a phone did is then in the journal or still to be collected, never in part; the next run writes
all of it, and once. A few kills by default, more with SHOWPREP_STORMS=full.
"""

from __future__ import annotations

import os
import random
import re
import shutil
import signal
import sys
import time
from collections import Counter
from collections.abc import Callable
from contextlib import suppress
from datetime import date
from pathlib import Path
from typing import Any

import pytest
import yaml

from showprep import cli
from showprep.commands import interrupts
from showprep.commands.loading import load_plan
from showprep.outputs.calendar.identity import uid_of
from showprep.planning.jobs.done_by import MEASURED, SEEN
from showprep.season.own_files import STILL_WRITTEN_S
from tests.commands.test_killed_writers import left_over
from tests.commands.test_option_storm import end_with, status_of
from tests.outputs.calendar.server_yard import Radicale, Yard, noted, ticked
from tests.storms import storm

KILLS = storm(3, 120)
SIGNALS = (signal.SIGKILL, signal.SIGKILL, signal.SIGTERM, signal.SIGINT)
ON = date(2027, 6, 12)
SAID = re.compile(r"Seen in round \d+ at \d+\.")
SAMPLE = Path(__file__).resolve().parents[3] / "samples" / "first-show"


def raw(root: Path) -> bytes:
    path = root / "journal.yaml"
    return path.read_bytes() if path.exists() else b""


def entries(root: Path) -> list[dict[str, str]]:
    return yaml.load(raw(root), yaml.BaseLoader) or []


def killed(
    words: list[str],
    after: float,
    by: signal.Signals,
    answers: bytes | None,
    writes: Callable[[], bool],
) -> None:
    """Run the command in a child process and kill it some seconds later, or as soon as it
    `writes`; with `answers` at a terminal of its own, where they are typed."""
    import pty

    terminal = -1
    if answers is None:
        child = os.fork()
    else:
        child, terminal = pty.fork()
    if child == 0:
        if answers is None:
            nowhere = os.open(os.devnull, os.O_RDWR)
            for one in range(3):
                os.dup2(nowhere, one)
        sys.stdin, sys.stdout, sys.stderr = (
            os.fdopen(os.dup(one), how) for one, how in enumerate(("r", "w", "w"))
        )
        interrupts.listen()
        end_with(words)
    try:
        if answers is not None:
            os.write(terminal, answers)
        ends = time.monotonic() + after
        while time.monotonic() < ends and not writes():
            time.sleep(0.001)
            if answers is not None:
                os.set_blocking(terminal, False)
                with suppress(OSError):
                    os.read(terminal, 65536)  # a terminal that nobody reads stops its program
    finally:
        os.kill(child, by)
        if by != signal.SIGKILL and answers is not None:
            time.sleep(0.2)
            os.kill(child, signal.SIGKILL)  # one that waits for an answer may wait on
        os.waitpid(child, 0)
        if answers is not None:
            os.close(terminal)


@pytest.mark.skipif(not hasattr(os, "fork"), reason="no fork there")
def test_what_is_killed_is_collected_by_the_next_run_and_once(
    radicale: Radicale, tmp_path: Path, now: Any, build: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("SHOWPREP_PASSWORD", "pond water")
    root = tmp_path / SAMPLE.name
    shutil.copytree(SAMPLE, root)
    yard = Yard(radicale, root, now, build)
    plan = load_plan(root, ON)
    yard.publish(plan)
    jobs = sorted(uid_of(task.id) for task in plan.tasks if not task.late)
    deeds = {
        uid_of(task.id): task.id
        for task in plan.tasks
        if not task.late and task.kind not in SEEN | MEASURED and task.first_day <= ON
    }
    url = radicale.url(yard.path)
    monkeypatch.setattr(cli, "the_day", lambda: ON)
    asking = ["collect", str(root), "--url", url, "--user", "hana"]
    words = [*asking, "--go"]
    status_of(words)  # what is imported on first use is no part of a usual run
    chance = random.Random(31)
    done: list[str] = []
    told: list[str] = []
    usual = 0.0
    for number in range(KILLS):
        for uid in chance.sample(jobs, 3):
            said = f"Seen in round {number} at {jobs.index(uid)}."
            yard.edit(uid, lambda event, said=said: noted(event, said))
            told.append(said)
        if deeds and number % 3 == 0:
            uid = sorted(deeds)[0]
            yard.edit(uid, ticked)
            done.append(deeds.pop(uid))
        before = raw(root)
        at_terminal = number % 4 == 3
        answers = chance.choice((b"", b"y\n", b"y\ny\n", b"y\nn\ny\n")) if at_terminal else None
        way = asking if at_terminal else words
        if not usual:
            began = time.perf_counter()
            status_of(words)
            usual = time.perf_counter() - began
            continue
        lies = chance.randrange(3) if number % 2 else 9

        left = len(left_over(root))

        def writes(before: bytes = before, lies: int = lies, left: int = left) -> bool:
            """Is a change on its way into the journal, or are one or two of them there?"""
            if lies == 0:
                return len(left_over(root)) > left
            return lies < 3 and raw(root).count(b"- on") >= before.count(b"- on") + lies

        by = chance.choice(SIGNALS)
        killed(way, chance.uniform(0, 1.2) * usual if lies > 2 else 3 * usual, by, answers, writes)
        after = raw(root)
        assert after.startswith(before)
        assert after == b"" or after.endswith(b"\n")
        _once(root)
        if chance.random() < 0.5:  # or else another is killed first
            status_of(words)
            assert set(told) <= {*_seen(root)}
    status_of(words)
    _once(root)
    assert sorted(_seen(root)) == sorted(told)
    assert sorted(one["job"] for one in entries(root) if "job" in one) == sorted(done)
    for path in left_over(root):
        os.utime(path, times=(path.stat().st_atime, path.stat().st_mtime - 2 * STILL_WRITTEN_S))
    yard.edit(jobs[0], lambda event: noted(event, "The last."))
    status_of(words)
    assert left_over(root) == []


def _seen(root: Path) -> list[str]:
    """What was written into jobs, apart from the job's name before it."""
    notes = [one["note"] for one in entries(root) if "note" in one]
    return [words for note in notes for words in SAID.findall(note)]


def _once(root: Path) -> None:
    named = [one["job"] for one in entries(root) if "job" in one]
    for found in (_seen(root), named):
        assert max(Counter(found).values(), default=1) == 1
