"""Where the password comes from, and that it stays out of sight."""

from __future__ import annotations

import getpass
import io
from collections.abc import Iterator
from typing import Any, ClassVar

import pytest

from showprep.outputs.failure import Failure
from showprep.outputs.server import password as module
from showprep.outputs.server.connection import Address, Server, address_of
from showprep.outputs.server.password import VARIABLE, password_for, remember

SECRET = "pond water"


class Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True


@pytest.fixture
def address(monkeypatch: pytest.MonkeyPatch) -> Address:
    monkeypatch.delenv(VARIABLE, raising=False)
    return address_of("https://calendar.example/koi/")


@pytest.fixture
def keyring(outside: Any) -> Iterator[Any]:
    """The keyring package with a keyring that is only held in memory."""
    package = outside.module("keyring")
    backend = outside.module("keyring.backend")

    class Memory(backend.KeyringBackend):  # type: ignore[misc,name-defined]
        priority = 0  # set below, and never chosen by itself: the class outlives this test
        kept: ClassVar[dict[tuple[str, str], str]] = {}

        def get_password(self, service: str, username: str) -> str | None:
            return self.kept.get((service, username))

        def set_password(self, service: str, username: str, password: str) -> None:
            self.kept[service, username] = password

    before = package.get_keyring()
    memory = Memory()
    package.set_keyring(memory)
    yield package
    package.set_keyring(before)


def test_the_environment_comes_first(
    address: Address, keyring: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    remember(address, "hana", "another")
    monkeypatch.setenv(VARIABLE, SECRET)
    assert password_for(address, "hana") == SECRET


def test_the_keyring_comes_next(
    address: Address, keyring: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    remember(address, "hana", SECRET)
    monkeypatch.setattr("sys.stdin", io.StringIO())
    assert password_for(address, "hana") == SECRET
    with pytest.raises(Failure):
        password_for(address, "aoi")


def test_then_the_keeper_is_asked(
    address: Address, keyring: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked = []

    def answer(question: str) -> str:
        asked.append(question)
        return SECRET if len(asked) == 1 else ""

    monkeypatch.setattr("sys.stdin", Terminal())
    monkeypatch.setattr(getpass, "getpass", answer)
    assert password_for(address, "hana") == SECRET
    assert asked == ["Password of hana at calendar.example: "]
    with pytest.raises(Failure, match="No password"):
        password_for(address, "hana")


@pytest.mark.parametrize("broken", [False, True], ids=["no keyring package", "no keyring"])
def test_without_one_and_nobody_to_ask(
    broken: bool, address: Address, monkeypatch: pytest.MonkeyPatch, outside: Any
) -> None:
    if broken:
        package = outside.module("keyring")
        before = package.get_keyring()
        package.set_keyring(outside.module("keyring.backends.fail").Keyring())
    else:
        monkeypatch.setattr(module, "_keyring", lambda: None)
    monkeypatch.setattr("sys.stdin", io.StringIO())
    with pytest.raises(Failure, match=VARIABLE) as caught:
        password_for(address, "hana")
    assert caught.value.status == 2
    with pytest.raises(Failure, match="keyring"):
        remember(address, "hana", SECRET)
    if broken:
        package.set_keyring(before)


def test_it_is_never_shown(address: Address) -> None:
    assert SECRET not in repr(Server(address, "hana", SECRET))
