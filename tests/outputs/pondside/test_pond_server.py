"""What the page beside the pond answers, and to whom: its application, then over real sockets."""

from __future__ import annotations

import base64
import contextlib
import http.client
import io
import json
import socket
import time
from collections.abc import Iterator, Mapping
from typing import Any
from urllib.parse import urlsplit

import pytest

from showprep.outputs.failure import Failure
from showprep.outputs.home import pond_server
from showprep.outputs.home.pond_photos import LARGEST_SENT
from showprep.outputs.home.pond_server import PondApplication, Tap, read_tap, serving

TOKEN = "A" * 22
KEY = "0123456789abcdef"
PHOTO = b"bytes that may be a photo"
PLACE = "192.168.1.7:8000"
TAP: dict[str, Any] = {
    "tap": "0123456789abcdef",
    "on": "2027-05-10",
    "given": {"saw": "clean"},
    "fish": ["aoi"],
}


class Keeper:
    """Takes every tap, and remembers it."""

    def __init__(self) -> None:
        self.taps: list[Tap] = []

    def state(self, seen: int) -> bytes:
        return json.dumps({"number": 7, "same": seen == 7}).encode()

    def take(self, tap: Tap) -> Mapping[str, object]:
        if tap.given.get("note") == "burst":
            raise RuntimeError("a fault of the program")
        self.taps.append(tap)
        return {"ok": True, "told": "Noted"}

    def photo(self, key: str) -> bytes | None:
        return b"a picture" if key == KEY else None


def as_text(data: bytes) -> str:
    return base64.b64encode(data).decode()


class Asked:
    """Asks the application as PEP 3333 has it, without a socket."""

    def __init__(self, *, beyond_home: bool = False) -> None:
        self.keeper = Keeper()
        self.app = PondApplication(self.keeper, TOKEN, PLACE, beyond_home=beyond_home)

    def __call__(
        self, path: str = f"/{TOKEN}/", method: str = "GET", body: bytes = b"", **more: str
    ) -> tuple[int, dict[str, str], bytes]:
        environ = {
            "REQUEST_METHOD": method,
            "PATH_INFO": path,
            "REMOTE_ADDR": "192.168.1.30",
            "HTTP_HOST": PLACE,
            "CONTENT_LENGTH": str(len(body)),
            "wsgi.input": io.BytesIO(body),
            **more,
        }
        found: list[Any] = []
        answer = b"".join(self.app(environ, lambda status, head: found.extend((status, head))))
        return int(found[0].split()[0]), dict(found[1]), answer

    def photo(self, more: Mapping[str, Any], photo: object = None) -> tuple[int, bytes]:
        sent = {"CONTENT_TYPE": "application/json", "HTTP_ORIGIN": f"http://{PLACE}"}
        body = {**TAP, "photo": as_text(PHOTO) if photo is None else photo, **more}
        status, _, told = self(f"/{TOKEN}/photo", "POST", json.dumps(body).encode(), **sent)
        return status, told

    def tap(self, tap: object = TAP, **more: str) -> tuple[int, dict[str, str], bytes]:
        sent = {"CONTENT_TYPE": "application/json", "HTTP_ORIGIN": f"http://{PLACE}", **more}
        body = tap if isinstance(tap, bytes) else json.dumps(tap).encode()
        return self(f"/{TOKEN}/tap", "POST", body, **sent)


@pytest.fixture
def ask() -> Asked:
    return Asked()


def test_the_page_and_its_parts_are_served_under_the_path(ask: Asked) -> None:
    for name, kind in (("", "text/html"), ("pond.css", "text/css"), ("pond.js", "text/javascript")):
        status, headers, body = ask(f"/{TOKEN}/{name}")
        assert status == 200
        assert headers["Content-Type"].startswith(kind)
        assert body
    status, _, body = ask(f"/{TOKEN}/state", QUERY_STRING="seen=7")
    assert (status, json.loads(body)) == (200, {"number": 7, "same": True})


def test_every_answer_forbids_what_is_from_elsewhere(ask: Asked) -> None:
    for path in (f"/{TOKEN}/", f"/{TOKEN}/state", "/nowhere"):
        headers = ask(path)[1]
        policy = headers["Content-Security-Policy"]
        assert policy.startswith("default-src 'none'")
        assert "unsafe" not in policy
        assert headers["Cache-Control"] == "no-store"
        assert headers["X-Content-Type-Options"] == "nosniff"
        assert "Access-Control-Allow-Origin" not in headers


