"""What a calendar server may answer that is no calendar: nothing hangs, nothing grows."""

from __future__ import annotations

import socket
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager

import pytest

from showprep.outputs.failure import Failure
from showprep.outputs.server.collection import Collection
from showprep.outputs.server.connection import LARGEST_ANSWER, Server, address_of, fit_user

Says = Callable[[socket.socket], None]


@contextmanager
def speaking(say: Says, longest: float = 20.0) -> Iterator[Collection]:
    """A server on the loopback address that answers every request by `say`."""
    with socket.create_server(("127.0.0.1", 0)) as door:

        def serve() -> None:
            while True:
                try:
                    guest, _ = door.accept()
                except OSError:
                    return
                with guest:
                    try:
                        guest.recv(65_536)
                        say(guest)
                    except OSError:
                        continue

        threading.Thread(target=serve, daemon=True).start()
        address = address_of(f"http://127.0.0.1:{door.getsockname()[1]}/koi/")
        yield Collection(Server(address, "hana", "pond water", longest=longest))
        door.shutdown(socket.SHUT_RDWR)


def whole(body: bytes) -> Says:
    head = b"HTTP/1.1 207 Multi-Status\r\nContent-Length: %d\r\nConnection: close\r\n\r\n"

    def say(guest: socket.socket) -> None:
        guest.sendall(head % len(body) + body)
        guest.shutdown(socket.SHUT_WR)
        while guest.recv(65_536):
            pass  # closed with something unread, the answer would be torn off

    return say


def drips(guest: socket.socket) -> None:
    guest.sendall(b"HTTP/1.1 207 Multi-Status\r\n")
    while True:
        guest.sendall(b"X: y\r\n")
        time.sleep(0.05)


def endless(guest: socket.socket) -> None:
    guest.sendall(b"HTTP/1.1 207 Multi-Status\r\nConnection: close\r\n\r\n")
    while True:
        guest.sendall(b" " * 65_536)


EMPTY = b'<?xml version="1.0"?><multistatus xmlns="DAV:"/>'
ENTITIES = b'<?xml version="1.0"?><!DOCTYPE m [<!ENTITY a "aaaa">]><m xmlns="DAV:">&a;</m>'


@pytest.mark.parametrize("ask", [Collection.check, Collection.etags])
def test_an_empty_answer_is_no_calendar(ask: Callable[[Collection], object]) -> None:
    """An empty list would be read as a calendar that was made anew, and everything added again."""
    with speaking(whole(EMPTY)) as collection, pytest.raises(Failure, match="empty"):
        ask(collection)


def test_an_answer_with_entities_is_not_read() -> None:
    with speaking(whole(ENTITIES)) as collection, pytest.raises(Failure, match="cannot be read"):
        collection.check()


def test_an_answer_without_end_is_cut_off() -> None:
    with speaking(endless) as collection, pytest.raises(Failure, match="8 MB"):
        collection.check()
    with (
        speaking(whole(b" " * (LARGEST_ANSWER + 1))) as collection,
        pytest.raises(Failure, match="8 MB"),
    ):
        collection.check()


def test_an_answer_that_drips_has_its_time() -> None:
    with speaking(drips, longest=0.5) as collection, pytest.raises(Failure, match="in time"):
        collection.check()


@pytest.mark.parametrize("tail", ["?export", "#koi", "koi/?a=b"])
def test_an_address_with_a_query_is_refused(tail: str) -> None:
    with pytest.raises(Failure, match="CalDAV address") as caught:
        address_of(f"https://calendar.invalid/{tail}")
    assert caught.value.status == 2


@pytest.mark.parametrize("user", ["", "  ", "hana:koi", "hana\n", "hana\x00"])
def test_names_that_cannot_be_sent(user: str) -> None:
    with pytest.raises(Failure, match="--user") as caught:
        fit_user(user)
    assert caught.value.status == 2
