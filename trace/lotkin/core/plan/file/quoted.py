"""Values of a plan file as they are quoted in messages: short, on one line, printable."""

from __future__ import annotations

import datetime as dt
from decimal import Decimal

__all__ = ["shown", "shown_name"]

_LONGEST = 40


def shown_name(text: str, *, longest: int = _LONGEST) -> str:
    r"""Quote a name without quotation marks, cut to `longest` characters.

    Example:
        >>> shown_name("M3\tx 8")
        'M3?x 8'
    """
    short = text if len(text) <= longest else f"{text[: longest - 1]}…"
    return "".join(sign if sign.isprintable() else "?" for sign in short)


def shown(value: object) -> str:
    """Quote any value that TOML or JSON can hold.

    Example:
        >>> shown("kilo"), shown(True), shown([1, 2])
        ('"kilo"', 'true', '(a list)')
    """
    if isinstance(value, str):
        return f'"{shown_name(value)}"'
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, int | float | Decimal):
        return _shown_number(value)
    if isinstance(value, dt.date | dt.time):
        return "(a date or time)"
    if isinstance(value, list):
        return "(a list)"
    if isinstance(value, dict):
        return "(a table)"
    return "(nothing)" if value is None else "(something else)"


def _shown_number(value: float | Decimal) -> str:
    # Python refuses to write integers of more than some thousand digits.
    if isinstance(value, int) and value.bit_length() > 128:
        return "(a very long number)"
    return shown_name(str(value))
