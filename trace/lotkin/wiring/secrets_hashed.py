"""Passwords and PINs, hashed with Argon2id."""

from __future__ import annotations

from threading import BoundedSemaphore

from argon2 import PasswordHasher
from argon2.exceptions import InvalidHashError, VerificationError

__all__ = ["AT_ONCE", "Argon2Hashes"]

AT_ONCE = 2
"""Hashes that are worked out at the same time; each takes 64 MiB and four threads."""


class Argon2Hashes:
    """Argon2id with the parameters that the library holds for good.

    Source: RFC 9106, 4 (the second recommended option: 64 MiB, 3 passes, 4 lanes).
    """

    def __init__(self) -> None:
        self._hasher = PasswordHasher()
        self._turn = BoundedSemaphore(AT_ONCE)
        self._nobody = self._hasher.hash("nobody")

    def hash(self, secret: str) -> str:
        """Give what is kept of a secret."""
        with self._turn:
            return self._hasher.hash(secret)

    def fits(self, kept: str, secret: str) -> bool:
        """Tell whether a secret is the one; takes as long for a `kept` that is ""."""
        try:
            with self._turn:
                self._hasher.verify(kept or self._nobody, secret)
            return bool(kept)
        except (VerificationError, InvalidHashError):
            return False
