"""The fields of a message in format 06: data identifiers of ANSI MH10.8.2 and their values."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING

from lotkin.core.scan.characters import GS, shown
from lotkin.core.scan.gs1.ai_table import table_rows
from lotkin.core.scan.iso15434.message import Field
from lotkin.core.scan.refusal import NotReadableError

if TYPE_CHECKING:
    from collections.abc import Mapping

__all__ = ["DataIdentifier", "data_identifiers", "field_warning", "read_fields"]

_FIELD = re.compile(r"(?P<di>[0-9]{0,3}[A-Z])(?P<value>.*)", re.DOTALL)
_NUMBER = r"[0-9]{1,15}(\.[0-9]{1,9})?"
_FORMATS = {
    "n": re.compile(_NUMBER),
    "n+an2": re.compile(_NUMBER + "[A-Z0-9]{2}"),
    "n8+an3": re.compile("[0-9]{8}[A-Z0-9]{3}"),
    "an..35": re.compile(".{1,35}"),
} | {f"n{count}": re.compile(f"[0-9]{{{count}}}") for count in (4, 6, 8, 9, 14)}


@dataclass(frozen=True, slots=True)
class DataIdentifier:
    """What the table beside this module says of an identifier.

    Attributes:
        di: Up to three digits and one capital letter.
        meaning: In our own words.
        format: `n` number, `n6` six digits, `a2`, `an`, `an..35`; "" if free.
    """

    di: str
    meaning: str
    format: str


@cache
def data_identifiers() -> Mapping[str, DataIdentifier]:
    """Give the identifiers that the works meets, by their text; others are read all the same."""
    return {
        row["di"]: DataIdentifier(row["di"], row["meaning"], row["format"])
        for row in table_rows(__package__, "data_identifiers.csv")
    }


def read_fields(data: str) -> tuple[Field, ...]:
    """Read the fields of one format 06; empty ones between two separators are passed over.

    An identifier is up to three digits and one capital letter, so none begins another.

    Raises:
        NotReadableError: A field has no identifier, or characters that no field has.
    """
    fields = []
    for text in filter(None, data.split(GS)):
        found = _FIELD.fullmatch(text)
        if found is None:
            raise NotReadableError(f"no data identifier begins the field {shown(text, 16)}")
        if not found["value"].isprintable():
            raise NotReadableError(f"a separator got lost in the field {shown(text, 16)}")
        fields.append(Field(found["di"], found["value"]))
    return tuple(fields)


def field_warning(field: Field) -> str:
    """Say what is odd about the value of a field; "" if nothing is."""
    known = data_identifiers().get(field.di)
    pattern = _FORMATS.get(known.format) if known is not None else None
    if known is None or pattern is None or not field.value or pattern.fullmatch(field.value):
        return ""
    return f"{field.di} ({known.meaning}) should be {known.format}, not {shown(field.value, 20)}"
