"""`drill`: a timed trace exercise, put on record with what it found."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING, Literal, Self

from pydantic import Field

from lotkin.core.errors import BadEvent
from lotkin.core.events.base import Amount, Code, Event, PartOfEvent, Reading, Text

if TYPE_CHECKING:
    from lotkin.core.rules.checking import Shop

__all__ = ["Accounted", "Drill"]


class Accounted(PartOfEvent):
    """How much of the subject was accounted for, and what was not."""

    unit: Text = ""
    part: Text = ""
    of: Amount
    found: Reading = Field(description="At known places and recorded ends")
    verdict: Literal["", "complete", "missing", "does not add up", "not all known"] = Field(
        default="", description="How the account ended; empty if nobody said so"
    )
    missing: Amount = Field(default=Decimal(0), description="Lost")
    more_used_than_made: Amount = Field(
        default=Decimal(0), description="Used, counted or brought back beyond what there was"
    )
    only_counted: Amount = Field(
        default=Decimal(0), description="How much of that was counted, and not used"
    )
    not_known: Amount = Field(
        default=Decimal(0), description="Used without a quantity, at no recorded place, or in doubt"
    )


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
