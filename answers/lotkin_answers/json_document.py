"""JSON documents, written row by row."""

from __future__ import annotations

import json
from decimal import Decimal
from functools import cache
from typing import TYPE_CHECKING, TypeAlias

from lotkin.core.values.quantities import MICRO, from_micro

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping

__all__ = ["Data", "Document", "Value", "document_chunks", "encode", "number", "tidy"]

Value: TypeAlias = "bool | int | float | Decimal | str | list[Value] | dict[str, Value] | None"
"""What can stand in a document; a `Decimal` is written digit by digit."""

Data: TypeAlias = "dict[str, Value]"

Document: TypeAlias = "Mapping[str, Value | Iterable[Value]]"
"""A document whose long lists are made while it is written."""

FLOAT_IS_EXACT = 4 * 10**9 * MICRO
"""Below 2^32 two floats next to each other are less than a millionth apart (IEEE 754)."""


def number(micro: int | None) -> int | float | Decimal | None:
    """Turn millionths into a number that JSON keeps exactly.

    >>> number(2_000_000), number(2_500_000)
    (2, 2.5)
    """
    if micro is None:
        return None
    if not micro % MICRO:
        return micro // MICRO
    return micro / MICRO if abs(micro) < FLOAT_IS_EXACT else from_micro(micro)


def tidy(value: float) -> int | float:
    """Write a whole number without a decimal point; it may come as an integer.

    >>> tidy(2.0), tidy(2.5), tidy(0)
    (2, 2.5, 0)
    """
    return int(value) if value == int(value) else value


def encode(value: Value, *, ascii_only: bool = False) -> str:
    """Write a value as JSON on one line."""
    encoder = _encoder(ascii_only=ascii_only)
    try:
        return encoder.encode(value)
    except TypeError:
        return _encode_exactly(value, encoder)


@cache
def _encoder(*, ascii_only: bool) -> json.JSONEncoder:
    # making one takes longer than writing a row with it
    return json.JSONEncoder(ensure_ascii=ascii_only, allow_nan=False)


def _encode_exactly(value: Value, encoder: json.JSONEncoder) -> str:
    """Write a value that has decimals in it, which the standard library does not."""
    if isinstance(value, Decimal):
        return format(value, "f")
    if isinstance(value, dict):
        pairs = (f"{encoder.encode(k)}: {_encode_exactly(v, encoder)}" for k, v in value.items())
        return "{" + ", ".join(pairs) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(_encode_exactly(each, encoder) for each in value) + "]"
    return encoder.encode(value)


def document_chunks(document: Document, *, ascii_only: bool = False) -> Iterator[str]:
    """Write a document piece by piece: a key a line, and below it a row a line.

    An iterable that is no list is written as one while it lasts.
    """
    yield "{"
    separator = "\n"
    for key, value in document.items():
        yield f"{separator}{json.dumps(key)}: "
        separator = ",\n"
        if value is None or isinstance(value, (bool, int, float, Decimal, str, dict)):
            yield encode(value, ascii_only=ascii_only)
            continue
        before = "[\n  "
        for row in value:
            # the comma leads, so that each row is a line of its own as soon as it is written
            yield f"{before}{encode(row, ascii_only=ascii_only)}\n"
            before = ", "
        yield "[]" if before != ", " else "]"
    yield "\n}\n"
