"""Sharing on the loopback address: one file, one path, to read only, for a while."""

from __future__ import annotations

import contextlib
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
from showprep.outputs.calendar.editions import never_done
from showprep.outputs.calendar.export import write_calendar
from showprep.outputs.failure import Failure
from showprep.outputs.home import share
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


def test_no_more_clients_than_there_are_places(phone: Phone, data: bytes) -> None:
    assert phone.host is not None
    place = (phone.host, phone.port or 0)
    silent = [socket.create_connection(place) for _ in range(share.MOST_CONNECTIONS)]
    deadline = time.monotonic() + 5
    turned_away = False
    while not turned_away and time.monotonic() < deadline:
        with contextlib.suppress(OSError), socket.create_connection(place, 0.5) as one_more:
            turned_away = one_more.recv(1) == b""
    for one in silent:
        one.close()
    assert turned_away
    for _ in range(100):
        with contextlib.suppress(OSError, http.client.HTTPException):
            assert phone.ask()[2] == data
            return
        time.sleep(0.05)
    raise AssertionError("the places were not given back")


def test_a_client_that_drips_is_cut_off(data: bytes, monkeypatch: pytest.MonkeyPatch) -> None:
    """Each byte comes in time, but the whole never does."""
    monkeypatch.setattr(share, "LONGEST_SECONDS", 0.4)
    with sharing(shared(data), "127.0.0.1", 0, lambda by: None) as (address, _):
        parts = urlsplit(address)
        assert parts.hostname is not None
        with socket.create_connection((parts.hostname, parts.port or 0), 5) as slow:
            slow.sendall(b"GET / HTTP/1.1\r\nX: ")
            ended = False
            for _ in range(200):
                try:
                    slow.sendall(b"x")
                except OSError:
                    ended = True
                    break
                time.sleep(0.05)
            assert ended


@pytest.mark.parametrize(
    "address",
    [
        *("127.0.0.1", "::1", "10.0.0.2", "10.255.255.255", "172.16.0.1", "172.31.255.255"),
        *("192.168.1.7", "169.254.9.9", "fe80::1%eth0", "fd12:3456::1", "::ffff:192.168.1.7"),
    ],
)
def test_addresses_at_home(address: str) -> None:
    assert share.at_home(address)


@pytest.mark.parametrize(
    "address",
    [
        *("8.8.8.8", "2001:4860::1", "0.0.0.0", "::", "::ffff:8.8.8.8"),
        # kept for documentation: RFC 5737, RFC 3849, RFC 9637; for measuring: RFC 2544
        *("203.0.113.7", "198.51.100.7", "192.0.2.1", "2001:db8::1", "3fff::1", "198.18.0.1"),
        # between a provider and its customers: RFC 6598; given up: RFC 3879; beside RFC 1918
        *("100.64.0.1", "100.127.255.254", "fec0::1", "172.15.0.1", "172.32.0.1", "192.169.0.1"),
        *("255.255.255.255", "240.0.0.1", "224.0.0.1", "192.0.0.8", "::ffff:203.0.113.7"),
    ],
)
def test_addresses_of_all_the_world_are_refused(address: str, tmp_path: Path, now: Any) -> None:
    assert not share.at_home(address)
    with pytest.raises(Failure, match="--beyond-home") as caught:
        command.run(season=tmp_path, minutes=1, host=address, port=0, on=date(2027, 3, 1), now=now)
    assert caught.value.status == 2


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
            sharing(shared(data), host, port, lambda by: None, beyond_home=True),
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
    monkeypatch.setattr(command, "load_with_done", lambda season, on: (plan, never_done))
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
