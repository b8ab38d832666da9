"""Sharing on the loopback address: one file, one path, to read only, for a while."""

from __future__ import annotations

import http.client
import socket
import time
from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

import pytest

from showprep.commands import share as command
from showprep.outputs.calendar.export import write_calendar
from showprep.outputs.failure import Failure
from showprep.outputs.home.qr import qr_lines
from showprep.outputs.home.share import shared, sharing


@pytest.fixture
def data(build: Any) -> bytes:
    return write_calendar(build.plan([build.task(0), build.timed(1)]))


class Phone:
    """What a phone asks of the shared address."""

    def __init__(self, address: str) -> None:
        parts = urlsplit(address)
        self.host, self.port, self.path = parts.hostname, parts.port, parts.path

    def ask(
        self, method: str = "GET", path: str | None = None, **headers: str
    ) -> tuple[int, dict[str, str], bytes]:
        assert self.host is not None
        connection = http.client.HTTPConnection(self.host, self.port, timeout=5)
        sent = {name.replace("_", "-"): value for name, value in headers.items()}
        connection.request(method, self.path if path is None else path, headers=sent)
        answer = connection.getresponse()
        body = answer.read()
        connection.close()
        return answer.status, dict(answer.getheaders()), body


@pytest.fixture
def phone(data: bytes) -> Iterator[Phone]:
    with sharing(shared(data), "127.0.0.1", 0, lambda by: None) as (address, _):
        yield Phone(address)


def test_a_phone_picks_up_the_file(phone: Phone, data: bytes) -> None:
    status, headers, body = phone.ask()
    assert (status, body) == (200, data)
    assert headers["Content-Type"] == "text/calendar; charset=utf-8"
    assert headers["Content-Length"] == str(len(data))
    assert headers["Last-Modified"] == "Mon, 01 Mar 2027 00:00:00 GMT"
    assert "Python" not in headers["Server"]
    status, head, body = phone.ask("HEAD")
    assert (status, body) == (200, b"")
    assert head["ETag"] == headers["ETag"]


def test_a_phone_that_has_it_gets_nothing_again(phone: Phone) -> None:
    """RFC 9110 §13.1.2 and §13.1.3."""
    _, headers, _ = phone.ask()
    etag, modified = headers["ETag"], headers["Last-Modified"]
    assert phone.ask(If_None_Match=etag)[0] == 304
    assert phone.ask(If_None_Match=f'"a", W/{etag}')[0] == 304
    assert phone.ask(If_None_Match='"other"')[0] == 200
    assert phone.ask(If_None_Match='"other"', If_Modified_Since=modified)[0] == 200
    assert phone.ask(If_Modified_Since=modified)[0] == 304
    assert phone.ask(If_Modified_Since="Mon, 01 Feb 2027 00:00:00 GMT")[0] == 200
    for nonsense in ("yesterday", "Mon, 01 Mar 2027 00:00:00"):
        assert phone.ask(If_Modified_Since=nonsense)[0] in (200, 304)


def test_nothing_else_is_there(phone: Phone) -> None:
    wrong = ["/", "/koi.ics", phone.path + "/", phone.path + "?a", phone.path.upper()]
    wrong += ["/../etc/passwd", phone.path.replace("koi.ics", ""), "/%2e%2e/keeper.yaml", "//"]
    for path in wrong:
        status, _, body = phone.ask(path=path)
        assert (status, body) == (404, b""), path


@pytest.mark.parametrize("method", ["POST", "PUT", "DELETE", "PROPFIND", "OPTIONS", "TRACE"])
def test_nothing_can_be_changed(phone: Phone, method: str, data: bytes) -> None:
    status, _, body = phone.ask(method)
    assert (status, body) == (405, b"")
    assert phone.ask()[2] == data


def test_rubbish_and_silence_stop_nobody(phone: Phone, data: bytes) -> None:
    assert phone.host is not None
    silent = socket.create_connection((phone.host, phone.port or 0))
    with socket.create_connection((phone.host, phone.port or 0)) as rude:
        rude.sendall(b"\x00\xff\r\n\r\n")
        rude.recv(1000)
    assert phone.ask()[2] == data
    silent.close()


def test_the_path_cannot_be_guessed(data: bytes) -> None:
    paths = {shared(data).path for _ in range(50)}
    assert len(paths) == 50
    assert all(len(path) >= 22 + len("//koi.ics") for path in paths)


def test_it_listens_only_while_it_is_asked_to(data: bytes) -> None:
    with sharing(shared(data), "127.0.0.1", 0, lambda by: None) as (address, _):
        phone = Phone(address)
        assert phone.ask()[0] == 200
    with pytest.raises(OSError):
        phone.ask()


def test_an_address_where_nothing_can_listen(data: bytes) -> None:
    for host, port in (("203.0.113.7", 0), ("127.0.0.1", 99_999), ("no.such.name.invalid", 0)):
        with (
            pytest.raises(Failure, match="Nothing can listen"),
            sharing(shared(data), host, port, lambda by: None),
        ):
            pass


def test_the_command_says_who_can_read_it_and_stops_by_itself(
    tmp_path: Path,
    build: Any,
    now: Any,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    outside: Any,
) -> None:
    outside.module("segno")
    plan = build.plan([build.task(0)])
    monkeypatch.setattr(command, "load_plan", lambda season, on: plan)
    began = time.monotonic()
    command.run(
        season=tmp_path,
        minutes=0.01,
        host="127.0.0.1",
        port=0,
        on=date(2027, 3, 1),
        now=now,
    )
    assert 0.5 < time.monotonic() - began < 10
    said = capsys.readouterr().out
    for words in ("http://127.0.0.1:", "Anybody", "not encrypted", "stops by itself", "stopped"):
        assert words in said


@pytest.mark.parametrize("minutes", [0, -1, 241, float("nan")])
def test_no_time_or_too_much_is_wrong_usage(minutes: float, tmp_path: Path, now: Any) -> None:
    with pytest.raises(Failure, match="minutes") as caught:
        command.run(
            season=tmp_path, minutes=minutes, host=None, port=0, on=date(2027, 3, 1), now=now
        )
    assert caught.value.status == 2


def test_the_code_is_read_back_by_another_program(outside: Any) -> None:
    """Decoded by ZXing, an independent reader of QR codes (ISO/IEC 18004)."""
    zxing, numpy = outside.module("zxingcpp"), outside.module("numpy")
    address = "http://192.168.1.20:51234/" + "A1b2_-" * 4 + "/koi.ics"
    halves = {"█": (255, 255), "▀": (255, 0), "▄": (0, 255), " ": (0, 0)}
    lines = qr_lines(address)
    rows = [[halves[block][half] for block in line] for line in lines for half in (0, 1)]
    picture = numpy.kron(numpy.array(rows, numpy.uint8), numpy.ones((6, 6), numpy.uint8))
    found = zxing.read_barcodes(picture)
    assert [code.text for code in found] == [address]
