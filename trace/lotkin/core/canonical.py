"""One spelling for JSON content, and the hash chain over it.

The spelling is that of RFC 8785 (JSON Canonicalization Scheme) for the values that the journal
holds: objects with ASCII keys, arrays, strings, integers, booleans and null. Fractions never occur
as JSON numbers here; quantities are strings.
"""

from __future__ import annotations

import hashlib
import json
from typing import TYPE_CHECKING, TypeAlias

if TYPE_CHECKING:
    from collections.abc import Mapping

Json: TypeAlias = "None | bool | int | str | list[Json] | dict[str, Json]"
"""What the journal can hold."""

__all__ = ["GENESIS", "Json", "canonical", "chain_hash", "digest"]

GENESIS = "0" * 64
"""What the first journal row names as the hash of the row before it."""


def canonical(value: Mapping[str, Json]) -> str:
    """Write a JSON object in its one spelling (RFC 8785)."""
    return json.dumps(value, sort_keys=True, separators=(",", ":"), ensure_ascii=False)


def digest(text: str) -> str:
    """Give the SHA-256 of a text in UTF-8 as 64 hexadecimal digits (FIPS 180-4)."""
    return hashlib.sha256(text.encode("utf-8")).hexdigest()


def chain_hash(content: str, previous: str) -> str:
    """Hash a row's canonical content together with the hash of the row before."""
    return digest(previous + "\n" + content)
