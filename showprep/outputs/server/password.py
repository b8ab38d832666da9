"""The password of a calendar account: from the environment, the system keyring, or by asking.

It is never read from a file or an argument, never printed, and kept only in the keyring, when the
keeper asks for that.
"""

from __future__ import annotations

import getpass
import os
import sys
from types import ModuleType

from showprep.outputs.failure import Failure
from showprep.outputs.server.connection import Address

VARIABLE = "SHOWPREP_PASSWORD"


def password_for(address: Address, user: str) -> str:
    """The password. Raises Failure (wrong usage) when there is none and nobody to ask."""
    given = os.environ.get(VARIABLE)
    if given:
        return given
    kept = _from_keyring(address, user)
    if kept:
        return kept
    if not sys.stdin.isatty():
        raise Failure(
            f"No password: set {VARIABLE}, keep one in the system keyring, or run this where you"
            " can be asked for it.",
            2,
        )
    typed = getpass.getpass(f"Password of {user} at {address.host}: ")
    if not typed:
        raise Failure("No password was given; nothing was sent.", 2)
    return typed


def remember(address: Address, user: str, password: str) -> None:
    """Keep the password in the system keyring. Raises Failure when there is no keyring."""
    keyring = _keyring()
    if keyring is None:
        raise Failure("There is no keyring here: install showprep with its 'keyring' extra.")
    try:
        keyring.set_password(_service(address), user, password)
    except keyring.errors.KeyringError as error:
        raise Failure("The system keyring did not take the password.") from error


def _from_keyring(address: Address, user: str) -> str | None:
    keyring = _keyring()
    if keyring is None:
        return None
    try:
        kept = keyring.get_password(_service(address), user)
    except keyring.errors.KeyringError:
        return None
    return kept if isinstance(kept, str) else None


def _keyring() -> ModuleType | None:
    try:
        import keyring
        import keyring.errors
    except ImportError:
        return None
    return keyring


def _service(address: Address) -> str:
    return f"showprep {address.host}"