@pytest.mark.parametrize(
    "path",
    [
        "",
        "/",
        "/favicon.ico",
        f"/{TOKEN}",
        f"/{TOKEN}/../",
        f"/{TOKEN}/keeper.yaml",
        f"/{TOKEN}/pond.html",
        f"/{TOKEN}/../../etc/passwd",
        f"/{TOKEN}/..%2f..%2fetc/passwd",
        f"/{TOKEN}/pond.js/",
        f"//{TOKEN}/",
        f"/{TOKEN[:-1]}/",
        f"/{TOKEN}\x00/",
        "/\xff\xfe/",
        f"/{TOKEN.lower()}/",
    ],
)
def test_nothing_else_is_there(ask: Asked, path: str) -> None:
    status, _, body = ask(path)
    assert (status, body) == (404, b"")


def test_a_tap_comes_through_whole(ask: Asked) -> None:
    status, _, body = ask.tap()
    assert (status, json.loads(body)["ok"]) == (200, True)
    (tap,) = ask.keeper.taps
    assert (tap.id, tap.on.isoformat(), tap.fish) == ("0123456789abcdef", "2027-05-10", ("aoi",))
    assert tap.given == {"saw": "clean"}


@pytest.mark.parametrize(
    ("more", "status"),
    [
        ({"HTTP_ORIGIN": "http://elsewhere.example"}, 403),
        ({"HTTP_ORIGIN": "null"}, 403),
        ({"HTTP_ORIGIN": f"https://{PLACE}"}, 403),
        ({"HTTP_ORIGIN": f"http://{PLACE}.elsewhere.example"}, 403),
        ({"HTTP_ORIGIN": ""}, 403),
        ({"HTTP_HOST": "pond.elsewhere.example:8000"}, 403),  # a name made to point here
        ({"HTTP_HOST": ""}, 403),
        ({"HTTP_SEC_FETCH_SITE": "cross-site"}, 403),
        ({"HTTP_SEC_FETCH_SITE": "same-site", "HTTP_SEC_FETCH_MODE": "navigate"}, 403),
        ({"REMOTE_ADDR": "9.9.9.9"}, 403),
        ({"CONTENT_TYPE": "text/plain"}, 415),  # what a form can send
        ({"CONTENT_TYPE": "application/x-www-form-urlencoded"}, 415),
        ({"CONTENT_LENGTH": ""}, 411),
        ({"CONTENT_LENGTH": "-1"}, 411),
        ({"CONTENT_LENGTH": "99999999"}, 413),
    ],
)
def test_a_tap_from_elsewhere_is_refused(ask: Asked, more: dict[str, str], status: int) -> None:
    assert ask.tap(**more)[0] == status
    assert ask.keeper.taps == []


def test_a_link_from_elsewhere_opens_the_page_but_fetches_nothing(ask: Asked) -> None:
    link = {"HTTP_SEC_FETCH_SITE": "cross-site", "HTTP_SEC_FETCH_MODE": "navigate"}
    assert ask(**link)[0] == 200
    assert ask(f"/{TOKEN}/state", **link)[0] == 403
    assert ask(HTTP_SEC_FETCH_SITE="cross-site", HTTP_SEC_FETCH_MODE="no-cors")[0] == 403


@pytest.mark.parametrize("method", ["PUT", "DELETE", "POST", "OPTIONS", "PATCH", "TRACE"])
def test_the_page_is_only_read(ask: Asked, method: str) -> None:
    assert ask(method=method)[0] == 405
    assert ask(f"/{TOKEN}/tap", "GET" if method == "POST" else method)[0] == 405


@pytest.mark.parametrize(
    "body",
    [
        b"",
        b"\xff",
        b"[" * 8000,
        b"null",
        b"{}",
        {**TAP, "tap": "short"},
        {**TAP, "tap": "../../../../etc/passwd"},
        {**TAP, "on": "tomorrow"},
        {**TAP, "on": 5},
        {**TAP, "given": ["saw"]},
        {**TAP, "given": {"saw": 1}},
        {**TAP, "given": {"photo": "../secret.jpg"}},
        {**TAP, "given": {"undone": "2027-05-10"}},
        {**TAP, "given": {"note": "a\nb"}},
        {**TAP, "given": {"note": "\x1b[2J"}},
        {**TAP, "given": {"note": "x" * 501}},
        {**TAP, "fish": "aoi"},
        {**TAP, "fish": ["aoi"] * 201},
        {**TAP, "undo": "yes"},
        {**TAP, "more": 1},
        {**TAP, "photo": "AAAA"},
    ],
)
def test_what_is_no_tap_is_refused(ask: Asked, body: object) -> None:
    assert ask.tap(body)[0] == 400
    assert ask.keeper.taps == []


