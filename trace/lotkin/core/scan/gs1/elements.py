"""Elements of GS1 data, and what they say in the words of the works."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING, NamedTuple

from lotkin.core.scan.days import day_of
from lotkin.core.scan.gs1.ai_table import application_identifiers

if TYPE_CHECKING:
    from datetime import date

__all__ = ["Amount", "Element", "Elements"]

_MEASURES = {"310": "kg", "311": "m"}
"""Net mass and length; the fourth digit of the identifier tells the decimals."""


class Amount(NamedTuple):
    """A quantity as a label says it.

    Attributes:
        value: Exact.
        unit: `pcs`, `kg` or `m` in GS1 data; the two letters of ANSI X12 in a message; "" if
            the label leaves it to an agreement.
    """

    value: Decimal
    unit: str


@dataclass(frozen=True, slots=True)
class Element:
    """One element: an Application Identifier and its value."""

    ai: str
    value: str

    @property
    def title(self) -> str:
        """The short name of the identifier, like `BATCH/LOT`."""
        return application_identifiers()[self.ai].title


@dataclass(frozen=True, slots=True)
class Elements:
    """What a GS1 element string and a GS1 Digital Link have in common.

    Every text is "" where the label does not say it.

    Attributes:
        raw: What was scanned.
        elements: In the order of the label; in a Digital Link the path before the query.
        warnings: What was repaired or is odd; empty for a sound label.
    """

    raw: str
    elements: tuple[Element, ...]
    warnings: tuple[str, ...] = ()

    def value(self, ai: str) -> str:
        """Give the value of an identifier."""
        return next((each.value for each in self.elements if each.ai == ai), "")

    @property
    def gtin(self) -> str:
        """The item itself: GTIN in 14 digits, also of an item made to order or in pieces."""
        return self.value("01") or self.value("03") or self.value("8006")[:14]

    @property
    def content_gtin(self) -> str:
        """The items inside of a logistic unit: GTIN in 14 digits."""
        return self.value("02") or self.value("8026")[:14]

    @property
    def lot(self) -> str:
        """Batch or lot."""
        return self.value("10")

    @property
    def serial(self) -> str:
        """Serial number."""
        return self.value("21")

    @property
    def source(self) -> str:
        """Reference to the source, the heat for example."""
        return self.value("251")

    @property
    def sscc(self) -> str:
        """Number of the logistic unit."""
        return self.value("00")

    @property
    def customer_part(self) -> str:
        """The customer's part number."""
        return self.value("241")

    @property
    def order(self) -> str:
        """The customer's order number."""
        return self.value("400")

    @property
    def expiry(self) -> str:
        """Expiry as written, YYMMDD."""
        return self.value("17")

    @property
    def production(self) -> str:
        """Day of production as written, YYMMDD."""
        return self.value("11") or self.value("8008")[:6]

    def expires_on(self, today: date) -> date | None:
        """Give the day of expiry; `today` settles the century. None if none is said."""
        return day_of(self.expiry, today)

    def produced_on(self, today: date) -> date | None:
        """Give the day of production; `today` settles the century. None if none is said."""
        return day_of(self.production, today)

    @property
    def quantity(self) -> Amount | None:
        """How much it is: net kilograms or metres if said, else the count; None if not said."""
        for element in self.elements:
            unit = _MEASURES.get(element.ai[:3])
            if unit is not None and len(element.ai) == 4:
                return Amount(Decimal(element.value).scaleb(-int(element.ai[3])), unit)
        count = self.value("30") or self.value("37")
        return Amount(Decimal(count), "pcs") if count else None
