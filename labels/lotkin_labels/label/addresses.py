"""What printed codes say: an address of the works if it has one, else the bare code."""

from __future__ import annotations

from lotkin.core.scan.gs1.digital_link import CANONICAL_STEM, digital_link
from lotkin.core.scan.gs1.elements import Element
from lotkin.core.values.codes import qr_payload

__all__ = ["goods_payload", "payload"]


def goods_payload(serial: str, gtin: str, base_url: str | None) -> str:
    """Give what the QR code of finished goods says as a GS1 Digital Link: GTIN and serial.

    At the address of the works if it has one, else at that of GS1; a serial that GS1 cannot carry
    falls back to `payload`.
    """
    try:
        return digital_link(
            [Element("01", gtin.zfill(14)), Element("21", serial)],
            base_url or CANONICAL_STEM,
        )
    except ValueError:
        return payload(serial, base_url)


def payload(code: str, base_url: str | None) -> str:
    """Give what the QR code of an item says: its address if the works has one, else itself.

    A code that the small form of a QR code cannot say stays as it is.
    """
    try:
        return qr_payload(code, base_url)
    except ValueError:
        return code
