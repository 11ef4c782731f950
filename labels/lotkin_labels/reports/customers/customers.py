"""What each customer has of a containment, ready to be written to them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from lotkin.core.answers.rows import Row
    from lotkin_labels.reports.containment.containment import ContainmentReport

__all__ = ["CustomerNotice", "CustomerReport", "HeldItem"]


@dataclass(frozen=True, slots=True, kw_only=True)
class HeldItem:
    """Pieces that a customer has.

    Attributes:
        row: The item; its only place is the customer.
        carton: Code of the carton that they came in; "" for none.
        shipment: Code of the shipment; "" if none is recorded.
        shipped_on: Day per ISO 8601.
        reference: Order or delivery note.
    """

    row: Row
    carton: str = ""
    shipment: str = ""
    shipped_on: str = ""
    reference: str = ""


@dataclass(frozen=True, slots=True)
class CustomerNotice:
    """One customer and all that they have.

    Attributes:
        customer: Their code.
        name: As in the plan; "" if they are not in it.
        country: ISO 3166-1 alpha-2; "" if the plan does not say.
    """

    customer: str
    name: str
    items: tuple[HeldItem, ...]
    country: str = ""

    @property
    def serials(self) -> list[str]:
        """Serials of the units, each once, in order."""
        rows = [item.row for item in self.items]
        return sorted({row.serial or row.code for row in rows if row.kind == "unit"})

    @property
    def cartons(self) -> list[str]:
        """Codes of the cartons, each once, in order."""
        kept = {item.row.code for item in self.items if item.row.kind == "carton"}
        return sorted(kept | {item.carton for item in self.items if item.carton})


@dataclass(frozen=True, slots=True)
class CustomerReport:
    """Notices to all customers who have something, and the containment that they come from."""

    containment: ContainmentReport
    notices: tuple[CustomerNotice, ...]
