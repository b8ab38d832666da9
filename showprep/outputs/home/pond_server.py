"""The page beside the pond, served at home: one page, its jobs, and what is tapped on it.

Requests are read and answers sent by waitress, which takes in a whole request before a thread sees
it, bounds heads and bodies, and shuts connections that fall silent. What may be asked at all is
decided here, in an application by the standard of PEP 3333.
"""

from __future__ import annotations

import base64
import copy
import hmac
import json
import logging
import re
import socket
import threading
import time
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import contextmanager
from datetime import date
from functools import cache
from importlib.resources import files
from typing import Any, Protocol

from msgspec import Struct

from showprep.outputs.failure import Failure
from showprep.outputs.home.pond_photos import LARGEST_SENT
from showprep.outputs.home.share import LONGEST_SECONDS, SLOWEST_SECONDS, at_home
from showprep.outputs.page.colours import DARK, LIGHT, custom_properties

LARGEST_BODY = 16_384  # bytes; a tap is a few hundred
LARGEST_WITH_PHOTO = LARGEST_BODY + LARGEST_SENT * 4 // 3  # bytes; base64 grows by a third
LARGEST_HEAD = 16_384
MOST_FISH = 200
LONGEST_VALUE = 500  # characters
THREADS = 4
MOST_CONNECTIONS = 60
MISSING = (
    "The page beside the pond needs the package waitress, which is not installed: pip install "
    "'showprep[pondside]'."
)
# What a page may say of an entry; the rest of the journal's keys are written at the computer.
KEYS = frozenset(
    {
        *("on", "did", "saw", "show", "water", "to", "job", "result", "remarks", "note", "where"),
        *("defect", "measured_cm", "measured_in", "read_c", "read_f"),
        *("minutes_to_balance_lost", "minutes_to_recovery", "bath_mg_per_l"),
    }
)
SCRIPTS = ("pond.js", "photos.js", "clocks.js")
OF_A_BATH = frozenset({"job", "litres", "strength", "target"})
OF_A_TAP = frozenset({"tap", "on", "given", "fish", "undo"})
_TAP = re.compile(r"[A-Za-z0-9_-]{16,64}")
_PHOTO = re.compile(r"of=([0-9a-f]{16})")
_ID = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")
_CONTROLS = re.compile(r"[\x00-\x1f\x7f-\x9f\u2028\u2029\ud800-\udfff]")
_HEADERS = (
    (
        "Content-Security-Policy",
        "default-src 'none'; script-src 'self'; style-src 'self'; connect-src 'self'; "
        "img-src 'self' blob: data:; base-uri 'none'; form-action 'none'; frame-ancestors 'none'",
    ),
    ("X-Content-Type-Options", "nosniff"),
    ("X-Frame-Options", "DENY"),
    ("Referrer-Policy", "no-referrer"),
    ("Cross-Origin-Resource-Policy", "same-origin"),
    ("Cross-Origin-Opener-Policy", "same-origin"),
    ("Cache-Control", "no-store"),
)
_STATUS = {
    200: "200 OK",
    400: "400 Bad Request",
    403: "403 Forbidden",
    404: "404 Not Found",
    405: "405 Method Not Allowed",
    411: "411 Length Required",
    413: "413 Content Too Large",
    415: "415 Unsupported Media Type",
    500: "500 Internal Server Error",
}


class Tap(Struct, frozen=True):
    """One thing that was tapped: `id` is drawn by the phone, so that a tap sent twice counts once.

    `given` are the values of a journal entry as text, by the names of the note command's options.
    `photo` are bytes that may be one, of the fish that was looked at; empty without.
    """

    id: str
    on: date
    given: Mapping[str, str]
    fish: tuple[str, ...]
    undo: bool = False
    photo: bytes = b""


class PondKeeper(Protocol):
    """Who knows the season behind the page."""

    def state(self, seen: int) -> bytes:
        """What the page shows, as JSON; short where it is what was `seen` last."""

    def take(self, tap: Tap) -> Mapping[str, object]:
        """Write it down, and say so; or say in words why not."""

    def photo(self, key: str) -> bytes | None:
        """A JPEG of the season's photo that goes by this key; None where there is none."""

    def confirm(self, read: Mapping[str, str]) -> Mapping[str, object]:
        """The dose of a session, if a second person read the same off jug and label."""


class _Refused(Exception):
    def __init__(self, status: int) -> None:
        self.status = status


