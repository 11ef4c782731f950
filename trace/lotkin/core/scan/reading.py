"""Telling what a scanner has read: the one entry to all readers."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import TYPE_CHECKING

from lotkin.core.scan.characters import GS, shown, without_pictures
from lotkin.core.scan.gs1.ai_table import application_identifiers
from lotkin.core.scan.gs1.digital_link import holds_key, read_digital_link
from lotkin.core.scan.gs1.element_string import (
    checked_element,
    read_bracketed,
    read_element_string,
    read_message_elements,
)
from lotkin.core.scan.iso15434.envelope import begins_message, open_envelope
from lotkin.core.scan.iso15434.message import Field, Message06
from lotkin.core.scan.iso15434.message_fields import field_warning, read_fields
from lotkin.core.scan.own_address import own_address
from lotkin.core.scan.refusal import NotReadableError
from lotkin.core.scan.results import (
    BareText,
    DigitalLink,
    ElementString,
    OwnCode,
    Scan,
    Unreadable,
)
from lotkin.core.scan.symbology import split_symbology
from lotkin.core.values.codes import is_own_code, normalise

if TYPE_CHECKING:
    from collections.abc import Callable

    from lotkin.core.scan.gs1.elements import Element
    from lotkin.core.scan.symbology import Symbology

__all__ = ["read_scan"]

LONGEST = 8000
"""No barcode holds more; the largest QR code has 7089 digits."""

ELEMENTS = "GS1 element string"
LINK = "GS1 Digital Link"
MESSAGE = "ISO/IEC 15434 message"
GS1_NUMBER = "GS1 item number"

_SUFFIX = "\r\n\t"
"""What scanners are set to send after the data."""

_WEB = re.compile(r"https?://", re.IGNORECASE | re.ASCII)
_BRACKETS = re.compile(r"\([0-9]{2,4}\)")
_LIKE_ELEMENTS = re.compile(r"(00[0-9]{18}|0[123][0-9]{14}).*")


def read_scan(raw: str) -> Scan:
    """Tell what a scanner has read. Never raises, whatever the text.

    Nothing is guessed: where two readings are possible, or a damaged label could be taken for
    another one, it is `Unreadable` with the reason. A plain barcode that looks like GS1 data is
    taken for such only if a GS1 check digit in it is right; text that is of no known form is
    `BareText`.

    Args:
        raw: As the keyboard or the serial line gave it, with or without symbology identifier.
    """
    text = raw.strip(_SUFFIX)
    if len(text) > LONGEST:
        return Unreadable(raw, "it is longer than any barcode")
    symbology, text = split_symbology(text)
    plain = without_pictures(text)
    scan = _told_apart(raw, symbology, plain)
    if plain == text:
        return scan
    warning = "control characters came as pictures of them"
    return replace(scan, warnings=(warning, *scan.warnings))


def _told_apart(raw: str, symbology: Symbology, text: str) -> Scan:
    """Read by what the scanner said, and by the separators in it."""
    if symbology.is_gs1:
        return _attempt(raw, ELEMENTS, lambda: ElementString(raw, read_element_string(text)))
    if symbology.gtin_length:
        return _attempt(raw, GS1_NUMBER, lambda: _item_number(raw, symbology, text))
    if begins_message(text):
        return _attempt(raw, MESSAGE, lambda: _message(raw, text))
    if GS in text:
        # FNC1 in the first place, which says that GS1 data follow, may itself come as GS
        data = text.removeprefix(GS)
        return _attempt(raw, ELEMENTS, lambda: ElementString(raw, read_element_string(data)))
    return _without_marks(raw, text.strip(" "))


def _without_marks(raw: str, text: str) -> Scan:
    """Read by how the text itself begins."""
    strange = next((each for each in text if not each.isprintable()), None)
    if strange is not None:
        return Unreadable(raw, f"the character {shown(strange)} U+{ord(strange):04X} is in it")
    if not text:
        return Unreadable(raw, "nothing was read")
    if _WEB.match(text):
        return _web_address(raw, text)
    if _BRACKETS.match(text):
        return _attempt(raw, ELEMENTS, lambda: ElementString(raw, read_bracketed(text)))
    return _plain(raw, text)


def _attempt(raw: str, form: str, read: Callable[[], Scan]) -> Scan:
    try:
        return read()
    except NotReadableError as reason:
        return Unreadable(raw, str(reason), form)


def _item_number(raw: str, symbology: Symbology, text: str) -> ElementString:
    if len(text) != symbology.gtin_length:
        raise NotReadableError(f"it must have {symbology.gtin_length} digits")
    return ElementString(raw, (checked_element("01", text.zfill(14)),))


def _message(raw: str, text: str) -> Scan:
    """Read a message: its formats 06, or else its format 05, which holds GS1 elements."""
    envelope = open_envelope(text)
    warnings = list(envelope.warnings)
    in_06 = [each.data for each in envelope.formats if each.number == "06"]
    in_05 = [each.data for each in envelope.formats if each.number == "05"]
    if not in_06 and len(in_05) == 1:
        elements, lacking = read_message_elements(in_05[0])
        return ElementString(raw, elements, (*warnings, *lacking))
    if not in_06:
        numbers = ", ".join(each.number for each in envelope.formats)
        raise NotReadableError(f"format {numbers} is not read here, only 06 and one 05")
    fields: list[Field] = []
    for data in in_06:
        fields += read_fields(data)
    if not fields:
        raise NotReadableError("there are no fields in it")
    warnings += filter(None, map(field_warning, fields))
    others = [each.number for each in envelope.formats if each.number != "06"]
    if others:
        warnings.append(f"the label says more in format {', '.join(others)}, which was not read")
    return Message06(raw, tuple(fields), envelope.is_complete, tuple(warnings))


def _web_address(raw: str, text: str) -> Scan:
    own = own_address(text)
    if own is not None and own.is_exact and not _is_within_link(text, own.base_url):
        return OwnCode(raw, own.code, own.base_url)
    if holds_key(text):
        return _attempt(raw, LINK, lambda: _link(raw, text))
    if own is not None:
        return OwnCode(raw, own.code, own.base_url)
    return BareText(raw, text, ("it is a web address, but neither ours nor a GS1 Digital Link",))


def _is_within_link(text: str, base: str) -> bool:
    """Tell whether the `/I/` of an address is a value in a Digital Link, a lot called I, say."""
    try:
        return len(read_digital_link(text).stem) < len(base)
    except NotReadableError:
        return False


def _link(raw: str, text: str) -> DigitalLink:
    found = read_digital_link(text)
    return DigitalLink(raw, found.elements, stem=found.stem)


def _plain(raw: str, text: str) -> Scan:
    """Tell what a text without any marks is."""
    warnings: tuple[str, ...] = ()
    try:
        elements = read_element_string(text)
    except NotReadableError as reason:
        if _LIKE_ELEMENTS.fullmatch(text):
            warnings = (f"it looks like a {ELEMENTS}, but {reason}",)
    else:
        if any(_is_checked(element) for element in elements):
            return ElementString(raw, elements)
    # one number in 31 has our check character by chance; what is grouped as ours seldom is another
    if is_own_code(text) and normalise(text) == text.upper().replace(" ", "-"):
        return OwnCode(raw, normalise(text))
    return BareText(raw, text, warnings)


def _is_checked(element: Element) -> bool:
    return application_identifiers()[element.ai].is_checked
