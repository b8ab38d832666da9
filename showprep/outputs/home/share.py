"""One calendar file handed out on the local network for a while, to read and nothing else."""

from __future__ import annotations

import hashlib
import hmac
import ipaddress
import re
import secrets
import socket
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from datetime import UTC, datetime
from email.utils import format_datetime, parsedate_to_datetime
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from socketserver import TCPServer
from typing import Any

from msgspec import Struct

from showprep.outputs.failure import Failure

FILE = "koi.ics"
SLOWEST_SECONDS = 10.0  # of silence: a phone that takes longer to ask is left waiting
LONGEST_SECONDS = 60.0  # for one client in all, however steadily it drips
MOST_CONNECTIONS = 20  # at one time; a phone takes one or two
# What a home is made of, named one by one: `is_private` of the standard library also holds for
# networks kept for documentation, tests and special uses, which are nobody's home. Left out with
# intent: 100.64.0.0/10 (RFC 6598), which a provider shares out among its customers, and the
# site-local fec0::/10, given up by RFC 3879.
AT_HOME = tuple(
    ipaddress.ip_network(one)
    for one in (
        *("10.0.0.0/8", "172.16.0.0/12", "192.168.0.0/16"),  # private: RFC 1918
        *("169.254.0.0/16", "127.0.0.0/8"),  # of the link: RFC 3927; this computer: RFC 1122
        *("fc00::/7", "fe80::/10", "::1/128"),  # RFC 4193; RFC 4291 §2.5.6 and §2.5.3
    )
)
_STAMP = re.compile(rb"\nLAST-MODIFIED:(\d{8}T\d{6})Z\r")


class Shared(Struct, frozen=True):
    """What is handed out: the bytes, the path that nobody can guess, the tags of this edition."""

    data: bytes
    path: str
    etag: str
    modified: datetime


def shared(data: bytes, token: str | None = None) -> Shared:
    """`token` is drawn at random (128 bits) when not given."""
    stamps = [found.decode("ascii") for found in _STAMP.findall(data)]
    newest = max(stamps, default="20200101T000000")
    return Shared(
        data=data,
        path=f"/{token or secrets.token_urlsafe(16)}/{FILE}",
        etag=f'"{hashlib.sha256(data).hexdigest()[:32]}"',
        modified=datetime.strptime(newest, "%Y%m%dT%H%M%S").replace(tzinfo=UTC),
    )


def own_address() -> str:
    """This computer's address on the local network. Raises Failure when it is on none.

    Nothing is sent: a datagram socket only looks up which way it would send.
    """
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as way_out:
        try:
            way_out.connect(("192.0.2.1", 9))  # an address kept for documentation: RFC 5737
            return str(way_out.getsockname()[0])
        except OSError as error:
            raise Failure(
                "This computer is on no network. Connect it, or give its address with --host."
            ) from error


def at_home(address: str) -> bool:
    """Is it this computer, of a home network, or of the link alone, as `AT_HOME` names them?"""
    try:
        found = ipaddress.ip_address(address.partition("%")[0])
    except ValueError:
        return False
    mapped = getattr(found, "ipv4_mapped", None)
    found = mapped if mapped is not None else found
    return any(found in network for network in AT_HOME)


def refuse_beyond_home(host: str) -> None:
    """Raise Failure (wrong usage) unless every address that `host` stands for is at home."""
    try:
        found = {str(one[4][0]) for one in socket.getaddrinfo(host, None)}
    except (OSError, UnicodeError):
        return  # nothing can listen there, which is told when it is tried
    for address in sorted(found):
        if not at_home(address):
            raise Failure(
                f"{host} is no address of a home network: all the world could ask there. Give this"
                " computer's address at home, or say --beyond-home.",
                2,
            )


@contextmanager
def sharing(
    what: Shared, host: str, port: int, said: Callable[[str], None], *, beyond_home: bool = False
) -> Iterator[tuple[str, threading.Event]]:
    """Hand the file out at `host` (port 0: any free one) until the block is left.

    Gives the full address, and an event that nothing here sets: wait on it to pass the time.
    `said` is told of each pick-up. Only clients of a home network are answered unless
    `beyond_home`. Raises Failure when nothing can listen at that address.
    """
    if not beyond_home:
        refuse_beyond_home(host)
    try:
        server = (_Server6 if ":" in host else _Server)(what, host, port, said)
        server.beyond_home = beyond_home
    except (OSError, OverflowError, TypeError, UnicodeError) as error:
        none = "port" if isinstance(error, OverflowError) else "address"
        reason = getattr(error, "strerror", None) or f"there is no such {none}"
        raise Failure(f"Nothing can listen at {host}, port {port}: {reason}.") from error
    shown = f"[{host}]" if ":" in host else host
    thread = threading.Thread(target=server.serve_forever, args=(0.1,), daemon=True)
    thread.start()
    try:
        yield f"http://{shown}:{server.server_address[1]}{what.path}", threading.Event()
    finally:
        server.shutdown()
        server.server_close()
        thread.join()


