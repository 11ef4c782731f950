"""Passwords and PINs, hashed with Argon2id."""

from __future__ import annotations

from argon2 import PasswordHasher
from argon2.exceptions import InvalidHashError, VerificationError

__all__ = ["Argon2Hashes"]


class Argon2Hashes:
    """Argon2id with the parameters that the library holds for good.

    Source: RFC 9106, 4 (the second recommended option: 64 MiB, 3 passes, 4 lanes).
    """

    def __init__(self) -> None:
        self._hasher = PasswordHasher()
        self._nobody = self._hasher.hash("nobody")

    def hash(self, secret: str) -> str:
        """Give what is kept of a secret."""
        return self._hasher.hash(secret)

    def fits(self, kept: str, secret: str) -> bool:
        """Tell whether a secret is the one; takes as long for a `kept` that is ""."""
        try:
            self._hasher.verify(kept or self._nobody, secret)
            return bool(kept)
        except (VerificationError, InvalidHashError):
            return False
