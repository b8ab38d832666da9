"""What a calendar server's refusals mean, in words a keeper can act on."""

from __future__ import annotations

import socket
import ssl
from collections.abc import Mapping

_MEANINGS = {
    400: "The server did not understand what was sent.",
    401: "The server does not accept this name and password. Many accounts want an app password"
    " made for this purpose, instead of the one you sign in with.",
    403: "The server does not let you write there. Is the calendar yours, or shared with you to"
    " read only?",
    404: "There is no calendar at this address. Make a calendar for the shows in your account and"
    " copy its CalDAV address.",
    405: "This address is no CalDAV calendar: the server does not know the request. It may be the"
    " address for looking at the calendar, or for subscribing to it.",
    409: "The server sees a conflict: the job is in this calendar under another name, or the"
    " calendar has been removed.",
    410: "The calendar at this address is gone for good.",
    412: "The job was changed on the server a moment ago, by a phone or another program.",
    413: "The server finds the job too large.",
    415: "The server takes no events at this address. Is it a list of tasks or an address book?",
    423: "The job is locked on the server just now.",
    429: "The server asks you to slow down.",
    507: "The account is full.",
}
_LATER = "Nothing is lost: run the same command again later, and it goes on from there."
# These concern one job; the others can still go through.
ONE_JOB = frozenset({400, 409, 412, 413, 415, 423})


def refusal(status: int, headers: Mapping[str, str]) -> str:
    """One or two sentences for a status that is not a success. `headers` has lower-case names."""
    if 300 <= status < 400:
        return _moved(headers.get("location", ""))
    if status == 401 and _only_digest(headers.get("www-authenticate", "")):
        return "The server wants a kind of sign-in (Digest) that is not supported here."
    if status == 429 or status == 503:
        wait = headers.get("retry-after", "")
        pause = f" It asks to wait for {wait} seconds." if wait.isdecimal() else ""
        said = _MEANINGS[429] if status == 429 else "The server is not ready."
        return f"{said}{pause} {_LATER}"
    if status >= 500 and status not in _MEANINGS:
        return f"The server has a fault of its own (status {status}). {_LATER}"
    return _MEANINGS.get(status, f"The server answered with status {status}.")


def _moved(location: str) -> str:
    if location.lower().startswith("http:"):
        return (
            "The server points to an address without encryption, which is not followed: your"
            " password would be readable on the way."
        )
    if location.lower().startswith("https:"):
        where = location.split("?")[0]
        return f"The calendar has another address: {where}. If you trust it, give it with --url."
    return "The server points to another address. Copy the calendar's full CalDAV address."


def _only_digest(challenge: str) -> bool:
    wanted = challenge.lower()
    return "digest" in wanted and "basic" not in wanted


def no_connection(error: OSError, host: str) -> str:
    """One or two sentences for a connection that failed or broke."""
    if isinstance(error, ssl.SSLCertVerificationError):
        return (
            f"The certificate of {host} cannot be trusted ({error.verify_message}), so nothing was"
            " sent. Check the address, and the date on this computer."
        )
    if isinstance(error, ssl.SSLError):
        return f"No encrypted connection to {host} could be made. Is the port the right one?"
    if isinstance(error, socket.gaierror):
        return f"No server is known by the name {host}. Check the address and your connection."
    if isinstance(error, TimeoutError):
        return f"{host} did not answer in time. {_LATER}"
    if isinstance(error, ConnectionRefusedError):
        return f"{host} refuses the connection: no calendar server listens there."
    return f"The connection to {host} broke. {_LATER}"
