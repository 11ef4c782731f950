"""`drill`: a timed trace exercise, put on record with what it found."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal, Self

from pydantic import Field

from lotkin.core.errors import BadEvent
from lotkin.core.events.base import Amount, Code, Event, PartOfEvent, Reading, Text

if TYPE_CHECKING:
    from lotkin.core.shop import Shop

__all__ = ["Accounted", "Drill"]


class Accounted(PartOfEvent):
    """How much of the subject was to be found, and was."""

    unit: Text = ""
    of: Amount
    found: Reading


class Drill(Event):
    """An item was followed in both directions as if it were suspect, and that was timed.

    It changes nothing but the journal.
    """

    kind: Literal["drill"] = "drill"
    subject: Code = Field(description="Exact code of the unit or lot")
    seconds: Amount = Field(description="That the answers took")
    behind: int = Field(ge=0, description="Items behind it")
    ahead: int = Field(ge=0, description="Items that it went into")
    units: int = Field(ge=0, description="Units affected; the subject itself if it is one")
    complete_units: int = Field(
        ge=0, description="Those of them that have all that their bill of material names"
    )
    accounts: tuple[Accounted, ...] = Field(default=(), max_length=10)
    gaps: tuple[Text, ...] = Field(default=(), max_length=100)

    def complete(self, shop: Shop) -> Self:
        """Check that the subject is recorded, and the counts against each other."""
        subject = shop.exact(self.subject)
        if self.complete_units > self.units:
            raise BadEvent(subject.code, "a drill cannot find more complete units than units")
        return self
