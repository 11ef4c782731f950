"""A supplier's label in the format of data identifiers: fields, and what they say."""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING

from lotkin.core.scan.days import full_day_of
from lotkin.core.scan.gs1.elements import Amount

if TYPE_CHECKING:
    from datetime import date

__all__ = ["Field", "Message06"]

_NUMBER = re.compile(r"[0-9]{1,15}(\.[0-9]{1,9})?")


@dataclass(frozen=True, slots=True)
class Field:
    """One field: a data identifier and its value, which may be empty."""

    di: str
    value: str


@dataclass(frozen=True, slots=True)
class Message06:
    """A message of ISO/IEC 15434 in format 06: data identifiers of ANSI MH10.8.2.

    Every text is "" where the label does not say it, or says several different things; `values`
    gives them all.

    Attributes:
        raw: What was scanned.
        fields: In the order of the label.
        is_complete: False if the end is missing, so that the last field may have been cut.
        warnings: What was repaired, is odd or was not read; empty for a sound label.
    """

    raw: str
    fields: tuple[Field, ...]
    is_complete: bool = True
    warnings: tuple[str, ...] = ()

    def values(self, *identifiers: str) -> tuple[str, ...]:
        """Give the different values of some identifiers, in the order of the label."""
        found = [each.value for each in self.fields if each.di in identifiers and each.value]
        return tuple(dict.fromkeys(found))

    def value(self, di: str) -> str:
        """Give the one value of an identifier."""
        found = self.values(di)
        return found[0] if len(found) == 1 else ""

    @property
    def item_code(self) -> str:
        """Our part number (P), or else that of the supplier (1P)."""
        return self.value("P") or self.value("1P")

    @property
    def heat_or_lot(self) -> str:
        """The supplier's lot, batch or heat (1T), or else ours (T)."""
        return self.value("1T") or self.value("T")

    @property
    def serial(self) -> str:
        """Serial number (S)."""
        return self.value("S")

    @property
    def supplier(self) -> str:
        """The supplier: our code for them (V), or else their own (1V)."""
        return self.value("V") or self.value("1V")

    @property
    def order(self) -> str:
        """Our order number (K), also as the first half of order and line (14K)."""
        return self.value("K") or self.value("14K").partition("+")[0]

    @property
    def delivery_note(self) -> str:
        """Number of the packing list (11K)."""
        return self.value("11K")

    @property
    def quantity(self) -> Amount | None:
        """How much it is: 7Q, or else Q with its unit 3Q; None if not said or no number."""
        joined = self.value("7Q")
        number, unit = (joined[:-2], joined[-2:]) if joined else (self.value("Q"), self.value("3Q"))
        return Amount(Decimal(number), unit) if _NUMBER.fullmatch(number) else None

    @property
    def expires_on(self) -> date | None:
        """Day of expiry (14D); None if not said."""
        return full_day_of(self.value("14D"))

    @property
    def produced_on(self) -> date | None:
        """Day of production (16D); None if not said."""
        return full_day_of(self.value("16D"))
