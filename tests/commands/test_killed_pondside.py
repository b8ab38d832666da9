"""The page beside the pond, its program killed by signals while two phones tap.

No tap is lost or doubled, the journal is whole at every moment and only grows, every photo is named
by one entry, and nothing temporary stays. A few kills by default, more with SHOWPREP_STORMS=full.
"""

from __future__ import annotations

import http.client
import json
import os
import random
import signal
import sys
import threading
import time
from base64 import b64encode
from collections import Counter
from collections.abc import Callable, Iterator, Mapping
from contextlib import suppress
from pathlib import Path
from typing import Any

import pytest

from showprep.commands import interrupts
from showprep.season.own_files import STILL_WRITTEN_S
from tests.commands.test_killed_writers import left_over
from tests.commands.test_option_storm import end_with
from tests.commands.test_pondside import FILES, entries
from tests.outputs.pondside.pictures import photo
from tests.storms import storm

Folder = Callable[[Mapping[str, str | bytes]], Path]
KILLS = storm(2, 120)
SIGNALS = (signal.SIGKILL, signal.SIGKILL, signal.SIGTERM, signal.SIGINT)
ON = "2027-05-10"
READY_S = 20.0


class Phone(threading.Thread):
    """Sends its taps one after the other, each again and again until it is answered for."""

    def __init__(self, name: str, address: tuple[int, str], taps: Iterator[Any], left: Any) -> None:
        super().__init__()
        self.called, self.address, self.taps, self.left = name, address, taps, left
        self.answered: list[Any] = []
        self.refused: list[str] = []
        self.over = threading.Event()

    def run(self) -> None:
        while not self.over.is_set() or self.left is not None:
            self.left = self.left or next(self.taps)
            with suppress(OSError, http.client.HTTPException):
                found = asked(self.address, self.left)
                if found["ok"]:
                    self.answered.append(self.left)
                    self.left = None
                elif not found.get("again"):
                    self.refused.append(f"{self.left['given']}: {found['refused']}")
                    self.left = None
                continue
            return  # the program is gone: what is left waits for the next one


def asked(address: tuple[int, str], tap: Mapping[str, Any] | None) -> Any:
    """What is answered to a tap, or to a look at the page."""
    port, token = address
    line = http.client.HTTPConnection("127.0.0.1", port, timeout=20)
    head = {"Content-Type": "application/json", "Origin": f"http://127.0.0.1:{port}"}
    try:
        if tap is None:
            line.request("GET", f"/{token}/state")
        else:
            name = "photo" if "photo" in tap else "tap"
            line.request("POST", f"/{token}/{name}", json.dumps(tap).encode(), head)
        answer = line.getresponse()
        body = answer.read()
    finally:
        line.close()
    if answer.status != 200:
        raise http.client.HTTPException(answer.status)
    return json.loads(body)


def taps(phone: str) -> Iterator[dict[str, Any]]:
    """Notes, readings, looks with photos, and notes taken back; no two alike."""
    number = 0
    while True:
        number += 1
        mark = f"{phone} {number}"
        base = {"on": ON, "fish": ["aoi"]}
        told = {"note": f"note {mark}"}
        yield {**base, "tap": f"{phone * 8}-note-{number:08d}", "given": told}
        colour = f"#{40 * 'ab'.index(phone):02x}{number % 250:02x}c0"
        yield {
            **base,
            "tap": f"{phone * 8}-look-{number:08d}",
            "given": {"saw": "not clean", "note": f"look {mark}"},
            "photo": b64encode(photo(colour=colour)).decode(),
        }
        reading = {"water": "main pond", "read_c": f"{17 + 'ab'.index(phone)}.{number:04d}1"}
        yield {**base, "fish": [], "tap": f"{phone * 8}-read-{number:08d}", "given": reading}
        if number % 2:
            name = f"{phone * 8}-undo-{number:08d}"
            yield {**base, "tap": name, "given": told, "undo": True}


