"""A real subscription client, vdirsyncer, follows the feed from plan to plan.

It reads the feed over the loopback address and ends with exactly the new plan: moved jobs moved,
vanished ones gone, nothing doubled.
"""

from __future__ import annotations

import os
import subprocess
import sys
import threading
from collections import Counter
from collections.abc import Iterator
from datetime import UTC, date, datetime
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import Any

import pytest
from icalendar import Calendar

from showprep.outputs.calendar.export import export_calendar
from showprep.planning.plan import Plan

CONFIG = """[general]
status_path = "{folder}/status/"
[pair koi]
a = "feed"
b = "phone"
collections = null
conflict_resolution = "a wins"
[storage feed]
type = "http"
url = "{url}"
[storage phone]
type = "filesystem"
path = "{folder}/phone/"
fileext = ".ics"
"""


class Quiet(SimpleHTTPRequestHandler):
    def log_message(self, format: str, *args: Any) -> None:
        pass


@pytest.fixture
def feed(tmp_path: Path) -> Iterator[tuple[Path, str]]:
    """A folder that is served, and its address."""
    folder = tmp_path / "web"
    folder.mkdir()
    handler = partial(Quiet, directory=str(folder))
    with ThreadingHTTPServer(("127.0.0.1", 0), handler) as server:
        thread = threading.Thread(target=server.serve_forever, args=(0.05,))
        thread.start()
        yield folder, f"http://127.0.0.1:{server.server_port}"
        server.shutdown()
        thread.join()


class Phone:
    """A folder of events that vdirsyncer keeps in step with the feed."""

    def __init__(self, folder: Path, url: str) -> None:
        self.folder = folder / "phone"
        self.folder.mkdir()
        self.config = folder / "config"
        self.config.write_text(CONFIG.format(folder=folder, url=url))
        self.first = True

    def sync(self) -> None:
        for command in ("discover", "sync") if self.first else ("sync",):
            run = [sys.executable, "-m", "vdirsyncer", "-c", str(self.config), command]
            subprocess.run(run, check=True, capture_output=True, env={**os.environ, "HOME": "/"})
        self.first = False

    def shows(self) -> Counter[tuple[str, str, str]]:
        shown: Counter[tuple[str, str, str]] = Counter()
        for path in self.folder.glob("*.ics"):
            (event,) = Calendar.from_ical(path.read_bytes()).walk("VEVENT")
            shown[line(event["SUMMARY"], event["DTSTART"].dt, event["DTEND"].dt)] += 1
        return shown


def line(title: str, start: date, end: date) -> tuple[str, str, str]:
    """A job as it is compared: instants in UTC."""
    if isinstance(start, datetime) and isinstance(end, datetime):
        start, end = start.astimezone(UTC), end.astimezone(UTC)
    return str(title), start.isoformat(), end.isoformat()


def test_the_client_ends_with_the_new_plan(
    two: tuple[Plan, Plan],
    feed: tuple[Path, str],
    tmp_path: Path,
    now: Any,
    build: Any,
    outside: Any,
) -> None:
    outside.module("vdirsyncer")
    web, url = feed
    phone = Phone(tmp_path, f"{url}/koi.ics")
    for plan in (two[0], two[1], two[1]):
        export_calendar(plan, web / "koi.ics", now=now)
        phone.sync()
        seen = build.to_be_seen(plan).values()
        assert phone.shows() == Counter(line(one.summary, one.start, one.end) for one in seen)
