"""One signed-in connection to a calendar server, encrypted unless the server is this machine."""

from __future__ import annotations

import base64
import contextlib
import http.client
import ipaddress
import socket
import ssl
import threading
from collections.abc import Mapping
from dataclasses import dataclass, field
from urllib.parse import urlsplit

from msgspec import Struct

from showprep.outputs.failure import Failure
from showprep.outputs.server.refusals import no_connection

TIMEOUT_SECONDS = 30.0  # of silence
LONGEST_SECONDS = 90.0  # for one answer in all, however steadily it drips
LARGEST_ANSWER = 8_000_000  # bytes
_PIECE = 65_536


class Address(Struct, frozen=True):
    """Where a calendar is: `path` begins and ends with a slash."""

    encrypted: bool
    host: str
    port: int | None
    path: str

    def __str__(self) -> str:
        host = f"[{self.host}]" if ":" in self.host else self.host
        port = f":{self.port}" if self.port is not None else ""
        return f"http{'s' * self.encrypted}://{host}{port}{self.path}"


def address_of(url: str) -> Address:
    """Read a calendar's address. Raises Failure (wrong usage) when it is none, holds a password,
    or is not encrypted and not on this machine. The address itself is never repeated: it may hold
    a password."""
    try:
        parts = urlsplit(url.strip())
        port = parts.port
    except ValueError as error:
        raise Failure("The address of the calendar cannot be read.", 2) from error
    if parts.scheme not in ("http", "https") or not parts.hostname:
        raise Failure("The calendar's address must begin with https:// and name a server.", 2)
    if parts.username is not None or parts.password is not None:
        raise Failure("Leave name and password out of the address: give the name with --user.", 2)
    if not f"{parts.hostname}{parts.path}".isascii() or any(map(str.isspace, parts.path)):
        raise Failure("The calendar's address holds letters that must be written as %XX.", 2)
    if parts.query or parts.fragment:
        raise Failure(
            "The calendar's address must not hold a ? or a #: that is the address of a page or of a"
            " file to subscribe to. Copy the CalDAV address of the calendar.",
            2,
        )
    encrypted = parts.scheme == "https"
    if not encrypted and not _this_machine(parts.hostname):
        raise Failure("The address must begin with https://, or your password could be read.", 2)
    path = parts.path if parts.path.endswith("/") else f"{parts.path}/"
    return Address(encrypted, parts.hostname, port, path)


def fit_user(user: str) -> str:
    """The account's name. Raises Failure (wrong usage) for one that cannot be sent: RFC 7617 §2
    parts name and password by the first colon, and allows no control characters."""
    if not user.strip():
        raise Failure("--user is empty: give the account's name.", 2)
    if ":" in user:
        raise Failure("--user holds a colon, which no name of an account may: leave it out.", 2)
    if not user.isprintable():
        raise Failure("--user holds characters that cannot be typed: give the account's name.", 2)
    return user


def _this_machine(host: str) -> bool:
    try:
        return ipaddress.ip_address(host).is_loopback
    except ValueError:
        return host == "localhost"


class Answer(Struct, frozen=True):
    """What the server said; header names in lower case."""

    status: int
    headers: Mapping[str, str]
    body: bytes


@dataclass(slots=True)
class Server:
    """A connection that is opened when needed and kept open between requests."""

    address: Address
    user: str
    password: str = field(repr=False)
    timeout: float = TIMEOUT_SECONDS
    longest: float = LONGEST_SECONDS
    _connection: http.client.HTTPConnection | None = field(default=None, repr=False)

    def ask(
        self, method: str, path: str, headers: Mapping[str, str], body: bytes | None = None
    ) -> Answer:
        """Send one request. Raises Failure when no whole answer comes back.

        A kept connection may have been closed by the server between two requests: then the request
        is sent once more on a new one. That is safe for every request made here, since each names
        the edition that it expects to find.
        """
        kept = self._connection is not None
        try:
            return self._ask(method, path, headers, body)
        except (OSError, http.client.HTTPException) as error:
            self.close()
            if kept and not isinstance(error, TimeoutError):
                return self._ask_once_more(method, path, headers, body)
            raise self._broken(error) from error

    def close(self) -> None:
        if self._connection is not None:
            self._connection.close()
            self._connection = None

    def _ask_once_more(
        self, method: str, path: str, headers: Mapping[str, str], body: bytes | None
    ) -> Answer:
        try:
            return self._ask(method, path, headers, body)
        except (OSError, http.client.HTTPException) as error:
            self.close()
            raise self._broken(error) from error

    def _ask(
        self, method: str, path: str, headers: Mapping[str, str], body: bytes | None
    ) -> Answer:
        connection = self._connection or self._open()
        self._connection = connection
        sent = {"Authorization": self._sign_in(), "User-Agent": "showprep", **headers}
        late = threading.Event()
        watch = threading.Timer(self.longest, _cut_off, (connection, late))
        watch.daemon = True
        watch.start()
        try:
            connection.request(method, path, body=body, headers=sent)
            answer = connection.getresponse()
            data = _read(answer)
        except (OSError, http.client.HTTPException) as error:
            if late.is_set():
                raise TimeoutError("the answer took too long") from error
            raise
        finally:
            watch.cancel()
        if late.is_set():
            raise TimeoutError("the answer took too long")
        return Answer(answer.status, {k.lower(): v for k, v in answer.getheaders()}, data)

    def _open(self) -> http.client.HTTPConnection:
        address = self.address
        if not address.encrypted:
            return http.client.HTTPConnection(address.host, address.port, timeout=self.timeout)
        context = ssl.create_default_context()
        return http.client.HTTPSConnection(
            address.host, address.port, timeout=self.timeout, context=context
        )

    def _sign_in(self) -> str:
        both = f"{self.user}:{self.password}".encode()
        return "Basic " + base64.b64encode(both).decode("ascii")

    def _broken(self, error: Exception) -> Failure:
        cause = error if isinstance(error, OSError) else ConnectionError()
        return Failure(no_connection(cause, self.address.host))


def _cut_off(connection: http.client.HTTPConnection, late: threading.Event) -> None:
    """End a request from outside: a server that sends a byte now and then never times out."""
    late.set()
    with contextlib.suppress(OSError):
        if connection.sock is not None:
            connection.sock.shutdown(socket.SHUT_RDWR)


def _read(answer: http.client.HTTPResponse) -> bytes:
    data = bytearray()
    while piece := answer.read(_PIECE):
        data += piece
        if len(data) > LARGEST_ANSWER:
            raise Failure(
                f"The server's answer is larger than {LARGEST_ANSWER // 1_000_000} MB: that is no"
                " calendar made for the shows alone. Nothing more was read."
            )
    return bytes(data)