def read_tap(body: bytes, *, with_photo: bool = False) -> Tap:
    """A tap from its JSON, `with_photo` a look at one fish. Raises ValueError for anything else."""
    try:
        found = json.loads(body.decode("utf-8"))
        if not isinstance(found, dict):
            raise ValueError("no tap")
        photo = _read_photo(found.pop("photo")) if with_photo else b""
        if not found.keys() <= OF_A_TAP:
            raise ValueError("no tap")
        name, given, fish = found["tap"], found["given"], found["fish"]
        undo, on = found.get("undo", False), date.fromisoformat(found["on"])
    except (KeyError, TypeError, RecursionError) as error:
        raise ValueError("no tap") from error
    right = (
        isinstance(name, str)
        and _TAP.fullmatch(name)
        and isinstance(undo, bool)
        and isinstance(given, dict)
        and given.keys() <= KEYS
        and isinstance(fish, list)
        and len(fish) <= MOST_FISH
        and all(_is_text(one) for one in (*given.values(), *fish))
    )
    if "on" in given and (not right or date.fromisoformat(given["on"]) > on):
        raise ValueError("no tap")  # what is told late was done before
    of_a_look = not undo and "saw" in given and len(fish) == 1 and bool(_ID.fullmatch(fish[0]))
    if not right or (with_photo and not of_a_look):
        raise ValueError("no tap")
    return Tap(name, on, given, tuple(fish), undo, photo)


def _read_photo(text: object) -> bytes:
    if not isinstance(text, str):
        raise ValueError("no photo")
    found = base64.b64decode(text, validate=True)
    if not 0 < len(found) <= LARGEST_SENT:
        raise ValueError("no photo")
    return found


def read_bath(body: bytes) -> Mapping[str, str]:
    """What a second person read off jug and label. Raises ValueError for anything else."""
    try:
        found = json.loads(body.decode("utf-8"))
    except RecursionError as error:
        raise ValueError("no bath") from error
    if not isinstance(found, dict) or found.keys() != OF_A_BATH:
        raise ValueError("no bath")
    if not all(_is_text(one) for one in found.values()):
        raise ValueError("no bath")
    return found


def _is_text(value: object) -> bool:
    return isinstance(value, str) and len(value) <= LONGEST_VALUE and not _CONTROLS.search(value)


@cache
def parts() -> Mapping[str, tuple[str, bytes]]:
    """The files of the page by their names in the address: what they are, and their bytes."""
    folder = files("showprep.outputs.home") / "pond"
    names = ("pond.html", "pond.css", *SCRIPTS)
    own = {name: (folder / name).read_text("utf-8") for name in names}
    dark = f"@media (prefers-color-scheme:dark){{:root{{{custom_properties(DARK)}}}}}\n"
    colours = f":root{{{custom_properties(LIGHT)}}}\n{dark}"
    return {
        "": ("text/html; charset=utf-8", own["pond.html"].encode()),
        "pond.css": ("text/css; charset=utf-8", (colours + own["pond.css"]).encode()),
        **{name: ("text/javascript; charset=utf-8", own[name].encode()) for name in SCRIPTS},
    }


Start = Callable[[str, list[tuple[str, str]]], object]


class PondApplication:
    """Answers what a phone may ask; everything else gets an empty refusal.

    `place` is the host and port as they stand in the address: a request that names another came by
    a name somebody else made up for this computer. A tap must come from the page itself.
    """

    def __init__(self, keeper: PondKeeper, token: str, place: str, *, beyond_home: bool) -> None:
        self.keeper, self.token, self.place = keeper, token, place
        self.beyond_home = beyond_home

    def __call__(self, environ: Mapping[str, Any], start_response: Start) -> Iterable[bytes]:
        kind, body, status = "text/plain; charset=utf-8", b"", 200
        try:
            kind, body = self._answer(environ)
        except _Refused as refused:
            status = refused.status
        except Exception:  # the phone keeps the tap; no trace of the program reaches anybody
            status = 500
        length = ("Content-Length", str(len(body)))
        start_response(_STATUS[status], [("Content-Type", kind), length, *_HEADERS])
        return [] if environ["REQUEST_METHOD"] == "HEAD" else [body]

    def _answer(self, environ: Mapping[str, Any]) -> tuple[str, bytes]:
        if not self.beyond_home and not at_home(str(environ.get("REMOTE_ADDR", ""))):
            raise _Refused(403)
        if str(environ.get("HTTP_HOST", "")).casefold() != self.place.casefold():
            raise _Refused(403)
        way = re.fullmatch(r"/([^/]*)/([^/]*)", str(environ.get("PATH_INFO", "")))
        token = way[1] if way is not None else ""
        if not hmac.compare_digest(token.encode("utf-8", "replace"), self.token.encode()):
            raise _Refused(404)
        assert way is not None
        name = way[2]
        # Another site's page may lead here, as a link does, but not fetch or frame anything.
        near = environ.get("HTTP_SEC_FETCH_SITE", "none") in ("none", "same-origin")
        if not near and (name or environ.get("HTTP_SEC_FETCH_MODE") != "navigate"):
            raise _Refused(403)
        method = environ["REQUEST_METHOD"]
        if name in ("tap", "bath") or (name == "photo" and method == "POST"):
            if method != "POST":
                raise _Refused(405)
            return "application/json", self._told(name, self._posted(name, environ))
        if name not in (*parts(), "state", "photo"):
            raise _Refused(404)
        if method not in ("GET", "HEAD"):
            raise _Refused(405)
        if name == "state":
            seen = re.fullmatch(r"seen=([0-9]{1,9})", str(environ.get("QUERY_STRING", "")))
            return "application/json", self.keeper.state(int(seen[1]) if seen else 0)
        if name == "photo":
            of = _PHOTO.fullmatch(str(environ.get("QUERY_STRING", "")))
            photo = self.keeper.photo(of[1]) if of is not None else None
            if photo is None:
                raise _Refused(404)
            return "image/jpeg", photo
        return parts()[name]

    def _posted(self, name: str, environ: Mapping[str, Any]) -> bytes:
        """A form of another site can send no JSON, and a script of one cannot hide its origin."""
        if environ.get("HTTP_ORIGIN") != f"http://{self.place}":
            raise _Refused(403)
        kind = str(environ.get("CONTENT_TYPE", "")).partition(";")[0].strip().casefold()
        if kind != "application/json":
            raise _Refused(415)
        length = str(environ.get("CONTENT_LENGTH", ""))
        if not re.fullmatch(r"[0-9]{1,9}", length):
            raise _Refused(411)
        if int(length) > (LARGEST_WITH_PHOTO if name == "photo" else LARGEST_BODY):
            raise _Refused(413)
        return bytes(environ["wsgi.input"].read(int(length)))

    def _told(self, name: str, body: bytes) -> bytes:
        try:
            found: Tap | Mapping[str, str]
            if name == "bath":
                found = read_bath(body)
            else:
                found = read_tap(body, with_photo=name == "photo")
        except ValueError:
            raise _Refused(400) from None
        keeper = self.keeper
        told = keeper.take(found) if isinstance(found, Tap) else keeper.confirm(found)
        return json.dumps(told, ensure_ascii=False).encode()


