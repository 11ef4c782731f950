"""What a scan can turn out to be."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias

from lotkin.core.scan.gs1.elements import Elements
from lotkin.core.scan.iso15434.message import Message06

__all__ = ["BareText", "DigitalLink", "ElementString", "OwnCode", "Scan", "Unreadable"]


@dataclass(frozen=True, slots=True)
class OwnCode:
    """A code of our own: of an address that we print, or bare with a right check character.

    Attributes:
        raw: What was scanned.
        code: Code of the item.
        base_url: The address that it stood in, without `/I/`; "" for a bare code.
        warnings: What was repaired or is odd.
    """

    raw: str
    code: str
    base_url: str = ""
    warnings: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class ElementString(Elements):
    """GS1 data as a barcode carries it, or as it is printed below with brackets."""


@dataclass(frozen=True, slots=True)
class DigitalLink(Elements):
    """GS1 data in a web address.

    Attributes:
        stem: The address before the data.
    """

    stem: str = ""


@dataclass(frozen=True, slots=True)
class BareText:
    """A text that says nothing of its own form: a number printed by whomever.

    Attributes:
        raw: What was scanned.
        text: Without a symbology identifier and blanks around it.
        warnings: What it nearly was.
    """

    raw: str
    text: str
    warnings: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Unreadable:
    """A scan that cannot be read, or not without guessing.

    Attributes:
        raw: What was scanned.
        why: The reason, in words that follow "this label cannot be read:".
        form: What it seems to be, like `GS1 element string`; "" if that cannot be told either.
        warnings: What was repaired before it came to that.
    """

    raw: str
    why: str
    form: str = ""
    warnings: tuple[str, ...] = ()


Scan: TypeAlias = OwnCode | ElementString | DigitalLink | Message06 | BareText | Unreadable
