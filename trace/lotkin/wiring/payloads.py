"""What printed codes say: an address of the works if it has one, else the bare code."""

from __future__ import annotations

import os

from lotkin.core.scan.gs1.digital_link import CANONICAL_STEM, digital_link
from lotkin.core.scan.gs1.elements import Element
from lotkin.core.values.codes import qr_payload

__all__ = ["goods_payload", "payload"]


def goods_payload(serial: str, gtin: str) -> str:
    """Give what the QR code of finished goods says as a GS1 Digital Link: GTIN and serial.

    At the address of `LOTKIN_BASE_URL` if it is set, else at that of GS1; a serial that GS1 cannot
    carry falls back to `payload`.
    """
    try:
        return digital_link(
            [Element("01", gtin.zfill(14)), Element("21", serial)],
            os.environ.get("LOTKIN_BASE_URL") or CANONICAL_STEM,
        )
    except ValueError:
        return payload(serial)


def payload(code: str) -> str:
    """Give what the QR code of an item says: its address if `LOTKIN_BASE_URL` is set, else itself.

    A code that the small form of a QR code cannot say stays as it is.
    """
    try:
        return qr_payload(code, os.environ.get("LOTKIN_BASE_URL") or None)
    except ValueError:
        return code