class _Server(ThreadingHTTPServer):
    daemon_threads = True
    block_on_close = False
    beyond_home = False

    def __init__(self, what: Shared, host: str, port: int, said: Callable[[str], None]) -> None:
        self.what, self.said = what, said
        self.places = threading.BoundedSemaphore(MOST_CONNECTIONS)
        super().__init__((host, port), _Handler)

    def server_bind(self) -> None:
        """Bind without looking up this computer's name, which can take long."""
        TCPServer.server_bind(self)
        self.server_name, self.server_port = str(self.server_address[0]), self.server_address[1]

    def verify_request(self, request: object, client_address: tuple[str, int]) -> bool:
        return self.beyond_home or at_home(client_address[0])

    def process_request(self, request: Any, client_address: Any) -> None:
        """One more client than there are places is sent away at once."""
        if not self.places.acquire(blocking=False):
            self.shutdown_request(request)
            return
        super().process_request(request, client_address)

    def process_request_thread(self, request: Any, client_address: Any) -> None:
        watch = threading.Timer(LONGEST_SECONDS, _hang_up, (request,))
        watch.daemon = True
        watch.start()
        try:
            super().process_request_thread(request, client_address)
        finally:
            watch.cancel()
            self.places.release()

    def handle_error(self, request: object, client_address: object) -> None:
        """A phone that hangs up is no news."""


def _hang_up(request: socket.socket) -> None:
    with suppress(OSError):
        request.shutdown(socket.SHUT_RDWR)


class _Server6(_Server):
    address_family = socket.AF_INET6


class _Handler(BaseHTTPRequestHandler):
    server: _Server
    timeout = SLOWEST_SECONDS
    protocol_version = "HTTP/1.0"  # one request a connection
    server_version = "showprep"
    sys_version = ""

    def do_GET(self) -> None:
        self._answer(with_body=True)

    def do_HEAD(self) -> None:
        self._answer(with_body=False)

    def _answer(self, *, with_body: bool) -> None:
        what = self.server.what
        if not hmac.compare_digest(self.path.encode("utf-8", "replace"), what.path.encode()):
            self._empty(404)
        elif self._has_it():
            self._empty(304)
        else:
            self.send_response(200)
            self.send_header("Content-Type", "text/calendar; charset=utf-8")
            self.send_header("Content-Length", str(len(what.data)))
            self._tags()
            self.end_headers()
            if with_body:
                self.wfile.write(what.data)
                self.server.said(str(self.client_address[0]))

    def _has_it(self) -> bool:
        """RFC 9110 §13.1: the etag decides where one is given, else the date."""
        tags = self.headers.get("If-None-Match")
        if tags is not None:
            wanted = [tag.strip().removeprefix("W/") for tag in tags.split(",")]
            return self.server.what.etag in wanted or "*" in wanted
        since = self.headers.get("If-Modified-Since")
        try:
            return since is not None and self.server.what.modified <= parsedate_to_datetime(since)
        except (TypeError, ValueError):
            return False

    def _empty(self, status: int) -> None:
        self.send_response(status)
        if status == 304:
            self._tags()
        else:
            self.send_header("Content-Length", "0")
        self.end_headers()

    def _tags(self) -> None:
        self.send_header("ETag", self.server.what.etag)
        self.send_header("Last-Modified", format_datetime(self.server.what.modified, usegmt=True))
        self.send_header("Cache-Control", "no-cache")
        self.send_header("X-Content-Type-Options", "nosniff")

    def send_error(self, code: int, message: str | None = None, explain: str | None = None) -> None:
        """What is neither GET nor HEAD is refused without a page."""
        self._empty(405 if code == 501 else code)

    def log_message(self, format: str, *args: object) -> None:
        """Requests are not logged: the path is the key."""