@contextmanager
def serving(
    keeper: PondKeeper,
    token: str,
    host: str,
    port: int,
    *,
    wanted: int = 0,
    beyond_home: bool = False,
) -> Iterator[str]:
    """Serve the page at `host` until the block is left; gives its whole address.

    With port 0 `wanted` is tried, then any free one. Raises Failure when nothing can listen there,
    or waitress is not installed.
    """
    try:
        from waitress import create_server
    except ImportError:
        raise Failure(MISSING) from None
    door = _door(host, port, wanted)
    shown = f"[{host}]" if ":" in host else host
    place = f"{shown}:{door.getsockname()[1]}"
    logging.getLogger("waitress").addHandler(logging.NullHandler())
    logging.getLogger("waitress").propagate = False
    connections: dict[int, Any] = {}
    server = create_server(
        PondApplication(keeper, token, place, beyond_home=beyond_home),
        map=connections,
        sockets=[door],
        threads=THREADS,
        ident="showprep",
        connection_limit=MOST_CONNECTIONS,
        max_request_body_size=LARGEST_WITH_PHOTO + 1,
        max_request_header_size=LARGEST_HEAD,
        channel_timeout=int(SLOWEST_SECONDS),
        cleanup_interval=2,
        expose_tracebacks=False,
        clear_untrusted_proxy_headers=True,
    )
    server.channel_class = _impatient(server.channel_class, f"/{token}/photo")
    over = threading.Event()

    def serve() -> None:
        while not over.is_set():
            server.asyncore.loop(timeout=0.2, map=connections, use_poll=False, count=1)
        server.task_dispatcher.shutdown()
        server.asyncore.close_all(map=connections, ignore_all=True)

    thread = threading.Thread(target=serve, daemon=True)
    thread.start()
    try:
        yield f"http://{place}/{token}/"
    finally:
        over.set()
        thread.join(timeout=10)
        door.close()


def _door(host: str, port: int, wanted: int) -> socket.socket:
    """A socket bound there: at the port asked for, else at the one wanted, else at any."""
    family = socket.AF_INET6 if ":" in host else socket.AF_INET
    tries = (port,) if port or not wanted else (wanted, 0)
    for one in tries:
        door = socket.socket(family, socket.SOCK_STREAM)
        try:
            door.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
            door.bind((host, one))
            return door
        except (OSError, OverflowError, TypeError, UnicodeError) as error:
            door.close()
            if one != tries[-1]:
                continue
            none = "port" if isinstance(error, OverflowError) else "address"
            reason = getattr(error, "strerror", None) or f"there is no such {none}"
            raise Failure(f"Nothing can listen at {host}, port {port}: {reason}.") from error
    raise AssertionError


def _impatient(channel: Any, of_photos: str) -> Any:
    """A connection that is shut when one request takes too long in all, however it drips; and that
    takes in a large body at the address of photos alone."""

    class SmallRequest(channel.parser_class):  # type: ignore[misc]
        adj: Any

        def parse_header(self, header: bytes) -> None:
            super().parse_header(header)
            if self.path != of_photos:
                self.adj = copy.copy(self.adj)
                self.adj.max_request_body_size = LARGEST_BODY + 1

    class ImpatientChannel(channel):  # type: ignore[misc]
        parser_class = SmallRequest
        began: float | None = None

        def received(self, data: bytes) -> bool:
            taken = bool(super().received(data))
            if self.request is None:
                self.began = None
            elif self.began is None:
                self.began = time.monotonic()
            elif time.monotonic() - self.began > LONGEST_SECONDS:
                self.will_close = True
            return taken

    return ImpatientChannel