def test_a_fault_of_the_program_tells_nothing_of_itself(ask: Asked) -> None:
    status, _, body = ask.tap({**TAP, "given": {"note": "burst"}})
    assert (status, body) == (500, b"")


def test_a_tap_is_read_back_as_it_was() -> None:
    assert read_tap(json.dumps({**TAP, "undo": True}).encode()).undo


def test_a_look_comes_with_its_photo(ask: Asked) -> None:
    status, told = ask.photo({})
    assert (status, json.loads(told)["ok"]) == (200, True)
    (tap,) = ask.keeper.taps
    assert (tap.photo, tap.fish, tap.given) == (PHOTO, ("aoi",), {"saw": "clean"})


@pytest.mark.parametrize(
    ("more", "photo"),
    [
        ({}, ""),
        ({}, "not base64!"),
        ({}, "AAA"),
        ({}, 5),
        ({}, as_text(b"x" * (LARGEST_SENT + 1))),
        ({"fish": []}, None),
        ({"fish": ["aoi", "ren"]}, None),
        ({"fish": ["../aoi"]}, None),
        ({"fish": ["a/../../b"]}, None),
        ({"fish": ["Aoi"]}, None),
        ({"given": {"note": "no look"}}, None),
        ({"given": {"saw": "clean", "photo": "keeper.yaml"}}, None),
        ({"undo": True}, None),
    ],
)
def test_a_photo_of_anything_but_one_look_is_refused(
    ask: Asked, more: dict[str, Any], photo: object
) -> None:
    assert ask.photo(more, photo) == (400, b"")
    assert ask.keeper.taps == []


def test_a_tap_without_its_photo_is_no_photo(ask: Asked) -> None:
    sent = {"CONTENT_TYPE": "application/json", "HTTP_ORIGIN": f"http://{PLACE}"}
    assert ask(f"/{TOKEN}/photo", "POST", json.dumps(TAP).encode(), **sent)[0] == 400
    assert ask(f"/{TOKEN}/photo", "POST", json.dumps(TAP).encode())[0] == 403


def test_a_photo_is_handed_out_by_its_key_alone(ask: Asked) -> None:
    status, headers, body = ask(f"/{TOKEN}/photo", QUERY_STRING=f"of={KEY}")
    assert (status, headers["Content-Type"], body) == (200, "image/jpeg", b"a picture")
    assert headers["Cross-Origin-Resource-Policy"] == "same-origin"
    for query in ("", "of=", f"of={KEY}&of={KEY}", "of=../keeper.yaml", f"of={KEY.upper()}"):
        assert ask(f"/{TOKEN}/photo", QUERY_STRING=query)[0] == 404
    other = {"QUERY_STRING": f"of={KEY}", "HTTP_SEC_FETCH_SITE": "cross-site"}
    for mode in ("no-cors", "navigate"):
        assert ask(f"/{TOKEN}/photo", HTTP_SEC_FETCH_MODE=mode, **other)[0] == 403
    for method in ("PUT", "DELETE", "OPTIONS"):
        assert ask(f"/{TOKEN}/photo", method, QUERY_STRING=f"of={KEY}")[0] == 405


class Phone:
    """A client over a real socket."""

    def __init__(self, address: str) -> None:
        parts = urlsplit(address)
        assert parts.hostname is not None
        assert parts.port is not None
        self.at, self.path = (parts.hostname, parts.port), parts.path
        self.origin = f"http://{parts.netloc}"

    def ask(self, method: str, name: str, body: bytes = b"", **headers: str) -> tuple[int, bytes]:
        connection = http.client.HTTPConnection(*self.at, timeout=5)
        sent = {key.replace("_", "-"): value for key, value in headers.items()}
        connection.request(method, self.path + name, body, sent)
        answer = connection.getresponse()
        found = answer.read()
        assert answer.getheader("Server") == "showprep"
        connection.close()
        return answer.status, found

    def head(self, name: str) -> bytes:
        """How a request begins that sends something."""
        return f"POST {self.path}{name} HTTP/1.1\r\nHost: {self.at[0]}:{self.at[1]}\r\n".encode()

    def raw(self, data: bytes) -> bytes:
        with socket.create_connection(self.at, timeout=5) as line:
            line.sendall(data)
            found = b""
            with contextlib.suppress(OSError):
                while more := line.recv(4096):
                    found += more
        return found


@pytest.fixture
def phone(outside: Any) -> Iterator[tuple[Phone, Keeper]]:
    outside.module("waitress")
    keeper = Keeper()
    with serving(keeper, TOKEN, "127.0.0.1", 0) as address:
        yield Phone(address), keeper


