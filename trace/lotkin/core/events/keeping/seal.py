"""`seal`: a signature over the head of the journal."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal, Self

from pydantic import Field

from lotkin.core.errors import BadEvent, UnknownEvent
from lotkin.core.events.base import Event

if TYPE_CHECKING:
    from lotkin.core.rules.checking import Shop

__all__ = ["Seal"]


class Seal(Event):
    """Somebody with a key has signed all events up to one.

    It changes nothing but the journal.
    """

    kind: Literal["seal"] = "seal"
    events: int = Field(ge=1, description="Number of the last event that is sealed")
    head: str = Field(pattern=r"^[0-9a-f]{64}$", description="Hash of that event")
    key: str = Field(pattern=r"^[0-9a-f]{64}$", description="Public key (Ed25519)")
    signature: str = Field(pattern=r"^[0-9a-f]{128}$", description="By that key")

    def complete(self, shop: Shop) -> Self:
        """Check that the event has this hash, and that the signature is the key's."""
        from lotkin.core.journal.seals import is_signed  # noqa: PLC0415 - slow to load

        try:
            hash_there = shop.view.entry(self.events).hash
        except UnknownEvent:
            hash_there = ""
        if hash_there != self.head:
            raise BadEvent(str(self.id), f"event {self.events} does not have this hash")
        if not is_signed(self.key, self.events, self.head, self.signature):
            raise BadEvent(str(self.id), "the signature is not that of the key")
        return self
