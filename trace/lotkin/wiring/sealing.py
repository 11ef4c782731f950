"""The key that seals are made with: a file of its own, named at the start."""

from __future__ import annotations

import os
import stat
from pathlib import Path

from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey
from cryptography.hazmat.primitives.serialization import (
    Encoding,
    NoEncryption,
    PrivateFormat,
    load_pem_private_key,
)

from lotkin.core.errors import BadFile
from lotkin.wiring.settings import SEAL_KEY

__all__ = ["KeyFile", "make_seal_key", "sealing_key"]


class KeyFile:
    """A private key (Ed25519, PKCS #8 in PEM: RFC 8410, RFC 7468)."""

    def __init__(self, path: Path) -> None:
        """Read a key.

        Raises:
            BadFile: It cannot be read, others may read it, or it is no such key.
        """
        try:
            mode = path.stat().st_mode
            content = path.read_bytes()
        except OSError as error:
            hint = "make one with `lotkin seal-key FILE`"
            raise BadFile(str(path), error.strerror or "cannot be read", hint=hint) from error
        if os.name == "posix" and mode & (stat.S_IRWXG | stat.S_IRWXO):
            raise BadFile(str(path), "others may read this key", hint=f"chmod 600 {path}")
        try:
            key = load_pem_private_key(content, password=None)
        except (ValueError, TypeError) as error:
            raise BadFile(str(path), "it is no private key without a password (PEM)") from error
        if not isinstance(key, Ed25519PrivateKey):
            raise BadFile(str(path), "it is a key of another kind; seals need Ed25519")
        self._private = key

    @property
    def key(self) -> str:
        """The public key, 64 hexadecimal digits."""
        return self._private.public_key().public_bytes_raw().hex()

    def sign(self, content: bytes) -> str:
        """Sign some bytes; 128 hexadecimal digits."""
        return self._private.sign(content).hex()


def make_seal_key(path: Path) -> str:
    """Make a key; only its owner may read it.

    Returns:
        The public key, 64 hexadecimal digits.

    Raises:
        BadFile: The file is there already, or cannot be written.
    """
    private = Ed25519PrivateKey.generate()
    content = private.private_bytes(Encoding.PEM, PrivateFormat.PKCS8, NoEncryption())
    try:
        opened = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
        with os.fdopen(opened, "wb") as file:
            file.write(content)
    except OSError as error:
        raise BadFile(str(path), error.strerror or "it cannot be written") from error
    return private.public_key().public_bytes_raw().hex()


def sealing_key() -> KeyFile | None:
    """Give the key that `LOTKIN_SEAL_KEY` names; None if it names none.

    Raises:
        BadFile: It names one that cannot be used.
    """
    named = os.environ.get(SEAL_KEY)
    return KeyFile(Path(named)) if named else None
