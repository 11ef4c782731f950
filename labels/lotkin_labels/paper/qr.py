"""QR codes: the smallest one that holds a payload, as a square of dark and light modules."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from itertools import groupby
from typing import TYPE_CHECKING

import qrcode
from qrcode.constants import ERROR_CORRECT_Q
from qrcode.exceptions import DataOverflowError

from lotkin_labels.errors import CodeTooLong, UnprintableCode

if TYPE_CHECKING:
    from collections.abc import Iterator

__all__ = ["ALPHANUMERIC", "QUIET_MODULES", "QrCode", "encode", "is_alphanumeric"]

ALPHANUMERIC = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:"
"""What the alphanumeric mode can say. Source: ISO/IEC 18004, table 5."""

QUIET_MODULES = 4
"""Width of the quiet zone on every side. Source: ISO/IEC 18004 (from memory)."""


@dataclass(frozen=True, slots=True)
class QrCode:
    """A QR code at error correction level Q (about a quarter of it may be damaged).

    Attributes:
        payload: What it says.
        version: 1 to 40; it fixes the size.
        rows: Its modules from top to bottom, each row from left to right; True is dark.
    """

    payload: str
    version: int
    rows: tuple[tuple[bool, ...], ...]

    @property
    def modules(self) -> int:
        """Number of modules of one side, the quiet zone left out."""
        return len(self.rows)

    def dark_runs(self) -> Iterator[tuple[int, int, int]]:
        """Give the dark modules as (column, row, how many in a row)."""
        for number, row in enumerate(self.rows):
            column = 0
            for is_dark, run in groupby(row):
                length = len(list(run))
                if is_dark:
                    yield (column, number, length)
                column += length


def is_alphanumeric(payload: str) -> bool:
    """Tell whether the small form of a QR code can say it.

    >>> is_alphanumeric("HTTPS://EX.EU/L/T-0042-10"), is_alphanumeric("t-42")
    (True, False)
    """
    return bool(payload) and all(char in ALPHANUMERIC for char in payload)


@lru_cache(maxsize=1024)
def encode(payload: str, *, allow_bytes: bool = False) -> QrCode:
    """Make the smallest QR code of level Q that holds a payload.

    Args:
        payload: A code or an address in capitals; any text if bytes are allowed.
        allow_bytes: Take the larger byte form (UTF-8) where the alphanumeric one cannot say it.
            (A payload of nothing but digits takes the numeric form, which is smaller still.)

    Raises:
        UnprintableCode: It is empty or has characters beyond `ALPHANUMERIC`, and bytes are not
            allowed.
        CodeTooLong: Version 40 does not hold it.

    Source: ISO/IEC 18004, by the package qrcode.
    """
    if not payload or not (allow_bytes or is_alphanumeric(payload)):
        unknown = "".join(sorted(set(payload) - set(ALPHANUMERIC)))
        raise UnprintableCode(payload, unknown)
    data = payload.encode("utf-8", errors="replace")
    maker = qrcode.QRCode(error_correction=ERROR_CORRECT_Q, border=0)
    # One mode for all of it: mixed modes save little, and readers are tested less on them.
    maker.add_data(data, optimize=0)
    try:
        maker.make(fit=True)
    except (DataOverflowError, ValueError) as err:
        raise CodeTooLong(payload, "no QR code holds so much at level Q") from err
    rows = tuple(tuple(bool(module) for module in row) for row in maker.modules)
    return QrCode(payload, maker.version, rows)