def started(root: Path) -> int:
    """The program, serving the season in a process of its own."""
    child = os.fork()
    if child == 0:
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, 1)
        os.dup2(nowhere, 2)
        sys.stdout, sys.stderr = (os.fdopen(os.dup(nowhere), "w") for _ in range(2))
        interrupts.listen()
        words = ["pondside", str(root), "--host", "127.0.0.1", "--on", ON, "--minutes", "9"]
        end_with(words)
    return child


def serving(root: Path, seconds: float) -> tuple[int, str] | None:
    """Where the page is, once it is answered for; None where it is not within some seconds."""
    ends = time.monotonic() + seconds
    while time.monotonic() < ends:
        with suppress(OSError, ValueError, KeyError, http.client.HTTPException):
            memory = json.loads((root / ".showprep" / "pondside.json").read_bytes())
            address = memory["port"], memory["token"]
            asked(address, None)
            return address
        time.sleep(0.01)
    return None


def key(entry: Mapping[str, Any]) -> tuple[str, ...]:
    """What tells a tap, or what was written of it, from all others."""
    undone = "undone" if entry.get("undone") or entry.get("undo") else ""
    given = entry.get("given", entry)
    return undone, given.get("note", ""), given.get("read_c", "")


@pytest.mark.skipif(not hasattr(os, "fork"), reason="no fork there")
def test_kills_while_two_phones_tap_lose_and_double_nothing(folder: Folder, outside: Any) -> None:
    outside.module("waitress")
    outside.module("PIL")
    root, chance = folder(FILES), random.Random(20)
    streams = {name: taps(name) for name in "ab"}
    left: dict[str, Any] = dict.fromkeys("ab")
    answered: list[Any] = []
    refused: list[str] = []
    before = b""
    for number in range(KILLS + 1):
        last = number == KILLS
        program = started(root)
        try:
            early = not last and number % 6 == 5  # killed before it has begun
            address = serving(root, chance.uniform(0, 0.6) if early else READY_S)
            if address is None:
                assert early, "it does not start any more"
                phones = []
            else:
                phones = [Phone(name, address, streams[name], left[name]) for name in "ab"]
            for phone in phones:
                phone.start()
            time.sleep(chance.uniform(0, 0.25))
            if last:
                for phone in phones:
                    phone.over.set()
                for phone in phones:
                    phone.join(timeout=READY_S)
        finally:
            os.kill(program, signal.SIGINT if last else chance.choice(SIGNALS))
            os.waitpid(program, 0)
        for phone in phones:
            phone.over.set()
            phone.join(timeout=READY_S)
            assert not phone.is_alive()
            left[phone.called] = phone.left
            answered += phone.answered
            refused += phone.refused
        journal = (root / "journal.yaml").read_bytes() if (root / "journal.yaml").exists() else b""
        assert journal.startswith(before)
        before = journal
        written = Counter(map(key, entries(root)))
        assert max(written.values(), default=1) == 1
        assert {key(one) for one in answered} <= written.keys()
    assert refused == []
    assert left == {"a": None, "b": None}
    assert written.keys() == {key(one) for one in answered}
    assert len(answered) >= KILLS
    named = [one["photo"] for one in entries(root) if "photo" in one]
    assert sorted(set(named)) == sorted(
        f"photos/{one.name}" for one in (root / "photos").glob("[!.]*")
    )
    for place in set(named):
        data = (root / place).read_bytes()
        assert data.startswith(b"\xff\xd8")
        assert data.endswith(b"\xff\xd9")
    _nothing_temporary_stays(root)


def _nothing_temporary_stays(root: Path) -> None:
    """An hour later the next run, and one tap, take away whatever was left."""
    for path in left_over(root):
        os.utime(path, times=(path.stat().st_atime, path.stat().st_mtime - 2 * STILL_WRITTEN_S))
    program = started(root)
    try:
        address = serving(root, READY_S)
        assert address is not None
        tap = {"tap": "0123456789abcdef", "on": ON, "fish": ["ren"], "given": {"note": "the last"}}
        assert asked(address, tap)["ok"]
        for _ in range(100):
            if not left_over(root):
                break
            time.sleep(0.05)
    finally:
        os.kill(program, signal.SIGINT)
        os.waitpid(program, 0)
    assert left_over(root) == []
