"""The message envelope of ISO/IEC 15434, sound or damaged in one of the ways that can be undone.

A sound message is `[)>` RS, then for each format its two digits, its data and RS, then EOT. In
format 06 the data are fields, each with GS before it. Separators get lost or changed on the way
through scanners and keyboards. What leaves only one reading is repaired with a warning: a record
separator or the end that is missing, a record separator that came as a group separator, one stray
character in front. Without the separators between the fields any reading would be a guess.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field

from lotkin.core.scan.characters import EOT, GS, RS, shown
from lotkin.core.scan.refusal import NotReadableError

__all__ = ["Envelope", "FormatData", "begins_message", "open_envelope"]

HEADER = "[)>"
_FORMAT = re.compile(r"[0-9]{2}")
_OF_FIELDS = ("05", "06")
"""Formats that are read here: their data begin with GS."""


@dataclass(frozen=True, slots=True)
class FormatData:
    """The data of one format: what stands between its two digits and its end."""

    number: str
    data: str


@dataclass(slots=True)
class Envelope:
    """An opened message.

    Attributes:
        formats: In the order of the message.
        warnings: What was repaired.
        is_complete: False if both the last record separator and the end are missing.
    """

    formats: list[FormatData] = field(default_factory=list)
    warnings: list[str] = field(default_factory=list)
    is_complete: bool = True


def begins_message(text: str) -> bool:
    """Tell whether a text is such a message, perhaps with one stray character in front."""
    return text.startswith(HEADER) or text.startswith(HEADER, 1)


def open_envelope(text: str) -> Envelope:
    """Divide a message into its formats.

    Raises:
        NotReadableError: It is damaged so that any reading would be a guess.
    """
    envelope = Envelope()
    if not text.startswith(HEADER):
        envelope.warnings.append(f"there was a stray {shown(text[0])} before the label's beginning")
        text = text[1:]
    if HEADER in text[1:]:
        raise NotReadableError("two labels were read as one")
    rest, found_end, after = text.removeprefix(HEADER).partition(EOT)
    if after:
        raise NotReadableError("there is something after the end of the message")
    rest = _without_first_separator(rest, envelope)
    whole, is_closed = _without_last_separator(rest, envelope)
    if not found_end:
        envelope.warnings.append("the end of the message is missing")
    envelope.is_complete = is_closed or bool(found_end)
    if not envelope.is_complete:
        envelope.warnings.append("the label may be cut; its last field may be incomplete")
    envelope.formats = [_format(each) for each in whole.split(RS)]
    return envelope


def _without_first_separator(rest: str, envelope: Envelope) -> str:
    if rest.startswith(RS):
        return rest[1:]
    if rest.startswith(GS):
        envelope.warnings.append("a record separator came as a group separator")
        return rest[1:]
    envelope.warnings.append("the record separator after the beginning is missing")
    return rest


def _without_last_separator(rest: str, envelope: Envelope) -> tuple[str, bool]:
    """Take the last record separator off; give also whether it was there in some form."""
    if rest.endswith(RS):
        return rest[:-1], True
    if rest.endswith(GS):
        envelope.warnings.append("the last record separator came as a group separator")
        return rest[:-1], True
    envelope.warnings.append("the last record separator is missing")
    return rest, False


def _format(text: str) -> FormatData:
    number, data = text[:2], text[2:]
    if not _FORMAT.fullmatch(number):
        raise NotReadableError(f"no format of two digits begins {shown(text, 8) or 'the data'}")
    if number in _OF_FIELDS and data and not data.startswith(GS):
        raise NotReadableError("the separators between its fields got lost")
    return FormatData(number, data.removeprefix(GS))