def test_over_a_socket_a_tap_is_taken(phone: tuple[Phone, Keeper]) -> None:
    one, keeper = phone
    assert one.ask("GET", "")[0] == 200
    body = json.dumps(TAP).encode()
    headers = {"Content_Type": "application/json", "Origin": one.origin}
    assert one.ask("POST", "tap", body, **headers)[0] == 200
    assert len(keeper.taps) == 1


def test_rubbish_and_huge_bodies_stop_nobody(phone: tuple[Phone, Keeper]) -> None:
    one, keeper = phone
    headers = {"Content_Type": "application/json", "Origin": one.origin}
    assert one.ask("POST", "tap", b"x" * 100_000, **headers)[0] == 413
    assert one.raw(b"\x00\x01\x02\r\n\r\n").startswith(b"HTTP/1.0 400")
    assert b" 431 " in one.raw(b"GET / HTTP/1.1\r\nX: " + b"a" * 40_000 + b"\r\n\r\n")
    chunked = one.head("tap") + b"Transfer-Encoding: chunked\r\nConnection: close\r\n\r\n"
    assert b" 413 " in one.raw(chunked + (b"4000\r\n" + b"x" * 0x4000 + b"\r\n") * 4)
    assert keeper.taps == []
    assert one.ask("GET", "")[0] == 200


def test_a_large_body_is_taken_at_the_address_of_photos_alone(phone: tuple[Phone, Keeper]) -> None:
    one, keeper = phone
    headers = {"Content_Type": "application/json", "Origin": one.origin}
    body = json.dumps({**TAP, "photo": as_text(b"x" * LARGEST_SENT)}).encode()
    assert one.ask("POST", "photo", body, **headers)[0] == 200
    assert len(keeper.taps) == 1
    # What is larger is refused by its head, before it is sent.
    for name, size in (
        ("photo", len(body) + 50_000),
        ("tap", 20_000),
        ("bath", 20_000),
        ("", 20_000),
    ):
        assert b" 413 " in one.raw(one.head(name) + f"Content-Length: {size}\r\n\r\n".encode())
    for path in ("/" + "B" * 22 + "/photo", one.path + "../photo", one.path + "photo/"):
        asked = f"POST {path} HTTP/1.1\r\nHost: x\r\nContent-Length: 20000\r\n\r\n"
        assert b" 413 " in one.raw(asked.encode())
    chunks = (b"4000\r\n" + b"x" * 0x4000 + b"\r\n") * 300
    for name in ("photo", "tap"):
        chunked = one.head(name) + b"Transfer-Encoding: chunked\r\nConnection: close\r\n\r\n"
        with contextlib.suppress(OSError):  # it hangs up while this still sends
            assert b" 413 " in one.raw(chunked + chunks)
    assert len(keeper.taps) == 1
    assert one.ask("GET", "")[0] == 200


def test_who_drips_is_cut_off_and_delays_nobody(
    outside: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    outside.module("waitress")
    monkeypatch.setattr(pond_server, "LONGEST_SECONDS", 0.3)
    with serving(Keeper(), TOKEN, "127.0.0.1", 0) as address:
        one = Phone(address)
        slow = [socket.create_connection(one.at, timeout=5) for _ in range(12)]
        for line in slow:
            line.sendall(b"GET / HTTP/1.1\r\n")
        assert one.ask("GET", "")[0] == 200
        cut = 0
        for _ in range(40):
            time.sleep(0.05)
            cut = 0
            for line in slow:
                try:
                    line.sendall(b"X")
                except OSError:
                    cut += 1
            if cut == len(slow):
                break
        assert cut == len(slow)
        for line in slow:
            line.close()


def test_nothing_listens_afterwards_and_the_port_is_taken_again(outside: Any) -> None:
    outside.module("waitress")
    with serving(Keeper(), TOKEN, "127.0.0.1", 0) as address:
        at = Phone(address).at
        with pytest.raises(Failure, match="Nothing can listen"), serving(Keeper(), TOKEN, *at):
            pass
        with serving(Keeper(), TOKEN, at[0], 0, wanted=at[1]) as other:
            assert Phone(other).at[1] != at[1]
    with pytest.raises(OSError):
        socket.create_connection(at, timeout=1)
    with serving(Keeper(), TOKEN, at[0], 0, wanted=at[1]) as again:
        assert Phone(again).at == at


def test_without_the_package_it_says_what_to_install(monkeypatch: pytest.MonkeyPatch) -> None:
    import sys

    monkeypatch.setitem(sys.modules, "waitress", None)
    missing = pytest.raises(Failure, match=r"showprep\[pondside\]")
    with missing, serving(Keeper(), TOKEN, "127.0.0.1", 0):
        pass
