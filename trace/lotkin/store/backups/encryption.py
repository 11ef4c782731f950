"""Encrypting backups with age (age-encryption.org/v1): whoever makes them cannot read them."""

from __future__ import annotations

import os
from typing import TYPE_CHECKING, Any, BinaryIO

import pyrage

from lotkin.core.errors import BackupKeyWrong, BadFile

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

__all__ = ["decrypt", "encrypt", "is_encrypted", "make_key", "recipients_of"]

MARK = b"age-encryption.org/v1\n"


def make_key(path: Path) -> str:
    """Make a key that opens backups; only its owner may read it.

    Returns:
        The recipient (`age1…`) to encrypt to.

    Raises:
        BadFile: The file is there already, or cannot be written.
    """
    identity = pyrage.x25519.Identity.generate()
    try:
        opened = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
        with os.fdopen(opened, "w", encoding="ascii") as file:
            file.write(f"# recipient: {identity.to_public()}\n{identity}\n")
    except OSError as error:
        raise BadFile(str(path), error.strerror or "it cannot be written") from error
    return str(identity.to_public())


def recipients_of(texts: Sequence[str]) -> list[Any]:
    """Read recipients.

    Args:
        texts: `age1…`, or an SSH public key, each.

    Raises:
        BadFile: One is none.
    """
    return [_recipient(text.strip()) for text in texts]


def _recipient(text: str) -> Any:
    try:
        if text.startswith("ssh-"):
            return pyrage.ssh.Recipient.from_str(text)
        return pyrage.x25519.Recipient.from_str(text)
    except pyrage.RecipientError as error:
        hint = "it begins with age1; `lotkin backup-key FILE` makes one"
        raise BadFile(text[:80], f"it is no recipient ({error})", hint=hint) from error


def is_encrypted(path: Path) -> bool:
    """Tell whether a file is encrypted with age."""
    with path.open("rb") as file:
        return file.read(len(MARK)) == MARK


def encrypt(source: BinaryIO, into: BinaryIO, recipients: Sequence[str]) -> None:
    """Encrypt a file."""
    pyrage.encrypt_io(source, into, recipients_of(recipients))


def decrypt(path: Path, into: BinaryIO, key: Path | None) -> None:
    """Decrypt a file.

    Raises:
        BackupKeyWrong: There is no key, it is not one, or it does not fit; or the file is damaged.
    """
    if key is None:
        raise BackupKeyWrong(str(path), "it is encrypted, and no key was named")
    identities = _identities(path, key)
    try:
        with path.open("rb") as source:
            pyrage.decrypt_io(source, into, identities)
    except pyrage.DecryptError as error:
        raise BackupKeyWrong(
            str(path), f"the key does not fit or the file is damaged ({error})"
        ) from error


def _identities(path: Path, key: Path) -> list[Any]:
    try:
        content = key.read_bytes()
    except OSError as error:
        raise BadFile(str(key), error.strerror or "it cannot be read") from error
    try:
        if content.startswith(b"-----BEGIN"):
            return [pyrage.ssh.Identity.from_buffer(content)]
        lines = [line.strip() for line in content.decode("ascii").splitlines()]
        found = [
            pyrage.x25519.Identity.from_str(line)
            for line in lines
            if line and not line.startswith("#")
        ]
    except (pyrage.IdentityError, UnicodeDecodeError) as error:
        raise BackupKeyWrong(str(path), f"{key} is no key") from error
    if not found:
        raise BackupKeyWrong(str(path), f"{key} holds no key")
    return found
