"""Symbology identifiers: what a scanner may put before the data to tell the kind of barcode."""

from __future__ import annotations

import re
from typing import NamedTuple

__all__ = ["Symbology", "split_symbology"]

_IDENTIFIER = re.compile(r"\][A-Za-z][0-9A-Za-z]")

# Source: ISO/IEC 15424, as the GS1 General Specifications name them; ]J1 and the later ]e ones
# from memory.
_GS1 = frozenset({"]C1", "]d2", "]Q3", "]J1", "]e0", "]e1", "]e2"})
_RETAIL = {"]E0": 13, "]E4": 8}
"""EAN-13 (and UPC-A, brought to 13 digits) and EAN-8: the number of an item alone."""


class Symbology(NamedTuple):
    """What a scanner said of the barcode.

    Attributes:
        is_gs1: Whether the data must be a GS1 element string.
        gtin_length: Digits of the item number that the data must be; 0 for other barcodes.
    """

    is_gs1: bool
    gtin_length: int


def split_symbology(text: str) -> tuple[Symbology, str]:
    """Take the symbology identifier off a scan.

    Example:
        >>> split_symbology("]C1400PO4711")
        (Symbology(is_gs1=True, gtin_length=0), '400PO4711')
    """
    found = _IDENTIFIER.match(text)
    if found is None:
        return Symbology(is_gs1=False, gtin_length=0), text
    said = found.group()
    return Symbology(said in _GS1, _RETAIL.get(said, 0)), text[len(said) :]
