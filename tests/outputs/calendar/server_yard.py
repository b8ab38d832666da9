"""A season's folder and a calendar on a real CalDAV server, Radicale, started on the loopback
address; and what people do to events on a phone."""

from __future__ import annotations

import base64
import http.client
import socket
import subprocess
import sys
import time
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

from icalendar import Calendar

from showprep.outputs.calendar.identity import uid_of
from showprep.outputs.calendar.ledger import load
from showprep.outputs.server.collection import Collection
from showprep.outputs.server.connection import Server, address_of
from showprep.outputs.server.look import Look
from showprep.outputs.server.publish import PublishReport, publish
from showprep.outputs.server.whose import ledger_of
from showprep.planning.plan import Plan

CONFIG = """[server]
hosts = 127.0.0.1:{port}
[auth]
type = htpasswd
htpasswd_filename = {folder}/users
htpasswd_encryption = plain
delay = 0
[storage]
filesystem_folder = {folder}/store
[logging]
level = critical
"""
MAKE = b"""<?xml version="1.0"?><c:mkcalendar xmlns="DAV:" xmlns:c="urn:ietf:params:xml:ns:caldav">
<set><prop><c:supported-calendar-component-set><c:comp name="VEVENT"/>
</c:supported-calendar-component-set></prop></set></c:mkcalendar>"""


class Radicale:
    """A calendar server of our own, with one user and as many calendars as are asked for."""

    def __init__(self, folder: Path) -> None:
        with socket.socket() as free:
            free.bind(("127.0.0.1", 0))
            self.port = free.getsockname()[1]
        self.config = folder / "config"
        self.config.write_text(CONFIG.format(port=self.port, folder=folder))
        (folder / "users").write_text("hana:pond water\n")
        self.calendars = 0
        self.start()

    def start(self) -> None:
        command = [sys.executable, "-m", "radicale", "--config", str(self.config)]
        self.process = subprocess.Popen(command)
        for _ in range(200):
            try:
                socket.create_connection(("127.0.0.1", self.port), 1).close()
                return
            except OSError:
                time.sleep(0.05)
        raise AssertionError("Radicale did not start")

    def stop(self) -> None:
        self.process.kill()
        self.process.wait()

    def ask(self, method: str, path: str, body: bytes = b"", **headers: str) -> tuple[int, bytes]:
        connection = http.client.HTTPConnection("127.0.0.1", self.port, timeout=10)
        sign_in = base64.b64encode(b"hana:pond water").decode()
        connection.request(method, path, body, {"Authorization": f"Basic {sign_in}", **headers})
        answer = connection.getresponse()
        data = answer.read()
        connection.close()
        return answer.status, data

    def calendar(self) -> str:
        self.calendars += 1
        path = f"/hana/koi{self.calendars}/"
        assert self.ask("MKCALENDAR", path, MAKE)[0] == 201
        return path

    def url(self, path: str) -> str:
        return f"http://127.0.0.1:{self.port}{path}"


class Yard:
    """One season folder that publishes to one calendar."""

    def __init__(self, radicale: Radicale, season: Path, now: Any, build: Any) -> None:
        self.radicale, self.season, self.now, self.build = radicale, season, now, build
        self.path = radicale.calendar()
        self.address = address_of(radicale.url(self.path))
        self.ledger = ledger_of(season, self.address, "hana")

    def server(self, kind: Callable[..., Server] = Server) -> Server:
        return kind(self.address, "hana", "pond water")

    def publish(self, plan: Plan, server: Server | None = None, **told: Any) -> PublishReport:
        told = {"go": True, **told}
        server = server or self.server()
        try:
            return publish(plan, Collection(server), self.ledger, now=self.now, **told)
        finally:
            server.close()

    def there(self) -> dict[str, Any]:
        """Every event that the server now holds, read back, by its UID."""
        status, data = self.radicale.ask("GET", self.path)
        assert status == 200
        calendar = Calendar.from_ical(data)
        events = calendar.walk("VEVENT")
        found = {str(event["UID"]): event for event in events}
        assert len(found) == len(events), "a job is there twice"
        return found

    def holds(self, plan: Plan) -> bool:
        """Does the server hold exactly the jobs of the plan, with their days and words?"""

        def instant(value: Any) -> Any:
            return value.astimezone(UTC) if isinstance(value, datetime) else value

        seen = {
            uid: (
                str(event["SUMMARY"]),
                str(event["DESCRIPTION"]),
                instant(event["DTSTART"].dt),
                instant(event["DTEND"].dt),
            )
            for uid, event in self.there().items()
        }
        expected = {
            uid: (one.summary, one.description, one.start, one.end)
            for uid, one in self.build.to_be_seen(plan).items()
        }
        return seen == expected

    def resource(self, number: int) -> str:
        return f"{self.path}{self.build.uid(number)}.ics"

    def edit_on_phone(self, number: int, old: bytes, new: bytes) -> None:
        _, data = self.radicale.ask("GET", self.resource(number))
        assert old in data
        assert self.put(self.resource(number), data.replace(old, new)) in (201, 204)

    def look(self) -> Look:
        return Look.at(Collection(self.server()))

    def uid(self, plan: Plan) -> dict[int, str]:
        return {n: uid_of(f"larkfield/job-{n}", plan.identity) for n in range(5)}

    def ledger_title(self, task: str) -> str:
        """What the job is called in the calendar, as it was published."""
        found = load(self.ledger)
        assert found is not None
        return next(row.summary for row in found.records.values() if row.task == task)

    def edit(self, uid: str, change: Callable[[Any], None]) -> None:
        path = f"{self.path}{uid}.ics"
        calendar = Calendar.from_ical(self.radicale.ask("GET", path)[1])
        change(calendar.walk("VEVENT")[0])
        assert self.put(path, calendar.to_ical()) in (201, 204)

    def put(self, path: str, data: bytes) -> int:
        return self.radicale.ask("PUT", path, data, **{"Content-Type": "text/calendar"})[0]


def ticked(event: Any) -> None:
    event["SUMMARY"] = f"✓ {event['SUMMARY']}"


def moved(event: Any, days: int) -> None:
    event["DTSTART"].dt += timedelta(days=days)
    event["DTEND"].dt += timedelta(days=days)


def noted(event: Any, words: str) -> None:
    event["DESCRIPTION"] = f"{event.get('DESCRIPTION', '')}\n\n{words}".strip()
