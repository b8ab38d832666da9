"""One signed-in connection to a calendar server, encrypted unless the server is this machine."""

from __future__ import annotations

import base64
import http.client
import ipaddress
import ssl
from collections.abc import Mapping
from dataclasses import dataclass, field
from urllib.parse import urlsplit

from showprep.outputs.failure import Failure
from showprep.outputs.server.refusals import no_connection

TIMEOUT_SECONDS = 30.0
_LARGEST_ANSWER = 50_000_000  # bytes


@dataclass(frozen=True, slots=True)
class Address:
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
    encrypted = parts.scheme == "https"
    if not encrypted and not _this_machine(parts.hostname):
        raise Failure("The address must begin with https://, or your password could be read.", 2)
    path = parts.path if parts.path.endswith("/") else f"{parts.path}/"
    return Address(encrypted, parts.hostname, port, path)


def _this_machine(host: str) -> bool:
    try:
        return ipaddress.ip_address(host).is_loopback
    except ValueError:
        return host == "localhost"


@dataclass(frozen=True, slots=True)
class Answer:
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
        connection.request(method, path, body=body, headers=sent)
        answer = connection.getresponse()
        data = answer.read(_LARGEST_ANSWER)
        if not answer.isclosed():
            raise http.client.HTTPException("the answer is too long")
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
