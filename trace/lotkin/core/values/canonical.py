"""One spelling for JSON content, and the hash chain over it.

The spelling is that of RFC 8785 (JSON Canonicalization Scheme) for the values that the journal
holds: objects with ASCII keys, arrays, strings, integers, booleans and null. Fractions never occur
as JSON numbers here; quantities are strings.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from decimal import Decimal
from typing import TypeAlias

Json: TypeAlias = "bool | int | str | list[Json] | dict[str, Json] | None"
"""What the journal can hold."""

__all__ = ["GENESIS", "Json", "canonical", "chain_hash", "digest", "plain"]

GENESIS = "0" * 64
"""What the first journal row names as the hash of the row before it."""


# what the journal holds was made of parsed data: it cannot hold itself
_SPELL = json.JSONEncoder(
    sort_keys=True, separators=(",", ":"), ensure_ascii=False, check_circular=False
).encode


def canonical(value: Mapping[str, Json]) -> str:
    """Write a JSON object in its one spelling (RFC 8785)."""
    return _SPELL(value)


def plain(value: object) -> Json:
    """Turn free JSON data into what the journal can hold: fractions become strings.

    Raises:
        TypeError: It is no JSON data.
    """
    if isinstance(value, Mapping):
        return {str(key): plain(item) for key, item in value.items()}
    if isinstance(value, (list, tuple)):
        return [plain(item) for item in value]
    if isinstance(value, (Decimal, float)):
        return format(Decimal(str(value)), "f")
    if value is None or isinstance(value, (bool, int, str)):
        return value
    msg = f"{value!r} is no JSON data"
    raise TypeError(msg)


def digest(text: str) -> str:
    """Give the SHA-256 of a text in UTF-8 as 64 hexadecimal digits (FIPS 180-4)."""
    return hashlib.sha256(text.encode("utf-8")).hexdigest()


def chain_hash(content: str, previous: str) -> str:
    """Hash a row's canonical content together with the hash of the row before."""
    return digest(previous + "\n" + content)
