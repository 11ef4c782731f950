"""Seals: a signature over the head of the journal, which stands for all events up to it.

Whoever has the public key can tell that the journal was so at the latest when it was sealed; nobody
without the private key can make another one that looks the same.
"""

from __future__ import annotations

from dataclasses import dataclass

from cryptography.exceptions import InvalidSignature
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PublicKey

from lotkin.core.values.canonical import canonical

__all__ = ["SealOf", "is_signed", "statement"]

FORMAT = "lotkin-seal-1"


@dataclass(frozen=True, slots=True)
class SealOf:
    """A seal that is on record.

    Attributes:
        event: Number of the event that holds it.
        at: Microseconds UTC when it was recorded.
        events: Number of the last event that it covers.
        head: Hash of that event.
        key: Public key, 64 hexadecimal digits.
        signature: 128 hexadecimal digits.
    """

    event: int
    at: int
    events: int
    head: str
    key: str
    signature: str


def statement(events: int, head: str) -> bytes:
    """Give the bytes that are signed: JSON in its one spelling (RFC 8785).

    >>> statement(7, "ab").decode()
    '{"events":7,"format":"lotkin-seal-1","head":"ab"}'
    """
    return canonical({"format": FORMAT, "events": events, "head": head}).encode()


def is_signed(key: str, events: int, head: str, signature: str) -> bool:
    """Tell whether a signature over a head is that of a key.

    Source: Ed25519 as in RFC 8032, 5.1; keys of 32 and signatures of 64 bytes.
    """
    try:
        public = Ed25519PublicKey.from_public_bytes(bytes.fromhex(key))
        public.verify(bytes.fromhex(signature), statement(events, head))
    except (ValueError, InvalidSignature):
        return False
    return True
