"""One JSON document on standard output, written row by row."""

from __future__ import annotations

import json
import sys
from decimal import Decimal
from functools import cache
from typing import TYPE_CHECKING, TypeAlias

from lotkin.core.quantities import MICRO, from_micro
from lotkin_cli.streams import is_unicode

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

__all__ = ["Data", "Value", "encode", "number", "tidy", "write_document"]

Value: TypeAlias = "bool | int | float | Decimal | str | list[Value] | dict[str, Value] | None"
"""What can stand in a document; a `Decimal` is written digit by digit."""

Data: TypeAlias = "dict[str, Value]"

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
    """Write a whole number without a decimal point."""
    return int(value) if value.is_integer() else value


def encode(value: Value) -> str:
    """Write a value as JSON on one line."""
    encoder = _encoder(ascii_only=not is_unicode(sys.stdout))
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


def write_document(
    document: Mapping[str, Value | Iterable[Value]], *, at_once: bool = False
) -> None:
    """Write a document to standard output: a key a line, and below it a row a line.

    Args:
        document: What to write; an iterable that is no list is written as one while it lasts.
        at_once: Let each row leave the program as soon as it is there, and close the document
            even if a later row fails to come. Otherwise a document that is not whole does not
            look as if it were.
    """
    write = sys.stdout.write
    write("{")
    separator = "\n"
    for key, value in document.items():
        write(f"{separator}{json.dumps(key)}: ")
        separator = ",\n"
        if value is None or isinstance(value, (bool, int, float, Decimal, str, dict)):
            write(encode(value))
            continue
        try:
            _write_rows(value, at_once=at_once)
        except Exception:
            if at_once:
                write("]\n}\n")
            raise
        write("]")
    write("\n}\n")


def _write_rows(rows: Iterable[Value], *, at_once: bool) -> None:
    before = "[\n  "
    for row in rows:
        # the comma leads, so that each row is a line of its own as soon as it is written
        sys.stdout.write(f"{before}{encode(row)}\n")
        before = ", "
        if at_once:
            sys.stdout.flush()
    if before != ", ":
        sys.stdout.write("[")
